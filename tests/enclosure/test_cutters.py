"""Bad holes are told apart and named; good ones pass, near the limit too."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest

from mockup.enclosure.cutters import is_clear
from mockup.enclosure.lid import screw_places
from mockup.enclosure.shell import build
from mockup.model.bore import Bore
from mockup.model.enclosure import Enclosure, FaceName, faces
from mockup.model.shape import Outline

BOX = Enclosure(width_mm=60, length_mm=112, height_mm=31)  # flat of the top begins 1.474 mm in: 1.5 tan 44.5 degrees
EDGE = 1.474


def hole(name: str, face: FaceName, u: float, v: float, diameter: float) -> Bore:
    part, _, purpose = name.partition("/")
    outline = Outline(kind="circle", width_mm=diameter)
    return Bore(part=part, purpose=purpose, face=face, u_mm=u, v_mm=v, outline=outline)


def told(bores: Sequence[Bore]) -> list[tuple[str, str]]:
    return [(each.bore, each.trouble) for each in build(BOX, bores).problems]


@pytest.mark.parametrize(
    ("bore", "trouble", "words"),
    [
        (hole("P/b", "top", 200, 50, 7), "misses", "misses the top face altogether"),
        (hole("P/b", "near", 30, -20, 7), "misses", "misses the near face altogether"),
        (hole("P/b", "top", 30, EDGE + 2.4, 5), "breaks-out", "over the rounded top edge"),
        (hole("P/b", "top", 30, 1, 7), "breaks-out", "over the far wall and the rounded top edge"),
        (hole("P/b", "near", 30, 27.5, 5), "breaks-out", "over the open rim"),
        (hole("P/b", "near", 30, 2, 5), "breaks-out", "over the rounded top edge"),
        (hole("P/b", "left", 3, 14, 5), "breaks-out", "over a rounded corner"),
        (hole("P/b", "top", 30, 55, 200), "breaks-out", "over every edge"),
        (hole("P/b", "near", 8, 14, 5), "blind", "runs into a screw post"),
        (hole("P/b", "top", 5.5, 5.5, 3), "blind", "runs into a screw post"),
        (hole("P/b", "near", 30, 3.6, 4), "blind", "runs into a wall"),
        (hole("P/b", "top", 3.6, 50, 4), "blind", "runs into a wall"),
    ],
)
def test_a_bad_hole_is_named(bore: Bore, trouble: str, words: str) -> None:
    found = [each for each in build(BOX, [bore]).problems if each.trouble == trouble]
    assert len(found) == 1
    assert found[0].bore == "P/b" and words in found[0].what


@pytest.mark.parametrize(
    "bore",
    [
        hole("P/b", "top", 29.5, 55, 30),
        hole("P/b", "near", 30, 14, 20),
        hole("P/b", "far", 30, 6.1, 6),  # between the rounding outside and the ceiling inside
        hole("P/b", "left", 56, 29.2 - 3.1, 6),  # just above the rim
        hole("P/b", "right", 20, 14, 10),
        hole("P/b", "top", 4.2 + 3, 50, 6),  # just inside the wall: 2 mm and the fillet's 1 mm
    ],
)
def test_a_good_hole_passes(bore: Bore) -> None:
    assert told([bore]) == []


def test_the_flat_ends_where_the_drawing_says() -> None:
    """A hole tangent to the flat of a face passes; a twentieth of a millimetre on, it breaks out."""
    bigger = Enclosure(width_mm=60, length_mm=112, height_mm=31, wall_mm=1.0, top_mm=1.0)
    for away, expected in ((0.02, []), (-0.05, ["breaks-out"])):
        bore = hole("P/b", "top", 30, EDGE + 5 + away, 10)
        assert [each.trouble for each in build(bigger, [bore]).problems if each.trouble != "blind"] == expected
    for away, expected in ((0.02, []), (-0.05, ["breaks-out"])):
        bore = hole("P/b", "near", 30, 29.2 / 0.99984770 - 5 - away, 10)  # down to the rim along the slant
        assert [each.trouble for each in build(bigger, [bore]).problems] == expected


def test_holes_of_two_parts_must_not_overlap_but_those_of_one_part_may() -> None:
    first, second = hole("A/b", "top", 20, 50, 8), hole("B/b", "top", 27, 50, 8)
    (problem,) = build(BOX, [first, second]).problems
    assert (problem.bore, problem.other, problem.trouble) == ("B/b", "A/b", "overlaps")
    assert "A/b" in problem.what
    assert told([first, hole("A/tab", "top", 24, 50, 3)]) == []
    assert told([first, hole("B/b", "top", 28.1, 50, 8)]) == []


def test_a_hole_inside_another_overlaps_it_though_no_wall_of_it_is_left() -> None:
    assert told([hole("A/b", "top", 30, 50, 12), hole("B/b", "top", 30, 51, 4)]) == [("B/b", "overlaps")]
    assert told([hole("B/b", "top", 30, 51, 4), hole("A/b", "top", 30, 50, 12)]) == [("A/b", "overlaps")]


def test_holes_of_neighbouring_faces_can_overlap_in_the_metal() -> None:
    """A hole low in the top's corner region and one high in the wall, in a thick box, meet in the metal."""
    thick = Enclosure(width_mm=90, length_mm=120, height_mm=40, wall_mm=8, top_mm=8, corner_mm=9)
    top, near = hole("A/b", "top", 45, 120 - 8, 8), hole("B/b", "near", 45, 7, 8)
    assert ("B/b", "overlaps") in [(each.bore, each.trouble) for each in build(thick, [top, near]).problems]
    apart = hole("B/b", "near", 70, 7, 8)
    assert "overlaps" not in [each.trouble for each in build(thick, [top, apart]).problems]


def test_every_bad_hole_of_a_box_is_named_in_order() -> None:
    bores = [
        hole("A/b", "top", 300, 50, 7),
        hole("B/b", "top", 20, 30, 7),
        hole("C/b", "top", 23, 30, 7),
        hole("D/b", "near", 30, 28, 6),
    ]
    assert told(bores) == [("A/b", "misses"), ("C/b", "overlaps"), ("D/b", "breaks-out")]


def test_the_cheap_test_alone_clears_holes_in_the_open() -> None:
    flats = faces(BOX)
    assert is_clear(BOX, flats, hole("A/b", "top", 30, 50, 10))
    assert is_clear(BOX, flats, hole("A/b", "left", 50, 14, 10))
    x, _ = screw_places(BOX)[0]
    at_post = x + flats["near"].width_mm / 2
    assert not is_clear(BOX, flats, hole("A/b", "near", at_post, 14, 3))
    assert not is_clear(BOX, flats, hole("A/b", "near", 30, 27.5, 5))


def test_a_bore_is_named_after_its_part_and_what_goes_through_it() -> None:
    bore = hole("TONE/bushing", "top", 0, 0, 1)
    assert bore.name == "TONE/bushing"
    assert replace(bore, number=2).name == "TONE/bushing 2"
    assert replace(bore, part="A/B", purpose="tab").name == "A/B/tab"
