"""A layer in the paint's own colour that was left on, short of the edge or under lettering; and what is none."""

from __future__ import annotations

import numpy as np
import pytest
from art_desk import FILM, MIDDLE, TOP, Desk, cloudy, decal, pedal, run

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
