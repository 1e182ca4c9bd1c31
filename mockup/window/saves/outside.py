"""Files handed to other programs: opened as a double click would, or shown in their folder."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

Deed = Callable[[Path], bool]


def open_file(path: Path) -> bool:
    """Open a file in the program that the system has for it; False where there is none."""
    if sys.platform == "win32":
        os.startfile(path)
        return True
    return _run("open" if sys.platform == "darwin" else "xdg-open", str(path))


def show_in_folder(path: Path) -> bool:
    """Show a file in its folder, marked where the system can; False where nothing shows folders."""
    if sys.platform == "win32":
        return _run("explorer", f"/select,{path}")
    if sys.platform == "darwin":
        return _run("open", "-R", str(path))
    return _run("xdg-open", str(path.parent))


def _run(program: str, *words: str) -> bool:
    """Start a program and let it run; False where it is not there."""
    found = shutil.which(program)
    if found is None:
        return False
    subprocess.Popen(
        [found, *words], stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        start_new_session=True,
    )  # fmt: skip
    return True
