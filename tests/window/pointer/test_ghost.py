"""A part's outlines on its face."""

from __future__ import annotations

import math

import pytest

from mockup import hardware, knobs
from mockup.model.design import Placement
from mockup.window.pointer.ghost import ghost


def test_a_pot_has_knob_nut_hole_and_body_round_its_middle() -> None:
    """Hole of 7.5 by the pot's bushing; the knob as wide as it says."""
    knob = knobs.default("barrel")
    part = Placement(name="A", kind=hardware.kinds()["pot-16"], face="top", u_mm=20.0, v_mm=30.0, knob=knob)
    lines = {line.layer: line for line in ghost(part)}
    assert set(lines) == {"body", "knob", "nut", "hole"}
    radii = [math.dist(point, (20.0, 30.0)) for point in lines["hole"].points]
    assert radii == pytest.approx([3.75] * len(radii))
    assert max(math.dist(p, (20.0, 30.0)) for p in lines["knob"].points) == pytest.approx(
        knob.diameter_mm / 2, abs=0.02
    )


def test_a_battery_is_a_body_alone() -> None:
    part = Placement(name="B", kind=hardware.kinds()["battery-9v"], face="top", u_mm=20.0, v_mm=30.0)
    assert {line.layer for line in ghost(part)} == {"body"}
