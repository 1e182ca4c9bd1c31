"""What may be given up where moves and turns are not enough, the least first: data, nothing of it tried.

Another turn that shows from outside, a pin, smaller knobs, smaller kinds of the same family, a larger box, and last a
limit of the builder's own, which changes nothing but what the checks ask for.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

from mockup.arrange.larger_boxes import larger_boxes
from mockup.arrange.problem import total_mm
from mockup.checks.panel.moves import TURNS_DEG, may_turn
from mockup.checks.report.sentences import listed
from mockup.clearance.pieces import pieces_of
from mockup.clearance.placed import knob_figure
from mockup.clearance.rules import BODIES, KNOB_EDGE, KNOB_ROOM, KNOBS, LENS, LEVER, NUT, TIPS, WIRES
from mockup.clearance.table import Margin, broken
from mockup.clearance.walls import LID
from mockup.hardware import kinds
from mockup.model.design import Design, Placement
from mockup.model.edit import Address, Edit, PutValue
from mockup.model.part import Kind
from mockup.model.units import format_length

KNOB_RULES = frozenset({KNOBS, KNOB_EDGE, KNOB_ROOM, LENS, NUT})
TURNED_RULES = frozenset({BODIES, WIRES, TIPS, LEVER})
KNOB_STEP_MM = 0.5  # knobs come in such steps: our choice
LEAST_KNOB_MM = 10.0  # smaller ones nobody turns: our choice
LEFT_MM = 8.0  # lacking besides what is given up for: so much moves may still make good
MOST_PAIRED = 3  # parts of which two are given a smaller kind: those that lack most
TURN, UNPIN, KNOB, KIND, BOX = 1.0, 1.5, 0.5, 2.0, 5.0  # what each costs for one part, a box: our choice
OWN_LIMIT, USUAL_LIMIT = 1.2, 20.0  # what limits cost that the layout has set itself, and others: our choice
MOST_NAMED = 4  # parts that are named one by one


@dataclass(frozen=True, kw_only=True)
class Concession:
    """Something given up: edits, and what it is in a few words: ``a knob of 15 mm on TONE``.

    `frees` are pinned parts that may move after all. `cost` ranks it.
    """

    edits: tuple[Edit, ...]
    what: str
    cost: float
    frees: frozenset[str] = frozenset()


def concessions(design: Design, stuck: Design, pinned: frozenset[str]) -> tuple[Concession, ...]:
    """Return what may be given up of a design, the least first; `stuck` is the best that moves alone make of it."""
    lacks = _Lacks(design, stuck)
    found = [
        *_turns(lacks),
        *_unpinned(lacks, pinned),
        *_smaller_knobs(lacks),
        *_smaller_kinds(lacks),
        *_larger_boxes(lacks),
        *_own_limits(lacks),
    ]
    return tuple(sorted(found, key=lambda each: each.cost))


class _Lacks:
    """What room is lacking in a layout that moves alone cannot mend, and whose."""

    def __init__(self, design: Design, stuck: Design) -> None:
        self.design = design
        every = broken(stuck.enclosure, stuck.parts, stuck.limits)
        self.margins = tuple(each for each in every if each.is_told(stuck.units))
        lacking: dict[str, float] = {}
        for margin in self.margins:
            for name in margin.parts:
                lacking[name] = lacking.get(name, 0.0) - margin.spare_mm
        concerned = [part for part in design.parts if part.name in lacking]
        self.parts = tuple(sorted(concerned, key=lambda part: -lacking[part.name]))

    def of(self, rules: frozenset[str]) -> tuple[Margin, ...]:
        """Return what is lacking by some rules."""
        return tuple(each for each in self.margins if each.rule in rules)

    def is_cured(self, names: Iterable[str], rules: frozenset[str] | None = None) -> bool:
        """Return whether little is lacking but round some parts, and there by some rules, all without them."""
        given = frozenset(names)
        left = [
            each
            for each in self.margins
            if not given & set(each.parts) or (rules is not None and each.rule not in rules)
        ]
        return total_mm(left) <= LEFT_MM

    def address(self, *way: str) -> Address:
        """Return the address of something in the layout."""
        return Address(way=way, variant=self.design.variant)


def _turns(lacks: _Lacks) -> Iterator[Concession]:
    """Yield turns of one part that show from outside, or of what lies inside; others the search takes by itself."""
    names = {name for margin in lacks.of(TURNED_RULES) if margin.other != LID for name in margin.parts}
    for part in lacks.parts:
        if part.name not in names or may_turn(part) or not lacks.is_cured([part.name]):
            continue
        along = " with its knob and scale" if part.kind.shaft is not None else ""
        for turn in TURNS_DEG:
            edit = PutValue(
                address=lacks.address("part", part.name, "rotation"), value=(part.rotation_deg + turn) % 360.0
            )
            how = "half round" if turn == 180.0 else "a quarter right" if turn == 90.0 else "a quarter left"
            cost = TURN * (1.0 if part.kind.mount == "inside" else 1.5)
            yield Concession(edits=(edit,), what=f"{part.name} turned {how}{along}", cost=cost)


def _unpinned(lacks: _Lacks, pinned: frozenset[str]) -> Iterator[Concession]:
    """Yield one pinned part that is in the way moved after all, then all of them."""
    names = [part.name for part in lacks.parts if part.name in pinned]
    groups = [[name] for name in names if lacks.is_cured([name])]
    if len(names) > 1:
        groups.append(names)
    for group in groups:
        yield Concession(
            edits=(), what=f"{_named(group)} free to move", cost=UNPIN * len(group), frees=frozenset(group)
        )


def _smaller_knobs(lacks: _Lacks) -> Iterator[Concession]:
    """Yield all knobs that are in the way, as much smaller as they lack room."""
    edits, said = _knobs(lacks)
    if edits and total_mm([each for each in lacks.margins if each.rule not in KNOB_RULES]) <= LEFT_MM:
        yield Concession(edits=edits, what=said, cost=KNOB * (1 + len(edits)))


def _knobs(lacks: _Lacks) -> tuple[tuple[Edit, ...], str]:
    """Return edits that make the knobs smaller that lack room, and what they are; none where one would be too small."""
    short: dict[str, float] = {}
    for margin in lacks.of(KNOB_RULES):
        for name in margin.parts if margin.rule == KNOBS else margin.parts[:1]:
            share = 1.0 if margin.rule == KNOBS else 2.0
            short[name] = max(short.get(name, 0.0), -share * margin.spare_mm)
    edits, sizes = list[Edit](), dict[float, list[str]]()
    for part in lacks.design.parts:
        knob = part.knob
        if part.name not in short or knob is None or knob_figure(part) is None:
            continue
        size = math.floor((knob.diameter_mm - short[part.name]) / KNOB_STEP_MM) * KNOB_STEP_MM
        if size < LEAST_KNOB_MM:
            return (), ""
        units = lacks.design.units
        value = size if units == "mm" else f"{size:g} mm"
        edits.append(PutValue(address=lacks.address("part", part.name, "knob", "diameter"), value=value))
        sizes.setdefault(size, []).append(part.name)
    words = (
        f"{'a knob' if len(names) == 1 else 'knobs'} of {format_length(size, lacks.design.units)} on {_named(names)}"
        for size, names in sizes.items()
    )
    return tuple(edits), " and ".join(words)


def _smaller_kinds(lacks: _Lacks) -> Iterator[Concession]:
    """Yield smaller kinds for one part that is in the way, for two of them, and for all that are of one kind."""
    others = [part for part in lacks.parts if any(_smaller(part.kind))]
    singles = [(part,) for part in others]
    pairs = list(combinations(others[:MOST_PAIRED], 2))
    alike = [tuple(part for part in others if part.kind == kind) for kind in dict.fromkeys(p.kind for p in others)]
    groups = dict.fromkeys((*singles, *pairs, *(group for group in alike if len(group) > 2)))
    for group in groups:
        if not lacks.is_cured((part.name for part in group), None):
            continue
        ways = [[*_smaller(part.kind)] for part in group]
        for rank in range(min(len(each) for each in ways)):
            yield from _with_kinds(lacks, group, [each[rank] for each in ways], rank)


def _with_kinds(lacks: _Lacks, parts: Sequence[Placement], chosen: Sequence[Kind], rank: int) -> Iterator[Concession]:
    """Yield parts with other kinds, then with the knobs smaller as well where those lack room too."""
    edits: tuple[Edit, ...] = tuple(
        PutValue(address=lacks.address("part", part.name, "kind"), value=kind.name)
        for part, kind in zip(parts, chosen, strict=True)
    )
    names: dict[str, list[str]] = {}
    for part, kind in zip(parts, chosen, strict=True):
        names.setdefault(kind.name, []).append(part.name)
    said = " and ".join(f"a {kind} for {_named(each)}" for kind, each in names.items())
    cost = KIND * len(parts) + 0.5 * rank
    if total_mm(lacks.of(KNOB_RULES)) <= LEFT_MM:
        yield Concession(edits=edits, what=said, cost=cost)
    knobs, with_knobs = _knobs(lacks)
    if knobs:
        yield Concession(edits=(*edits, *knobs), what=f"{said}, {with_knobs}", cost=cost + KNOB * (1 + len(knobs)))


def _smaller(kind: Kind) -> Iterator[Kind]:
    """Yield kinds of the same family that take less room inside or are less deep, the nearest in size first."""
    own = _bulk(kind)
    like = [each for each in kinds().values() if each.family == kind.family and each.mount == kind.mount]
    like = [each for each in like if (each.shaft is None) == (kind.shaft is None) and each.is_lamp == kind.is_lamp]
    less = [each for each in like if _bulk(each) < own or each.depth_mm < kind.depth_mm]
    yield from sorted(less, key=_bulk, reverse=True)


def _bulk(kind: Kind) -> float:
    """Return about how much room a kind takes inside, cubic millimetres."""
    pieces = pieces_of(kind.below)
    if not len(pieces):
        return 0.0
    low, high = pieces.bounds
    return float((high - low)[:2].prod()) * kind.depth_mm


def _larger_boxes(lacks: _Lacks) -> Iterator[Concession]:
    """Yield larger boxes, the smallest first, what stands in them spread over the new size."""
    low_mm = max((-margin.spare_mm for margin in lacks.margins if margin.other == LID), default=0.0)
    for rank, box in enumerate(larger_boxes(lacks.design, low_mm)):
        yield Concession(edits=box.edits, what=box.what, cost=BOX + rank)


def _own_limits(lacks: _Lacks) -> Iterator[Concession]:
    """Yield limits of the layout's own as low as it stands, then any as low as they have to be.

    What overlaps no limit makes good.
    """
    design = lacks.design
    before = broken(design.enclosure, design.parts, design.limits)
    already = [each for each in before if each.limit.name in design.limits and not each.is_overlap]
    for margins, cost in ((already, OWN_LIMIT), (lacks.margins, USUAL_LIMIT)):
        if margins and not any(each.is_overlap or not each.limit.name for each in margins):
            values = {name: math.floor(max(room, 0.0) * 10 + 1e-6) / 10 for name, room in _least(margins).items()}
            edits = tuple(PutValue(address=lacks.address("limits", name), value=mm) for name, mm in values.items())
            said = ", ".join(f"{name} = {value:g}" for name, value in values.items())
            yield Concession(edits=edits, what=f"a limit of your own: {said}", cost=cost)


def _least(margins: Iterable[Margin]) -> dict[str, float]:
    """Return the least room by the limit that it misses."""
    least: dict[str, float] = {}
    for margin in margins:
        least[margin.limit.name] = min(least.get(margin.limit.name, math.inf), margin.room_mm)
    return least


def _named(names: Sequence[str]) -> str:
    return listed(names) if len(names) <= MOST_NAMED else f"{len(names)} parts"
