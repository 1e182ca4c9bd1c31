"""The process that makes what the window saves: it reads one job from a pipe and tells of it line by line."""

from __future__ import annotations

import pickle
import signal
import sys
from pathlib import Path
from typing import NoReturn, TextIO

from mockup import api, files
from mockup.layout import resolve
from mockup.model.errors import MockupError
from mockup.options import Progress, file_stem
from mockup.window.work import output_options, pane_pictures
from mockup.window.work.assets import Assets
from mockup.window.work.save_jobs import SaveJob


def made(job: SaveJob, progress: Progress) -> dict[Path, bytes]:
    """Return the files of a job, the main one first; `MockupError` where it cannot be made."""
    assets = Assets()
    text = assets.text(job.project) if job.text is None else job.text
    designs = [assets.design(text, job.project, content.variant) for content in job.panes.contents]
    target = free_path(job, designs[0].name)
    values = output_options.values(job.output, job.given)
    if job.output in pane_pictures.OPTIONS:
        data = pane_pictures.MAKERS[job.output](
            job.panes, designs, pane_pictures.OPTIONS[job.output](**values), job.suffix, progress
        )
        return {target: data}
    others = [name for name in (None, *resolve.variants(assets.layout(text, job.project))) if name != job.variant]
    for name in output_options.variant_options(job.output):
        values[name] = tuple(assets.design(text, job.project, each) for each in others)
    result = api.output(job.output, designs[0], output=str(target), progress=progress, **values)
    return {job.project.folder / name: data for name, data in result.files.items()}


def free_path(job: SaveJob, name: str) -> Path:
    """Return where a job's file goes: beside the layout, under a name that is not taken."""
    words = [file_stem(name)]
    if job.output == "still" and len(job.panes.contents) > 1:
        words.append("side-by-side" if job.panes.wipe is None else "wipe")
    elif job.variant:
        words.append(file_stem(job.variant))
    words.append(job.panes.view if job.output == "still" else job.output)
    stem = "-".join(words)
    for number in range(1, 10_000):
        path = job.project.folder / f"{stem}{'' if number == 1 else f'-{number}'}{job.suffix}"
        if not path.exists():
            return path
    return job.project.folder / f"{stem}{job.suffix}"


def serve(asked: TextIO, told: TextIO) -> None:
    """Do one job."""

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
    try:
        found = made(pickle.loads(bytes.fromhex(asked.read())), come_to)
        go_on()
        files.write_all(found)
        for path in found:
            tell(f"made {path}")
    except MockupError as error:
        tell(f"fault {str(error).splitlines()[0]}")


if __name__ == "__main__":
    from mockup.window.work import save_worker

    save_worker.serve(sys.stdin, sys.stdout)
