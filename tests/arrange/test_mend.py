"""One mend clears every planted fault, and every two of them in one layout, and moves no more than it must."""

from __future__ import annotations

import itertools
import math
import random
import re
import sys
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

sys.path.append(str(Path(__file__).parents[1] / "checks"))
from test_planted_fit import BOX, CASES, Case

from mockup import api
from mockup.arrange.least_concession import has_too_little_room, least_concession
from mockup.arrange.mending import Mending, mending
from mockup.arrange.problem import Problem
from mockup.arrange.program import move_mm
from mockup.arrange.search import least_change
from mockup.checks.panel.moves import may_turn
from mockup.checks.report.run import run
from mockup.clearance.table import broken
from mockup.enclosure.sizes import SIZES
from mockup.hardware import kinds
from mockup.knobs import default
from mockup.layout.edit.apply import apply
from mockup.model.design import Design, Placement
from mockup.model.edit import Edit, Move
from mockup.model.enclosure import Enclosure

FLAT = {name: case for name, case in CASES.items() if case.severity != "note" and case.check != "drill-sizes"}
NOT_BY_MOVING = {"body near the lid", "body through the lid"}  # what hangs from the top is as deep as it is


def loaded(text: str, case: Case) -> Design:
    design = api.loads(text)
    return replace(design, limits={**case.limits, **design.limits})


def mended(text: str, case: Case) -> tuple[Design, Mending, Mending | None]:
    """Return a layout's design, the change by moves, and where that is not enough the one with a concession."""

    def after(edits: Sequence[Edit]) -> Design:
        return loaded(apply(text, edits, "layout.toml"), case)

    design = loaded(text, case)
    found = mending(design, after)
    return design, found, least_concession(design, after, found) if has_too_little_room(found.design) else None


def text_of(case: Case, box: tuple[str, str] = ("", "")) -> str:
    given = case.box if case.box[0] else box
    return (BOX.replace(*given) if given[0] else BOX) + case.fault


@pytest.mark.slow
@pytest.mark.parametrize("name", FLAT)
def test_a_planted_fault_is_mended(name: str) -> None:
    case = FLAT[name]
    design, found, given = mended(text_of(case), case)
    if name in NOT_BY_MOVING:
        assert found.left
        assert given is not None, "the next box is deep enough, or a limit gives way"
        assert given.is_complete
        assert given.concession
        return
    assert found.is_complete, found.left
    assert found.cured
    (finding,) = (each for each in run(design) if each.check == case.check and each.severity != "note")
    single = [edit for edit in finding.edits if isinstance(edit, Move)]
    if single:  # the best straight move of one part: the joint change is no longer than that
        assert found.moved_mm <= math.hypot(single[0].right_mm, single[0].down_mm) + 0.11


def renamed(text: str) -> str:
    """Return a fault with its parts and its own kinds called something else, so that another may stand beside it."""
    text = re.sub(r'(\[\[part\]\]\nname = )"(\w+)"', r'\1"\2 2"', text)
    return text.replace('name = "deep"', 'name = "deep-2"').replace('kind = "deep"', 'kind = "deep-2"')


PAIRS = [
    pair
    for pair in itertools.combinations([name for name in FLAT if name not in NOT_BY_MOVING], 2)
    if not any(FLAT[name].box[0] or FLAT[name].limits for name in pair)
]
HIDING = ("knob over a lamp", "knob near a footswitch")  # the least change by room alone hides the lamp behind a knob
SAMPLE = [HIDING, *random.Random(1).sample(PAIRS, 23)]


@pytest.mark.slow
@pytest.mark.parametrize(
    "pair",
    [
        pytest.param(pair, id=" and ".join(pair), marks=[pytest.mark.long] * (index >= 6))
        for index, pair in enumerate(SAMPLE)
    ],
)
def test_two_planted_faults_are_mended_at_once(pair: tuple[str, str]) -> None:
    first, second = (FLAT[name] for name in pair)
    text = text_of(first) + renamed(second.fault)
    _, found, given = mended(text, first)
    assert (given or found).is_complete, [each.title for each in (given or found).left]
    assert not found.brought


def pot(name: str, u: float, v: float) -> Placement:
    knob = replace(default("barrel"), diameter_mm=16.0)
    return Placement(name=name, kind=kinds()["pot-9"], face="top", u_mm=u, v_mm=v, knob=knob)


LARGE = SIZES["188x119x37"]


def test_two_bodies_move_by_what_they_lack() -> None:
    """Closed form: two knobs of 16 mm need 16 + 5 between their axes; on a slant of 3, 4, 5 they lack the rest."""
    away = 17.0
    parts = (pot("A", 50.0, 80.0), pot("B", 50.0 + 0.6 * away, 80.0 + 0.8 * away))
    found = least_change(Problem(box=LARGE, parts=parts))
    assert found.is_good
    assert 4.0 - 0.01 <= found.moved_mm <= 1.06 * 4.0 + 0.15  # to the step of a tenth, both ways


@pytest.mark.slow
@pytest.mark.parametrize("seed", [0, 1, *(pytest.param(seed, marks=pytest.mark.long) for seed in (2, 3, 4))])
def test_three_bodies_move_hardly_farther_than_the_best_of_all(seed: int) -> None:
    """Exhaustive search of the middle one's and one neighbour's places on a grid of 0.25 mm round three pots.

    Only two of the three move in the search, so that its best is an upper bound of the true one; knobs are circles.
    """
    chance = random.Random(seed)
    parts = tuple(pot(name, 60.0 + chance.uniform(-8, 8), 90.0 + chance.uniform(-8, 8)) for name in "ABC")
    found = least_change(Problem(box=LARGE, parts=parts))
    assert found.is_good
    assert found.moved_mm <= 1.25 * exhaustive(parts) + 0.2


def exhaustive(parts: Sequence[Placement], apart: float = 21.0, reach: float = 14.0, step: float = 0.25) -> float:
    """Return the least way that two of three parts go so that all lie `apart`, the third in its place, on a grid."""
    steps = np.arange(-reach, reach + step / 2, step)
    grid = np.stack(np.meshgrid(steps, steps), axis=-1).reshape(-1, 2)
    cost = np.linalg.norm(grid, axis=1)
    order = np.argsort(cost)
    grid, cost = grid[order], cost[order]
    best = math.inf
    for still in range(3):
        fixed = np.array([parts[still].u_mm, parts[still].v_mm])
        one, two = (np.array([parts[i].u_mm, parts[i].v_mm]) for i in range(3) if i != still)
        good_one = np.linalg.norm(one + grid - fixed, axis=1) >= apart - 1e-9
        good_two = np.linalg.norm(two + grid - fixed, axis=1) >= apart - 1e-9
        for place, own in zip((one + grid)[good_one], cost[good_one], strict=True):
            if own >= best:
                break
            is_far = np.linalg.norm((two + grid)[good_two] - place, axis=1) >= apart - 1e-9
            if is_far.any():
                best = min(best, own + float(cost[good_two][is_far][0]))
    return best


def test_a_pinned_part_stays() -> None:
    parts = (pot("A", 50.0, 80.0), pot("B", 65.0, 80.0))
    found = least_change(Problem(box=LARGE, parts=parts, pinned=frozenset({"A"})))
    assert found.is_good
    assert (found.parts[0].u_mm, found.parts[0].v_mm) == (50.0, 80.0)
    assert move_mm(parts[1], found.parts[1]) == pytest.approx(16 + 5 - 15, abs=0.11)


def test_rows_and_mirrored_pairs_stay() -> None:
    """Four pots in a row about the middle, the two in the middle too close: all stay in line and mirror each other."""
    middle = (LARGE.width_mm - 2 * LARGE.inset_mm(LARGE.height_mm)) / 2
    parts = tuple(
        pot(name, middle + across, 60.0) for name, across in (("A", -28.0), ("B", -8.5), ("C", 8.5), ("D", 28.0))
    )
    found = least_change(Problem(box=LARGE, parts=parts))
    assert found.is_good
    assert {each.kind for each in found.kept} >= {"row", "pair"}
    places = {each.name: each for each in found.parts}
    assert places["B"].u_mm + places["C"].u_mm == pytest.approx(2 * middle, abs=1e-6)
    assert len({round(each.v_mm, 6) for each in found.parts}) == 1


def test_the_same_layout_gives_the_same_answer() -> None:
    parts = (pot("A", 50.0, 80.0), pot("B", 58.0, 86.0), pot("C", 52.0, 92.0))
    one, other = (least_change(Problem(box=LARGE, parts=parts)) for _ in range(2))
    assert [(each.u_mm, each.v_mm) for each in one.parts] == [(each.u_mm, each.v_mm) for each in other.parts]


def shaken(design: Design, seed: int) -> tuple[Placement, ...]:
    """Return a sound pedal's parts moved by up to 6 mm along each axis, three of them turned by quarters."""
    chance = random.Random(seed)
    parts = [
        replace(each, u_mm=each.u_mm + chance.uniform(-6, 6), v_mm=each.v_mm + chance.uniform(-6, 6))
        if each.kind.mount == "panel"
        else each
        for each in design.parts
    ]
    turnable = [index for index, each in enumerate(parts) if may_turn(each)]
    for index in chance.sample(turnable, min(3, len(turnable))):
        parts[index] = replace(
            parts[index], rotation_deg=(parts[index].rotation_deg + chance.choice((90, 180, 270))) % 360
        )
    return tuple(parts)


@pytest.mark.slow
@pytest.mark.parametrize("name", ["velvet_anvil", "pond_signal", "lemon_drum"])
def test_a_shaken_pedal_is_mended(name: str, examples: Path) -> None:
    """The whole two hundred: ``python tests/bench/mending.py``."""
    design = api.load(examples / "gallery" / name / "layout.toml")
    for seed in range(2):
        problem = Problem(box=design.enclosure, parts=shaken(design, seed), own=design.limits)
        found = least_change(problem)
        assert found.is_good
        assert not [each for each in broken(problem.box, found.parts, problem.own) if each.spare_mm < -0.005]


def test_what_cannot_be_mended_is_said_and_the_next_box_offered() -> None:
    """A can of 45.5 mm under a top 48 mm over the lid's inside: 0.5 mm are left, and no move changes that."""
    case = CASES["body near the lid"]
    _, found, given = mended(text_of(case), case)
    assert [each.check for each in found.left] == ["bodies"]
    assert given is not None
    assert "limit" in given.concession or "box" in given.concession


def test_parts_that_fill_their_box_are_said_to() -> None:
    """Five pots of 24 mm in a box of 40 by 60: there is no answer, and none is made up."""
    box = Enclosure(width_mm=40, length_mm=60, height_mm=31)
    parts = tuple(replace(pot(name, 20.0, 30.0), kind=kinds()["pot-24"]) for name in "ABCDE")
    found = least_change(Problem(box=box, parts=parts))
    assert not found.is_good
