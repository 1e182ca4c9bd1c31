"""Every mark is drawn alone, so how many are printed at once makes no difference to any pixel."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mockup.decal import lettering as inked
from mockup.decal.lettering import Inked, printed
from mockup.films import films
from mockup.memo import MEMORY
from mockup.model.finish import Artwork, Decal

SIDE_MM, PER_MM = 60.0, 6.0


def film(turn: float = 0.0) -> Decal:
    side = round(SIDE_MM * PER_MM)
    art = Artwork(name="art", pixels=np.full((side, side, 4), 120, np.uint8))
    half = SIDE_MM / 2
    return Decal(
        art=art,
        face="top",
        u_mm=half,
        v_mm=half,
        width_mm=SIDE_MM,
        height_mm=SIDE_MM,
        rotation_deg=turn,
        film=films()["clear"],
    )


def disc(u: float, v: float, radius: float, colour: str = "#000000") -> Inked:
    svg = f'<circle cx="{u}" cy="{v}" r="{radius}" fill="{colour}"/>'
    return Inked(svg=svg, box=(u - radius, v - radius, u + radius, v + radius))


discs = st.builds(
    disc, st.floats(5, 55), st.floats(5, 55), st.floats(0.5, 8), st.sampled_from(["#000000", "#ff0000", "#ffffff"])
)


@settings(max_examples=40)
@given(st.lists(discs, min_size=1, max_size=7), st.sampled_from([0.0, 90.0, 33.0]))
def test_all_at_once_is_as_one_after_the_other(marks: list[Inked], turn: float) -> None:
    together = printed(film(turn), marks)
    single = film(turn)
    for mark in marks:
        single = printed(single, [mark])
    np.testing.assert_array_equal(together.art.pixels, single.art.pixels)


def test_the_later_lies_over_the_earlier_also_over_two_apart() -> None:
    """Two discs apart, then one over both: where it lies on them, it shows."""
    marks = [disc(20, 30, 5), disc(40, 30, 5), disc(30, 30, 8, "#ffffff")]
    pixels = printed(film(), marks).art.pixels
    for u, shade in ((17.0, 0), (43.0, 0), (23.5, 255), (36.5, 255), (30.0, 255)):
        assert pixels[round(30 * PER_MM), round(u * PER_MM), 0] == shade


@pytest.mark.parametrize("to", [disc(51, 8, 2), disc(10, 6, 2)], ids=["apart", "over another"])
def test_only_the_one_that_moves_is_drawn_anew(to: Inked, monkeypatch: pytest.MonkeyPatch) -> None:
    drawn: list[bytes] = []
    plain = inked.draw

    def noted(data: bytes, *rest: Any, **more: Any) -> object:
        drawn.append(data)
        return plain(data, *rest, **more)

    monkeypatch.setattr(inked, "draw", noted)
    MEMORY.clear()
    printed(film(), [disc(8, 8, 2), disc(52, 52, 2), disc(52, 8, 2)])
    assert len(drawn) == 3
    printed(film(), [disc(8, 8, 2), disc(52, 52, 2), to])
    assert len(drawn) == 4
