"""Several pedals studied and pictured: what they share is made once, and large pictures on every core."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from mockup import workers
from mockup.comparison.columns import Column
from mockup.comparison.differences.figures import Figures, studied
from mockup.model.design import Design
from mockup.model.errors import EngineError
from mockup.model.finding import Finding
from mockup.model.picture import Picture
from mockup.picture.options import PictureRequest
from mockup.picture.shots import Sight, Take, Taken

WORTH_SHARING = 8e6  # pixels of all pictures; below that they are done before other processes are ready: measured


@dataclass(frozen=True, kw_only=True, eq=False)
class Entry(Column):
    """One column of a comparison with what was found of its pedal.

    `pictures` maps the names of views to pictures, all of one view taken by one camera at one size.
    """

    findings: tuple[Finding, ...]
    figures: Figures
    pictures: Mapping[str, Picture] = field(default_factory=dict)


def entries(
    columns: Sequence[Column], sights: Sequence[Sight], request: PictureRequest, step: Callable[[str], None], take: Take
) -> tuple[tuple[Entry, ...], tuple[str, ...]]:
    """Return each column's entry, pictured by `take`, in order, and notes that a user should read once.

    Raises `EngineError` for the first pedal that cannot be studied or pictured.
    """
    tasks = [(column.design, tuple(sights), request, take) for column in columns]
    found: dict[int, Entry] = {}
    notes: dict[int, tuple[str, ...]] = {}
    for each in workers.run(_look, tasks, _processes(len(columns), sights)):
        column = columns[each.index]
        if each.result is None:
            raise EngineError(f"{column.label}: {each.failure}")
        step(f"check {column.label}")
        step(f"picture {column.label}")
        (findings, figures), taken = each.result
        found[each.index] = Entry(
            label=column.label,
            design=column.design,
            near_mm=column.near_mm,
            findings=findings,
            figures=figures,
            pictures={sight.view: picture for sight, picture in zip(sights, taken.pictures, strict=True)},
        )
        notes[each.index] = taken.notes
    order = range(len(columns))
    return tuple(found[index] for index in order), tuple(
        dict.fromkeys(note for index in order for note in notes[index])
    )


def _look(
    task: tuple[Design, tuple[Sight, ...], PictureRequest, Take],
) -> tuple[tuple[tuple[Finding, ...], Figures], Taken]:
    design, sights, request, take = task
    return studied(design), take(design, sights, request)


def _processes(count: int, sights: Sequence[Sight]) -> int:
    pixels = count * sum(sight.width_px * sight.height_px for sight in sights)
    return min(workers.cores(), workers.MOST, count) if pixels >= WORTH_SHARING else 1
