"""Every clearance against the solid library, part by part: never optimistic, and within a few hundredths.

The oracle's round solids are polygons inside the true ones with a chord error of 0.005 mm, so a true gap may be that
much smaller on either side than it measures.
"""

from __future__ import annotations

import random
from dataclasses import replace

import pytest
import solid_oracle as oracle

from mockup.clearance import rules, table
from mockup.clearance.directions import ways_of
from mockup.clearance.placed import PlacedPart, placed
from mockup.clearance.walls import LID, LIP
from mockup.enclosure.sizes import SIZES
from mockup.hardware import kinds
from mockup.knobs import default, styles
from mockup.model.design import Placement
from mockup.model.enclosure import Enclosure, FaceName, faces
from mockup.model.finding import Limit

KINDS = list(kinds().values())
ALL_FACES: tuple[FaceName, ...] = ("top", "near", "far", "left", "right")
TURNS = (0.0, 90.0, 15.0, 33.5, 180.0, 270.0)
WITHIN_MM = 4.0
OPTIMISTIC_MM = 2 * oracle.CHORD_MM  # the oracle's chords, on both sides
PESSIMISTIC_MM = 0.07


def chance_box(chance: random.Random) -> Enclosure:
    box = replace(chance.choice(list(SIZES.values())), draft_deg=chance.choice((0.0, 1.0, 2.0)))
    if chance.random() < 0.3:
        box = replace(box, corner_mm=chance.choice((9.0, 12.0)), edge_mm=chance.choice((1.5, 3.0)))
    return box


def chance_part(chance: random.Random, box: Enclosure, name: str, near_mm: float = 8.0) -> Placement:
    """Return a part anywhere on a face, often near an edge."""
    kind = chance.choice(KINDS)
    face = chance.choice(ALL_FACES) if kind.mount == "panel" else "top"
    frame = faces(box)[face]
    across, down = (
        chance.choice(
            (5.0 + chance.uniform(0, near_mm), long - 5.0 - chance.uniform(0, near_mm), chance.uniform(5, long - 5))
        )
        for long in (frame.width_mm, frame.height_mm)
    )
    depth = chance.uniform(1.0, 8.0) if kind.mount == "inside" else 0.0
    knob = default(chance.choice(styles())) if kind.shaft is not None else None
    turn = chance.choice(TURNS)
    return Placement(
        name=name, kind=kind, face=face, u_mm=across, v_mm=down, rotation_deg=turn, depth_mm=depth, knob=knob
    )


def beside(chance: random.Random, box: Enclosure, other: Placement) -> Placement:
    """Return a part that stands close to another on its face, or anywhere on another face."""
    part = chance_part(chance, box, "B")
    if part.face != other.face:
        return part
    return replace(part, u_mm=other.u_mm + chance.uniform(-28, 28), v_mm=other.v_mm + chance.uniform(-28, 28))


def agrees(ours: float, true: float) -> bool:
    if true < 0:
        return ours < OPTIMISTIC_MM
    return -PESSIMISTIC_MM <= ours - true <= OPTIMISTIC_MM


def of(box: Enclosure, *parts: Placement) -> list[PlacedPart]:
    return [placed(box, each, {}) for each in parts]


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(60))
def test_two_bodies(seed: int) -> None:
    chance = random.Random(seed)
    box = chance_box(chance)
    for _ in range(4):
        first = chance_part(chance, box, "A")
        second = beside(chance, box, first)
        one, other = of(box, first, second)
        ours = table.group_room(one.body, other.body, ways_of(box), WITHIN_MM)
        true = oracle.room(oracle.body(box, first), oracle.body(box, second), WITHIN_MM)
        assert agrees(ours, true), (ours, true, first, second)


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(40))
def test_a_body_and_the_metal_round_it(seed: int) -> None:
    chance = random.Random(seed)
    box = chance_box(chance)
    part = chance_part(chance, box, "A")
    (here,) = of(box, part)
    found = [each for each in rules.alone(here) if isinstance(each, rules.Inside) and each.rule == rules.BODIES]
    if not found:
        return  # nothing of it is inside
    rooms, body = table.metal_rooms(found[0]), oracle.body(box, part)
    true = {name: oracle.room(body, metal, WITHIN_MM) for name, metal in oracle.walls(box, here.panel).items()}
    for is_lid in (True, False):  # the oracle cuts walls, posts and ceiling apart elsewhere: what counts is the nearest
        own = [index for index, name in enumerate(found[0].metal.names) if (name in (LID, LIP)) == is_lid]
        ours = min(float(rooms[:, own].min()), WITHIN_MM)
        assert agrees(ours, min(room for name, room in true.items() if (name == LID) == is_lid)), (ours, true, part)


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(40))
def test_a_knob_and_what_stands_beside_it(seed: int) -> None:
    chance = random.Random(seed)
    box = chance_box(chance)
    pots = [kind for kind in KINDS if kind.shaft is not None]
    kind = chance.choice(pots)
    first = Placement(name="A", kind=kind, face="top", u_mm=25.0, v_mm=30.0, knob=default(chance.choice(styles())))
    second = replace(beside(chance, box, first), face="top", depth_mm=0.0)
    if not second.kind.above:
        return
    one, other = of(box, first, second)
    ours = table.group_room(one.knob, other.hardware, ways_of(box), WITHIN_MM)
    true = oracle.room(oracle.knob(box, first), oracle.hardware(box, second), WITHIN_MM)
    assert agrees(ours, true), (ours, true, second)


def test_depth_is_the_shift_that_parts_two_bodies_worked_out_by_hand() -> None:
    """Two cans of 16.4 mm, 12 mm apart; their wafers, 16.5 wide but 1.6 thick, part sooner."""
    box = SIZES["112x60x31"]
    pot = Placement(name="A", kind=kinds()["pot-16"], face="top", u_mm=20.0, v_mm=40.0)
    one, other = of(box, pot, replace(pot, name="B", u_mm=32.0))
    assert table.group_room(one.body, other.body, ways_of(box), 1.0) == pytest.approx(12.0 - 16.4, abs=2e-3)


def test_the_table_tells_each_broken_rule_once_and_only_those() -> None:
    box = SIZES["112x60x31"]
    pot = Placement(name="A", kind=kinds()["pot-16"], face="top", u_mm=20.0, v_mm=40.0)
    assert not table.broken(box, (pot,), {})
    found = table.broken(box, (pot, replace(pot, name="B", u_mm=28.5)), {})
    by_rule = {each.rule: each for each in found}
    assert by_rule[rules.WEBS].room_mm == pytest.approx(8.5 - 7.5)  # two holes of 7.5
    assert by_rule[rules.SEATS].room_mm == pytest.approx(8.5 - 12.0)  # two washers of 12
    assert len({each.key for each in found}) == len(found)
    assert all(isinstance(each.limit, Limit) and each.spare_mm < 0 for each in found)


def test_an_own_limit_counts() -> None:
    box = SIZES["112x60x31"]
    pot = Placement(name="A", kind=kinds()["pot-16"], face="top", u_mm=20.0, v_mm=40.0)
    pair = (pot, replace(pot, name="B", u_mm=36.9))  # cans 0.4 apart
    assert {each.rule for each in table.broken(box, pair, {})} == {rules.BODIES}
    assert not table.broken(box, pair, {"body_gap_mm": 0.3, "wiring_mm": 0.3})
