"""Exact OpenCASCADE solids of hardware, to measure clearances and shared volumes against."""

from __future__ import annotations

import math
import os
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import pytest

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
