"""The command ``mockup beside``: a photograph of the finished pedal beside its picture."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from mockup.cli.command import command, path_argument
from mockup.cli.terminal import progress_bar, report, tell

if TYPE_CHECKING:
    from mockup.comparison.beside.options import BesideOptions


def _options() -> Any:
    from mockup.comparison.beside.options import BesideOptions

    return BesideOptions


def _run(options: BesideOptions, layout: Path, photo: Path, as_json: bool) -> None:
    from mockup.cli.origins import save
    from mockup.comparison.api import beside
    from mockup.layout_source import in_folder

    layout = in_folder(layout)
    with progress_bar() as progress:
        result = beside(layout, photo, options=options, progress=progress)
    tell((*result.notes, *save(result, layout)))
    report(list(result.files), result.facts, as_json)


beside = command(
    "beside",
    "Hold a photograph of the finished pedal beside its picture, taken with the photograph's own camera.",
    _run,
    _options,
    path_argument("layout"),
    path_argument("photo"),
    json="the camera, the colours and where the parts stand",
)
