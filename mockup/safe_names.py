"""Names of files that every system takes, and names that some systems take for one and the same."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Iterator

from mockup.model.errors import Fault, InputError

_FORBIDDEN = set('<>:"|?*\\')  # Windows takes them in no file name: its naming rules
_DEVICES = {"CON", "PRN", "AUX", "NUL", "CONIN$", "CONOUT$"}  # names of devices, with any ending: the same rules
_DEVICES |= {f"{device}{number}" for device in ("COM", "LPT") for number in "123456789¹²³"}
_LONGEST = 240  # bytes of one name as UTF-8; common file systems take 255, and something is added at times


def require_safe(name: str, source: str) -> str:
    """Return a name inside a folder as it is; `InputError` where it could leave it or some system refuses it."""
    if not is_safe(name):
        what = f"{name!r} is not a file name that is safe on every system"
        raise InputError(Fault(file=source, what=what, remedy="rename it: letters, digits, hyphens, dots"))
    return name


def is_safe(name: str) -> bool:
    """Return whether a name, with folders before it where it has any, can be made inside a folder on every system."""
    if _FORBIDDEN & set(name) or not name.isprintable():
        return False
    for piece in name.split("/"):
        if piece in {"", ".", ".."} or piece != piece.strip(" ").rstrip(".") or is_device(piece):
            return False
        if len(piece.encode()) > _LONGEST:
            return False
    return True


def is_device(name: str) -> bool:
    """Return whether Windows takes a name for a device."""
    return name.partition(".")[0].rstrip(" ").upper() in _DEVICES


def same(name: str) -> str:
    """Return what a name is told by where neither case nor the way of writing an accent counts."""
    return unicodedata.normalize("NFC", unicodedata.normalize("NFD", name).casefold())


def clashes(names: Iterable[str]) -> Iterator[tuple[str, str]]:
    """Yield (name, earlier name) for what cannot lie in one folder: the same name, or a file where a folder must be."""
    files: dict[str, str] = {}
    folders: dict[str, str] = {}
    for name in names:
        key = same(name)
        around = [key[:place] for place, each in enumerate(key) if each == "/"]
        other = files.get(key) or folders.get(key) or next((files[each] for each in around if each in files), None)
        if other is not None:
            yield name, other
            continue
        files[key] = name
        for each in around:
            folders.setdefault(each, name)
