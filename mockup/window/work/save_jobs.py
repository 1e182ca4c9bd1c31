"""Pictures and pages saved from the window, in a process of its own: it draws off screen and can be stopped."""

from __future__ import annotations

import contextlib
import pickle
import signal
import subprocess
import sys
import threading
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Literal, NoReturn, TextIO

from mockup import files
from mockup.model.design import Design
from mockup.model.errors import MockupError
from mockup.options import Progress, file_stem
from mockup.window.work import pane_pictures
from mockup.window.work.assets import Shelf
from mockup.window.work.pane_pictures import PicturedPanes
from mockup.window.work.project import Project

Kind = Literal["picture", "turntable", "template", "sheet"]
KINDS: dict[Kind, str] = {
    "picture": "picture",
    "turntable": "turntable",
    "template": "drill template",
    "sheet": "decal sheet",
}


@dataclass(frozen=True, kw_only=True)
class SaveJob:
    """What is to be made of an edited layout, and the kind of file; `text` None means as it is on disk.

    `frames` are a turntable's pictures; `options` are those of a page's output plug-in.
    """

    kind: Kind
    project: Project
    sitting: PicturedPanes
    text: str | None = None
    suffix: str = ".png"
    frames: int = 36
    options: dict[str, Any] = field(default_factory=dict)

    @property
    def variant(self) -> str | None:
        """The version of the layout that is pictured; of several the first."""
        return self.sitting.orders[0].variant


@dataclass(frozen=True, kw_only=True)
class SaveProgress:
    """What a job has come to: its share done (0 to 1), what it does, and at the end files or a fault."""

    job: SaveJob
    share: float = 0.0
    what: str = ""
    files: tuple[Path, ...] = ()
    fault: str = ""
    is_over: bool = False


class SaveRunner:
    """Makes one thing at a time; `deliver` is called on a thread of its own."""

    def __init__(self, deliver: Callable[[SaveProgress], None]) -> None:
        self._deliver = deliver
        self._process: subprocess.Popen[str] | None = None
        self._is_stopped = False

    @property
    def is_busy(self) -> bool:
        """True while something is being made."""
        return self._process is not None

    def start(self, job: SaveJob) -> bool:
        """Begin a job; False while another one runs."""
        if self._process is not None:
            return False
        self._is_stopped = False
        self._process = subprocess.Popen(
            [sys.executable, "-m", "mockup.window.work.save_jobs"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            text=True,
            encoding="utf-8",
        )
        threading.Thread(target=self._follow, args=(self._process, job), name="making", daemon=True).start()
        return True

    def stop(self) -> None:
        """Stop what is being made; nothing of it is written."""
        process = self._process
        if process is not None:
            self._is_stopped = True
            process.terminate()

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
                self._deliver(SaveProgress(job=job, share=float(share), what=what))
            elif word == "made":
                made.append(Path(rest))
            elif word == "fault":
                fault = rest
        process.wait()
        self._process = None
        if self._is_stopped and not made:
            fault = "stopped; nothing was written"
        elif not made and not fault:
            fault = f"the {KINDS[job.kind]} could not be made; please report it"
        self._deliver(SaveProgress(job=job, share=1.0, files=tuple(made), fault=fault, is_over=True))


def made(job: SaveJob, designs: Sequence[Design], target: Path, progress: Progress) -> dict[Path, bytes]:
    """Return the files of a job, the main one first; one design per pane. `MockupError` where it cannot be made."""
    match job.kind:
        case "picture":
            return {target: pane_pictures.picture(job.sitting, designs, progress)}
        case "turntable":
            return {target: pane_pictures.turn(job.sitting, designs[0], job.suffix, job.frames, progress)}
    from mockup.outputs import OUTPUTS

    module = OUTPUTS.load(job.kind)
    options = module.Options(**job.options, output=str(target))
    result = module.make(designs[0], options, progress)
    return {Path(name): data for name, data in result.files.items()}


def free_name(job: SaveJob, name: str) -> Path:
    """Return where a job's file goes: beside the layout, under a name that is not taken."""
    words = [file_stem(name)]
    if len(job.sitting.orders) > 1:
        words.append("side-by-side" if job.sitting.wipe is None else "wipe")
    elif job.variant:
        words.append(file_stem(job.variant))
    words.append(job.sitting.view if job.kind == "picture" else job.kind)
    stem = "-".join(words)
    for number in range(1, 10_000):
        path = job.project.folder / f"{stem}{'' if number == 1 else f'-{number}'}{job.suffix}"
        if not path.exists():
            return path
    return job.project.folder / f"{stem}{job.suffix}"


def serve(asked: TextIO, told: TextIO) -> None:
    """Do one job that is read from a pipe, and tell of it line by line: what the process of its own does."""

    def tell(line: str) -> None:
        told.write(" ".join(line.split()) + "\n")
        told.flush()

    is_stopped = False

    def stopped(*_: object) -> NoReturn:
        nonlocal is_stopped
        is_stopped = True
        raise SystemExit(130)

    def go_on() -> None:
        if is_stopped:  # a library's own callback may have swallowed the first one
            raise SystemExit(130)

    def come_to(done: int, total: int, what: str) -> None:
        go_on()
        tell(f"progress {done / max(total, 1):.4f} {what}")

    signal.signal(signal.SIGTERM, stopped)  # so that what is half-written is taken away again
    job: SaveJob = pickle.loads(bytes.fromhex(asked.read()))
    try:
        shelf = Shelf()
        text = shelf.text(job.project) if job.text is None else job.text
        layout = shelf.layout(text, job.project)
        designs = [shelf.design(layout, job.project, order.variant) for order in job.sitting.orders]
        target = free_name(job, designs[0].name)
        found = made(job, designs, target, come_to)
        go_on()
        files.write_all(found)
        for path in found:
            tell(f"made {path}")
    except MockupError as error:
        tell(f"fault {str(error).splitlines()[0]}")


if __name__ == "__main__":
    from mockup.window.work import save_jobs

    save_jobs.serve(sys.stdin, sys.stdout)
