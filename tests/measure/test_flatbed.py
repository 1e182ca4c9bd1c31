"""Holes read off simulated scans: the pattern to a part of a pixel, what is unsure said, nothing sure that is wrong."""

from __future__ import annotations

import numpy as np
import pytest
from scans import scan

from mockup.geometry.rigid import best_move
from mockup.measure.flatbed import scanned
from mockup.measure.pattern import joined

DESIGNED = np.array([(14.5, 19.0), (44.5, 19.0), (29.5, 40.0), (29.5, 73.0), (29.5, 93.0)])
DRILLS = [7.5, 7.5, 7.5, 8.0, 12.5]
PATTERN_MM = 0.05  # what a published trial of a desktop scanner reached: Divis, Mair and Corney, Strathclyde


def _drilled(seed: int) -> tuple[np.ndarray, list[float]]:
    """Return places as a hand drills them, 0.35 mm off along each axis, and holes up to 0.25 mm too wide."""
    chance = np.random.default_rng(seed)
    return DESIGNED + chance.normal(size=DESIGNED.shape) * 0.35, [each + chance.uniform(0, 0.25) for each in DRILLS]


@pytest.mark.parametrize(
    ("turn", "paint", "art", "seed"), [(1.5, 0.7, 0.0, 1), (181.0, 0.15, 0.5, 2), (92.0, 0.06, 0.3, 3)]
)
def test_the_pattern_is_read_whichever_way_the_face_lies(turn: float, paint: float, art: float, seed: int) -> None:
    places, wide = _drilled(seed)
    found = scanned(scan(places, wide, turn_deg=turn, paint=paint, art=art, seed=seed), (200, 200), DESIGNED, DRILLS)
    assert found.is_sure.all()
    move = best_move(places, found.places_mm)
    assert np.hypot(*move.left.T).max() < PATTERN_MM
    assert (move.turn_deg - turn + 180) % 360 - 180 == pytest.approx(0.0, abs=0.1)
    assert [each.diameter_mm for each in found.seen if each] == pytest.approx(wide, abs=0.08)


def test_a_hole_whose_rim_is_half_dark_is_asked_and_the_others_stay_right() -> None:
    places, wide = _drilled(4)
    found = scanned(scan(places, wide, hidden=(2,), seed=4), (200, 200), DESIGNED, DRILLS)
    assert list(found.is_sure) == [True, True, False, True, True]
    sure = found.is_sure
    assert np.hypot(*best_move(places[sure], found.places_mm[sure]).left.T).max() < PATTERN_MM
    assert joined([found])[1][2]


def test_a_scale_that_was_measured_takes_out_what_the_scanner_draws_longer() -> None:
    """1.004 across: 30 mm between two holes come out 0.12 longer. Told of it, the pattern is right."""
    places, wide = _drilled(5)
    picture = scan(places, wide, seed=5, stretch=(1.004, 1.0))
    off = [
        np.hypot(*best_move(places, scanned(picture, (200, 200), DESIGNED, DRILLS, true).places_mm).left.T).max()
        for true in ((1.0, 1.0), (1 / 1.004, 1.0))
    ]
    assert off[1] < 0.03 < off[0]


def test_a_pattern_that_looks_alike_turned_is_not_guessed() -> None:
    """A square of four equal holes; told that it lay upright, it is read."""
    square = np.array([(15.0, 41.0), (45.0, 41.0), (45.0, 71.0), (15.0, 71.0)])
    picture = scan(square + [(0.1, 0.0), (0, 0), (0, 0.2), (0, 0)], [8.0] * 4)
    with pytest.raises(ValueError, match="looks alike turned"):
        scanned(picture, (200, 200), square, [8.0] * 4)
    found = scanned(picture, (200, 200), square, [8.0] * 4, turn_deg=0.0)
    assert found.is_sure.all() and found.places_mm[0][0] < found.places_mm[1][0]


def test_a_scan_without_the_pattern_is_refused() -> None:
    with pytest.raises(ValueError, match="does not show"):
        scanned(scan(np.zeros((0, 2)), [], art=0.5), (200, 200), DESIGNED, DRILLS)
    with pytest.raises(ValueError, match="too coarse"):
        scanned(scan(np.zeros((0, 2)), []), (72, 72), DESIGNED, DRILLS)
    with pytest.raises(ValueError, match="fewer than 3"):
        scanned(scan(np.zeros((0, 2)), []), (200, 200), DESIGNED[:2], DRILLS[:2])


def test_two_scans_are_averaged_and_where_they_differ_it_is_said() -> None:
    places, wide = _drilled(6)
    one = scanned(scan(places, wide, seed=6), (200, 200), DESIGNED, DRILLS)
    shifted = places + [(0, 0), (0, 0), (0.6, 0), (0, 0), (0, 0)]
    other = scanned(scan(shifted, wide, seed=7, turn_deg=180.0), (200, 200), DESIGNED, DRILLS)
    together, unsure = joined([one, other])
    assert "the pictures differ" in unsure[2] and together.shape == DESIGNED.shape
    assert not any(joined([one, one])[1])
