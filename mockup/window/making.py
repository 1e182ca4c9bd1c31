"""Pictures and pages saved from the window, in a process of its own: it draws off screen and can be stopped."""

from __future__ import annotations

import contextlib
import pickle
import signal
import subprocess
import sys
import threading
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Literal, NoReturn, TextIO

from mockup import files
from mockup.model.design import Design
from mockup.model.errors import MockupError
from mockup.model.scene import Camera, Group, Quality
from mockup.outputs._options import Progress, file_stem
from mockup.scene.cameras import VIEWS
from mockup.window.assets import Shelf
from mockup.window.project import Project
from mockup.window.shown import Order

Kind = Literal["picture", "turntable", "template", "sheet"]
KINDS: dict[Kind, str] = {
    "picture": "picture",
    "turntable": "turntable",
    "template": "drill template",
    "sheet": "decal sheet",
}


@dataclass(frozen=True, kw_only=True)
class Job:
    """What is to be made of an edited layout, and the file it goes to; `text` None means as it is on disk."""

    kind: Kind
    project: Project
    order: Order
    text: str | None = None
    suffix: str = ".png"
    view: str = "three-quarter"
    camera: Camera | None = None
    size: tuple[int, int] = (1600, 1200)
    quality: Quality = "normal"
    hidden: frozenset[Group] = frozenset()
    options: dict[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True)
class News:
    """What a job has come to: its share done (0 to 1), what it does, and at the end files or a fault."""

    job: Job
    share: float = 0.0
    what: str = ""
    files: tuple[Path, ...] = ()
    fault: str = ""
    is_over: bool = False


class Maker:
    """Makes one thing at a time; `deliver` is called on a thread of its own."""

    def __init__(self, deliver: Callable[[News], None]) -> None:
        self._deliver = deliver
        self._process: subprocess.Popen[str] | None = None
        self._is_stopped = False

    @property
    def is_busy(self) -> bool:
        """True while something is being made."""
        return self._process is not None

    def start(self, job: Job) -> bool:
        """Begin a job; False while another one runs."""
        if self._process is not None:
            return False
        self._is_stopped = False
        self._process = subprocess.Popen(
            [sys.executable, "-m", "mockup.window.making"],
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

    def _follow(self, process: subprocess.Popen[str], job: Job) -> None:
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
                self._deliver(News(job=job, share=float(share), what=what))
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
        self._deliver(News(job=job, share=1.0, files=tuple(made), fault=fault, is_over=True))


def made(job: Job, design: Design, target: Path, progress: Progress) -> dict[Path, bytes]:
    """Return the files of a job, the main one first; `MockupError` where it cannot be made."""
    if job.kind == "picture":
        return {target: _picture(job, design, progress)}
    from mockup.plugins import Folder

    module = Folder("mockup.outputs").load(job.kind)
    options = module.Options(**job.options, output=str(target))
    result = module.make(design, options, progress)
    return {Path(name): data for name, data in result.files.items()}


def _picture(job: Job, design: Design, progress: Progress) -> bytes:
    """Return the picture just as the window shows it, as PNG."""
    from mockup.encode.png import png
    from mockup.outputs._studio import studio
    from mockup.scene.cameras import View

    assert job.camera is not None
    progress(0, 2, "building")
    order, named = job.order, VIEWS[job.view]
    at = View(name=named.name, about=named.about, direction=named.direction, hidden=job.hidden)
    with studio(
        order.dressed(design), engine=None, lighting=order.lighting, look=order.look, is_flipped=order.is_flipped
    ) as room:
        progress(1, 2, "drawing")
        taken = room.shoot(at, job.camera, job.size, look=order.look, quality=job.quality)
    progress(2, 2, "writing")
    return png(taken.pixels, dpi=taken.dpi, text=taken.facts)


def free_name(job: Job, name: str) -> Path:
    """Return where a job's file goes: beside the layout, under a name that is not taken."""
    words = [file_stem(name), *([file_stem(job.order.variant)] if job.order.variant else [])]
    words.append(job.view if job.kind == "picture" else job.kind)
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
    job: Job = pickle.loads(bytes.fromhex(asked.read()))
    try:
        shelf = Shelf()
        text = shelf.text(job.project) if job.text is None else job.text
        design = shelf.design(shelf.layout(text, job.project), job.project, job.order.variant)
        target = free_name(job, design.name)
        found = made(job, design, target, come_to)
        go_on()
        files.write_all(found)
        for path in list(found)[:1] if job.kind == "turntable" else found:
            tell(f"made {path}")
    except MockupError as error:
        tell(f"fault {str(error).splitlines()[0]}")


if __name__ == "__main__":
    from mockup.window import making

    making.serve(sys.stdin, sys.stdout)
