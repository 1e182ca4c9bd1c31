"""Files that are written as one: all new or all old, whatever ends the program meanwhile.

Everything goes into a staging folder first, on the file system that it is meant for, and is then moved. A
single file is one move, as is a folder that is new as a whole, and a move is never seen half done. Several
moves can be: for the fraction of a millisecond that they take, and until the next run where the program is
killed just then. So a mark in the staging folder says that all is there, before the first move; whoever writes
near that place next finds the mark and makes the moves that are left. Without it nothing was moved, and the
folder is removed. Its lock is held for as long as its program lives: what is still being written is let alone.
"""

from __future__ import annotations

import contextlib
import errno
import os
import secrets
import shutil
import sys
import time
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from mockup.model.errors import OutputError, reason

_START, _END = ".mockup-", ".part"
_LOCK, _NEW, _OLD, _COMPLETE = "lock", "new", "old", "complete"
_LEVELS = 3  # folders above a target that are looked into too: one that was new then is not any more. Our choice
_UNLOCKED_S = 60.0  # a staging folder has no lock in its first few microseconds; after that time nobody makes one
_TAKEN = {errno.EWOULDBLOCK, errno.EACCES, errno.EDEADLK}  # what a lock that another program holds is told by
_TRIES = 8  # to make a staging folder whose lock another program takes in those microseconds

# RuntimeError is a ring of links, ValueError a name with NUL in it or one that this system's encoding lacks.
_REFUSALS = (OSError, ValueError, RuntimeError)


@dataclass(kw_only=True, eq=False)
class _Staging:
    """A staging folder, locked by us; `moved` holds (where it was staged, where it is now, what was there)."""

    folder: Path
    lock: int
    moved: list[tuple[Path, Path, Path | None]] = field(default_factory=list)

    @property
    def root(self) -> Path:
        return self.folder.parent


def write(files: Mapping[Path, bytes]) -> None:
    """Write every file or none; folders are made as needed. Raises `OutputError` where anything cannot be written.

    Files in places that have no folder of one file system in common that may be written to are moved one place
    after the other: what is killed between two of them leaves the first one new and the second one old.
    """
    where = next(iter(files), Path())
    targets: dict[Path, Path] = {}
    held: list[_Staging] = []
    try:
        for where in files:
            if targets.setdefault(_target(where), where) != where:
                raise OutputError(f"{where}: is named twice among the files to write")
        roots = _roots(targets)
        for folder in {**_near(targets), **roots}:
            recover(folder)
        for root, own in roots.items():
            where = targets[own[0]]
            held.append(_staging(root))
            for target in own:
                where = targets[target]
                _stage(held[-1], target, files[where])
        for each in held:
            where = each.folder
            _mark(each)
        for each in held:
            for staged, where in _moves(each.folder):
                _move(each, staged, where)
    except BaseException as error:
        for each in reversed(held):
            _undo(each)
        if not isinstance(error, _REFUSALS):
            raise
        said = f"{targets.get(where, where)}: cannot be written ({_reason(error)})"
        raise OutputError(said, typed="choose another place with -o") from None
    for each in held:
        _remove(each.folder, each.lock)


def recover(folder: Path) -> None:
    """Finish or remove what programs that are no more have left in a folder; what lives is let alone.

    So is what other users made: in a folder for all, a mark of theirs must not move anything over a file of ours.
    """
    with contextlib.suppress(OSError), os.scandir(folder) as entries:
        for entry in entries:
            is_named = entry.name.startswith(_START) and entry.name.endswith(_END)
            if is_named and entry.is_dir(follow_symlinks=False) and _is_own(entry.stat(follow_symlinks=False)):
                _finish(folder / entry.name)


def _is_own(told: os.stat_result) -> bool:
    return not hasattr(os, "geteuid") or told.st_uid == os.geteuid()


def _target(path: Path) -> Path:
    """Return where a file really goes; raises `OutputError` where something else than a file is there."""
    if path.is_dir():
        raise OutputError(f"{path}: is a folder", typed="give a file name to write to")
    if path.exists() and not path.is_file():
        raise OutputError(f"{path}: is a device or a pipe, not a file", typed="give a file name to write to")
    return path.parent.resolve() / path.name


def _near(targets: Iterable[Path]) -> dict[Path, None]:
    """Return the folders in which earlier writes to the same place may have left something."""
    return {folder: None for target in targets for folder in list(target.parents)[: _LEVELS + 1]}


def _roots(targets: Iterable[Path]) -> dict[Path, list[Path]]:
    """Return the folders to stage in, each with its targets: one for all where that can be."""
    found: dict[Path, list[Path]] = {}
    for target in targets:
        root = next(each for each in target.parents if each.exists())
        found.setdefault(root, []).append(target)
    if len(found) > 1:
        shared = Path(os.path.commonpath(found)) if len({each.drive for each in found}) == 1 else None
        devices = {each.stat().st_dev for each in (*found, *filter(None, [shared]))}
        if shared is not None and len(devices) == 1 and os.access(shared, os.W_OK | os.X_OK):
            return {shared: [target for own in found.values() for target in own]}
    return found


def _staging(root: Path) -> _Staging:
    for _ in range(_TRIES):
        folder = root / f"{_START}{secrets.token_hex(6)}{_END}"
        folder.mkdir()
        lock = os.open(folder / _LOCK, os.O_RDWR | os.O_CREAT | os.O_EXCL, 0o600)
        if _has_lock(lock, where_unknown=True):
            (folder / _NEW).mkdir()
            return _Staging(folder=folder, lock=lock)
        os.close(lock)
    raise OSError(errno.EAGAIN, "another program keeps removing what is being written")


def _stage(staging: _Staging, target: Path, data: bytes) -> None:
    place = staging.folder / _NEW / target.relative_to(staging.root)
    place.parent.mkdir(parents=True, exist_ok=True)
    with place.open("xb") as handle:
        handle.write(data)
        handle.flush()
        os.fsync(handle.fileno())
    with contextlib.suppress(OSError):  # whoever may read it now may read it then, where there is such a thing
        shutil.copymode(target, place)


def _mark(staging: _Staging) -> None:
    """Say that everything is there, where it takes more than one move to put it in place."""
    if len(list(_moves(staging.folder))) > 1:
        os.close(os.open(staging.folder / _COMPLETE, os.O_WRONLY | os.O_CREAT, 0o600))
        _sync(staging.folder)


def _moves(folder: Path) -> Iterator[tuple[Path, Path]]:
    """Yield (from, to) of what is staged: a new folder as a whole, else file by file. It follows no link."""
    waiting = [(folder / _NEW, folder.parent)]
    while waiting:
        here, there = waiting.pop()
        for each in sorted(here.iterdir()) if not here.is_symlink() else ():
            target = there / each.name
            if not each.is_dir() or not target.is_dir():
                yield each, target
            elif not target.is_symlink():  # whoever sends a folder may put a mark into it, and a link out of it
                waiting.append((each, target))


def _move(staging: _Staging, staged: Path, target: Path) -> None:
    old: Path | None = None
    if (staging.folder / _COMPLETE).exists() and target.exists():
        old = staging.folder / f"{_OLD}{len(staging.moved)}"
        try:
            os.link(target, old)
        except OSError:  # a file system that has no second names
            shutil.copy2(target, old)
    staged.replace(target)
    staging.moved.append((staged, target, old))


def _undo(staging: _Staging) -> None:
    """Put back what was there. Killed in between, the mark is there still, and all is moved again instead."""
    for staged, target, old in reversed(staging.moved):
        target.replace(staged)
        if old is not None:
            old.replace(target)
    _remove(staging.folder, staging.lock)


def _finish(folder: Path) -> None:
    """Finish a dead program's moves, or remove what it had staged; what cannot be done now is left for later."""
    try:
        lock = os.open(folder / _LOCK, os.O_RDWR | getattr(os, "O_NOFOLLOW", 0))
    except OSError:
        if time.time() - folder.stat().st_mtime > _UNLOCKED_S:
            shutil.rmtree(folder, ignore_errors=True)
        return
    if not _has_lock(lock, where_unknown=False):
        os.close(lock)
        return
    try:
        if (folder / _COMPLETE).exists():
            for staged, target in list(_moves(folder)):
                staged.replace(target)
    except OSError:
        os.close(lock)
        return
    _remove(folder, lock)


def _remove(folder: Path, lock: int) -> None:
    """Remove a staging folder: first the mark, so that the rest does not count, last the lock."""
    with contextlib.suppress(OSError):
        (folder / _COMPLETE).unlink(missing_ok=True)
        for each in folder.iterdir():
            if each.name == _NEW:
                shutil.rmtree(each)
            elif each.name != _LOCK:
                each.unlink()
    os.close(lock)  # some systems remove no file that is open
    shutil.rmtree(folder, ignore_errors=True)


def _has_lock(lock: int, *, where_unknown: bool) -> bool:
    """Lock an open file; return whether it is ours and still there, `where_unknown` where no file can be locked."""
    try:
        if sys.platform == "win32":
            import msvcrt

            msvcrt.locking(lock, msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError as error:
        return where_unknown and error.errno not in _TAKEN
    return os.fstat(lock).st_nlink > 0


def _sync(folder: Path) -> None:
    """Have a folder's entries on the disk, where the system can say so of a folder."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _reason(error: BaseException) -> str:
    if isinstance(error, OSError):
        return reason(error)
    return "no system takes such a name" if isinstance(error, ValueError) else "a ring of links"
