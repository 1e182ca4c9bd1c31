"""Several pedals studied and pictured: what they share is made once, and large pictures on every core."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from mockup import workers
from mockup.comparison.columns import Column
from mockup.comparison.entry import Entry
from mockup.comparison.room import room
from mockup.model.design import Design
from mockup.model.errors import EngineError
from mockup.picture.request import PictureRequest
from mockup.picture.shots import Sight, Take, Taken

WORTH_SHARING = 8e6  # pixels of all pictures; below that they are done before other processes are ready: measured


@dataclass(frozen=True, kw_only=True, eq=False)
class _Task:
    """One column's work, which a worker process may do."""

    label: str
    design: Design
    sights: tuple[Sight, ...]
    request: PictureRequest
    take: Take


def entries(
    columns: Sequence[Column], sights: Sequence[Sight], request: PictureRequest, step: Callable[[str], None], take: Take
) -> Iterator[tuple[Entry, Taken]]:
    """Yield each column's entry, without pictures, and the pictures that `take` takes of it, in order.

    Raises `EngineError` for the first pedal that cannot be studied or pictured.
    """
    tasks = [
        _Task(label=column.label, design=column.design, sights=tuple(sights), request=request, take=take)
        for column in columns
    ]
    done: dict[int, tuple[Entry, Taken]] = {}
    following = 0
    for each in workers.run(_look, tasks, _processes(len(columns), sights)):
        if each.result is None:
            raise EngineError(f"{columns[each.index].label}: {each.failure}")
        column = columns[each.index]
        step(f"check {column.label}")
        step(f"picture {column.label}")
        entry, taken = each.result
        done[each.index] = replace(entry, design=column.design), taken
        while following in done:
            yield done.pop(following)
            following += 1


def _look(task: _Task) -> tuple[Entry, Taken]:
    return room().studied(task.label, task.design), task.take(task.design, task.sights, task.request)


def _processes(count: int, sights: Sequence[Sight]) -> int:
    pixels = count * sum(sight.width_px * sight.height_px for sight in sights)
    return min(workers.cores(), workers.MOST, count) if pixels >= WORTH_SHARING else 1
