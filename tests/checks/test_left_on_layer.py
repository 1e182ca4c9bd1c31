"""A layer in the paint's own colour that was left on, short of the edge or under lettering; and what is none."""

from __future__ import annotations

import numpy as np
import pytest
from art_desk import FILM, MIDDLE, TOP, Desk, cloudy, decal, part, pedal, run

PAINT = (0.16, 0.36, 0.42)
COLOUR = "#295c6b"  # the same: 255 times each


def layered(share: float, colour: str = COLOUR) -> Desk:
    """Lettering over a layer that covers a share of the film's width and height."""
    desk = Desk(150).box(MIDDLE, TOP.height_mm / 2, share * FILM[0], share * FILM[1], colour)
    return desk.text("DRIVE", MIDDLE, 46, 4, "white")


@pytest.mark.parametrize("share", [0.92, 0.84, 0.7])
def test_a_layer_short_of_the_edge_is_found(share: float) -> None:
    (found,) = run(pedal(decal(layered(share)), paint=PAINT), ["background_layer"])
    assert found.severity == "stop"
    assert str(found.facts["colour"]).casefold() == COLOUR
    assert found.facts["share"].value == pytest.approx(100 * share**2, abs=6)  # less its lettering


def test_a_panel_in_another_colour_is_meant() -> None:
    assert run(pedal(decal(layered(0.84, "#a03020")), paint=PAINT), ["background_layer"]) == []


def test_a_small_plate_in_the_paints_colour_is_meant() -> None:
    assert run(pedal(decal(layered(0.4)), paint=PAINT), ["background_layer"]) == []


def test_a_photograph_round_the_paints_colour_is_meant() -> None:
    size = Desk(150).size
    grain = cloudy(5, size).astype(np.float64)
    near = np.clip(np.array(PAINT) * 255 + 0.25 * (grain - 128), 0, 255).astype(np.uint8)
    near = np.dstack([near, np.full(size[::-1], 255, np.uint8)])
    near[:40, :, 3] = near[-40:, :, 3] = 0  # cut out, so that no border is even
    assert run(pedal(decal(near), paint=PAINT), ["background_layer"]) == []


def test_bars_near_the_paints_colour_are_meant() -> None:
    """A quarter of the film in all, and every one from side to side: bars under words, not a layer."""
    desk = Desk(150)
    for v in (30, 56, 82):
        desk.box(MIDDLE, v, FILM[0], 9, COLOUR)
    assert run(pedal(decal(desk), paint=PAINT), ["background_layer"]) == []


@pytest.mark.parametrize(("colour", "off_mm"), [("black", 0.0), ("#9a9a9a", 0.1)])
def test_a_guide_is_told_by_its_lines_whatever_their_colour(colour: str, off_mm: float) -> None:
    """Two knobs of 16 mm with holes of 7.5: four circles where the guide has them, a pixel or so off; one finding.

    Its lines are too thin to print and its circles lie on the knobs' edges, which nobody is told besides.
    """
    places = ((16.0, 30.0), (43.0, 30.0))
    parts = [part(f"P{number}", "pot-16", u, v, style="dome", diameter_mm=16.0) for number, (u, v) in enumerate(places)]
    desk = Desk(300)
    for u, v in places:
        for radius in (3.75, 8.0):
            desk.ring(u + off_mm, v, radius, 0.15, colour)
    found = run(pedal(decal(desk), parts), ["guide_lines", "thin_lines", "registration", "visibility"])
    assert [each.title for each in found if each.severity != "note" or each.check == "guide-lines"] == [
        "Guide layer left on"
    ]


def test_rings_of_ones_own_are_no_guide() -> None:
    """They lie 1.5 mm outside the knob, where a guide has no line."""
    places = ((16.0, 30.0), (43.0, 30.0))
    parts = [part(f"P{number}", "pot-16", u, v, style="dome", diameter_mm=16.0) for number, (u, v) in enumerate(places)]
    desk = Desk(300).frame(2, 0.5)
    for u, v in places:
        desk.ring(u, v, 9.5, 0.3).ticks(u, v, 10.3)
    assert run(pedal(decal(desk), parts), ["guide_lines"]) == []
