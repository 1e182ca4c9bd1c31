"""What the window saves: a job, and the files that are made of it in a process of its own."""

from __future__ import annotations

import functools
import signal
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from mockup import api, archive, records
from mockup.layout import resolve
from mockup.options import Progress, file_stem, silent
from mockup.window.saves import output_options, pane_pictures
from mockup.window.saves.output_options import Given
from mockup.window.saves.pane_pictures import PicturedPanes
from mockup.window.work.assets import Assets
from mockup.window.work.project import Project

PACK = "pack"
"""What is no output of the plug-in folder: everything that the pedal needs, in one file."""


@dataclass(frozen=True, kw_only=True)
class SaveJob:
    """An output to be made of an edited layout; `text` None means as it is on disk, `given` is what controls hold.

    `folder` is where its files go. `stops` is how many findings stop the build, None where that is to be counted.
    """

    output: str
    suffix: str
    project: Project
    panes: PicturedPanes
    text: str | None
    given: Mapping[str, Given]
    folder: Path
    stops: int | None = None

    @property
    def variant(self) -> str | None:
        """The variant that is saved; of several the first."""
        return self.panes.contents[0].variant


def recorded(job: SaveJob, progress: Progress = silent) -> dict[Path, bytes]:
    """Return the files of a job as `made` does, a page's record kept beside the layout."""
    found = made(job, progress)
    if job.output != PACK and job.output not in pane_pictures.OPTIONS:
        assets = Assets()
        text = assets.text(job.project) if job.text is None else job.text
        names = [content.variant for content in job.panes.contents]
        if output_options.variant_options(job.output):
            names = [None, *resolve.variants(assets.layout(text, job.project))]
        is_built = job.panes.contents[0].is_as_built
        designs = [assets.design(text, job.project, name, is_as_built=is_built) for name in names]
        records.keep(job.project.layout, designs, text)
    return found


def made(job: SaveJob, progress: Progress = silent) -> dict[Path, bytes]:
    """Return the files of a job, the main one first; `MockupError` where it cannot be made."""
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(130))  # so that folders for the time being are taken away again
    assets = Assets()
    text = assets.text(job.project) if job.text is None else job.text
    if job.output == PACK:
        found = archive.needed(job.project.layout)
        found[job.project.layout.name] = text.encode()
        design = assets.design(text, job.project, job.variant)
        return {free_path(job, design.name): archive.archive(found, job.project.layout.name)}
    is_built = job.panes.contents[0].is_as_built
    design_of = functools.partial(assets.design, text, job.project, is_as_built=is_built)
    designs = [design_of(content.variant) for content in job.panes.contents]
    target = free_path(job, designs[0].name)
    values = output_options.values(job.output, job.given)
    if job.output in pane_pictures.OPTIONS:
        data = pane_pictures.MAKERS[job.output](
            job.panes, designs, pane_pictures.OPTIONS[job.output](**values), job.suffix, progress
        )
        return {target: data}
    others = [name for name in (None, *resolve.variants(assets.layout(text, job.project))) if name != job.variant]
    for name in output_options.variant_options(job.output):
        values[name] = tuple(design_of(each) for each in others)
    for name in output_options.series_options(job.output):
        count, making = int(values.get("copies") or 1), designs[0].making
        if making.is_numbered and count > 1:
            making.require(count, job.project.layout.name)
            values[name] = tuple(design_of(job.variant, copy=each) for each in range(1, count))
    if job.stops is not None:
        values |= dict.fromkeys(output_options.stop_options(job.output), job.stops)
    result = api.output(job.output, designs[0], output=str(target), progress=progress, **values)
    return {job.folder / name: data for name, data in result.files.items()}


def free_path(job: SaveJob, name: str) -> Path:
    """Return where a job's file goes: into its folder, under a name that is not taken."""
    words = [file_stem(name)]
    if job.output == "still" and len(job.panes.contents) > 1:
        words.append("side-by-side" if job.panes.wipe is None else "wipe")
    elif job.variant:
        words.append(file_stem(job.variant))
    if job.output != PACK:
        words.append(job.panes.view if job.output == "still" else job.output)
    stem = "-".join(words)
    for number in range(1, 10_000):
        path = job.folder / f"{stem}{'' if number == 1 else f'-{number}'}{job.suffix}"
        if not path.exists():
            return path
    return job.folder / f"{stem}{job.suffix}"
