"""Sloppy hands by seeded chance: what moves, how far, and what stays."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace
from typing import cast

import numpy as np
import pytest
from sweep_bench import project

import mockup
from mockup.as_built import AsBuilt, FaceOff, HoleOff
from mockup.checks.art import printed
from mockup.comparison.differences.figures import Figures
from mockup.comparison.sweep.job import Measured
from mockup.comparison.wander import report as wandering
from mockup.comparison.wander import tries as wander
from mockup.comparison.wander.hand import Hand, asked_hand, own_hand
from mockup.comparison.wander.options import WanderOptions
from mockup.geometry.rigid import best_move
from mockup.model.bore import Bore
from mockup.model.built import BuiltHole
from mockup.model.design import Design
from mockup.model.errors import InputError


@pytest.fixture
def design(tmp_path: Path) -> Design:
    return mockup.load(project(tmp_path))


def test_a_seed_gives_the_same_hands_however_many_tries(design: Design) -> None:
    few, many = list(wander.tries(design, 0.5, 7, 2)), list(wander.tries(design, 0.5, 7, 5))
    assert [each.label for each in few[:2]] == ["try 1", "try 2"]
    assert [each.label for each in many] == [
        *(f"try {number}" for number in range(1, 6)),
        *(f"every hole off {way}" for way in ("right and down", "left and down", "right and up", "left and up")),
    ]
    for one, same in zip(few[:2], many[:2], strict=True):
        assert [(part.u_mm, part.v_mm) for part in one.design.parts] == [
            (part.u_mm, part.v_mm) for part in same.design.parts
        ]
        assert one.off == same.off
    other = next(iter(wander.tries(design, 0.5, 8, 1)))
    assert other.design.parts[0].u_mm != few[0].design.parts[0].u_mm


def test_deviation_is_that_of_each_axis(design: Design) -> None:
    """600 tries: the mean within 4 standard errors of 0 (0.5 / sqrt 600), the deviation within 12 % (4 / sqrt 1200).

    39 and 86 of 100 within one and two deviations: 1 - exp(-1/2) and 1 - exp(-2), Rayleigh.
    """
    part, decal = design.parts[0], design.decals[0]
    found = list(itertools.islice(wander.tries(design, 0.5, 3, 600), 600))
    off = np.array([(each.design.parts[0].u_mm - part.u_mm, each.design.parts[0].v_mm - part.v_mm) for each in found])
    slip = np.array(
        [(each.design.decals[0].u_mm - decal.u_mm, each.design.decals[0].v_mm - decal.v_mm) for each in found]
    )
    for errors in (off, slip):
        assert np.all(np.abs(errors.mean(axis=0)) < 4 * 0.5 / math.sqrt(600))
        assert errors.std(axis=0) == pytest.approx([0.5, 0.5], rel=0.12)
    far = np.hypot(*off.T)
    assert (far < 0.5).mean() == pytest.approx(1 - math.exp(-0.5), abs=0.08)
    assert (far < 1.0).mean() == pytest.approx(1 - math.exp(-2.0), abs=0.06)
    turns = np.array([each.design.decals[0].rotation_deg for each in found])
    reach = math.hypot(decal.width_mm, decal.height_mm) / 2
    assert np.radians(turns).std() * reach == pytest.approx(0.5, rel=0.12), "its far ends move as much sideways"


def test_holes_keep_their_size_and_parts_follow_their_holes(design: Design) -> None:
    one = next(iter(wander.tries(design, 0.5, 1, 1))).design
    assert one.parts[0].kind is design.parts[0].kind
    assert one.parts[0].knob == design.parts[0].knob
    assert one.enclosure == design.enclosure
    assert one.decals[0].art is design.decals[0].art


def test_corners_pull_print_and_holes_apart(design: Design) -> None:
    """Two deviations each, opposite ways: 2 x 2 x 0.5 mm = 2 mm between where the print expects a hole and the hole."""
    corners = list(wander.tries(design, 0.5, 1, 1))[1:]
    assert [each.off_mm for each in corners] == pytest.approx([2.0] * 4)
    first = corners[0].design  # holes right and down, by 2 x 0.5 / sqrt 2 along each axis
    assert first.parts[0].u_mm - design.parts[0].u_mm == pytest.approx(0.70711, abs=1e-5)
    assert first.decals[0].u_mm - design.decals[0].u_mm == pytest.approx(-0.70711, abs=1e-5)
    for before, after in zip(design.labels, first.labels, strict=True):
        assert after.u_mm - before.u_mm == pytest.approx(-0.70711, abs=1e-5)
        assert after.v_mm - before.v_mm == pytest.approx(-0.70711, abs=1e-5)


def test_only_what_something_is_printed_round_can_lie_off_its_print(design: Design) -> None:
    """The word below TONE belongs to it up to `NEAR_MM` from its knob, and no farther."""
    label, tone = design.labels[0], design.parts[0]
    assert tone.knob is not None
    gap = label.v_mm - label.height_mm / 2 - tone.v_mm - tone.knob.diameter_mm / 2
    near = replace(tone, v_mm=tone.v_mm + gap - printed.NEAR_MM + 0.5)
    far = replace(tone, v_mm=tone.v_mm + gap - printed.NEAR_MM - 1.5)
    assert printed.printed_round(replace(design, parts=(near,))) == {"TONE"}
    assert printed.printed_round(replace(design, parts=(far,))) == frozenset()


def test_a_label_turns_with_its_decal(design: Design) -> None:
    """A quarter clockwise about the decal's middle: what was below it comes to lie left of it."""
    decal = replace(design.decals[0], u_mm=30.0, v_mm=50.0)
    label = replace(design.labels[0], u_mm=30.0, v_mm=60.0)
    slip = wander.Slip(right_mm=1.0, down_mm=2.0, turn_deg=90.0)
    carried = wander._carried(label, [decal], [slip])
    assert (carried.u_mm, carried.v_mm) == pytest.approx((30.0 - 10.0 + 1.0, 50.0 + 2.0))
    assert carried.rotation_deg == 90.0
    elsewhere = replace(label, u_mm=300.0)
    assert wander._carried(elsewhere, [decal], [slip]) is elsewhere


def test_what_print_slipped_is_the_way_of_its_farthest_corner(design: Design) -> None:
    """Corner cases are shifted by one deviation of two, 1.0 mm, and not turned; a turn adds to it at the corners."""
    few = list(wander.tries(design, 0.5, 1, 3))
    assert [each.slipped_mm for each in few[3:]] == pytest.approx([1.0] * 4)
    for each in few[:3]:
        (was,), (now,) = design.decals, each.design.decals
        shift = math.hypot(now.u_mm - was.u_mm, now.v_mm - was.v_mm)
        turned = 2 * math.hypot(was.width_mm, was.height_mm) / 2 * math.sin(math.radians(abs(now.rotation_deg)) / 2)
        assert max(shift, turned - shift) <= each.slipped_mm <= shift + turned + 1e-9


def test_the_worst_is_what_stops_most_then_warns_then_hides_then_lies_off(design: Design) -> None:
    one = next(iter(wander.tries(design, 0.5, 1, 1)))
    tried = [replace(one, off={"TONE": float(off)}) for off in (1.0, 3.0, 2.0)]

    def found(stops: int, warnings: int) -> Measured:
        figures = Figures(stops=stops, warnings=warnings, notes=0, ink=(), labels=(), parts=1, holes=1, drillings=3)
        return Measured(figures=figures, hidden_limit=0.15)

    assert wander.worst(tried, [found(0, 1), found(0, 0), found(0, 0)]) == 0
    assert wander.worst(tried, [found(0, 1), found(0, 0), found(1, 0)]) == 2
    assert wander.worst(tried, [found(0, 0)] * 3) == 1
    said = wandering.answer(
        Hand(deviation_mm=0.5), 3, tried, [found(0, 0), found(0, 1), found(0, 0), found(0, 0)], 0, "mm"
    )
    assert said == (
        "If holes land 0.5 mm off (standard deviation along each axis; 86 of 100 within 1.0 mm), print and hole come "
        "to lie up to 3.0 mm apart (TONE, try 1), 2.0 mm in a middling try; at the worst (try 1) the checks find "
        "1 more warning."
    )


@pytest.mark.parametrize(
    ("text", "units", "mm"),
    [("0.5mm", "in", 0.5), ("0.02in", "mm", 0.508), ("0.4", "mm", 0.4), ("1/64 in", "mm", 0.396875)],
)
def test_the_length_may_carry_its_unit(text: str, units: str, mm: float) -> None:
    found = asked_hand(WanderOptions(wander=text), Path(), None, units)  # type: ignore[arg-type]
    assert found.deviation_mm == pytest.approx(mm)
    assert not found.holes


@pytest.mark.parametrize(
    ("text", "seed", "samples", "flag"),
    [
        ("0", 1, 12, "--wander"),
        ("-1mm", 1, 12, "--wander"),
        ("9mm", 1, 12, "--wander"),
        ("x", 1, 12, "--wander"),
        ("1mm", -1, 12, "--seed"),
        ("1mm", 1, 0, "--samples"),
    ],
)
def test_what_no_hand_errs_by_is_one_line(text: str, seed: int, samples: int, flag: str) -> None:
    with pytest.raises(InputError) as caught:
        asked_hand(WanderOptions(wander=text, seed=seed, samples=samples), Path(), None, "mm")
    assert str(caught.value).startswith(f"{flag}: ")
    assert "\n" not in str(caught.value)


def drilled(
    design: Design, off: list[tuple[float, float]], shift: float = 0.0, turn: float = 0.0, moved: float = 0.0
) -> AsBuilt:
    """Return holes at the corners of a square of 40 mm, in its order, each off by a way, all shifted and turned.

    The layout has `moved` them to the right since.
    """
    corners = np.array([(-20.0, -20.0), (20.0, -20.0), (20.0, 20.0), (-20.0, 20.0)])[: len(off)]
    cos, sin = math.cos(turn), math.sin(turn)
    there = (corners + np.array(off)) @ np.array([[cos, sin], [-sin, cos]]) + shift
    holes = tuple(
        HoleOff(
            bore=cast("Bore", SimpleNamespace(u_mm=corner[0] + moved, v_mm=corner[1], words=f"P{number}")),
            built=BuiltHole(bore=str(number), u_mm=u, v_mm=v, doubt_mm=0.05 + 0.01 * number, drawn_mm=tuple(corner)),
            right_mm=0.0,
            down_mm=0.0,
        )
        for number, ((u, v), corner) in enumerate(zip(there.tolist(), corners.tolist(), strict=True))
    )
    face = FaceOff(face="top", holes=holes, move=best_move(corners, there))
    return AsBuilt(design=design, holes=holes, faces=(face,), decals=(), unmeasured=())


def test_ones_own_hand_is_what_the_pattern_leaves(design: Design) -> None:
    """By hand: a square's corners off by 0.3 mm outward, inward, outward, inward along its diagonals.

    No shift, turn or both takes any of that away: 4 x 0.3^2 = 0.36 mm^2 is left of 8 figures less 2 and 1, so
    sqrt(0.36 / 5) = 0.26833 mm along each axis. Shifted by 2 mm and turned by 2 degrees it is the same hand.
    """
    step = 0.3 / math.sqrt(2)
    off = [(-step, -step), (-step, step), (step, step), (step, -step)]
    for shift, turn in ((0.0, 0.0), (2.0, math.radians(2.0))):
        hand = own_hand(drilled(design, off, shift, turn))
        assert hand.deviation_mm == pytest.approx(0.26833, abs=1e-5)
        assert hand.holes == 4
        assert hand.words("mm") == (
            "your own hand, 0.27 mm off along each axis: from 4 holes in built.toml, measured to within 0.08 mm"
        )
    hand = own_hand(drilled(design, off, moved=5.0))
    assert hand.deviation_mm == pytest.approx(0.26833, abs=1e-5)
    assert hand.words("mm").endswith(
        "; the layout has moved P0, P1, P2, P3 since, taken as drawn when they were drilled"
    )


@pytest.mark.parametrize(
    ("off", "what"),
    [
        ([(0.3, 0.0), (0.0, 0.2), (0.1, 0.0)], "--wander: built.toml has 3 measured holes; a hand shows from 4 on"),
        ([(0.2, 0.1)] * 4, "--wander: the holes in built.toml lie as drawn"),
        ([(-6.0, -6.0), (-6.0, 6.0), (6.0, 6.0), (6.0, -6.0)], "--wander: the holes in built.toml are "),
    ],
)
def test_holes_that_show_no_hand_are_one_line(design: Design, off: list[tuple[float, float]], what: str) -> None:
    with pytest.raises(InputError) as caught:
        own_hand(drilled(design, off))
    assert str(caught.value).startswith(what)
    assert "\n" not in str(caught.value)


def test_without_a_record_there_is_no_own_hand(tmp_path: Path) -> None:
    with pytest.raises(
        InputError, match=r"^built\.toml: there are no holes as built; start with: mockup built --start"
    ):
        asked_hand(WanderOptions(wander="Own"), project(tmp_path), None, "mm")
