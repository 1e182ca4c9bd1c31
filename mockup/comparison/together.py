"""Several pedals studied and pictured: what they share is made once, and large pictures on every core."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from mockup import workers
from mockup.comparison.asked import Shoot
from mockup.comparison.columns import Column
from mockup.comparison.entry import Entry, studied
from mockup.comparison.job import room
from mockup.comparison.shots import Setting, Sight, Taken, shoot
from mockup.model.design import Design
from mockup.model.errors import EngineError
from mockup.outputs._studio import named_view

WORTH_SHARING = 8e6  # pixels of all pictures; below that they are done before other processes are ready: measured


@dataclass(frozen=True, kw_only=True, eq=False)
class _Task:
    """One column's work, which a worker process may do."""

    label: str
    design: Design
    sights: tuple[Sight, ...]
    setting: Setting


def seen(
    columns: Sequence[Column],
    sights: Sequence[Sight],
    setting: Setting,
    step: Callable[[str], None],
    take: Shoot = shoot,
) -> Iterator[tuple[Entry, Taken]]:
    """Yield each column's entry, without pictures, and its pictures, in order.

    `take` in place of `shoot` takes the pictures one pedal after the other. Raises as `shoot` does.
    """
    if take is not shoot:
        for column in columns:
            step(f"check {column.label}")
            entry = studied(column.label, column.design)
            step(f"picture {column.label}")
            yield entry, take(column.design, sights, setting)
        return
    tasks = [
        _Task(label=column.label, design=column.design, sights=tuple(sights), setting=setting) for column in columns
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
    here = room()
    entry = here.studied(task.label, task.design)
    order = sorted(range(len(task.sights)), key=lambda index: named_view(task.sights[index].view).is_flipped)
    found = {index: here.picture(task.design, task.sights[index], task.setting) for index in order}
    notes = dict.fromkeys(note for _, said in found.values() for note in said)
    pictures = tuple(found[index][0] for index in range(len(task.sights)))
    return entry, Taken(pictures=pictures, notes=tuple(notes))


def _processes(count: int, sights: Sequence[Sight]) -> int:
    pixels = count * sum(sight.width_px * sight.height_px for sight in sights)
    return min(workers.cores(), workers.MOST, count) if pixels >= WORTH_SHARING else 1
