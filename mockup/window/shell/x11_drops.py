"""Files dropped on the window under X11, where the window library stumbles over two of the drag's messages."""

from __future__ import annotations

import importlib
from ctypes import POINTER, byref, cast
from typing import Any


def window_class(pyglet: Any) -> Any:
    """Return the window library's class; on X11 one that takes every drag, and tells its source when it is over.

    The library fails at a drag of no more than three kinds of data, as small file managers offer, and tells the root
    window instead of the source that a drop is done, so that a file manager goes on showing what was dragged.
    """
    plain = pyglet.window.Window
    if not hasattr(plain, "_event_drag_enter"):
        return plain
    xlib = importlib.import_module("pyglet.libs.x11.xlib")
    handler = importlib.import_module("pyglet.window.xlib").XlibEventHandler

    class DropWindow(plain):  # type: ignore[misc,valid-type]
        """Answers a drag as the X drag-and-drop protocol, version 5, has it (freedesktop.org)."""

        def _event_drag_enter(self, event: Any) -> None:
            data = event.xclient.data.l
            if data[1] & 1:  # more than three kinds: they stand in a list of their own
                super()._event_drag_enter(event)
                return
            self._xdnd_source, self._xdnd_version = data[0], data[1] >> 24
            files = self._xdnd_atoms["text/uri-list"]
            self._xdnd_format = files if files in data[2:5] else None

        @handler(xlib.SelectionNotify)  # type: ignore[untyped-decorator]
        def _event_selection_notification(self, event: Any) -> None:
            super()._event_selection_notification(event)
            if event.xselection.selection != self._xdnd_atoms["XdndSelection"]:
                return
            told = xlib.XEvent()
            message = told.xclient
            message.type, message.window, message.format = xlib.ClientMessage, self._xdnd_source, 32
            message.message_type = self._xdnd_atoms["XdndFinished"]
            message.display = cast(self._x_display, POINTER(xlib.Display))
            message.data.l[0], message.data.l[1] = self._window, 1
            message.data.l[2] = self._xdnd_atoms["XdndActionCopy"]
            xlib.XSendEvent(self._x_display, self._xdnd_source, False, xlib.NoEventMask, byref(told))
            xlib.XFlush(self._x_display)

    return DropWindow
