"""Checks over a picture that is the paint: each word, each area is judged over the tones that it lies on.

A cream left half and a navy right one. Ratios are WCAG 2.2's, worked out from the ink model over paint of one colour.
"""

from __future__ import annotations

import numpy as np
import pytest

from mockup.decal.word_contrast import word_contrast
from mockup.model.label import Lettering
from mockup.model.paint_picture import PaintPicture
from tests.checks.art_desk import BOX, MIDDLE, Desk, decal, label, names, pedal, run

CREAM, NAVY = (240 / 255, 222 / 255, 180 / 255), (28 / 255, 40 / 255, 72 / 255)
LEFT, RIGHT = MIDDLE - 14.0, MIDDLE + 14.0


def tones(right: tuple[int, int, int] = (28, 40, 72)) -> PaintPicture:
    pixels = np.empty((60, 40, 3), np.uint8)
    pixels[:, :20], pixels[:, 20:] = (240, 222, 180), right
    return PaintPicture(name="tones.png", pixels=pixels, box=BOX)


def over(desk: Desk, *labels, paint=CREAM, picture: PaintPicture | None = None):
    return pedal(decal(desk), [], labels, paint=paint, picture=picture)


def test_a_dark_word_is_judged_where_it_lies() -> None:
    drive, tone = label("DRIVE", LEFT, 46, 11), label("TONE", RIGHT, 46, 9)
    desk = Desk(300).text("TONE", RIGHT, 46, 3.0)
    (alone,) = run(over(desk, tone, paint=NAVY), ["contrast"])
    (found,) = run(over(desk.text("DRIVE", LEFT, 46, 3.0), drive, tone, picture=tones()), ["contrast"])
    assert found.subjects == alone.subjects
    assert "TONE" in names(found)[0]
    assert found.measured.value == pytest.approx(alone.measured.value, abs=0.02)


def test_white_that_vanishes_is_told_by_the_tone_that_lets_it() -> None:
    desk = Desk(300).box(RIGHT, 46, 20, 8, "white")
    (found,) = run(over(desk, picture=tones()), ["white_ink"])
    (alone,) = run(over(desk, paint=NAVY), ["white_ink"])
    assert (found.severity, found.facts["paint"]) == (alone.severity, alone.facts["paint"]) != ("note", None)


def test_a_colour_is_swallowed_over_one_tone_alone() -> None:
    """Two discs of one blue: over black it is gone, over cream it stays."""
    desk = Desk(300).disc(LEFT, 75, 8, "#2040d0").disc(RIGHT, 75, 8, "#2040d0")
    (found,) = run(over(desk, picture=tones((0, 0, 0))), ["swallowed_colour"])
    assert run(over(desk, paint=CREAM), ["swallowed_colour"]) == []
    (mark,) = found.marks
    assert mark.u_mm > MIDDLE


def test_a_background_in_either_tone_is_the_paints_own() -> None:
    desk = Desk(300, ground="#1c2848")
    assert run(over(desk, picture=tones()), ["background_layer"])[0].severity == "stop"


def test_a_drawn_word_has_the_contrast_of_its_worst_tone() -> None:
    def ratio(u: float, **finish) -> float | None:
        word = label("GLOW", u, 46, 12, lettering=Lettering(font="face.ttf", size_mm=3.0, colour=(0.0, 0.0, 0.0)))
        return word_contrast(pedal([], [], [word], **finish), word)

    dark, light = ratio(MIDDLE, paint=NAVY), ratio(MIDDLE, paint=CREAM)
    assert ratio(RIGHT, paint=CREAM, picture=tones()) == pytest.approx(dark)
    assert ratio(LEFT, paint=CREAM, picture=tones()) == pytest.approx(light)
    assert ratio(MIDDLE, paint=CREAM, picture=tones()) == pytest.approx(dark)  # it lies across both
