"""Holes read off simulated photographs with the frame of marks: whatever tilt and lens, and what is no such picture."""

from __future__ import annotations

import numpy as np
import pytest
from photographs import camera, photograph
from scipy import ndimage

from mockup.geometry.rigid import best_move
from mockup.measure.frame import found_frame, matched, middles_mm
from mockup.measure.holes import Slant, find_hole
from mockup.measure.photograph import photographed, rough

FACE = (59.0, 111.0)
DESIGNED = np.array([(14.5, 19.0), (44.5, 19.0), (29.5, 40.0), (29.5, 73.0), (29.5, 93.0)])
DRILLS = [7.5, 7.5, 7.5, 8.0, 12.5]
GOAL_MM = 0.1  # wanted of a photograph with marks
SIZE = (1100, 825)


def test_the_pattern_is_read_on_the_slant_and_any_way_round() -> None:
    """Drilled 0.35 mm off along each axis; seen 14 degrees off the upright through a lens that bends."""
    chance = np.random.default_rng(3)
    places = DESIGNED + chance.normal(size=DESIGNED.shape) * 0.35
    wide = [each + chance.uniform(0, 0.25) for each in DRILLS]
    seen_by = camera(FACE, SIZE, 14.0, 262.0)
    picture = photograph(FACE, places, wide, seen_by, seed=3)
    found = photographed(picture, FACE, 2.0, DESIGNED, DRILLS)
    assert found.is_sure.all() and found.strays == ()
    assert np.hypot(*best_move(places, found.places_mm).left.T).max() < GOAL_MM / 2
    assert [each.diameter_mm for each in found.seen if each] == pytest.approx(wide, abs=0.1)
    corners = seen_by.pixels([(0.0, 0.0), (FACE[0], 0.0), FACE, (0.0, FACE[1])])
    near = rough(picture, corners + 4.0, FACE, DESIGNED, DRILLS)  # all clicked half a millimetre off
    assert np.hypot(*best_move(places, near.places_mm).left.T).max() < 1.0
    with pytest.raises(ValueError, match="clockwise"):
        rough(picture, corners[::-1], FACE, DESIGNED, DRILLS)


def test_the_frame_is_known_by_its_marks_alone() -> None:
    """Places of marks, with eight others strewn in: found turned any way, not with three missing, not mirrored."""
    own = middles_mm(FACE)
    chance = np.random.default_rng(1)
    for roll in (0.0, 95.0, 180.0, 271.0):
        seen = camera(FACE, SIZE, 20.0, roll).pixels(own)
        order = chance.permutation(len(seen) + 8)
        mixed = np.concatenate([seen, chance.uniform(0, 900, (8, 2))])[order]
        match = matched(own, mixed)
        assert match is not None and [order[spot] for spot in match if spot is not None] == list(range(12))
        assert matched(own, seen[3:]) is None
        assert matched(own, seen * (-1, 1)) is None and matched(own * (-1.0, 1.0), seen * (-1, 1)) is not None
        assert matched(middles_mm((60.0, 31.0)), seen) is None  # another face's
    assert matched(own, own[:3]) is None


def test_a_blurred_photograph_and_one_without_frame_are_refused() -> None:
    small = (900, 675)
    for seen_by, blur_px, words in (
        (camera(FACE, (640, 480), 5.0, 90.0), 0.8, "too small"),
        (camera(FACE, small, 5.0, 90.0), 3.0, "blurred"),
    ):
        with pytest.raises(ValueError, match=words):
            found_frame(photograph(FACE, DESIGNED, DRILLS, seen_by, blur_px=blur_px), FACE)
    with pytest.raises(ValueError, match="not seen whole"):
        found_frame(np.full((300, 400, 3), 90, np.uint8), FACE)


@pytest.mark.parametrize(("wall_mm", "is_taken"), [(2.0, True), (4.0, False)])
def test_a_wall_as_bright_as_the_paint_hides_a_part_of_the_rim(wall_mm: float, is_taken: bool) -> None:
    """Seen on the slant, a hole is dark where the upper and the lower rim both leave it open: by two discs, by hand.

    The eye stands 100 mm to the right at 400 mm: 2 mm lower, its rim is seen 2 / 402 x 100 = 0.5 mm to the right, so
    that at the left side the lower one alone shows. Told of another wall, the hole is asked.
    """
    per_mm, place, radius = 10.0, np.array([12.0, 12.0]), 4.0
    rows, columns = np.mgrid[:240, :240] + 0.5
    x, y = columns / per_mm - place[0], rows / per_mm - place[1]
    is_open = (np.hypot(x, y) < radius) & (np.hypot(x - 2.0 / 402.0 * 100.0, y) < radius)
    light = ndimage.gaussian_filter(np.where(is_open, 0.004, 0.02), 1.0)
    light += np.random.default_rng(3).normal(size=light.shape) * 0.0015
    slant = Slant(eye_mm=(12.0 + 100.0, 12.0, 400.0), wall_mm=wall_mm)
    found = find_hole(light, place + (0.3, -0.2), 2 * radius, per_mm, slant)
    assert found is not None and (found.unsure == "") is is_taken
    if is_taken:
        assert np.hypot(found.x_px / per_mm - 12.0, found.y_px / per_mm - 12.0) < 0.05
