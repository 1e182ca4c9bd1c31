"""A second program on the same screen that drags files onto a window, as a file manager does.

The messages are those of the X drag-and-drop protocol, version 5 (freedesktop.org, "Drag-and-Drop Protocol for the
X Window System"): enter, position, status, drop, the list of files as a selection of type text/uri-list, and finished.
"""

from __future__ import annotations

import time
from collections.abc import Iterator
from contextlib import contextmanager
from ctypes import POINTER, byref, c_int, c_ubyte, c_uint, c_ulong, cast, create_string_buffer
from pathlib import Path
from typing import Any

from pyglet.libs.x11 import xlib

_VERSION = 5
_BOUND_S = 60.0  # a busy machine takes its time to answer
_ANY_TYPE, _REPLACED, _BYTES = 0, 0, 8  # AnyPropertyType, PropModeReplace, a format: X.h


class FileManager:
    """Holds a connection of its own to the screen, and a window of its own that files are dragged from."""

    def __init__(self, display: str) -> None:
        self._display = xlib.XOpenDisplay(display.encode())
        assert self._display, f"no screen {display}"
        self._root = xlib.XDefaultRootWindow(self._display)
        self._window = xlib.XCreateSimpleWindow(self._display, self._root, 0, 0, 1, 1, 0, 0, 0)

    def drop(self, path: Path, x: float, y: float) -> None:
        """Drag a file to a place of the screen and let go of it there."""
        target, selection = self._target(), self._atom("XdndSelection")
        files, copy = self._atom("text/uri-list"), self._atom("XdndActionCopy")
        xlib.XSetSelectionOwner(self._display, selection, self._window, xlib.CurrentTime)
        self._tell(target, "XdndEnter", _VERSION << 24, files)
        for step in range(1, 4):  # it comes from the screen's corner
            at = round(x * step / 3) << 16 | round(y * step / 3)
            self._tell(target, "XdndPosition", 0, at, xlib.CurrentTime, copy)
            answer = self._next(xlib.ClientMessage).xclient
            assert answer.message_type == self._atom("XdndStatus")
            assert answer.data.l[1] & 1, "the window takes no files"
        self._tell(target, "XdndDrop", 0, xlib.CurrentTime)
        asked = self._next(xlib.SelectionRequest).xselectionrequest
        assert asked.target == files
        self._give(asked, f"{path.resolve().as_uri()}\r\n".encode())
        answer = self._next(xlib.ClientMessage).xclient
        assert answer.message_type == self._atom("XdndFinished")

    def close(self) -> None:
        """End the program."""
        xlib.XCloseDisplay(self._display)

    def _atom(self, name: str) -> int:
        return int(xlib.XInternAtom(self._display, name.encode(), 0))

    def _target(self) -> int:
        """Return the window on the screen that says that it takes what is dropped."""
        root, parent, count = xlib.Window(), xlib.Window(), c_uint()
        found = POINTER(xlib.Window)()
        xlib.XQueryTree(self._display, self._root, byref(root), byref(parent), byref(found), byref(count))
        windows = [int(found[index]) for index in range(count.value)]
        xlib.XFree(found)
        return next(window for window in windows if self._is_aware(window))

    def _is_aware(self, window: int) -> bool:
        kind, form, length, more = xlib.Atom(), c_int(), c_ulong(), c_ulong()
        data = POINTER(c_ubyte)()
        xlib.XGetWindowProperty(
            self._display, window, self._atom("XdndAware"), 0, 1, 0, _ANY_TYPE, byref(kind), byref(form),
            byref(length), byref(more), byref(data),
        )  # fmt: skip
        if data:
            xlib.XFree(data)
        return length.value > 0

    def _tell(self, target: int, kind: str, *data: int) -> None:
        event = xlib.XEvent()
        message = event.xclient
        message.type, message.window, message.format = xlib.ClientMessage, target, 32
        message.display, message.message_type = self._display, self._atom(kind)
        for index, each in enumerate((self._window, *data)):
            message.data.l[index] = each
        xlib.XSendEvent(self._display, target, 0, xlib.NoEventMask, byref(event))
        xlib.XFlush(self._display)

    def _next(self, kind: int) -> Any:
        """Return the next event of a kind."""
        event, end = xlib.XEvent(), time.monotonic() + _BOUND_S
        while time.monotonic() < end:
            if xlib.XCheckTypedEvent(self._display, kind, byref(event)):
                return event
            time.sleep(0.02)
        raise AssertionError("the window does not answer")

    def _give(self, asked: Any, text: bytes) -> None:
        """Give the list of files to the window that asks for it."""
        data = cast(create_string_buffer(text), POINTER(c_ubyte))
        xlib.XChangeProperty(
            self._display, asked.requestor, asked.property, asked.target, _BYTES, _REPLACED, data, len(text)
        )
        event = xlib.XEvent()
        told = event.xselection
        told.type, told.display, told.requestor = xlib.SelectionNotify, self._display, asked.requestor
        told.selection, told.target, told.property = asked.selection, asked.target, asked.property
        told.time = asked.time
        xlib.XSendEvent(self._display, asked.requestor, 0, xlib.NoEventMask, byref(event))
        xlib.XFlush(self._display)


@contextmanager
def file_manager(display: str) -> Iterator[FileManager]:
    """Give a file manager on a screen."""
    manager = FileManager(display)
    try:
        yield manager
    finally:
        manager.close()
