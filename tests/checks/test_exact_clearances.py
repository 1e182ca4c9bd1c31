"""Clearances and shared volumes inside the box against an exact solid kernel (OpenCASCADE).

Ours are triangles with a chord error of 0.005 mm, so a gap may come out 0.01 mm too large; a shared
volume, too small by the chord error times its surface.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from mockup import api
from mockup.checks._built import CHORD_MM, Built
from mockup.geometry.solids import gap, overlap_volume
from mockup.hardware._catalogue import kinds
from mockup.model.design import Design, Placement
from mockup.model.enclosure import FaceName, faces
from mockup.model.mesh import Floats
from mockup.model.shape import Extruded

DRAFTED = api.loads('name = "Drafted"\n[box]\nsize = "145x121x39"\ndraft = 2\ncorner = 7\n')
SEARCH_MM = 12.0


def design(*parts: Placement) -> Design:
    return replace(DRAFTED, parts=parts)


def placed(
    name: str, kind: str, face: FaceName, u: float, v: float, turn: float = 0.0, depth: float = 0.0
) -> Placement:
    return Placement(name=name, kind=kinds()[kind], face=face, u_mm=u, v_mm=v, rotation_deg=turn, depth_mm=depth)


def behind(part: Placement) -> Floats:
    """Pose of what hangs behind a panel: its own frame at the panel's inner surface."""
    box = DRAFTED.enclosure
    thick = box.top_mm if part.face == "top" else box.wall_mm
    return faces(box)[part.face].pose(part.u_mm, part.v_mm, part.rotation_deg, out_mm=-thick - part.depth_mm)


def is_exact(kind: str) -> bool:
    """True where the exact kernel is given every solid of a body (it is not taught bevels)."""
    return all(not isinstance(each, Extruded) or each.bevel_mm == 0 for each in kinds()[kind].below)


PAIRS: dict[str, tuple[Placement, Placement]] = {
    "lugs beside a can": (placed("A", "pot-16", "top", 40, 40), placed("B", "pot-16", "top", 53, 61, 20)),
    "two sizes": (placed("A", "pot-24", "top", 40, 40), placed("B", "footswitch", "top", 64, 50, 33)),
    "blades and wafers": (placed("A", "toggle", "top", 40, 60, 10), placed("B", "rotary-switch", "top", 67, 62)),
    "from the side and the top": (
        placed("A", "jack-enclosed", "left", 60, 15, 90),
        placed("B", "pot-16", "top", 34, 77, 200),
    ),
    "from two sides of a corner": (
        placed("A", "jack-enclosed", "near", 30, 17, 45),
        placed("B", "jack-enclosed", "left", 99, 17, 90),
    ),
    "cell under a switch": (
        placed("A", "battery-9v", "top", 60, 60, 15, depth=12.0),
        placed("B", "pot-9", "top", 60, 55),
    ),
    "cell beside a switch": (
        placed("A", "battery-9v", "top", 40, 60, 90, depth=5.0),
        placed("B", "footswitch-momentary", "top", 75, 52, 40),
    ),
    "slide switch beside a pot": (
        placed("A", "slide-switch", "top", 40, 40, 70),
        placed("B", "pot-9", "top", 56, 44, 5),
    ),
}


@pytest.mark.parametrize("name", PAIRS)
def test_gap_is_that_of_the_exact_solids(name: str, kernel: Any) -> None:
    first, second = PAIRS[name]
    assert is_exact(first.kind.name)
    assert is_exact(second.kind.name)
    built = Built(design(first, second))
    ours = gap(built.bodies["A"], built.bodies["B"], SEARCH_MM)
    exact = kernel.distance(
        kernel.shape(first.kind.below, behind(first)), kernel.shape(second.kind.below, behind(second))
    )
    assert 0 < exact < SEARCH_MM, "the pair was meant to lie close and apart"
    assert -1e-6 <= ours - exact <= 2 * CHORD_MM + 1e-6


# One solid of each of two parts, pushed into each other; (kind, index of the solid, face, u, v, turn).
DEEP: dict[str, tuple[tuple[str, int, FaceName, float, float, float], ...]] = {
    "two cans": (("pot-16", 2, "top", 40, 40, 0), ("pot-24", 2, "top", 56, 44, 0)),
    "case into can": (("footswitch", 3, "top", 40, 40, 25), ("pot-24", 2, "top", 56, 44, 0)),
    "side case into can": (("jack-enclosed", 0, "left", 60, 15, 90), ("pot-16", 2, "top", 28, 60, 0)),
    "wafer into case": (("rotary-switch", 2, "top", 40, 40, 0), ("toggle", 3, "top", 58, 48, 12)),
}


@pytest.mark.parametrize("name", DEEP)
def test_shared_volume_is_that_of_the_exact_solids(name: str, kernel: Any) -> None:
    parts, shapes = [], []
    for letter, (kind, index, face, u, v, turn) in zip("AB", DEEP[name], strict=True):
        whole = placed(letter, kind, face, u, v, turn)
        only = (whole.kind.below[index],)
        parts.append(replace(whole, kind=replace(whole.kind, below=only)))
        shapes.append(kernel.shape(only, behind(whole)))
    built = Built(design(*parts))
    ours = overlap_volume(built.bodies["A"], built.bodies["B"])
    exact = kernel.shared(*shapes)
    assert exact > 1.0
    surface = 6 * exact ** (2 / 3) * 3  # of a body three times as wrinkled as a cube of that volume
    assert ours == pytest.approx(exact, abs=CHORD_MM * surface)


def test_a_gap_between_a_can_and_a_drafted_wall(kernel: Any) -> None:
    """A can that hangs from the top at 2 degrees of draft: the wall comes nearest at the can's upper end.

    By hand: inner wall at height z lies wall + inset(z) from the rim's outside; the can of radius r with
    its axis `a` from there leaves a - r - wall - inset(z), measured level, times cos(draft) across the wall.
    """
    box = DRAFTED.enclosure
    part = placed("A", "pot-24", "left", 60, 16)
    can = part.kind.below[2]
    hung = replace(part, kind=replace(part.kind, below=(can,)), face="top", u_mm=15.9, v_mm=70.0)
    built = Built(design(hung))
    measured = gap(built.bodies["A"], built.walls_but("top")["the left wall"], SEARCH_MM)
    radius = max(r for r, _ in can.profile)  # type: ignore[union-attr]
    top = max(z for r, z in can.profile if r == radius)  # type: ignore[union-attr]
    z = box.height_mm - box.top_mm + top
    slope = math.radians(box.draft_deg)
    axis = box.inset_mm(box.height_mm) + hung.u_mm  # from the rim's outside
    level = axis - radius - box.wall_mm - (z - box.lid_mm) * math.tan(slope)
    assert 0.5 < level < SEARCH_MM
    assert measured == pytest.approx(level * math.cos(slope), abs=2 * CHORD_MM)
    assert np.isfinite(measured)
