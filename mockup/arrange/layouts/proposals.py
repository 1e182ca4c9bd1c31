"""Good layouts for a list of controls: every scheme made to fit, proven by the checks, the best kept."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal, get_args

from mockup.arrange.layout_text import LETTERINGS, SIDES, WHOLE, layout_text, written
from mockup.arrange.layouts.alone import without_room
from mockup.arrange.layouts.control_parts import stances
from mockup.arrange.layouts.controls import Wanted
from mockup.arrange.layouts.schemes import Scheme, schemes
from mockup.arrange.layouts.sides import WAYS, sides
from mockup.arrange.mending import bad
from mockup.arrange.nearest import nearest_free
from mockup.arrange.problem import Places, Problem, Relation, total_mm
from mockup.arrange.program import move_mm, solved
from mockup.checks.report.run import run
from mockup.clearance.figures import between
from mockup.clearance.placed import knob_figure
from mockup.model.design import Design, Placement
from mockup.model.enclosure import Enclosure, faces
from mockup.model.errors import InputError
from mockup.model.finding import Finding
from mockup.model.label import Label
from mockup.model.units import Unit
from mockup.options import Progress, silent

Order = Literal["rows", "mirrored", "loose"]
ORDERS: tuple[Order, ...] = get_args(Order)
"""How much of its order a scheme keeps, most first."""
Load = Callable[[str], Design]
"""Makes the design of a layout's text."""
MOST, LEAST_APART_MM = 6, 7.0  # proposals; how far two of them have to differ in the place of some part
EXTRA_MM = 0.22  # room beyond the limits: two places rounded to a tenth of a millimetre take up to so much of it
EXTRAS_MM = (EXTRA_MM, EXTRA_MM / 2, 0.04, 0.0)  # so much where it is there, else less
NUDGED_MM = 0.3  # lacking altogether after rounding: then moves of a tenth may help
MOST_NUDGES = 8
NUDGES = ((0, 0.1, 0.0), (0, -0.1, 0.0), (1, 0.0, 0.1), (1, 0.0, -0.1))  # axis, and how far right and down
COMFORT = {"knob_gap_mm": 8.0, "seat_gap_mm": 3.0, "hole_edge_mm": 2.0, "knob_edge_mm": 4.0}
"""Limits that look and feel better than the least that works, kept where there is room for them: our choice."""
HAND_MM = 12.0  # room between knobs that a hand likes: our choice
REACH_MM = 45.0  # how far a part may go from where its scheme has it
HOPELESS_MM = 0.5  # lacking after two programs: then more of them do not help
MOST_TRIED = 40  # schemes, the trade's first choices first
MOST_LOOSE = 8  # of them tried out of line, which takes longer
PATIENCE = 24  # schemes that do not fit, after which none is expected to
ENOUGH = 2  # proven proposals for each that is asked for, after which no further scheme is tried


@dataclass(frozen=True, kw_only=True, eq=False)
class Proposal:
    """A layout that nothing stops or warns: its text and design, what it is like, and its figures.

    `score` ranks it, the least best: what its scheme is short of the trade's first choice, how far parts had to leave
    it, and how tight knobs are for a hand. `fingers_mm` is the least room between two knobs, infinite without two.
    Where it `is_lettered`, every part has its name and every knob its scale.
    """

    text: str
    design: Design
    about: str
    score: float
    moved_mm: float
    fingers_mm: float
    is_lettered: bool


@dataclass(frozen=True, kw_only=True, eq=False)
class Fit:
    """Parts that keep every rule, not yet proven by the checks."""

    about: str
    parts: Places
    score: float
    moved_mm: float


def proposals(
    name: str,
    wanted: Wanted,
    box: Enclosure,
    load: Load,
    style: str,
    *,
    count: int = 4,
    units: Unit = "mm",
    undrawn: frozenset[str] = frozenset(),
    progress: Progress = silent,
) -> tuple[Proposal, ...]:
    """Return up to `count` good layouts of controls in a box, no two alike, the best first; none where none fits.

    Their lengths are written in `units`. `undrawn` are names that the font cannot draw; they are left out.
    """
    rooms = (stance for stance in stances(wanted) if not without_room(stance, box, style))
    tries = [(stance, tuple(itertools.islice(schemes(stance, box, style), MOST_TRIED))) for stance in rooms]
    for (stance, drafts), order in itertools.product(tries, ORDERS):  # a looser one only where nothing fits before
        fitting: list[Fit] = []
        for index, scheme in enumerate(drafts if order == "rows" else drafts[:MOST_LOOSE]):
            progress(index, len(drafts), "trying schemes" if order == "rows" else "trying schemes out of line")
            if len(fitting) >= ENOUGH * count or (index >= PATIENCE and not fitting):
                break
            for fit in fits(scheme, stance, box, style, order=order):
                if all(_differ(fit.parts, each.parts) for each in fitting):
                    fitting.append(fit)
        found: list[Proposal] = []
        bare: list[Proposal] = []
        for fit in _varied(fitting):
            progress(len(found), count, "proving layouts")
            if len(found) >= count:
                break
            if all(_differ(fit.parts, each.design.parts) for each in found):
                for each in _proven(name, box, load, fit, units, undrawn):
                    (found if each.is_lettered else bare).append(each)
        if found or bare:  # without names or scales only where nothing has both
            return tuple(sorted(found or bare[:count], key=lambda each: each.score))
    return ()


def _varied(fitting: Sequence[Fit]) -> Iterator[Fit]:
    """Yield fitted schemes, the best first, but the best of each kind before a second one of any."""
    ranked = sorted(fitting, key=lambda each: each.score)
    firsts = {each.about: each for each in reversed(ranked)}
    yield from (each for each in ranked if firsts[each.about] is each)
    yield from (each for each in ranked if firsts[each.about] is not each)


def volume(box: Enclosure) -> float:
    """Return how much a box takes up, cubic millimetres."""
    return box.width_mm * box.length_mm * box.height_mm


def fits(scheme: Scheme, wanted: Wanted, box: Enclosure, style: str, *, order: Order = "rows") -> Iterator[Fit]:
    """Yield a scheme's parts where they fit, for each way of the sockets.

    Its whole order is kept, or only what mirrors each other about the middle, or only what the list's groups ask for.
    """
    is_loose = order == "loose"
    held = scheme.relations if order == "rows" else scheme.asked if is_loose else scheme.mirrored
    top = scheme.parts if is_loose else _solved(box, scheme.parts, held, wanted, scheme.parts)
    for way in WAYS if top is not None else ():
        around = None if top is None else sides(wanted, box, top, style, way)
        if around is None:
            continue
        parts: Places | None = around.parts
        if is_loose:
            starts = itertools.chain((around.parts,), nearest_free(_problem(box, around.parts, held, wanted)))
            tried = (_solved(box, around.parts, held, wanted, start) for start in starts)
            parts = next((each for each in tried if each is not None), None)
        elif not around.is_free:
            parts = _solved(box, around.parts, (*held, *around.relations), wanted, around.parts)
        if parts is not None:
            moved = _moved(scheme.parts, parts)
            tight = max(0.0, HAND_MM - _fingers(parts))
            score = scheme.liking + around.cost + 0.5 * moved / len(parts) + 0.3 * tight
            is_aside = bool(scheme.relations) and is_loose
            said = [
                scheme.about if not is_aside else scheme.about.replace("one in the middle", "one"),
                f"jacks {way}" if way != WAYS[0] else "",
                "out of line" if is_aside else "mirrored, rows bent" if order == "mirrored" else "",
            ]
            about = ", ".join(each for each in said if each) or "as usual"
            yield Fit(about=about, parts=parts, score=score, moved_mm=moved)


def _solved(
    box: Enclosure, parts: Places, relations: tuple[Relation, ...], wanted: Wanted, start: Places
) -> Places | None:
    """Return parts where they fit in comfort, else where they fit, or None.

    They stand on half millimetres where that goes, else on tenths, as a layout has them.
    """
    problem = _problem(box, parts, relations, wanted)
    rough = solved(problem, start, rounds=2 if relations else 4)
    if rough.lacking_mm > HOPELESS_MM:
        return None
    frames = faces(box)
    for own, extra in ((COMFORT, EXTRA_MM), *(({}, extra) for extra in EXTRAS_MM)):
        found = solved(replace(problem, own=own), rough.parts, extra_mm=extra, rounds=3)
        if found.lacking_mm > NUDGED_MM:
            continue
        even = tuple(part if part.name in problem.pinned else _evened(part, box) for part in found.parts)
        if found.is_good and not problem.lacking(even):
            return even
        there = _nudged(problem, tuple(written(part, frames[part.face]) for part in found.parts))
        if there is not None:
            return there
    return None


def _nudged(problem: Problem, parts: Places) -> Places | None:
    """Return parts that keep every rule, moved by tenths where rounding took their room; None where that is no help.

    What a relation holds stays.
    """
    held = {(name, axis) for relation in problem.relations for name, axis, _ in relation.terms}
    for _ in range(MOST_NUDGES):
        lacking = problem.lacking(parts)
        if not lacking:
            return parts
        short = {name for margin in lacking for name in margin.parts} - problem.pinned
        tries = [
            (*parts[:index], replace(part, u_mm=part.u_mm + right, v_mm=part.v_mm + down), *parts[index + 1 :])
            for index, part in enumerate(parts)
            for axis, right, down in NUDGES
            if part.name in short and (part.name, axis) not in held
        ]
        best = min(tries, key=lambda each: total_mm(problem.lacking(each)), default=parts)
        if total_mm(problem.lacking(best)) >= total_mm(lacking):
            return None
        parts = best
    return None


def _problem(box: Enclosure, parts: Places, relations: tuple[Relation, ...], wanted: Wanted) -> Problem:
    return Problem(box=box, parts=parts, relations=relations, pinned=wanted.pinned(parts), reach_mm=REACH_MM)


def _evened(part: Placement, box: Enclosure) -> Placement:
    """Return a part on half millimetres from the middle of its face and from its upper edge."""
    middle = faces(box)[part.face].width_mm / 2
    return replace(part, u_mm=middle + round((part.u_mm - middle) * 2) / 2, v_mm=round(part.v_mm * 2) / 2)


def _moved(before: Places, after: Places) -> float:
    there = {part.name: part for part in after}
    return sum(move_mm(part, there[part.name]) for part in before)


def _proven(
    name: str, box: Enclosure, load: Load, fit: Fit, units: Unit, undrawn: frozenset[str]
) -> Iterator[Proposal]:
    """Yield the proposal of a fitted scheme with as much lettering as the checks are content with."""
    for cost, lettering in enumerate(LETTERINGS):
        sides: dict[str, str] = {}
        for _ in SIDES:
            text = layout_text(name, box, fit.parts, lettering, units, sides=sides, undrawn=undrawn)
            try:
                design = load(text)
            except InputError:
                break  # marks or names reach past the edge
            found = bad(run(design))
            if not found:
                yield Proposal(
                    text=text,
                    design=design,
                    about=fit.about,
                    score=fit.score + cost + 0.2 * len(sides),
                    moved_mm=fit.moved_mm,
                    fingers_mm=_fingers(design.parts),
                    is_lettered=lettering in WHOLE,
                )
                return
            named = {each.part for finding in found for each in design.labels if _is_about(finding, each)} - {None}
            for part in named:
                sides[str(part)] = SIDES[min(SIDES.index(sides.get(str(part), SIDES[0])) + 1, len(SIDES) - 1)]
            if not named:
                break


def _is_about(finding: Finding, label: Label) -> bool:
    return any(subject.kind == "label" and subject.name == label.text for subject in finding.subjects)


def _fingers(parts: Places) -> float:
    """Return the least room between two knobs on one face."""
    held = [(part, knob_figure(part)) for part in parts]
    rooms = (
        between(one, other)
        for (first, one), (second, other) in itertools.combinations(held, 2)
        if one is not None and other is not None and first.face == second.face
    )
    return min(rooms, default=math.inf)


def _differ(one: Places, other: Places) -> bool:
    """Return whether some part stands clearly elsewhere."""
    return any(
        first.face != second.face or move_mm(first, second) >= LEAST_APART_MM
        for first, second in zip(one, other, strict=True)
    )
