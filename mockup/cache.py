"""Finished pictures and figures, kept on disk under the name of everything that they depend on.

An entry's name is the digest of what it was made from: the design by its content, camera and options, the
engine, this program's own source and the libraries that render. So nothing is ever out of date: what
changes gets another name, and what is no longer asked for goes first when the folder grows too large.
Several runs may use one folder at once: entries are written whole or not at all, and one that is gone or
damaged is one that was never there.
"""

from __future__ import annotations

import contextlib
import functools
import hashlib
import importlib.metadata
import json
import re
import secrets
from collections.abc import Collection
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from mockup import __version__, files
from mockup.memo import MEMORY
from mockup.model.digest import digest
from mockup.model.errors import Fault, InputError, OutputError

USUAL_LIMIT = 10**9  # bytes, some ten thousand small pictures: our choice
LEAST_LIMIT = 10**6  # bytes; below this not even one sheet's pictures fit
_MARK = b"mockup kept 1\n"
_SUFFIX = ".kept"
_LIBRARIES = (
    "numpy",
    "Pillow",
    "scipy",
    "manifold3d",
    "trimesh",
    "pyrender",
    "mitsuba",
    "pyoidn",
    "resvg-py",
    "uharfbuzz",
    "onnxruntime",
    "rapidocr",
)
_UNITS = {"": 1, "kb": 10**3, "mb": 10**6, "gb": 10**9, "tb": 10**12}  # SI, as discs are sold


@dataclass(frozen=True, kw_only=True)
class Store:
    """A folder of entries by name."""

    folder: Path

    def get(self, key: str) -> bytes | None:
        """Return an entry, marked as used now; None where there is none or it is damaged."""
        data = files.read_kept(self._place(key))
        if data is None or not data.startswith(_MARK):
            return None
        start = len(_MARK) + hashlib.sha256().digest_size
        body = data[start:]
        return body if hashlib.sha256(body).digest() == data[len(_MARK) : start] else None

    def put(self, key: str, body: bytes) -> None:
        """Keep an entry, whole or not at all; raises `OutputError` where the folder cannot be written."""
        files.write_all({self._place(key): _MARK + hashlib.sha256(body).digest() + body})

    def require(self) -> None:
        """Raise `OutputError` where nothing can be kept, so that it is told before any work."""
        probe = digest("probe", secrets.token_hex(8))
        try:
            self.put(probe, b"")
        except OutputError:
            what = "finished pictures cannot be kept there"
            remedy = f"name another folder in {files.CACHE_FOLDER}"
            raise OutputError(f"{self.folder}: {what}; {remedy}") from None
        files.remove_kept([self._place(probe)])

    def size(self) -> tuple[int, int]:
        """Return how many entries there are, and their bytes together."""
        found = [size for path, size, _ in files.kept_files(self.folder) if path.suffix == _SUFFIX]
        return len(found), sum(found)

    def clear(self) -> int:
        """Remove every entry; return how many went."""
        files.recover(self.folder)
        return files.remove_kept(path for path, _, _ in self._own())

    def trim(self, limit: int, spared: Collection[str] = ()) -> int:
        """Remove what was used least recently until at most `limit` bytes are left; return how many went.

        Entries named in `spared` stay, and count.
        """
        files.recover(self.folder)
        entries = sorted(self._own(), key=lambda entry: entry[2])
        total, going = sum(size for _, size, _ in entries), []
        for path, size, _ in entries:
            if total <= limit:
                break
            if path.stem not in spared:
                going.append(path)
                total -= size
        return files.remove_kept(going)

    def _own(self) -> list[tuple[Path, int, float]]:
        """Return this program's own files in the folder: its entries."""
        return [
            each
            for each in files.kept_files(self.folder)
            if each[0].suffix == _SUFFIX and len(each[0].parent.name) == 2
        ]

    def _place(self, key: str) -> Path:
        return self.folder / key[:2] / f"{key}{_SUFFIX}"


def store() -> Store:
    """Return the user's own store."""
    return Store(folder=files.cache_folder())


def usable() -> tuple[Store, tuple[str, ...]]:
    """Return the user's own store; where nothing can be kept there, one for this run alone, and a note that says so."""
    own = store()
    try:
        own.require()
    except OutputError as error:
        return Store(folder=files.passing_folder()), (f"{error}. This run goes on, but the next one begins anew.",)
    return own, ()


class _Shelf:
    """The user's own store, for what the memory keeps from one run to the next."""

    def recall(self, maker: str, of: str) -> bytes | None:
        return store().get(key(maker, of))

    def keep(self, maker: str, of: str, body: bytes) -> None:
        with contextlib.suppress(OutputError):  # the next run makes it again
            store().put(key(maker, of), body)


def attach() -> None:
    """Let the memory of this process keep small results on disk."""
    MEMORY.shelf = _Shelf()


def key(*parts: Any) -> str:
    """Return the name of what is made from `parts` (plain data) by this program, as it is now."""
    return digest(*parts, program())


@functools.cache
def program() -> str:
    """Return the digest of what makes the pictures: this program's source, its version and its libraries' versions.

    It reads files, so it is no matter for `mockup.memo`; they do not change while a program runs.
    """
    versions = {name: _version(name) for name in _LIBRARIES}
    return digest(__version__, versions, [(name, data) for name, data in files.program_files()])


def limit() -> int:
    """Return how many bytes the store may hold; the usual limit where none was set or the setting is broken."""
    data = files.read_kept(files.cache_settings_file())
    try:
        found = json.loads(data or b"{}").get("limit_bytes", USUAL_LIMIT)
    except (ValueError, AttributeError, RecursionError):
        return USUAL_LIMIT
    return found if isinstance(found, int) and not isinstance(found, bool) and found >= LEAST_LIMIT else USUAL_LIMIT


def set_limit(text: str) -> int:
    """Keep how large the store may grow, such as ``500MB``, and bring it down to that; return the bytes.

    Raises `InputError` where the text is no size.
    """
    match = re.fullmatch(r"\s*(\d+(?:\.\d+)?)\s*([kmgt]?b?)\s*", text.casefold())
    unit = match[2] if match else ""
    unit = unit + "b" if unit in {"k", "m", "g", "t"} else unit.removeprefix("b") if unit == "b" else unit
    size = round(float(match[1]) * _UNITS[unit]) if match else 0
    if not LEAST_LIMIT <= size <= 10**15:
        what = f"{text!r} is no size that a cache may have"
        raise InputError(Fault(file="mockup cache limit", what=what, remedy="write for example 500MB or 2GB"))
    files.write_all({files.cache_settings_file(): json.dumps({"limit_bytes": size}).encode()})
    store().trim(size)
    return size


def size_text(size: int) -> str:
    """Return a number of bytes in words."""
    for unit in ("TB", "GB", "MB", "kB"):
        if size >= _UNITS[unit.casefold()]:
            return f"{size / _UNITS[unit.casefold()]:.3g} {unit}"
    return f"{size} bytes"


def _version(library: str) -> str:
    try:
        return importlib.metadata.version(library)
    except importlib.metadata.PackageNotFoundError:
        return ""
