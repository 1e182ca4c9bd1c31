"""The camera on its way between two views."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mockup.window.pointer.orbit import Orbit
from mockup.window.view.camera_motion import CameraMotion, between, eased

ABOVE = Orbit(elevation_deg=90.0, ortho_mm=150.0)
QUARTER = Orbit(azimuth_deg=-30.0, elevation_deg=40.0, distance_mm=410.0)
ORBITS = st.builds(
    Orbit, azimuth_deg=st.floats(-180, 180), elevation_deg=st.floats(-90, 90), distance_mm=st.floats(50, 4000),
    ortho_mm=st.none() | st.floats(5, 1500),
)  # fmt: skip


def test_it_begins_where_it_stands_and_ends_exactly_at_the_view() -> None:
    motion = CameraMotion(start=QUARTER, end=ABOVE, began=10.0)
    assert motion.at(10.0).azimuth_deg == pytest.approx(QUARTER.azimuth_deg)
    assert motion.at(10.261) == ABOVE
    assert motion.is_over(10.261)
    assert not motion.is_over(10.2)


def test_with_no_motion_it_is_there_at_once() -> None:
    assert CameraMotion(start=QUARTER, end=ABOVE, began=10.0, seconds=0.0).at(10.0) == ABOVE


def test_easing_is_slow_at_both_ends() -> None:
    # 3 s^2 - 2 s^3 by hand: 0.028 at a tenth, one half at the middle
    assert eased(0.0) == 0.0
    assert eased(0.1) == pytest.approx(0.028)
    assert eased(0.5) == 0.5
    assert eased(1.0) == 1.0


def test_it_goes_round_the_short_way() -> None:
    start, end = Orbit(azimuth_deg=170.0), Orbit(azimuth_deg=-170.0)
    assert between(start, end, 0.5).azimuth_deg == pytest.approx(180.0)


@given(ORBITS, ORBITS, st.floats(0.0, 1.0))
def test_what_is_seen_grows_evenly_and_never_leaps(start: Orbit, end: Orbit, share: float) -> None:
    spans = sorted((start.mm_per_px(1.0), end.mm_per_px(1.0)))
    found = between(start, end, share)
    assert spans[0] * (1 - 1e-6) <= found.mm_per_px(1.0) <= spans[1] * (1 + 1e-6)
    assert math.isfinite(found.distance_mm)
    camera = found.camera()
    assert all(math.isfinite(each) for each in (*camera.eye, *camera.up))
