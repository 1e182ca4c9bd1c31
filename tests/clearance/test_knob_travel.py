"""The room that a knob takes at any turn holds the knob at every turn, and no more than it needs."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest

from mockup import knobs
from mockup.clearance.knob_travel import LEVELS, swept
from mockup.geometry.tessellate import tessellate
from mockup.model.material import BLACK_PLASTIC
from mockup.model.part import Shaft
from mockup.model.shape import Extruded, Outline

SHAFT = Shaft(diameter_mm=6.0, top_mm=13.0)


def radius_at(profile: tuple[tuple[float, float], ...], heights: np.ndarray) -> np.ndarray:
    """Return the widest radius that a profile of level and upright lines has at some heights."""
    outside = profile[1:-1]
    found = np.zeros_like(heights)
    for (r0, z0), (r1, z1) in pairwise(outside):
        if abs(r1 - r0) < 1e-9:
            found = np.where((heights >= z0 - 1e-9) & (heights <= z1 + 1e-9), np.maximum(found, r0), found)
    return found


@pytest.mark.parametrize("style", knobs.styles())
def test_a_knob_never_leaves_its_room(style: str) -> None:
    solids = knobs.solids(knobs.default(style), SHAFT)
    room = swept(solids)
    for solid in solids:
        vertices = tessellate(solid).vertices  # finer than the room was made with
        reach = np.hypot(vertices[:, 0], vertices[:, 1])
        assert (reach <= radius_at(room.profile, vertices[:, 2]) + 0.02).all()


@pytest.mark.parametrize("style", knobs.styles())
def test_a_room_is_as_wide_and_as_high_as_the_knob(style: str) -> None:
    knob = knobs.default(style)
    room = swept(knobs.solids(knob, SHAFT))
    assert room.radius_mm == pytest.approx(knob.diameter_mm / 2, abs=0.02)
    heights = [z for _, z in room.profile]
    assert max(heights) - min(heights) == pytest.approx(knob.height_mm, abs=0.02)


def test_a_bar_sweeps_a_full_circle() -> None:
    """A bar of 20 x 4, 10 high: its corners reach hypot(10, 2) at every turn and at every height."""
    bar = Extruded(
        outline=Outline(kind="rectangle", width_mm=20, height_mm=4), bottom_mm=2, top_mm=12, material=BLACK_PLASTIC
    )
    room = swept((bar,))
    assert room.radius_mm == pytest.approx(math.hypot(10, 2))
    assert {round(r, 6) for r, _ in room.profile} == {0.0, round(math.hypot(10, 2), 6)}


def test_a_cone_is_followed_in_steps_that_are_never_too_small() -> None:
    """A bevel of 45 degrees: at each of the steps the room is wider than the cone by at most one step."""
    cone = Extruded(
        outline=Outline(kind="circle", width_mm=20), bottom_mm=0, top_mm=8, bevel_mm=7.9, material=BLACK_PLASTIC
    )
    room = swept((cone,))
    for r, z in room.profile[1:-1]:
        true = min(10.0, 10.0 - (z - 0.1))
        assert true - 0.02 <= r <= true + 8 / LEVELS + 0.02
