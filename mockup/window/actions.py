"""Every action of the window, once: its name, its title in menus and help, its key.

A key is written "ctrl+shift+z": modifiers first, in the order ctrl, alt, shift. On a Mac, ctrl stands
for the command key. An action without a key is reached from the panel.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class Action:
    """One thing that the window can do. `keys` lists its default keys, the first shown in menus and help."""

    name: str
    title: str
    group: str
    keys: tuple[str, ...] = ()

    @property
    def key(self) -> str:
        """The key that is shown, "" for none."""
        return self.keys[0] if self.keys else ""


def _group(group: str, *rows: tuple[str, str] | tuple[str, str, str] | tuple[str, str, str, str]) -> list[Action]:
    return [Action(name=row[0], title=row[1], group=group, keys=tuple(row[2:])) for row in rows]


ACTIONS: tuple[Action, ...] = (
    *_group(
        "Project",
        ("open", "Open a layout", "ctrl+o"),
        ("start-page", "Start page", "ctrl+shift+o"),
        ("save", "Save changes to the layout", "ctrl+s"),
        ("reload", "Read all files again", "ctrl+r", "f5"),
        ("discard", "Drop unsaved changes"),
        ("quit", "Close the window", "ctrl+q"),
    ),
    *_group(
        "Change",
        ("undo", "Undo", "ctrl+z"),
        ("redo", "Redo", "ctrl+shift+z", "ctrl+y"),
        ("next-part", "Select the next part", "tab"),
        ("previous-part", "Select the part before", "shift+tab"),
        ("deselect", "Select nothing, or leave a tool", "escape"),
        ("nudge-left", "Move the part left by one grid step", "alt+left"),
        ("nudge-right", "Move the part right by one grid step", "alt+right"),
        ("nudge-up", "Move the part up by one grid step", "alt+up"),
        ("nudge-down", "Move the part down by one grid step", "alt+down"),
        ("turn-part", "Turn the part clockwise by 90 degrees", "alt+r"),
        ("type-position", "Type the part's position", "enter"),
        ("snapping", "Snapping on or off", "n"),
        ("next-grid", "Next grid", "shift+n"),
    ),
    *_group(
        "View",
        ("view-above", "Above", "1"),
        ("view-three-quarter", "Three-quarter", "2"),
        ("view-player", "As the player sees it", "3"),
        ("view-near", "Near side", "4"),
        ("view-far", "Far side", "5"),
        ("view-left", "Left side", "6"),
        ("view-right", "Right side", "7"),
        ("view-underside", "Underside", "8"),
        ("view-inside", "Inside, lid off", "9"),
        ("fit", "Fit the pedal into the picture", "f"),
        ("fit-part", "Fit the selected part into the picture", "shift+f"),
        ("true-size", "True size on this screen", "0"),
        ("measure-screen", "Measure this screen with a card"),
        ("perspective", "Perspective on or off", "p"),
        ("orbit-left", "Go round to the left", "left"),
        ("orbit-right", "Go round to the right", "right"),
        ("orbit-up", "Go up", "up"),
        ("orbit-down", "Go down", "down"),
        ("pan-left", "Shift the picture left", "shift+left"),
        ("pan-right", "Shift the picture right", "shift+right"),
        ("pan-up", "Shift the picture up", "shift+up"),
        ("pan-down", "Shift the picture down", "shift+down"),
        ("zoom-in", "Nearer", "plus", "ctrl+plus"),
        ("zoom-out", "Farther", "minus", "ctrl+minus"),
    ),
    *_group(
        "Show",
        ("decal", "Decal", "d"),
        ("hardware", "Hardware", "h"),
        ("lid", "Lid", "l"),
        ("see-through", "See-through box", "x"),
        ("lamp", "Lamps lit", "k"),
        ("clear-coat", "Clear coat", "c"),
        ("findings", "Findings", "i"),
        ("proof", "Flat colours (proof) or studio light", "o"),
        ("measure", "Measure", "m"),
        ("next-light", "Next light", "g"),
        ("panel", "Panel beside the picture", "b"),
    ),
    *_group(
        "Variants",
        ("next-variant", "Next variant", "v"),
        ("previous-variant", "Variant before", "shift+v"),
        ("one-pane", "One picture", "ctrl+1"),
        ("two-panes", "Two side by side", "ctrl+2"),
        ("three-panes", "Three side by side", "ctrl+3"),
        ("four-panes", "Four", "ctrl+4"),
        ("wipe", "Wipe between two", "w"),
        ("wipe-left", "Wipe line to the left", "comma"),
        ("wipe-right", "Wipe line to the right", "period"),
    ),
    *_group(
        "Make",
        ("make-still", "Save a picture", "ctrl+e"),
        ("make-turntable", "Save a turntable", "ctrl+shift+e"),
        ("make-template", "Save the drill template", "ctrl+t"),
        ("make-sheet", "Save the decal sheet", "ctrl+shift+t"),
        ("cancel", "Stop what is being saved", "ctrl+period"),
    ),
    *_group(
        "Help",
        ("help", "All keys", "f1", "shift+slash"),
        ("focus-panel", "Keys into the panel; Esc back to the picture", "f6"),
        ("tab-look", "Panel: Look", "f7"),
        ("tab-finish", "Panel: Finish", "f8"),
        ("tab-part", "Panel: Part", "f9"),
        ("tab-check", "Panel: Check", "f10"),
        ("tab-save", "Panel: Save", "f11"),
        ("bigger", "Larger text", "ctrl+shift+plus"),
        ("smaller", "Smaller text", "ctrl+shift+minus"),
    ),
)
"""Every action, in the order of menus and help."""

BY_NAME: dict[str, Action] = {action.name: action for action in ACTIONS}
GROUPS: tuple[str, ...] = tuple(dict.fromkeys(action.group for action in ACTIONS))
_BY_KEY: dict[str, str] = {key: action.name for action in ACTIONS for key in action.keys}
_ORDER = ("ctrl", "alt", "shift")
_SHOWN = {
    "plus": "+",
    "minus": "-",
    "comma": ",",
    "period": ".",
    "slash": "/",
    "escape": "Esc",
    "left": "Left",
    "right": "Right",
    "up": "Up",
    "down": "Down",
    "enter": "Enter",
    "tab": "Tab",
}


def action_of(key: str) -> str | None:
    """Return the name of the action on a key such as "ctrl+s", None for none."""
    return _BY_KEY.get(key)


def chord(key: str, *, ctrl: bool = False, alt: bool = False, shift: bool = False) -> str:
    """Return a key with its modifiers as this table writes it."""
    held = dict(zip(_ORDER, (ctrl, alt, shift), strict=True))
    return "+".join([*(name for name in _ORDER if held[name]), key])


def shown(key: str, is_mac: bool = False) -> str:
    """Return a key as people write it: ``Ctrl+Shift+Z``; on a Mac ``Cmd+Shift+Z``."""
    words = key.split("+")
    first = {"ctrl": "Cmd" if is_mac else "Ctrl", "alt": "Option" if is_mac else "Alt", "shift": "Shift"}
    return "+".join(first.get(word, _SHOWN.get(word, word.upper())) for word in words)
