"""Gaps inside the box against an exact solid kernel (OpenCASCADE): never too large, and no smaller than can be told.

What the solid library shares out of two solids is held to the same kernel, since it is the oracle of `test_table`.
"""

from __future__ import annotations

import math
import os
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import pytest
from solid_gaps import overlap_volume
from solid_oracle import CHORD_MM, body

from mockup import api
from mockup.clearance.directions import ways_of
from mockup.clearance.placed import PlacedPart
from mockup.clearance.placed import placed as placed_part
from mockup.clearance.rules import BODIES, Inside, alone
from mockup.clearance.table import group_room, metal_rooms
from mockup.hardware import kinds
from mockup.model.design import Placement
from mockup.model.enclosure import FaceName, faces
from mockup.model.mesh import Floats
from mockup.model.shape import Extruded, Outline, Solid, Turned


@dataclass(frozen=True, kw_only=True)
class Kernel:
    """What an exact solid kernel measures: the least distance of two shapes, and the volume they share."""

    shape: Callable[[Sequence[Solid], Floats], Any]
    distance: Callable[[Any, Any], float]
    shared: Callable[[Any, Any], float]


@pytest.fixture(scope="session")
def kernel() -> Kernel:
    """Return the exact kernel. It is given our solids as numbers and knows nothing of our meshes."""
    try:
        from OCP import (
            BRep,
            BRepAlgoAPI,
            BRepBuilderAPI,
            BRepExtrema,
            BRepGProp,
            BRepPrimAPI,
            GProp,
            TopoDS,
            gp,
        )
    except ImportError as error:
        reason = f"exact reference solids need OpenCASCADE, and with it libGL and libX11: {error}"
        if os.environ.get("MOCKUP_REQUIRE_GL") == "1":
            pytest.fail(reason)
        pytest.skip(reason)

    def moved(shape: Any, pose: Floats) -> Any:
        move = gp.gp_Trsf()
        move.SetValues(*(float(value) for value in pose[:3].ravel()))
        return BRepBuilderAPI.BRepBuilderAPI_Transform(shape, move, True).Shape()

    def cylinder(x: float, y: float, low: float, radius: float, high: float) -> Any:
        axis = gp.gp_Ax2(gp.gp_Pnt(x, y, low), gp.gp_Dir(0, 0, 1))
        return BRepPrimAPI.BRepPrimAPI_MakeCylinder(axis, radius, high - low).Shape()

    def box(width: float, height: float, low: float, high: float) -> Any:
        corner = gp.gp_Pnt(-width / 2, -height / 2, low)
        return BRepPrimAPI.BRepPrimAPI_MakeBox(corner, width, height, high - low).Shape()

    def prism(points: Sequence[tuple[float, float]], low: float, high: float) -> Any:
        ring = BRepBuilderAPI.BRepBuilderAPI_MakePolygon()
        for x, y in points:
            ring.Add(gp.gp_Pnt(x, y, low))
        ring.Close()
        face = BRepBuilderAPI.BRepBuilderAPI_MakeFace(ring.Wire()).Face()
        return BRepPrimAPI.BRepPrimAPI_MakePrism(face, gp.gp_Vec(0, 0, high - low)).Shape()

    def drawn_out(outline: Outline, low: float, high: float) -> list[Any]:
        wide, tall = outline.width_mm, outline.height_mm
        if outline.kind == "circle":
            return [cylinder(0, 0, low, wide / 2, high)]
        if outline.kind == "hexagon":
            reach = wide / math.sqrt(3)
            turns = (math.radians(30 + 60 * side) for side in range(6))
            return [prism([(reach * math.cos(turn), reach * math.sin(turn)) for turn in turns], low, high)]
        radius = outline.corner_mm if outline.kind == "rectangle" else tall / 2
        if radius == 0:
            return [box(wide, tall, low, high)]
        pieces = [box(wide - 2 * radius, tall, low, high)]
        if tall > 2 * radius + 1e-9:
            pieces.append(box(wide, tall - 2 * radius, low, high))
        a, b = wide / 2 - radius, tall / 2 - radius
        return pieces + [cylinder(x, y, low, radius, high) for x in (-a, a) for y in (-b, b)]

    def turned(solid: Turned) -> Any:
        ring = BRepBuilderAPI.BRepBuilderAPI_MakePolygon()
        for radius, z in solid.profile:
            ring.Add(gp.gp_Pnt(radius, 0, z))
        ring.Close()
        face = BRepBuilderAPI.BRepBuilderAPI_MakeFace(ring.Wire()).Face()
        axis = gp.gp_Ax1(gp.gp_Pnt(0, 0, 0), gp.gp_Dir(0, 0, 1))
        shape = BRepPrimAPI.BRepPrimAPI_MakeRevol(face, axis).Shape()
        lean = math.radians(solid.tilt_deg)
        about = gp.gp_Ax1(gp.gp_Pnt(0, 0, solid.pivot_z_mm), gp.gp_Dir(-1, 0, 0))  # from z towards +y
        move = gp.gp_Trsf()
        move.SetRotation(about, lean)
        return BRepBuilderAPI.BRepBuilderAPI_Transform(shape, move, True).Shape()

    def placed(solid: Solid) -> list[Any]:
        at = np.eye(4)
        at[:2, 3] = solid.at
        if isinstance(solid, Turned):
            assert solid.flutes == 0
            return [moved(turned(solid), at)]
        assert isinstance(solid, Extruded)
        assert solid.bevel_mm == 0
        turn = -math.radians(solid.rotation_deg)
        at[:2, :2] = [[math.cos(turn), -math.sin(turn)], [math.sin(turn), math.cos(turn)]]
        pieces = drawn_out(solid.outline, solid.bottom_mm, solid.top_mm)
        if solid.bore_mm:
            rod = cylinder(0, 0, solid.bottom_mm - 1, solid.bore_mm / 2, solid.top_mm + 1)
            pieces = [BRepAlgoAPI.BRepAlgoAPI_Cut(piece, rod).Shape() for piece in pieces]
        whole = pieces[0]
        for piece in pieces[1:]:
            whole = BRepAlgoAPI.BRepAlgoAPI_Fuse(whole, piece).Shape()
        return [moved(whole, at)]

    def shape(solids: Sequence[Solid], pose: Floats) -> Any:
        group, builder = TopoDS.TopoDS_Compound(), BRep.BRep_Builder()
        builder.MakeCompound(group)
        for solid in solids:
            for piece in placed(solid):
                builder.Add(group, moved(piece, pose))
        return group

    def distance(first: Any, second: Any) -> float:
        return float(BRepExtrema.BRepExtrema_DistShapeShape(first, second).Value())

    def shared(first: Any, second: Any) -> float:
        found = GProp.GProp_GProps()
        BRepGProp.BRepGProp.VolumeProperties_s(BRepAlgoAPI.BRepAlgoAPI_Common(first, second).Shape(), found)
        return float(found.Mass())

    return Kernel(shape=shape, distance=distance, shared=shared)


DRAFTED = api.loads('name = "Drafted"\n[box]\nsize = "145x121x39"\ndraft = 2\ncorner = 7\n')
SEARCH_MM = 12.0


def here(part: Placement) -> PlacedPart:
    return placed_part(DRAFTED.enclosure, part, {})


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
def test_gap_is_that_of_the_exact_solids(name: str, kernel: Kernel) -> None:
    first, second = PAIRS[name]
    assert is_exact(first.kind.name)
    assert is_exact(second.kind.name)
    ours = group_room(here(first).body, here(second).body, ways_of(DRAFTED.enclosure), SEARCH_MM)
    exact = kernel.distance(
        kernel.shape(first.kind.below, behind(first)), kernel.shape(second.kind.below, behind(second))
    )
    assert 0 < exact < SEARCH_MM, "the pair was meant to lie close and apart"
    assert -2e-4 <= ours - exact <= 1e-6


# One solid of each of two parts, pushed into each other; (kind, index of the solid, face, u, v, turn).
DEEP: dict[str, tuple[tuple[str, int, FaceName, float, float, float], ...]] = {
    "two cans": (("pot-16", 2, "top", 40, 40, 0), ("pot-24", 2, "top", 56, 44, 0)),
    "case into can": (("footswitch", 3, "top", 40, 40, 25), ("pot-24", 2, "top", 56, 44, 0)),
    "side case into can": (("jack-enclosed", 0, "left", 60, 15, 90), ("pot-16", 2, "top", 28, 60, 0)),
    "wafer into case": (("rotary-switch", 2, "top", 40, 40, 0), ("toggle", 3, "top", 58, 48, 12)),
}


@pytest.mark.parametrize("name", DEEP)
def test_shared_volume_is_that_of_the_exact_solids(name: str, kernel: Kernel) -> None:
    parts, shapes = [], []
    for letter, (kind, index, face, u, v, turn) in zip("AB", DEEP[name], strict=True):
        whole = placed(letter, kind, face, u, v, turn)
        only = (whole.kind.below[index],)
        parts.append(replace(whole, kind=replace(whole.kind, below=only)))
        shapes.append(kernel.shape(only, behind(whole)))
    ours = overlap_volume(*(body(DRAFTED.enclosure, each) for each in parts))
    exact = kernel.shared(*shapes)
    assert exact > 1.0
    surface = 6 * exact ** (2 / 3) * 3  # of a body three times as wrinkled as a cube of that volume
    assert ours == pytest.approx(exact, abs=CHORD_MM * surface)


def test_a_gap_between_a_can_and_a_drafted_wall() -> None:
    """A can that hangs from the top at 2 degrees of draft: the wall comes nearest at the can's upper end.

    By hand: inner wall at height z lies wall + inset(z) from the rim's outside; the can of radius r with
    its axis `a` from there leaves a - r - wall - inset(z), measured level, times cos(draft) across the wall.
    """
    box = DRAFTED.enclosure
    part = placed("A", "pot-24", "left", 60, 16)
    can = part.kind.below[2]
    hung = replace(part, kind=replace(part.kind, below=(can,)), face="top", u_mm=15.9, v_mm=70.0)
    (meets,) = (each for each in alone(here(hung)) if isinstance(each, Inside) and each.rule == BODIES)
    beside = [index for index, name in enumerate(meets.metal.names) if name == "the left wall"]
    measured = float(metal_rooms(meets)[:, beside].min())
    radius = max(r for r, _ in can.profile)  # type: ignore[union-attr]
    top = max(z for r, z in can.profile if r == radius)  # type: ignore[union-attr]
    z = box.height_mm - box.top_mm + top
    slope = math.radians(box.draft_deg)
    axis = box.inset_mm(box.height_mm) + hung.u_mm  # from the rim's outside
    level = axis - radius - box.wall_mm - (z - box.lid_mm) * math.tan(slope)
    assert 0.5 < level < SEARCH_MM
    assert measured == pytest.approx(level * math.cos(slope), abs=1e-6)
