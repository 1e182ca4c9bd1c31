"""Many places judged at once: each as the checks' own table judges it alone."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

sys.path.append(str(Path(__file__).parents[1] / "arrange"))
from part_bench import new

from mockup.clearance.free_places import CLAIM_RULES, free_places
from mockup.clearance.table import TOUCH_MM, broken_by
from mockup.enclosure.sizes import SIZES
from mockup.model.enclosure import FaceName

BOX = SIZES["112x60x31"]
MISSED_MM = 0.07  # how far gaps along given directions fall short: measured against the solid library


@pytest.mark.parametrize(
    ("kind", "face", "turn"),
    [("pot-16", "top", 0.0), ("slide-switch", "top", 30.0), ("jack-enclosed", "right", 90.0), ("lamp-5", "far", 0.0)],
)
def test_every_place_is_judged_as_the_table_judges_it_alone(kind: str, face: FaceName, turn: float) -> None:
    """A place of lattice points not in line with anything: no free place lacks room, none that has room is missed."""
    pot, foot, jack = (
        replace(new("pot-16"), name="POT", u_mm=15.0, v_mm=20.0),
        replace(new("footswitch"), name="FOOT", u_mm=28.0, v_mm=88.0),
        replace(new("jack-enclosed", face="left"), name="JACK", u_mm=50.0, v_mm=15.0),
    )
    part = replace(new(kind, face=face), name="NEW", rotation_deg=turn)
    places = np.array([(u, v) for u in np.arange(3.1, 110.0, 7.3) for v in np.arange(2.3, 110.0, 8.7)])
    found = free_places(BOX, part, (pot, foot, jack), {}, places)
    assert found.kept.any() or kind == "slide-switch"
    for (u, v), is_kept, is_clear in zip(places.tolist(), found.kept, found.clear, strict=True):
        margins = list(broken_by(BOX, replace(part, u_mm=u, v_mm=v), (pot, foot, jack), {}))
        lacking = max((-each.spare_mm for each in margins), default=0.0)
        claims = [each.room_mm for each in margins if each.rule in CLAIM_RULES]
        assert lacking <= MISSED_MM if is_kept else margins or _is_close(kind, face, turn, u, v), (u, v)
        assert min(claims, default=1.0) >= -TOUCH_MM if is_clear else min(claims, default=1.0) <= MISSED_MM, (u, v)


def _is_close(kind: str, face: FaceName, turn: float, u: float, v: float) -> bool:
    """Return whether a place that was refused is refused by the table with a hair more room asked for."""
    own = {"body_gap_mm": 1.0 + MISSED_MM, "wiring_mm": 2.0 + MISSED_MM}
    part = replace(new(kind, face=face), name="NEW", u_mm=u, v_mm=v, rotation_deg=turn)
    return any(broken_by(BOX, part, (), own))


def test_a_search_that_is_stopped_finds_nothing_free() -> None:
    places = np.array([[30.0, 60.0]])
    assert not free_places(BOX, new("pot-16"), (), {}, places, is_stopped=lambda: True).clear.any()
