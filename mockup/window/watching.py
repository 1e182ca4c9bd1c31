"""Who tells that a file was saved: a thread that watches the folders it lies in."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterable
from pathlib import Path

from mockup import files
from mockup.model.errors import MockupError
from mockup.window.editing import digest

QUIET_MS = 40  # files that change within this of each other are told together: by trial with editors' saves
LONGEST_MS = 400  # a file that never comes to rest is told all the same
POLL_MS = 150  # between looks where the system cannot tell


class Watcher:
    """Calls `told` with the watched files that changed, from its own thread.

    Folders are watched, not files: editors write a new file and rename it over the old one. What the
    program wrote itself (see `expect`) is not told. `is_polling` looks at the files instead of asking
    the system, for network folders.
    """

    def __init__(self, told: Callable[[frozenset[Path]], None], *, is_polling: bool = False) -> None:
        self._told = told
        self._is_polling = is_polling
        self._lock = threading.Lock()
        self._files: frozenset[Path] = frozenset()
        self._folders: frozenset[Path] = frozenset()
        self._expected: dict[Path, str] = {}
        self._stop = threading.Event()
        self._thread: threading.Thread | None = None

    def watch(self, paths: Iterable[Path]) -> None:
        """Watch these files instead of those before; a folder that is not there is left out until it is asked again."""
        wanted = frozenset(_plain(path) for path in paths)
        folders = frozenset(path.parent for path in wanted if path.parent.is_dir())
        with self._lock:
            self._files = wanted
            is_new = folders != self._folders or (self._thread is None and bool(folders))
            self._folders = folders
        if is_new:
            self._restart()

    def expect(self, path: Path, data: bytes) -> None:
        """Say that the program itself writes these bytes to a file: that change is not told."""
        with self._lock:
            self._expected[_plain(path)] = digest(data)

    def close(self) -> None:
        """End the thread."""
        with self._lock:
            self._folders = frozenset()
        self._end()

    def _restart(self) -> None:
        self._end()
        with self._lock:
            folders = self._folders
        if not folders:
            return
        self._stop = threading.Event()
        self._thread = threading.Thread(target=self._run, args=(folders, self._stop), name="saved files", daemon=True)
        self._thread.start()

    def _end(self) -> None:
        self._stop.set()
        if self._thread is not None and self._thread is not threading.current_thread():
            self._thread.join(2.0)
        self._thread = None

    def _run(self, folders: frozenset[Path], stop: threading.Event) -> None:
        import watchfiles

        changes = watchfiles.watch(
            *folders,
            watch_filter=None,
            debounce=LONGEST_MS,
            step=QUIET_MS,
            stop_event=stop,
            rust_timeout=200,
            yield_on_timeout=False,
            force_polling=True if self._is_polling else None,
            poll_delay_ms=POLL_MS,
            recursive=False,
            raise_interrupt=False,
            ignore_permission_denied=True,
        )
        try:
            for batch in changes:
                if stop.is_set():
                    return
                changed = self._ours(Path(path) for _, path in batch)
                if changed:
                    self._told(changed)
        except (OSError, RuntimeError):  # the folder went away, or the system has no watches left
            if not stop.is_set():
                self._told(frozenset())

    def _ours(self, paths: Iterable[Path]) -> frozenset[Path]:
        with self._lock:
            wanted, expected = self._files, dict(self._expected)
        found = {path for path in paths if path in wanted}
        return frozenset(path for path in found if path not in expected or not _holds(path, expected[path]))


def _plain(path: Path) -> Path:
    """Return a path as the system tells it: the folder's own name, the file's name as it is (it may be a link)."""
    return path.parent.resolve() / path.name


def _holds(path: Path, expected: str) -> bool:
    try:
        return digest(files.read_bytes(path)) == expected
    except MockupError:
        return False
