"""Keys: as the window library tells them, as the table of actions writes them, as people read them."""

from __future__ import annotations

import sys
from typing import Any

_NAMED = {
    "plus": "plus", "num_add": "plus", "equal": "plus", "minus": "minus", "num_subtract": "minus", "comma": "comma",
    "period": "period", "slash": "slash", "question": "shift+slash", "escape": "escape", "return": "enter",
    "num_enter": "enter", "tab": "tab", "left": "left", "right": "right", "up": "up", "down": "down",
}  # fmt: skip

_TAB_CODE = 15 + 8  # KEY_TAB in Linux's input-event-codes.h; X11 counts its keys from 8


def held(pyglet: Any, modifiers: int) -> str:
    """Return the modifiers that are held, for example "ctrl+shift+"."""
    key = pyglet.window.key
    known = (("ctrl+", key.MOD_CTRL | key.MOD_COMMAND), ("alt+", key.MOD_ALT), ("shift+", key.MOD_SHIFT))
    return "".join(name for name, bit in known if modifiers & bit)


def named(pyglet: Any, symbol: int, modifiers: int) -> str:
    """Return a key with its modifiers, such as "ctrl+shift+z"; plus and question mark whatever keys they lie on."""
    key = pyglet.window.key
    word = str(key.symbol_string(symbol)).lower().lstrip("_")
    name = _NAMED.get(word, word.removeprefix("num_"))
    shift = bool(modifiers & key.MOD_SHIFT)
    ctrl = bool(modifiers & (key.MOD_COMMAND if sys.platform == "darwin" else key.MOD_CTRL))
    if name == "shift+slash":
        shift = False
    elif name == "plus" and word != "num_add":
        shift = shift and ctrl  # on many keyboards plus lies under Shift; with Ctrl it tells larger from nearer
    return chord(name, ctrl=ctrl, alt=bool(modifiers & key.MOD_ALT), shift=shift)


def unshifted(pyglet: Any, symbol: int) -> int:
    """Return what a key is without Shift. X11 has a name of its own for Tab with Shift, which pyglet does not know."""
    is_tab = sys.platform == "linux" and symbol == pyglet.window.key.user_key(_TAB_CODE)
    return int(pyglet.window.key.TAB) if is_tab else symbol


def is_modifier(pyglet: Any, symbol: int) -> bool:
    """True for Shift and Ctrl, which the panel must know of while the keys go to the picture."""
    key = pyglet.window.key
    return symbol in (key.LSHIFT, key.RSHIFT, key.LCTRL, key.RCTRL, key.LCOMMAND, key.RCOMMAND)


_ORDER = ("ctrl", "alt", "shift")
_SHOWN = {
    "plus": "+", "minus": "-", "comma": ",", "period": ".", "slash": "/", "escape": "Esc", "left": "Left",
    "right": "Right", "up": "Up", "down": "Down", "enter": "Enter", "tab": "Tab", "delete": "Delete",
    "pageup": "Page Up", "pagedown": "Page Down",
}  # fmt: skip


def chord(key: str, *, ctrl: bool = False, alt: bool = False, shift: bool = False) -> str:
    """Return a key with its modifiers in the one order that the table of actions uses."""
    held = dict(zip(_ORDER, (ctrl, alt, shift), strict=True))
    return "+".join([*(name for name in _ORDER if held[name]), key])


def written(key: str, is_mac: bool = sys.platform == "darwin") -> str:
    """Return a key as people write it: ``Ctrl+Shift+Z``; on a Mac ``Cmd+Shift+Z``."""
    words = key.split("+")
    first = {"ctrl": "Cmd" if is_mac else "Ctrl", "alt": "Option" if is_mac else "Alt", "shift": "Shift"}
    return "+".join(first.get(word, _SHOWN.get(word, word.upper())) for word in words)
