"""Good layouts for a list of controls: every scheme made to fit, proven by the checks, the best kept."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from mockup.arrange.controls import Control
from mockup.arrange.layout_text import layout_text
from mockup.arrange.mending import bad
from mockup.arrange.problem import Places, Problem
from mockup.arrange.program import move_mm, solved
from mockup.arrange.schemes import Scheme, schemes
from mockup.checks.report.run import run
from mockup.clearance.figures import between
from mockup.clearance.placed import knob_figure
from mockup.enclosure.sizes import SIZES
from mockup.model.design import Design
from mockup.model.enclosure import Enclosure
from mockup.options import Progress, silent

Load = Callable[[str], Design]
"""Makes the design of a layout's text."""
MOST, LEAST_APART_MM = 6, 7.0  # proposals; how far two of them have to differ in the place of some part
EXTRA_MM = 0.22  # room beyond the limits: two places rounded to a tenth of a millimetre take up to so much of it
COMFORT = {"knob_gap_mm": 7.0, "seat_gap_mm": 4.0, "hole_edge_mm": 2.0}
"""Limits that look and feel better than the least that works, kept where there is room for them: our choice."""
HAND_MM = 12.0  # room between knobs that a hand likes: our choice
REACH_MM = 45.0  # how far a part may go from where its scheme has it
HOPELESS_MM = 0.5  # lacking after two programs: then more of them do not help
MOST_TRIED = 20  # schemes, the trade's first choices first
ENOUGH = 2  # proven proposals for each that is asked for, after which no further scheme is tried


@dataclass(frozen=True, kw_only=True, eq=False)
class Proposal:
    """A layout that nothing stops or warns: its text and design, what it is like, and its figures.

    `score` ranks it, the least best: what its scheme is short of the trade's first choice, how far parts had to leave
    it, and how tight knobs are for a hand. `fingers_mm` is the least room between two knobs, infinite without two.
    """

    text: str
    design: Design
    about: str
    score: float
    moved_mm: float
    fingers_mm: float


def proposals(
    name: str,
    wanted: Sequence[Control],
    box: Enclosure,
    load: Load,
    style: str,
    *,
    count: int = 4,
    progress: Progress = silent,
    is_stopped: Callable[[], bool] = lambda: False,
) -> tuple[Proposal, ...]:
    """Return up to `count` good layouts of controls in a box, no two alike, the best first; none where none fits."""
    drafts = sorted(schemes(wanted, box, style), key=lambda each: each.liking)[:MOST_TRIED]
    fitting: list[tuple[float, Scheme, Places]] = []
    for index, scheme in enumerate(drafts):
        progress(index, len(drafts), "trying schemes")
        if is_stopped() or len(fitting) >= ENOUGH * count:
            break
        parts = _fitted(scheme, box)
        if parts is not None and all(_differ(parts, each) for _, _, each in fitting):
            fitting.append((_score(scheme, parts), scheme, parts))
    found: list[Proposal] = []
    for score, scheme, parts in _varied(fitting):
        progress(len(found), count, "proving layouts")
        if len(found) >= count or is_stopped():
            break
        if all(_differ(parts, each.design.parts) for each in found):
            found += _proven(name, box, load, score, scheme, parts)
    return tuple(found)


def _varied(fitting: Iterable[tuple[float, Scheme, Places]]) -> Iterator[tuple[float, Scheme, Places]]:
    """Yield fitted schemes, the best first, but the best of each kind before a second one of any."""
    ranked = sorted(fitting, key=lambda each: each[0])
    firsts = {each[1].about: each for each in reversed(ranked)}
    first = [each for each in ranked if firsts[each[1].about] is each]
    yield from first
    yield from (each for each in ranked if not any(each is other for other in first))


def smallest_box(
    name: str, wanted: Sequence[Control], load: Load, style: str, *, count: int = 4, progress: Progress = silent
) -> tuple[str, tuple[Proposal, ...]] | None:
    """Return the smallest box of the table that holds a list of controls, with its layouts; None where none does."""
    for size, box in sorted(SIZES.items(), key=lambda each: _volume(each[1])):
        found = proposals(name, wanted, box, load, style, count=count, progress=progress)
        if found:
            return size, found
    return None


def _volume(box: Enclosure) -> float:
    return box.width_mm * box.length_mm * box.height_mm


def _fitted(scheme: Scheme, box: Enclosure) -> Places | None:
    """Return a scheme's parts where they fit, its order kept, in comfort where that goes; None where they do not."""
    rough = solved(Problem(box=box, parts=scheme.parts, relations=scheme.relations, reach_mm=REACH_MM), rounds=2)
    if rough.lacking_mm > HOPELESS_MM:
        return None
    for own in (COMFORT, {}):
        problem = Problem(box=box, parts=scheme.parts, own=own, relations=scheme.relations, reach_mm=REACH_MM)
        found = solved(problem, rough.parts, extra_mm=EXTRA_MM, rounds=3)
        if found.is_good:
            return found.parts
    return None


def _proven(name: str, box: Enclosure, load: Load, score: float, scheme: Scheme, parts: Places) -> Iterator[Proposal]:
    """Yield the proposal of a fitted scheme, with lettering or else without, where the checks are content with it."""
    for is_lettered in (True, False):
        text = layout_text(name, box, parts, is_lettered=is_lettered)
        design = load(text)
        if not bad(run(design)):
            moved = sum(map(move_mm, scheme.parts, design.parts))
            yield Proposal(
                text=text,
                design=design,
                about=scheme.about,
                score=score + (0.0 if is_lettered else 3.0),
                moved_mm=moved,
                fingers_mm=_fingers(design.parts),
            )
            return


def _score(scheme: Scheme, parts: Places) -> float:
    moved = sum(map(move_mm, scheme.parts, parts)) / max(1, len(parts))
    tight = max(0.0, HAND_MM - _fingers(parts))
    return scheme.liking + 0.5 * moved + 0.5 * tight


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
