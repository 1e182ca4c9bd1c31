"""One action: its name, title, keys, and what it does.

A key is written "ctrl+shift+z": modifiers first, in the order ctrl, alt, shift. On a Mac, ctrl stands
for the command key. No letter or digit acts alone, so that nothing typed by mistake changes a pedal.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from mockup.window.desk import Desk
from mockup.window.state import State, Toggle

Deed = Callable[[Desk], None]
Answer = Callable[[Desk], bool]


def always(_: Desk) -> bool:
    """True at any time."""
    return True


def is_open(desk: Desk) -> bool:
    """True while a project is open."""
    return desk.work.project is not None


@dataclass(frozen=True, kw_only=True)
class Action:
    """One thing that the window can do.

    `title` is what help calls it, `label` what its button says, `about` the button's tip, `glyph` its icon. `keys`
    lists its keys, the first shown. `is_on` tells whether it is switched on, where it is a switch.
    """

    name: str
    title: str
    group: str
    keys: tuple[str, ...]
    does: Deed
    is_enabled: Answer = is_open
    is_on: Answer | None = None
    about: str = ""
    label: str = ""
    glyph: str = ""

    @property
    def key(self) -> str:
        """The key that is shown, "" for none."""
        return self.keys[0] if self.keys else ""


def row(
    name: str,
    title: str,
    keys: str,
    does: Deed,
    is_enabled: Answer = is_open,
    *,
    is_on: Answer | None = None,
    about: str = "",
    label: str = "",
    glyph: str = "",
) -> Action:
    """Return a row of the table; its keys are parted by spaces, its group is given by `group`."""
    return Action(
        name=name, title=title, group="", keys=tuple(keys.split()), does=does, is_enabled=is_enabled, is_on=is_on,
        about=about, label=label or title, glyph=glyph,
    )  # fmt: skip


def group(name: str, *rows: Action) -> tuple[Action, ...]:
    """Return rows as one group of the help."""
    return tuple(replace(each, group=name) for each in rows)


def state(change: Callable[[Desk], State]) -> Deed:
    """Return a deed that changes the state of the view."""
    return lambda desk: desk.view.change(change(desk))


def toggle(name: Toggle, title: str, about: str, keys: str = "") -> Action:
    """Return a row that switches something on or off."""
    return row(
        name, title, keys, lambda desk: desk.view.toggle(name), about=about, is_on=lambda desk: desk.view.is_on(name)
    )
