"""An entry in the system's menu that opens the window: no terminal needed from then on."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

from mockup import files
from mockup.model.errors import OutputError
from mockup.window.shell.icon import IconKind, icon_file

NAME = "mockup"
ABOUT = "See the pedal before you drill it"
_ICONS: dict[str, IconKind] = {"win32": "ico", "darwin": "icns"}


def make_menu_entry(*, on_desktop: bool = False) -> tuple[Path, ...]:
    """Put the entry into the menu, and an icon onto the desktop where asked; return the files that were made.

    Raises `OutputError` where the system does not take it.
    """
    kind = _ICONS.get(_system(), "png")
    icon = files.icon_file(kind)
    files.write_all({icon: icon_file(kind)})
    try:
        import pyshortcuts

        made: Any = pyshortcuts.make_shortcut(
            "-m mockup",  # what the interpreter is given: the library would part a path at its spaces
            name=NAME,
            description=ABOUT,
            icon=str(icon),
            terminal=False,
            desktop=on_desktop,
            startmenu=True,
            macos_app=True,
            executable=_interpreter(),
        )
    except Exception as error:  # the library passes on whatever the system says
        said = " ".join(str(error).split()) or type(error).__name__
        raise OutputError(f"no entry could be made in the menu ({said})") from None
    folders = [made.startmenu_dir or "/Applications", *([made.desktop_dir] if on_desktop else [])]
    return tuple(Path(folder) / made.target for folder in folders)


def _system() -> str:
    return sys.platform


def _interpreter() -> str:
    """Return the Python that runs this, without a terminal on Windows; quoted where the entry's line is parsed."""
    path = Path(sys.executable)
    if _system() == "win32":
        windowed = path.with_name("pythonw.exe")
        return str(windowed if windowed.exists() else path)
    return f'"{path}"' if " " in str(path) else str(path)
