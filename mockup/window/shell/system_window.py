"""A window of the system's own, with a GL context: opened hidden, and how large the system wants text in it."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from typing import Any

from mockup.model.errors import EngineError
from mockup.window.shell import theme
from mockup.window.shell.cards import LEAST_WINDOW
from mockup.window.shell.icon import window_icons
from mockup.window.shell.x11_drops import window_class


def opened(title: str, size: tuple[int, int]) -> tuple[Any, Any]:
    """Return pyglet and a hidden window with the context that the engine draws in; `EngineError` without one."""
    if sys.platform.startswith("linux") and not os.environ.get("DISPLAY"):
        raise EngineError("there is no display here for a window; make pictures with: mockup still LAYOUT")
    try:
        import pyglet

        pyglet.options.headless = False
        pyglet.options.shadow_window = False
        import pyglet.app
        import pyglet.gl
        import pyglet.window

        wanted: Any = pyglet.gl.Config
        config = wanted(double_buffer=True, depth_size=24, major_version=3, minor_version=3, forward_compatible=True)
        window = window_class(pyglet)(
            *size, caption=title, resizable=True, visible=False, vsync=True, config=config, file_drops=True
        )
        window.set_minimum_size(*LEAST_WINDOW)
        window.set_icon(*window_icons(pyglet))
    except Exception as error:
        reason = " ".join(str(error).split()) or type(error).__name__
        raise EngineError(f"no window with OpenGL 3.3 can be opened here ({reason})") from error
    return pyglet, window


def usual_scale(window: Any) -> float:
    """Return how large the system wants text: its pixels per inch over the usual 96."""
    ratio: Callable[[], float] | None = getattr(window, "get_pixel_ratio", None)
    value = max(float(getattr(window, "scale", 1.0) or 1.0), float(ratio()) if ratio else 1.0)
    return min(max(value, 1.0), theme.LARGEST)


def forget_held(window: Any) -> None:
    """Have the next press of any key told. On X11 pyglet keeps quiet about keys that it holds for down.

    One that went up after Shift did has another name by then, so pyglet would hold it for down for good.
    """
    getattr(window, "pressed_keys", set()).clear()
