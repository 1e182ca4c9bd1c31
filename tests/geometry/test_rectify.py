"""A plane and its marks in pictures where every place is known."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import ndimage

from mockup.geometry.rectify import plane, window
from mockup.measure.marks import marks

CORNERS_MM = np.array([(0.0, 0.0), (60.0, 0.0), (60.0, 40.0), (0.0, 40.0)])
SHIFT = st.floats(-40, 40)


@given(st.lists(st.tuples(SHIFT, SHIFT), min_size=4, max_size=4))
def test_places_go_to_pixels_and_back(shifts: list[tuple[float, float]]) -> None:
    corners = CORNERS_MM * 10 + 100 + np.array(shifts)
    on = plane(CORNERS_MM, corners)
    assert on.pixels(CORNERS_MM) == pytest.approx(corners, abs=1e-6)
    inside = np.array([(13.0, 7.0), (41.0, 33.0)])
    assert on.places(on.pixels(inside)) == pytest.approx(inside, abs=1e-6)


def test_a_square_seen_on_the_slant_by_hand() -> None:
    """(x, y) -> ((10 x) / (1 + 0.01 y), (10 y) / (1 + 0.01 y)): straight lines stay straight, far ones shrink."""
    matrix = np.array([[10.0, 0, 0], [0, 10.0, 0], [0, 0.01, 1]])
    seen = [(0, 0), (600, 0), (600 / 1.4, 400 / 1.4), (0, 400 / 1.4)]
    on = plane(CORNERS_MM, seen)
    assert on.matrix == pytest.approx(matrix, abs=1e-9)
    assert on.pixels((30.0, 20.0)) == pytest.approx((250.0, 200 / 1.2))
    # Across 10 / 1.2 = 8.33. Down by (-10 * 30 * 0.01, 10) / 1.2^2 = (-2.083, 6.944), 7.25 long: the lesser.
    assert on.per_mm((30.0, 20.0)) == pytest.approx(7.25, abs=0.01)
    with pytest.raises(ValueError, match="in a line"):
        plane([(0, 0), (1, 0), (2, 0), (3, 0)], [(0, 0), (1, 0), (2, 0), (3, 0)])


def test_marks_are_found_to_a_part_of_a_pixel_among_other_things() -> None:
    big = np.full((1200, 1600), 0.8)
    middles = [(401.0, 303.0), (1202.0, 350.0), (1150.0, 903.0), (380.0, 860.0)]
    for x, y in middles:
        for dx, dy in ((-44, -44), (0, 0)):
            big[int(y) + dy : int(y) + dy + 44, int(x) + dx : int(x) + dx + 44] = 0.1
    big[500:700, 600:900] = 0.3  # a patch, a stroke and a disc: no marks
    big[100:106, 100:1500] = 0.1
    rows, columns = np.mgrid[:1200, :1600]
    big[np.hypot(columns - 800, rows - 1050) < 60] = 0.2
    small = ndimage.gaussian_filter(big, 2.0)[::2, ::2] + np.random.default_rng(0).normal(0, 0.01, (600, 800))
    picture = np.rint(np.clip(np.repeat(small[..., None], 3, axis=2), 0, 1) * 255).astype(np.uint8)
    found = [(each.x_px, each.y_px) for each in marks(picture)[:4]]
    for x, y in middles:
        away = min(np.hypot(x / 2 + 0.25 - at[0], y / 2 + 0.25 - at[1]) for at in found)
        assert away < 0.4, (x, y)


def test_a_window_beyond_the_picture_is_refused() -> None:
    on = plane(CORNERS_MM, CORNERS_MM * 10)
    picture = np.zeros((400, 600, 3))
    assert window(picture, on, (30, 20), (4, 4)).shape == (144, 3)
    with pytest.raises(ValueError, match="beyond the picture"):
        window(picture, on, (1, 1), (4, 4))
