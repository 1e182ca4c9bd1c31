"""Several parts set in order; every figure by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest
from part_bench import new, pedal

from mockup.arrange.groups import centred, gaps, lined_up, mirrored, shifted, spaced, spread, twin
from mockup.checks.panel.built import Built
from mockup.checks.panel.clearance import is_within
from mockup.enclosure.sizes import SIZES
from mockup.model.design import Placement
from mockup.model.enclosure import faces

TOP = faces(SIZES["121x66x39"])["top"]


def at(name: str, u: float, v: float, kind: str = "pot-16") -> Placement:
    return replace(new(kind), name=name, u_mm=u, v_mm=v)


ROW = [at("B", 30.0, 21.0), at("A", 12.0, 20.0), at("C", 52.0, 23.0)]


def test_lined_up_in_a_row_or_a_column() -> None:
    assert lined_up(ROW, "far") == {"B": (30.0, 20.0), "A": (12.0, 20.0), "C": (52.0, 20.0)}
    assert lined_up(ROW, "near")["A"] == (12.0, 23.0)
    assert lined_up(ROW, "centre")["A"] == (12.0, 21.5)
    assert lined_up(ROW, "middle")["A"] == (32.0, 20.0)
    assert lined_up(ROW, "right")["B"] == (52.0, 21.0)


def test_spread_evenly_keeps_the_ends() -> None:
    """From 12 to 52 in two steps of 20."""
    assert spread(ROW) == {"A": (12.0, 20.0), "B": (32.0, 21.0), "C": (52.0, 23.0)}
    assert spread(ROW[:2]) == {}


def test_a_column_is_spread_downwards() -> None:
    column = [at("A", 20.0, 10.0), at("B", 21.0, 12.0), at("C", 20.0, 40.0)]
    assert spread(column)["B"] == (21.0, 25.0)


def test_a_typed_gap_holds_for_all_about_the_middle() -> None:
    """The middle of 12 and 52 is 32; 15 apart: 17, 32, 47."""
    assert spaced(ROW, 15.0) == {"A": (17.0, 20.0), "B": (32.0, 21.0), "C": (47.0, 23.0)}
    assert [(one.name, two.name, apart) for one, two, apart in gaps(ROW)] == [("A", "B", 18.0), ("B", "C", 22.0)]


def test_mirrored_twice_is_where_it_was() -> None:
    there = mirrored(ROW, TOP)
    assert there["A"] == (pytest.approx(TOP.width_mm - 12.0), 20.0)
    moved = [replace(part, u_mm=there[part.name][0]) for part in ROW]
    assert mirrored(moved, TOP)["A"] == (pytest.approx(12.0), 20.0)


def test_centred_as_one_keeps_the_spacing() -> None:
    """The group's middle is at 32, the face's at 64.70 / 2 = 32.35."""
    there = centred(ROW, TOP)
    assert there["A"][0] == pytest.approx(TOP.width_mm / 2 - 20.0)
    assert there["C"][0] - there["A"][0] == pytest.approx(40.0)


def test_shifted_as_one() -> None:
    assert shifted(ROW, 1.0, -2.0)["B"] == (31.0, 19.0)


def test_a_twin_is_mirrored_where_there_is_room() -> None:
    first = at("TONE", 17.0, 20.0)
    second = twin(pedal("121x66x39", [first]), first, "TONE 2")
    assert (second.name, second.v_mm) == ("TONE 2", 20.0)
    assert second.u_mm == pytest.approx(TOP.width_mm - 17.0)


def test_a_twin_stands_beside_where_its_mirror_is_taken() -> None:
    first, other = at("TONE", 17.0, 20.0), at("GAIN", TOP.width_mm - 17.0, 20.0)
    design = pedal("121x66x39", [first, other])
    second = twin(design, first, "TONE 2")
    assert is_within(Built(design), second, "stop")
    middle = at("LAMP", TOP.width_mm / 2, 60.0, "lamp-3")
    beside = twin(pedal("121x66x39", [middle]), middle, "LAMP 2")
    assert is_within(Built(pedal("121x66x39", [middle])), beside, "stop")
    assert abs(beside.u_mm - middle.u_mm) + abs(beside.v_mm - middle.v_mm) < 25.0
