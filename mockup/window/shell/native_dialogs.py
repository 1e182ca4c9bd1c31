"""The system's own dialogs for files and folders; they run beside the window, which goes on meanwhile."""

from __future__ import annotations

import os
import shutil
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from imgui_bundle import portable_file_dialogs as system

_LINUX_HELPERS = ("zenity", "matedialog", "qarma", "kdialog")  # those that the library calls
_LOOK_S = 0.1  # between two looks at whether the user has answered: by eye


@dataclass(frozen=True, kw_only=True)
class FileKind:
    """A kind of file to choose from: in words, and its endings such as ``.png``."""

    name: str
    suffixes: tuple[str, ...]


PHOTOGRAPHS = FileKind(name="Photographs", suffixes=(".jpg", ".jpeg", ".png", ".tif", ".tiff", ".webp"))


def has_dialogs() -> bool:
    """Return whether this system has dialogs of its own; where it has none, the window brings a browser."""
    if not sys.platform.startswith("linux"):
        return True
    return any(shutil.which(name) for name in _LINUX_HELPERS) and bool(os.environ.get("DISPLAY"))


class NativeDialog:
    """One open dialog; `chosen` is called once, on the thread that looks, with what was chosen, None for nothing."""

    def __init__(self, dialog: Any, chosen: Callable[[Path | None], None]) -> None:
        self._dialog, self._chosen = dialog, chosen

    @classmethod
    def file(
        cls, title: str, start: Path, kinds: Sequence[FileKind], chosen: Callable[[Path | None], None]
    ) -> NativeDialog:
        """Ask for a file of some kinds."""
        filters = [word for kind in kinds for word in (kind.name, " ".join(f"*{each}" for each in kind.suffixes))]
        return cls(system.open_file(title, _existing(start), filters), chosen)

    @classmethod
    def folder(cls, title: str, start: Path, chosen: Callable[[Path | None], None]) -> NativeDialog:
        """Ask for a folder."""
        return cls(system.select_folder(title, _existing(start)), chosen)

    def look(self) -> float | None:
        """See whether the user has answered; return seconds until the next look, None once they have."""
        if not self._dialog.ready(0):
            return _LOOK_S
        found = self._dialog.result()
        path = found[0] if isinstance(found, list) and found else found or ""
        self._chosen(Path(path) if path else None)
        return None


def alert(title: str, text: str) -> None:
    """Show a text in a box of the system's own and wait until it is closed."""
    if has_dialogs():
        system.message(title, text, system.choice.ok, system.icon.error).result()


def _existing(folder: Path) -> str:
    """Return a folder to start in: the first that is there, going up."""
    return str(next((each for each in (folder, *folder.parents) if each.is_dir()), Path.home()))
