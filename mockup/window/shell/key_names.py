"""Keys as the key table writes them, from what the window library tells."""

from __future__ import annotations

import sys
from typing import Any

from mockup.window.actions import chord

_NAMED = {
    "plus": "plus", "num_add": "plus", "equal": "plus", "minus": "minus", "num_subtract": "minus", "comma": "comma",
    "period": "period", "slash": "slash", "question": "shift+slash", "escape": "escape", "return": "enter",
    "num_enter": "enter", "tab": "tab", "left": "left", "right": "right", "up": "up", "down": "down",
}  # fmt: skip


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


def is_modifier(pyglet: Any, symbol: int) -> bool:
    """True for Shift and Ctrl, which the panel must know of while the keys go to the picture."""
    key = pyglet.window.key
    return symbol in (key.LSHIFT, key.RSHIFT, key.LCTRL, key.RCTRL, key.LCOMMAND, key.RCOMMAND)
