"""The queue of what is saved: one job at a time, in order; what waits can be left out. The process is played."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, ClassVar

import pytest

from mockup.window.saves import save_jobs
from mockup.window.saves.save_jobs import SaveJobs
from mockup.window.saves.save_worker import SaveJob
from mockup.window.shell.mailbox import Mailbox
from mockup.window.shell.messages import MessageLine
from mockup.window.work.project import Project
from mockup.worker import WorkerGoneError


class PlayedWorker:
    """Answers when it is told to, and not at all once it is closed."""

    begun: ClassVar[list[PlayedWorker]] = []

    def __init__(self, told: object) -> None:
        self.may_end, self.is_closed = threading.Event(), False
        self.begun.append(self)

    def ask(self, _made: object, job: SaveJob) -> dict[Path, bytes]:
        assert self.may_end.wait(60)
        if self.is_closed:
            raise WorkerGoneError("closed", reason="closed")
        return {job.folder / f"{job.output}.pdf": b"page"}

    def close(self) -> None:
        self.is_closed = True
        self.may_end.set()


class Desk:
    """Jobs, and the window's thread that collects what they tell."""

    def __init__(self, folder: Path) -> None:
        self.called = threading.Event()
        self.mailbox = Mailbox(self.called.set)
        self.jobs = SaveJobs(self.mailbox, MessageLine(lambda: None))
        self.folder = folder

    def start(self, *outputs: str) -> None:
        project = Project(layout=self.folder / "layout.toml")
        panes: Any = None
        for output in outputs:
            self.jobs.start(
                SaveJob(
                    output=output, suffix=".pdf", project=project, panes=panes, text=None, given={}, folder=self.folder
                )
            )

    def end_one(self) -> None:
        """Let the job that is being made end, and collect what it tells."""
        count = len(self.jobs.done)
        PlayedWorker.begun[-1].may_end.set()
        self.until(lambda: len(self.jobs.done) > count)

    def until(self, is_so: Callable[[], bool]) -> None:
        while not is_so():
            assert self.called.wait(60)
            self.called.clear()
            self.mailbox.collect()

    @property
    def waiting(self) -> list[str]:
        return [job.output for job in self.jobs.waiting]

    @property
    def done(self) -> list[str]:
        return [each.job.output for each in self.jobs.done]


@pytest.fixture
def desk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Desk]:
    monkeypatch.setattr(save_jobs, "Worker", PlayedWorker)
    PlayedWorker.begun.clear()
    found = Desk(tmp_path)
    yield found
    found.jobs.stop()


def test_one_after_the_other(desk: Desk) -> None:
    desk.start("template", "sheet")
    assert desk.jobs.progress is not None
    assert (desk.jobs.progress.job.output, desk.waiting, len(PlayedWorker.begun)) == ("template", ["sheet"], 1)
    desk.end_one()
    assert desk.jobs.progress.job.output == "sheet"
    desk.end_one()
    assert (desk.jobs.is_busy, desk.done) == (False, ["sheet", "template"])
    assert {path.name for path in desk.folder.iterdir()} == {"template.pdf", "sheet.pdf"}


def test_what_waits_is_left_out_and_nothing_else(desk: Desk) -> None:
    desk.start("template", "sheet", "jig", "log")
    desk.jobs.leave_out(1)
    assert desk.waiting == ["sheet", "log"]
    for number in (-1, 2, 99):  # its row is gone since the frame that was clicked
        desk.jobs.leave_out(number)
    assert desk.waiting == ["sheet", "log"]
    for _ in range(3):
        desk.end_one()
    assert desk.done == ["log", "sheet", "template"]
    assert {path.name for path in desk.folder.iterdir()} == {"template.pdf", "sheet.pdf", "log.pdf"}
    desk.jobs.leave_out(0)


def test_stopping_drops_what_waits_and_writes_nothing(desk: Desk) -> None:
    desk.start("template", "sheet")
    desk.jobs.stop()
    desk.until(lambda: bool(desk.jobs.done))
    assert (desk.waiting, desk.done, desk.jobs.is_busy) == ([], ["template"], False)
    assert desk.jobs.done[0].fault == "Stopped; nothing was written"
    assert not list(desk.folder.iterdir())
