"""Lengths by ruler, by hand."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mockup.model.enclosure import FACES, Enclosure, faces
from mockup.window.pointer import measuring

SIDES = faces(Enclosure(width_mm=60.0, length_mm=112.0, height_mm=31.0, draft_deg=2.0))
uv = st.tuples(st.floats(-5, 120), st.floats(-5, 120))


def test_three_across_and_four_down_are_five() -> None:
    span = measuring.on_face((10.0, 20.0), (13.0, 16.0))
    assert (span.distance_mm, span.du_mm, span.dv_mm) == (5.0, 3.0, -4.0)
    assert span.lines() == ("distance 5 mm (0.197 in)", "across 3 mm (0.118 in), down 4 mm (0.157 in)")


def test_an_inch_file_reads_inches_first() -> None:
    assert measuring.both(12.7, "in") == "0.5 in (12.7 mm)"
    assert measuring.both(12.7) == "12.7 mm (0.5 in)"


def test_in_space_the_distance_is_straight() -> None:
    span = measuring.in_space(np.array([0.0, 0, 0]), np.array([1.0, 2, 2]))
    assert span.distance_mm == 3.0
    assert span.lines() == ("distance 3 mm (0.118 in)",)


def test_the_ruler_starts_at_the_leaning_edge() -> None:
    """Draft 2 degrees: 20 mm down a side, the edge has moved out by 20 sin 2 = 0.698 mm."""
    side = SIDES["near"]
    found = measuring.edges(side, (10.0, 20.0))
    assert found.left_mm == pytest.approx(10.698, abs=1e-3)
    assert found.right_mm == pytest.approx(side.width_mm - 10 + 0.698, abs=1e-3)
    assert (found.top_mm, found.bottom_mm) == (20.0, pytest.approx(side.height_mm - 20))
    assert found.lines()[1].startswith("top 20 mm (0.787 in), bottom ")


@given(st.sampled_from(FACES), uv, uv)
def test_a_span_on_a_face_is_as_long_as_in_space(
    name: str, start: tuple[float, float], end: tuple[float, float]
) -> None:
    side = SIDES[name]  # type: ignore[index]
    flat = measuring.on_face(start, end)
    space = measuring.in_space(side.to_world(np.array(start)), side.to_world(np.array(end)))
    assert flat.distance_mm == pytest.approx(space.distance_mm, abs=1e-9)
