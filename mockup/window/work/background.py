"""The threads that work beside the window: loading, checking, watching files, keeping unsaved changes."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from mockup.window.shell.mailbox import Mailbox
from mockup.window.work.check_runner import CheckResult, CheckRunner
from mockup.window.work.file_watcher import FileWatcher
from mockup.window.work.recovery import Keeper
from mockup.window.work.scene_loader import LoadResult, SceneLoader


class Background:
    """Owns the threads; each hands what it found to one of the given functions, on the window's own thread."""

    def __init__(
        self,
        mailbox: Mailbox,
        *,
        on_loaded: Callable[[LoadResult], None],
        on_checked: Callable[[CheckResult], None],
        on_files: Callable[[frozenset[Path]], None],
        on_fault: Callable[[str], None],
    ) -> None:
        self.loader = SceneLoader(lambda found: mailbox.post(lambda: on_loaded(found)))
        self.checker = CheckRunner(lambda found: mailbox.post(lambda: on_checked(found)))
        self.watcher = FileWatcher(lambda paths: mailbox.post(lambda: on_files(paths)))
        self.keeper = Keeper(lambda text: mailbox.post(lambda: on_fault(text)))

    def close(self) -> None:
        """End the threads."""
        self.watcher.close()
        self.keeper.close()
        self.loader.close()
        self.checker.close()
