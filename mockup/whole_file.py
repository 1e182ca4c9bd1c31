"""One file read whole: a regular one, within bounds, under a name that a file can have.

A pipe would be waited for without end, a device be read until no memory is left.
"""

from __future__ import annotations

import errno
import os
import stat
from pathlib import Path

from mockup.model.errors import Fault, InputError, reason

MAX_ASSET_BYTES = 512 * 2**20  # far above any sensible art file; keeps memory bounded
_LONGEST_NAME = 255  # bytes of a file's name: what file systems take, from memory
_SORTS = (
    (stat.S_ISFIFO, "a pipe"),
    (stat.S_ISCHR, "a device"),
    (stat.S_ISBLK, "a disc"),
    (stat.S_ISSOCK, "a socket"),
)
_FLAGS = os.O_RDONLY | sum(getattr(os, name, 0) for name in ("O_NONBLOCK", "O_CLOEXEC", "O_BINARY", "O_NOCTTY"))


def check_name(path: Path, file: str, name: str) -> None:
    """Raise `InputError` for a name that no file can have."""
    if "\0" in str(path):
        raise InputError(Fault(file=file, what=f"{name!r} holds a NUL character, which no file's name can"))
    longest = max((len(os.fsencode(part)) for part in path.parts), default=0)
    if longest > _LONGEST_NAME:
        what = f"a name of {longest} bytes is too long for a file; the limit is {_LONGEST_NAME}"
        raise InputError(Fault(file=file[:_LONGEST_NAME], what=what))


def read(path: Path, name: str, start: str = "mockup new NAME", limit: int = MAX_ASSET_BYTES) -> bytes:
    """Return the bytes of a regular file.

    `name` is what the user calls it, `start` the command that writes such a file. Raises `InputError` where it is
    missing, no file, unreadable or larger than `limit` bytes.
    """
    check_name(path, name, name)
    try:
        _check_sort(path, path.stat())
        with os.fdopen(os.open(path, _FLAGS), "rb") as file:
            told = os.fstat(file.fileno())
            _check_sort(path, told)
            data = file.read(limit + 1) if told.st_size <= limit else b""
    except FileNotFoundError:
        is_link = path.is_symlink()
        what = "is a link to a file that is not there" if is_link else "there is no such file"
        remedy = f"check the path, or start with: {start}"
        raise InputError(Fault(file=str(path), what=what, remedy=remedy)) from None
    except OSError as error:
        why = "is a link to itself" if error.errno == errno.ELOOP else f"cannot be read ({reason(error)})"
        raise InputError(Fault(file=str(path), what=why)) from None
    size = max(told.st_size, len(data))
    if size > limit:
        what = f"is {size / 2**20:.0f} MiB large; the limit is {limit // 2**20} MiB"
        raise InputError(Fault(file=name, what=what, remedy="save it smaller"))
    return data


def _check_sort(path: Path, told: os.stat_result) -> None:
    """Raise `InputError` for what is no regular file."""
    if stat.S_ISREG(told.st_mode):
        return
    if stat.S_ISDIR(told.st_mode):
        raise InputError(Fault(file=str(path), what="is a folder, expected a file", remedy="give the file itself"))
    sort = next((words for is_one, words in _SORTS if is_one(told.st_mode)), "no file")
    remedy = "save what it holds as a file"
    raise InputError(Fault(file=str(path), what=f"is {sort}, expected a file", remedy=remedy))
