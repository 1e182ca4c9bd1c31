"""A sweep: one layout over lists of values, every combination pictured and measured once, the best first.

Pictures and figures go into the store as they are finished, by the name of everything they depend on. So a
sweep that was stopped goes on where it was, and one with longer lists makes only what is new.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from mockup import cache, engines, workers
from mockup.comparison.sweep import job
from mockup.comparison.sweep.axes import Combination
from mockup.comparison.sweep.base import Base
from mockup.comparison.sweep.job import Job, Names
from mockup.comparison.sweep.ranking import Candidate, ranked
from mockup.comparison.sweep.request import By, SweepOptions
from mockup.model.design import Design
from mockup.model.digest import digest
from mockup.model.errors import Fault, InputError, OutputError
from mockup.model.mesh import Floats
from mockup.options import Progress, silent
from mockup.picture import framing
from mockup.picture.request import PictureRequest
from mockup.picture.shots import Sight
from mockup.scene.views import VIEWS

# The longer side of a picture by how many there are: what reads on a screen, our taste.
_SIDES = ((12, 640), (48, 480), (200, 360), (1000, 280))
_ATTEMPTS = 2  # another program may clear the store meanwhile; once more is enough, or something is wrong
_TRIM_EVERY = 25  # pictures


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


@dataclass(frozen=True, kw_only=True)
class _Planned:
    combination: Combination
    content: str


def sweep(base: Base, combinations: Sequence[Combination], options: SweepOptions, progress: Progress = silent) -> Swept:
    """Picture and measure every combination of a layout's values, using every core.

    Raises `InputError` for a value that the layout does not take, before any picture is made; `Stopped` on
    Ctrl-C. What goes wrong with one pedal later is said of that one alone.
    """
    engine, _, note = engines.choose(options.engine)
    planned, points = _planned(base, combinations, options.view, progress)
    sights = _sights(options, points, len(planned))
    store = cache.store()
    store.require()
    request = replace(options.rendering(), engine=engine)
    named = [job.names(each.content, sights, request) for each in planned]
    failures: dict[int, str] = {}
    notes: dict[str, None] = {note: None} if note else {}
    drawn = 0
    for _ in range(_ATTEMPTS):
        missing = [
            index
            for index, names in enumerate(named)
            if index not in failures and any(store.get(name) is None for name in names.all)
        ]
        if not missing:
            break
        first = {named[index]: index for index in reversed(missing)}  # equal pedals are made once
        order = sorted(first.values())
        tasks = _jobs(base, planned, named, order, sights, request, store)
        outcome, made = _run(tasks, order, len(planned) - len(missing), len(planned), options, store, named, progress)
        failures |= {index: why for index in missing if (why := outcome.failures.get(first[named[index]], ""))}
        notes |= dict.fromkeys(outcome.notes)
        drawn += made
    candidates = [
        Candidate(
            caption=each.combination.caption,
            place=place,
            names=names,
            assignments=each.combination.assignments,
            measured=None if place in failures else job.measured(store, names.figures),
            failure=failures.get(place, ""),
        )
        for place, (each, names) in enumerate(zip(planned, named, strict=True))
    ]
    lost = next((each for each in candidates if each.measured is None and not each.failure), None)
    if lost is not None:
        raise OutputError(f"{store.folder}: what is kept there keeps disappearing; name another folder in MOCKUP_CACHE")
    return Swept(
        candidates=ranked(candidates, options.sort),
        by=options.sort,
        sights=sights,
        store=store,
        drawn=drawn,
        notes=tuple(notes),
    )


@dataclass(kw_only=True)
class _Outcome:
    failures: dict[int, str] = field(default_factory=dict)
    notes: dict[str, None] = field(default_factory=dict)


def _run(
    tasks: Iterator[Job],
    order: Sequence[int],
    before: int,
    total: int,
    options: SweepOptions,
    store: cache.Store,
    named: Sequence[Names],
    progress: Progress,
) -> tuple[_Outcome, int]:
    """Work off the jobs; return what went wrong by place, notes, and how many were made."""
    outcome, made = _Outcome(), 0
    spared = {key for names in named for key in names.all}
    most = cache.limit()
    progress(before, total, "pictures")
    try:
        for done in workers.run(job.work, tasks, options.processes or workers.suited(len(order))):
            if done.failure:
                outcome.failures[order[done.index]] = done.failure
            else:
                made += 1
                outcome.notes |= dict.fromkeys(done.result or ())
            if made % _TRIM_EVERY == 0:
                store.trim(most, spared)
            progress(before + made + len(outcome.failures), total, "pictures")
    except KeyboardInterrupt:
        raise Stopped(before + made, total) from None
    finally:
        store.trim(most, spared)
    return outcome, made


def _planned(
    base: Base, combinations: Sequence[Combination], views: Sequence[str], progress: Progress
) -> tuple[list[_Planned], dict[str, Floats]]:
    """Return every combination with its content, and for each view what the camera must hold; all mistakes at once.

    Designs are not held: a thousand of them are large. Those of different shape are read once more for the camera.
    """
    faults: dict[Fault, None] = {}
    planned: list[_Planned] = []
    shapes: dict[str, Combination] = {}
    for number, combination in enumerate(combinations):
        progress(number, len(combinations), "reading")
        try:
            design = base.design(combination.assignments)
        except InputError as error:
            faults |= dict.fromkeys(error.faults)
            continue
        _shows(design, combination)
        planned.append(_Planned(combination=combination, content=job.content(design)))
        shapes.setdefault(digest(design.enclosure, design.parts), combination)
    if faults:
        raise InputError(faults)
    return planned, framing.extents((base.design(each.assignments) for each in shapes.values()), views)


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


def _jobs(
    base: Base,
    planned: Sequence[_Planned],
    named: Sequence[Names],
    order: Sequence[int],
    sights: tuple[Sight, ...],
    request: PictureRequest,
    store: cache.Store,
) -> Iterator[Job]:
    for index in order:
        design = base.design(planned[index].combination.assignments)
        yield Job(design=design, sights=sights, request=request, names=named[index], store=store)
