"""Who tells that a file was saved: a thread that watches the folders it lies in."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path

from mockup import files
from mockup.model.digest import digest
from mockup.model.errors import MockupError
from mockup.window.work.assets import mark

QUIET_MS = 40  # files that change within this of each other are told together: by trial with editors' saves
LONGEST_MS = 400  # a file that never comes to rest is told all the same
LOOK_MS = 500  # the files themselves are looked at this often, should the system have missed something
POLL_MS = 150  # where the system cannot tell at all


class FileWatcher:
    """Calls `told` on a thread of its own with the watched files that changed, as they were asked for.

    Folders are watched, not files: editors write a new file and rename it over the old one. What the
    program wrote itself (see `expect`) is not told. `is_polling` looks at the files instead of asking the
    system, for network folders; it also begins by itself where the system has no watch to give.
    """

    def __init__(self, told: Callable[[frozenset[Path]], None], *, is_polling: bool = False) -> None:
        self._told = told
        self._is_polling = is_polling
        self._lock = threading.Lock()
        self._files: dict[Path, Path] = {}  # as the system tells it: as it was asked for
        self._marks: dict[Path, tuple[int, ...]] = {}
        self._folders: frozenset[Path] = frozenset()
        self._expected: dict[Path, str] = {}
        self._stop = threading.Event()
        self._thread: threading.Thread | None = None

    def watch(self, paths: Iterable[Path]) -> None:
        """Watch these files instead of those before; they need not exist yet."""
        wanted = {_plain(path): path for path in paths}
        folders = frozenset(path.parent for path in wanted if path.parent.is_dir())
        with self._lock:
            self._files = wanted
            self._marks = {path: self._marks[path] if path in self._marks else mark(path) for path in wanted}
            is_new = folders != self._folders or self._thread is None
            self._folders = folders
        if not wanted:
            self._end()
        elif is_new:
            self._restart()

    def expect(self, path: Path, data: bytes) -> None:
        """Say that the program itself is about to write these bytes to a file: that change is not told."""
        with self._lock:
            self._expected[_plain(path)] = digest(data)

    def close(self) -> None:
        """End the thread."""
        self._end()

    def _restart(self) -> None:
        self._end()
        self._stop = threading.Event()
        self._thread = threading.Thread(
            target=self._run, args=(self._folders, self._stop), name="saved files", daemon=True
        )
        self._thread.start()

    def _end(self) -> None:
        self._stop.set()
        if self._thread is not None and self._thread is not threading.current_thread():
            self._thread.join(2.0)
        self._thread = None

    def _run(self, folders: frozenset[Path], stop: threading.Event) -> None:
        for touched in _touched(folders, stop, is_polling=self._is_polling):
            changed = self._changed(touched)
            if changed and not stop.is_set():
                self._told(changed)

    def _changed(self, touched: set[Path]) -> frozenset[Path]:
        """Return the watched files that were touched, or look otherwise than last time, our own writes left out."""
        with self._lock:
            known, marks, expected = dict(self._files), dict(self._marks), dict(self._expected)
        now = {path: mark(path) for path in known}
        found = {path for path in known if path in touched or now[path] != marks.get(path)}
        told = {path for path in found if path not in expected or not _holds(path, expected[path])}
        with self._lock:
            self._marks.update({path: now[path] for path in found if path in self._marks})
            for path in told:  # somebody else wrote it since: the same bytes again are news
                self._expected.pop(path, None)
        return frozenset(known[path] for path in told)


def _touched(folders: frozenset[Path], stop: threading.Event, *, is_polling: bool) -> Iterator[set[Path]]:
    """Yield what the system says was touched, and nothing at all now and then, until it is told to stop."""
    import watchfiles

    if folders and not is_polling:
        changes = watchfiles.watch(
            *folders,
            watch_filter=None,
            debounce=LONGEST_MS,
            step=QUIET_MS,
            stop_event=stop,
            rust_timeout=LOOK_MS,
            yield_on_timeout=True,
            force_polling=False,
            recursive=False,
            raise_interrupt=False,
            ignore_permission_denied=True,
        )
        try:
            for batch in changes:
                yield {Path(path) for _, path in batch}
        except (OSError, RuntimeError, UnicodeError):  # it went away, has no watches left, or no text as name
            pass
    while not stop.wait(POLL_MS / 1000):
        yield set()


def _plain(path: Path) -> Path:
    """Return a path as the system tells it: the folder's own name, the file's name as it is (it may be a link)."""
    return path.parent.resolve() / path.name


def _holds(path: Path, expected: str) -> bool:
    try:
        return digest(files.read_bytes(path)) == expected
    except MockupError:
        return False
