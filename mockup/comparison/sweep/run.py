"""A sweep: one layout over lists of values, every combination pictured and measured once, the best first.

Pictures and figures go into the store as they are finished, by the name of everything they depend on. So a
sweep that was stopped goes on where it was, and one with longer lists makes only what is new.
"""

from __future__ import annotations

import functools
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from mockup import cache, engines
from mockup.comparison.sweep import job
from mockup.comparison.sweep.axes import Combination
from mockup.comparison.sweep.job import Job, Names
from mockup.comparison.sweep.options import By, SweepOptions
from mockup.comparison.sweep.ranking import Candidate, ranked
from mockup.layout_source import LayoutSource
from mockup.model.design import Design
from mockup.model.digest import digest
from mockup.model.errors import Fault, InputError, OutputError
from mockup.model.mesh import Floats
from mockup.options import Progress, silent
from mockup.picture import framing
from mockup.picture.shots import Sight
from mockup.scene.views import VIEWS

# The longer side of a picture by how many there are: what reads on a screen, our taste.
_SIDES = ((12, 640), (48, 480), (200, 360), (1000, 280))
_ATTEMPTS = 2  # another program may clear the store meanwhile; once more is enough, or something is wrong


@dataclass(frozen=True, kw_only=True)
class Swept:
    """What a sweep made: candidates with the best first, how their pictures were taken, how many were made now."""

    candidates: tuple[Candidate, ...]
    by: By
    sights: tuple[Sight, ...]
    store: cache.Store
    drawn: int
    notes: tuple[str, ...] = ()


class Stopped(KeyboardInterrupt):
    """A sweep was stopped by the user; what it had finished is kept."""

    def __init__(self, done: int, total: int) -> None:
        super().__init__(
            f"stopped with {done} of {total} done; they are kept, and the same command carries on from there"
        )


def sweep(
    source: LayoutSource, combinations: Sequence[Combination], options: SweepOptions, progress: Progress = silent
) -> Swept:
    """Picture and measure every combination of a layout's values, using every core.

    Raises `InputError` for a value that the layout does not take, before any picture is made; `Stopped` on
    Ctrl-C. What goes wrong with one pedal later is said of that one alone.
    """
    engine, _, note = engines.choose(options.engine)
    contents, points = _planned(source, combinations, options.view, progress)
    sights = _sights(options, points, len(contents))
    store, told = cache.usable()
    request = replace(options.rendering(), engine=engine)
    planned = [
        Candidate(
            caption=each.caption, place=place, names=job.names(content, sights, request), assignments=each.assignments
        )
        for place, (each, content) in enumerate(zip(combinations, contents, strict=True))
    ]
    job_of = functools.partial(Job, store=store, sights=sights, request=request)
    is_held = functools.partial(job.is_held, store, sights=sights)
    made = _Made(store=store, notes=dict.fromkeys((*told, *((note,) if note else ()))))
    for _ in range(_ATTEMPTS):
        _make(source, planned, made, job_of, is_held, processes=options.processes, progress=progress)
    candidates = []
    for each in planned:
        failure = made.failures.get(each.names, "")
        found = None if failure else job.measured(store, each.names.figures)
        if found is None and not failure:
            raise OutputError(
                f"{store.folder}: what is kept there keeps disappearing; name another folder in MOCKUP_CACHE"
            )
        candidates.append(replace(each, measured=found, failure=failure))
    return Swept(
        candidates=ranked(candidates, options.sort),
        by=options.sort,
        sights=sights,
        store=store,
        drawn=made.count,
        notes=tuple(made.notes),
    )


@dataclass(kw_only=True)
class _Made:
    """What has come of a sweep so far, and where it lies: how many pedals were made, why others were not, notes."""

    store: cache.Store
    notes: dict[str, None]
    failures: dict[Names, str] = field(default_factory=dict)
    count: int = 0


def _make(
    source: LayoutSource,
    planned: Sequence[Candidate],
    made: _Made,
    job_of: Callable[..., Job],
    is_held: Callable[..., bool],
    *,
    processes: int | None,
    progress: Progress,
) -> None:
    """Make what the store does not hold yet and has not failed; pedals that are equal, once."""
    missing = [each for each in planned if each.names not in made.failures and not is_held(names=each.names)]
    if not missing:
        return
    first = sorted({each.names: each for each in reversed(missing)}.values(), key=lambda each: each.place)
    jobs = (job_of(design=source.design(each.assignments), names=each.names) for each in first)
    before, total, count = len(planned) - len(missing), len(planned), made.count
    progress(before, total, "pictures")
    try:
        kept = {name for each in planned for name in each.names.all}
        for number, done in enumerate(job.worked_off(made.store, jobs, len(first), kept, processes), 1):
            if done.failure:
                made.failures[first[done.index].names] = done.failure
            else:
                made.count += 1
                made.notes |= dict.fromkeys(done.result or ())
            progress(before + number, total, "pictures")
    except KeyboardInterrupt:
        raise Stopped(before + made.count - count, total) from None


def _planned(
    source: LayoutSource, combinations: Sequence[Combination], views: Sequence[str], progress: Progress
) -> tuple[list[str], dict[str, Floats]]:
    """Return every combination's content, and for each view what the camera must hold; all mistakes at once.

    Designs are not held: a thousand of them are large. Those of different shape are read once more for the camera.
    """
    faults: dict[Fault, None] = {}
    contents: list[str] = []
    shapes: dict[str, Combination] = {}
    for number, combination in enumerate(combinations):
        progress(number, len(combinations), "reading")
        try:
            design = source.design(combination.assignments)
        except InputError as error:
            faults |= dict.fromkeys(error.faults)
            continue
        _shows(design, combination)
        contents.append(job.content(design))
        shapes.setdefault(digest(design.enclosure, design.parts), combination)
    if faults:
        raise InputError(faults)
    return contents, framing.extents((source.design(each.assignments) for each in shapes.values()), views)


def _shows(design: Design, combination: Combination) -> None:
    """Refuse a paint that nothing would show."""
    paint = next((each for each in combination.assignments if each.key.strip() == "finish.paint"), None)
    if paint is not None and not design.finish.sheen.is_painted:
        remedy = "add a sheen, such as --sheen gloss"
        raise InputError(
            replace(
                paint.fault, what=f'the finish is "{design.finish.sheen.name}", which shows no paint', remedy=remedy
            )
        )


def _sights(options: SweepOptions, points: Mapping[str, Floats], count: int) -> tuple[Sight, ...]:
    """Return the pictures to take of every pedal: all as wide as the one that has least room."""
    if options.size is not None:
        return tuple(framing.sight(name, at, options.size) for name, at in points.items())
    side = next((side for most, side in _SIDES if count <= most), _SIDES[-1][1])
    ratios = {name: framing.aspect(VIEWS[name], at) for name, at in points.items()}
    wide = min(framing.size_of(ratio, side)[0] for ratio in ratios.values())
    return tuple(framing.sight(name, at, framing.size_at(ratios[name], wide)) for name, at in points.items())
