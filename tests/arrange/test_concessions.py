"""What is given up where moves are not enough: the least of it first, each worked out by hand, all of it proven."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest
from part_bench import new, pedal

from mockup import api
from mockup.arrange.concessions import concessions
from mockup.arrange.larger_boxes import larger_boxes, spread
from mockup.arrange.least_concession import has_too_little_room, least_concession
from mockup.arrange.mending import mending
from mockup.arrange.part_edits import joined
from mockup.checks.report.run import run
from mockup.enclosure.sizes import SIZES
from mockup.layout.edit.apply import apply
from mockup.model.design import Design
from mockup.model.edit import Address, Edit, Move, PutLength, PutValue
from mockup.model.enclosure import faces

HEAD = 'name = "T"\nunits = "mm"\n[finish]\npaint = "#eadfc0"\n'


def part(name: str, kind: str, left: float | None, top: float, more: str = "") -> str:
    across = "" if left is None else f"left = {left}\n"
    return f'[[part]]\nname = "{name}"\nkind = "{kind}"\n{across}top = {top}\n{more}'


SIX = HEAD + '[box]\nsize = "92x38x31"\n' + "".join(
    part(name, "pot-24", left, top)
    for name, left, top in zip("ABCDEF", (10, 28) * 3, (12, 12, 40, 40, 70, 70), strict=True)
)  # fmt: skip
CASES = {
    # two columns of 24 mm and a gap are 48.5 wide, 34 mm are there; 112x60x31 has 56, and rows for three of them
    "six large pots": (SIX, (), ("the box 112x60x31",)),
    # a footswitch is 21.5 deep, a momentary 19.5: neither has room in 22 less top and lid, so the box grows
    "a low box": (
        HEAD + "[box]\nwidth = 60\nlength = 112\nheight = 22\n" + part("S", "footswitch", None, 90),
        (),
        ("a box ",),
    ),
    # its own limit of 40 mm between knobs is more than a box of 60 mm has
    "a limit of its own": (
        HEAD
        + '[box]\nsize = "112x60x31"\n'
        + part("A", "pot-16", 15, 30)
        + part("B", "pot-16", 43, 30)
        + "[limits]\nknob_gap_mm = 90\n",
        (),
        ("a limit of your own: knob_gap_mm",),
    ),
    # both stand where they may not move, 4.5 mm apart
    "two that are pinned": (
        HEAD + '[box]\nsize = "112x60x31"\n' + part("A", "pot-16", 20, 30) + part("B", "pot-16", 24, 32),
        ("A", "B"),
        ("A free to move", "B free to move"),
    ),
}
IN_SUITE = ("a low box",)


@pytest.mark.slow
@pytest.mark.parametrize(
    "name", [pytest.param(each, marks=[pytest.mark.long] * (each not in IN_SUITE)) for each in CASES]
)
def test_the_least_concession_is_found_and_proven(name: str) -> None:
    text, pinned, starts = CASES[name]

    def after(edits: Sequence[Edit]) -> Design:
        return api.loads(apply(text, edits, "layout.toml"))

    design = after(())
    mended = mending(design, after, pinned=pinned)
    assert has_too_little_room(mended.design)
    found = least_concession(design, after, mended, pinned=pinned)
    assert found is not None
    assert found.concession.startswith(starts)
    assert found.is_complete
    there = after(found.edits)
    assert not [each for each in run(there) if each.severity != "note"]


def test_concessions_come_by_what_they_cost() -> None:
    """Two pots of 24 mm at 10 mm: smaller knobs alone do not do, so one smaller pot comes before a larger box."""
    parts = [new("pot-24"), replace(new("pot-24"), name="B")]
    design = pedal("112x60x31", [replace(each, u_mm=20.0 + 10 * at, v_mm=40.0) for at, each in enumerate(parts)])
    found = concessions(design, design, frozenset({"B"}))
    costs = [each.cost for each in found]
    assert costs == sorted(costs)
    said = [each.what for each in found]
    assert any(each == "B free to move" for each in said)
    assert [each for each in said if each.startswith("the box")] == [
        f"the box {name}" for name in ("121x66x39", "119x94x34", "145x121x39", "188x119x37")
    ]


def test_larger_boxes_lie_as_the_box_lies() -> None:
    """Across, a box of 38 by 92 is 92 wide: its next sizes are as wide as they are long upright."""
    across = replace(SIZES["92x38x31"], width_mm=92.0, length_mm=38.0)
    first = next(larger_boxes(replace(pedal("92x38x31"), enclosure=across)))
    assert first.what == "the box 112x60x31"
    assert [each.mm for each in first.edits if isinstance(each, PutLength)] == [112.0, 60.0]


def test_parts_spread_in_proportion() -> None:
    """A part at a quarter of the width and half the length of the top stands there in the larger box too."""
    small, large = pedal("92x38x31"), pedal("119x94x34")
    top, wide = faces(small.enclosure)["top"], faces(large.enclosure)["top"]
    pot = replace(new("pot-16"), u_mm=top.width_mm / 4, v_mm=top.height_mm / 2)
    along = spread(replace(small, parts=(pot,)), replace(large, parts=(pot,)))
    (move,) = along.edits
    assert isinstance(move, Move)
    assert pot.u_mm + move.right_mm == pytest.approx(wide.width_mm / 4, abs=0.06)
    assert pot.v_mm + move.down_mm == pytest.approx(wide.height_mm / 2, abs=0.06)


def test_moves_of_one_part_are_one_and_the_last_value_counts() -> None:
    a, turn = Address(way=("part", "A")), Address(way=("part", "A", "rotation"))
    edits = [
        Move(address=a, right_mm=1.0, down_mm=2.0),
        PutValue(address=turn, value=90.0),
        Move(address=a, right_mm=0.5, down_mm=-2.0),
        PutValue(address=turn, value=180.0),
    ]
    assert joined(edits) == (Move(address=a, right_mm=1.5, down_mm=0.0), PutValue(address=turn, value=180.0))
