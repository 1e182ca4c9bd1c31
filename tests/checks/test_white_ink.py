"""White that vanishes: lettering on nothing, knocked out of a band, and plates; each with a sound twin."""

from __future__ import annotations

from dataclasses import replace

import pytest
from art_desk import MIDDLE, WHITE, Desk, decal, pedal, run

from mockup.checks.report.sentences import remedy, what
from mockup.decal.processes import PROCESSES
from mockup.films import films

NAVY = (0.1, 0.14, 0.25)


def lettered(ground: str | None = None) -> Desk:
    desk = Desk(300)
    if ground:
        desk.box(MIDDLE, 46, 24, 7, ground)
    return desk.text("DRIVE", MIDDLE, 46, 3, "white")


@pytest.mark.parametrize("ground", [None, "#101820"])
def test_white_lettering_over_dark_paint_is_gone(ground: str | None) -> None:
    (found,) = run(pedal(decal(lettered(ground)), paint=NAVY), ["white_ink"])
    assert found.severity == "stop"
    assert [each.name for each in found.subjects] == ["DRIVE"]
    assert found.marks[0].u_mm == pytest.approx(MIDDLE, abs=0.2)
    assert found.marks[0].box_mm is not None
    assert found.marks[0].box_mm[1] == pytest.approx(3.0, abs=0.2)
    assert found.measured is not None
    assert found.measured.value < 1.5  # the paint beside itself, or under black ink
    assert "the word DRIVE" in what(found, "mm")
    assert "white film" in remedy(found, "mm")
    assert run(pedal(decal(lettered(ground)), paint=NAVY), ["contrast"]) == []  # one cause, one finding


def test_white_lettering_that_is_knocked_out_over_white_paint_is_as_meant() -> None:
    assert run(pedal(decal(lettered("#101820")), paint=WHITE), ["white_ink", "contrast"]) == []


def test_white_film_shows_white() -> None:
    art = decal(lettered("#101820"), film=films()["white"])
    assert run(pedal(art, paint=NAVY), ["white_ink"]) == []


def test_black_lettering_is_no_white() -> None:
    art = decal(Desk(300).text("DRIVE", MIDDLE, 46, 3, "black"))
    assert run(pedal(art, paint=(0.9, 0.8, 0.6)), ["white_ink"]) == []


def test_a_white_plate_shows_the_paint() -> None:
    """The plate is 20 by 8 mm: 160 square millimetres, less the ink of the letters on it."""
    desk = Desk(300).box(MIDDLE, 46, 20, 8, "white").text("DRIVE", MIDDLE, 46, 3, "#404040")
    (found,) = run(pedal(decal(desk), paint=NAVY), ["white_ink"])
    assert found.severity == "warn"
    assert found.measured is not None
    assert 130 < found.measured.value < 160
    assert run(pedal(decal(desk), paint=WHITE), ["white_ink"]) == []


@pytest.mark.parametrize("ground", [None, "#101820"])
def test_white_under_the_ink_keeps_white_lettering(ground: str | None) -> None:
    art = replace(decal(lettered(ground)), process=PROCESSES["white-toner"])
    assert run(pedal(art, paint=NAVY), ["white_ink", "contrast", "swallowed_colour"]) == []


def test_a_plate_outside_the_shape_of_the_white_is_lost() -> None:
    """The shape covers nothing of the plate: all 160 square millimetres of it show the paint."""
    art = decal(Desk(300).box(MIDDLE, 46, 20, 8, "white"))
    shape = decal(Desk(300).box(MIDDLE, 80, 20, 8, "black")).art
    (found,) = run(pedal(replace(art, process=PROCESSES["white-toner"], white_under=shape), paint=NAVY), ["white_ink"])
    assert found.measured is not None
    assert found.measured.value == pytest.approx(160, abs=2)


def test_colour_with_white_under_it_is_not_swallowed() -> None:
    """Pale yellow on yellow paint of the check's own planted fault, over navy and on white."""
    art = decal(Desk(300).box(MIDDLE, 46, 20, 8, "#fff080"))
    yellow = (1.0, 0.8, 0.0)
    assert run(pedal(art, paint=yellow), ["swallowed_colour"]) != []
    assert run(pedal(replace(art, process=PROCESSES["white-toner"]), paint=NAVY), ["swallowed_colour"]) == []
