"""What the window saves: one output at a time, made in a process of its own that can be stopped."""

from __future__ import annotations

import contextlib
import pickle
import subprocess
import sys
import threading
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from mockup.window.shell.mailbox import Mailbox
from mockup.window.shell.messages import MessageLine
from mockup.window.work.output_options import Given
from mockup.window.work.pane_pictures import PicturedPanes
from mockup.window.work.project import Project


@dataclass(frozen=True, kw_only=True)
class SaveJob:
    """An output to be made of an edited layout; `text` None means as it is on disk, `given` is what controls hold."""

    output: str
    suffix: str
    project: Project
    panes: PicturedPanes
    text: str | None
    given: Mapping[str, Given]

    @property
    def variant(self) -> str | None:
        """The variant that is saved; of several the first."""
        return self.panes.contents[0].variant


@dataclass(frozen=True, kw_only=True)
class SaveProgress:
    """How far a job is: its share done (0 to 1), what it does, and at the end files or a fault."""

    job: SaveJob
    share: float = 0.0
    what: str = ""
    files: tuple[Path, ...] = ()
    fault: str = ""
    is_over: bool = False


class SaveJobs:
    """Makes one output at a time and holds what is chosen for each; `progress` is of the last job."""

    def __init__(self, mailbox: Mailbox, messages: MessageLine) -> None:
        self._mailbox = mailbox
        self._messages = messages
        self._process: subprocess.Popen[str] | None = None
        self._is_stopped = False
        self.progress: SaveProgress | None = None
        self.chosen = "still"
        self.suffix: dict[str, str] = {}
        self.given: dict[str, dict[str, Given]] = {}

    @property
    def is_busy(self) -> bool:
        """True while something is being made."""
        return self._process is not None

    def start(self, job: SaveJob) -> None:
        """Begin a job; one at a time, so that another one is refused with a message."""
        if self._process is not None:
            self._messages.say("something is being saved already; wait for it, or stop it first")
            return
        self._is_stopped = False
        self.progress = SaveProgress(job=job, what="starting")
        self._process = subprocess.Popen(
            [sys.executable, "-m", "mockup.window.work.save_worker"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            text=True,
            encoding="utf-8",
        )
        threading.Thread(target=self._follow, args=(self._process, job), name="saving", daemon=True).start()

    def stop(self) -> None:
        """Stop what is being made; nothing of it is written."""
        if self._process is not None:
            self._is_stopped = True
            self._process.terminate()

    def close(self) -> None:
        """Stop, and wait for the end."""
        process = self._process
        self.stop()
        if process is not None:
            with contextlib.suppress(subprocess.TimeoutExpired):
                process.wait(5.0)

    def _follow(self, process: subprocess.Popen[str], job: SaveJob) -> None:
        assert process.stdin is not None
        assert process.stdout is not None
        made: list[Path] = []
        fault = ""
        with contextlib.suppress(OSError):
            process.stdin.write(pickle.dumps(job).hex())
            process.stdin.close()
        for line in process.stdout:
            word, _, rest = line.rstrip("\n").partition(" ")
            if word == "progress":
                share, _, what = rest.partition(" ")
                self._tell(SaveProgress(job=job, share=float(share), what=what))
            elif word == "made":
                made.append(Path(rest))
            elif word == "fault":
                fault = rest
        process.wait()
        self._process = None
        if self._is_stopped and not made:
            fault = "stopped; nothing was written"
        elif not made and not fault:
            fault = f"the {job.output} could not be made; please report it"
        self._tell(SaveProgress(job=job, share=1.0, files=tuple(made), fault=fault, is_over=True))

    def _tell(self, progress: SaveProgress) -> None:
        self._mailbox.post(lambda: self._take(progress))

    def _take(self, progress: SaveProgress) -> None:
        self.progress = progress
        if progress.is_over and progress.fault:
            self._messages.say(progress.fault)
        elif progress.is_over:
            self._messages.say(f"saved {', '.join(path.name for path in progress.files)} beside the layout")
