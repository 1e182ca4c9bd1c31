"""Holes to look into: which parts have one, where it is, and that light in it follows its shape."""

import numpy as np
import pytest

from mockup import hardware
from mockup.scene.cavities import cavities, moved

KINDS = hardware.kinds()


def test_a_jack_has_one_hole_for_its_plug_on_its_axis():
    (hole,) = cavities(KINDS["jack-open"], np.eye(4))
    assert hole.radius_mm == pytest.approx((6.35 + 0.25) / 2)  # the plug's sleeve and its clearance: hardware/jack.py
    assert hole.mouth == pytest.approx((0.0, 0.0, 4.8 - 0.3))  # the bushing's top less its broken edge
    assert hole.way_out == (0.0, 0.0, 1.0)
    assert hole.depth_mm > 4.5  # through the panel at least


@pytest.mark.parametrize("name", ["lamp-5", "footswitch", "pot-16", "toggle-mini"])
def test_what_is_filled_by_a_rod_is_no_hole(name):
    assert cavities(KINDS[name], np.eye(4)) == ()


def test_a_hole_moves_with_its_part():
    quarter = np.array([[0, 0, 1, 30.0], [0, 1, 0, 0], [-1, 0, 0, 20.0], [0, 0, 0, 1]])  # z out of the right wall
    here = cavities(KINDS["jack-open"], quarter, "IN")
    assert here[0].way_out == pytest.approx((1.0, 0.0, 0.0))
    assert here[0].mouth == pytest.approx((34.5, 0.0, 20.0))
    assert here[0].part == "IN"
    (back,) = moved(here, np.linalg.inv(quarter))
    assert back.mouth == pytest.approx((0.0, 0.0, 4.5))
