"""Choosing a file or a folder: in the system's own dialog, or in a browser inside the window where there is none."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from mockup.window.shell.messages import MessageLine
from mockup.window.shell.native_dialogs import FileKind, NativeDialog, has_dialogs
from mockup.window.widgets.file_browser import FileBrowser
from mockup.window.widgets.widgets import Widgets

Chosen = Callable[[Path], None]


class Chooser:
    """At most one choice at a time; `is_open` while the window's own browser covers it."""

    def __init__(self, widgets: Widgets, messages: MessageLine) -> None:
        self._widgets, self._messages = widgets, messages
        self._native: NativeDialog | None = None
        self._browser: FileBrowser | None = None

    @property
    def is_open(self) -> bool:
        """True while the window's own browser is open."""
        return self._browser is not None

    def file(self, title: str, start: Path, kinds: Sequence[FileKind], chosen: Chosen) -> None:
        """Have a file of some kinds chosen; nothing is called where the user leaves it."""
        if self._is_free():
            if has_dialogs():
                self._native = NativeDialog.file(title, start, kinds, lambda path: self._taken(path, chosen))
            else:
                self._browse(title, start, kinds, chosen)

    def folder(self, title: str, start: Path, chosen: Chosen) -> None:
        """Have a folder chosen; nothing is called where the user leaves it."""
        if self._is_free():
            if has_dialogs():
                self._native = NativeDialog.folder(title, start, lambda path: self._taken(path, chosen))
            else:
                self._browse(title, start, None, chosen)

    def work(self) -> float | None:
        """See whether a native dialog was answered; return seconds until the next look."""
        if self._native is None:
            return None
        wait = self._native.look()
        if wait is None:
            self._native = None
        return wait

    def draw(self) -> None:
        """Draw the browser, where it is open."""
        if self._browser is not None:
            self._browser.draw()

    def dismiss(self) -> None:
        """Close the browser; nothing is chosen."""
        self._browser = None

    def _is_free(self) -> bool:
        if self._native is not None:
            self._messages.say("A window that asks for a file is open already.")
        return self._native is None and self._browser is None

    def _browse(self, title: str, start: Path, kinds: Sequence[FileKind] | None, chosen: Chosen) -> None:
        self._browser = FileBrowser(self._widgets, title, start, kinds, lambda path: self._taken(path, chosen))

    def _taken(self, path: Path | None, chosen: Chosen) -> None:
        self._browser = None
        if path is not None:
            chosen(path)
