"""Random boxes and bores, and an exact OpenCASCADE box to measure against."""

from __future__ import annotations

import math
import os
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import pytest
from hypothesis import strategies as st

from mockup.enclosure.shell import shell_problem
from mockup.model.bore import Bore
from mockup.model.enclosure import FACES, Enclosure, faces
from mockup.model.mesh import Floats, Mesh
from mockup.model.shape import Outline


@pytest.fixture(scope="session")
def assert_closed() -> Callable[[Mesh], None]:
    """Every directed edge of a welded mesh has exactly one partner that runs the other way."""

    def check(mesh: Mesh) -> None:
        edges = mesh.faces[:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2)
        forward, counts = np.unique(edges, axis=0, return_counts=True)
        assert (counts == 1).all()
        assert np.array_equal(forward, np.unique(edges[:, ::-1], axis=0))

    return check


@pytest.fixture(scope="session")
def least_cosine() -> Callable[[Mesh], float]:
    """Smallest cosine between a triangle's own normal and the normals at its corners."""

    def measure(mesh: Mesh) -> float:
        a, b, c = (mesh.vertices[mesh.faces[:, i]] for i in range(3))
        normal = np.cross(b - a, c - a)
        length = np.linalg.norm(normal, axis=1)
        is_real = length > 1e-8
        normal = normal[is_real] / length[is_real, None]
        return min(float((normal * mesh.normals[mesh.faces[is_real, i]]).sum(axis=1).min()) for i in range(3))

    return measure


@st.composite
def _boxes(draw: st.DrawFn) -> Enclosure:
    return Enclosure(
        width_mm=draw(st.floats(35, 200)),
        length_mm=draw(st.floats(35, 200)),
        height_mm=draw(st.floats(15, 60)),
        wall_mm=draw(st.floats(1, 4)),
        top_mm=draw(st.floats(1, 4)),
        draft_deg=draw(st.floats(0, 3)),
        corner_mm=draw(st.floats(3, 9)),
        edge_mm=draw(st.floats(0, 3)),
        lid_mm=draw(st.floats(0.8, 3)),
        lip_mm=draw(st.sampled_from((0.0, 1.5, 3.0))),
        feet_mm=draw(st.sampled_from((0.0, 3.0))),
        post_mm=draw(st.floats(5, 9)),
    )


@st.composite
def _bores(draw: st.DrawFn, box: Enclosure) -> list[Bore]:
    """Bores of which about half are good: anywhere on a face and a little beyond its edges."""
    outlines = st.one_of(
        st.floats(1, 14).map(lambda d: Outline(kind="circle", width_mm=d)),
        st.tuples(st.floats(2, 14), st.floats(0.1, 1)).map(
            lambda s: Outline(kind="slot", width_mm=s[0], height_mm=s[0] * s[1])
        ),
        st.floats(3, 12).map(lambda d: Outline(kind="d", width_mm=d, height_mm=0.8 * d)),
        st.floats(2, 12).map(lambda w: Outline(kind="rectangle", width_mm=w, height_mm=w / 2)),
    )
    bores = []
    for index in range(draw(st.integers(1, 4))):
        face = faces(box)[draw(st.sampled_from(FACES))]
        bore = Bore(
            part=f"part {index}",
            purpose="bushing",
            face=face.name,
            u_mm=face.width_mm * (0.5 + draw(st.floats(-0.55, 0.55))),
            v_mm=face.height_mm * (0.5 + draw(st.floats(-0.55, 0.55))),
            outline=draw(outlines),
            rotation_deg=draw(st.floats(-180, 180)),
        )
        bores.append(bore)
    return bores


@pytest.fixture(scope="session")
def boxes() -> st.SearchStrategy[Enclosure]:
    """Boxes that can be made."""
    return _boxes().filter(lambda box: shell_problem(box) is None)


@pytest.fixture(scope="session")
def bores_of() -> Callable[[Enclosure], st.SearchStrategy[list[Bore]]]:
    """Bores good and bad, on any face of a box."""
    return _bores


@dataclass(frozen=True, kw_only=True)
class Exact:
    """An OpenCASCADE solid's own figures."""

    volume: float
    area: float
    centroid: Floats


@pytest.fixture(scope="session")
def exact_body() -> Callable[[Enclosure, Sequence[Bore]], Exact]:
    """Return a maker of exact drilled bodies; only round bores."""
    try:
        from OCP import (
            BRepAlgoAPI,
            BRepBuilderAPI,
            BRepFilletAPI,
            BRepGProp,
            BRepPrimAPI,
            GProp,
            LocOpe,
            TopAbs,
            TopExp,
            TopoDS,
            gp,
        )
    except ImportError as error:
        reason = f"exact reference solids need OpenCASCADE, and with it libGL and libX11: {error}"
        if os.environ.get("MOCKUP_REQUIRE_GL") == "1":
            pytest.fail(reason)
        pytest.skip(reason)

    def loft(width: float, length: float, corner: float, low: float, high: float, draft: float, edge: float) -> Any:
        """A rounded rectangle drawn up with a draft, its top edge rounded: all surfaces exact."""
        a, b = width / 2 - corner, length / 2 - corner
        wire = BRepBuilderAPI.BRepBuilderAPI_MakeWire()
        points = [(a, -b - corner), (a + corner, -b), (a + corner, b), (a, b + corner)]
        points += [(-x, -y) for x, y in points]
        centres = [(a, -b), (a, b), (-a, b), (-a, -b)]
        for index, (cx, cy) in enumerate(centres):
            start, end, after = points[2 * index], points[2 * index + 1], points[(2 * index + 2) % 8]
            axis = gp.gp_Ax2(gp.gp_Pnt(cx, cy, low), gp.gp_Dir(0, 0, 1))
            ring = gp.gp_Circ(axis, corner)
            p, q, r = (gp.gp_Pnt(*each, low) for each in (start, end, after))
            wire.Add(BRepBuilderAPI.BRepBuilderAPI_MakeEdge(ring, p, q).Edge())
            wire.Add(BRepBuilderAPI.BRepBuilderAPI_MakeEdge(q, r).Edge())
        face = BRepBuilderAPI.BRepBuilderAPI_MakeFace(wire.Wire()).Face()
        if draft:
            lean = math.radians(draft)  # its height counts along the slant
            shape = LocOpe.LocOpe_DPrism(face, (high - low) / math.cos(lean), lean).Shape()
        else:
            shape = BRepPrimAPI.BRepPrimAPI_MakePrism(face, gp.gp_Vec(0, 0, high - low)).Shape()
        if not edge:
            return shape
        fillet = BRepFilletAPI.BRepFilletAPI_MakeFillet(shape)
        explorer = TopExp.TopExp_Explorer(shape, TopAbs.TopAbs_ShapeEnum.TopAbs_EDGE)
        while explorer.More():
            line = TopoDS.TopoDS.Edge(explorer.Current())
            measured = GProp.GProp_GProps()
            BRepGProp.BRepGProp.LinearProperties_s(line, measured)
            if abs(measured.CentreOfMass().Z() - high) < 1e-6:
                fillet.Add(edge, line)
            explorer.Next()
        return fillet.Shape()

    def rod(centre: Floats, way: Floats, radius: float, length: float) -> Any:
        axis = gp.gp_Ax2(gp.gp_Pnt(*centre.tolist()), gp.gp_Dir(*way.tolist()))
        return BRepPrimAPI.BRepPrimAPI_MakeCylinder(axis, radius, length).Shape()

    def cone(x: float, y: float, box: Enclosure) -> Any:
        """A post, from 5 under the rim, that is as wide there as its diameter says and widens upward by the draft."""
        slope, high = math.tan(math.radians(box.draft_deg)), box.height_mm + 10
        if slope == 0:
            return rod(np.array([x, y, box.lid_mm - 5]), np.array([0.0, 0.0, 1.0]), box.post_mm / 2, high)
        axis = gp.gp_Ax2(gp.gp_Pnt(x, y, box.lid_mm - 5), gp.gp_Dir(0, 0, 1))
        ends = [box.post_mm / 2 + up * slope for up in (-5.0, high - 5.0)]
        return BRepPrimAPI.BRepPrimAPI_MakeCone(axis, *ends, high).Shape()

    def make(box: Enclosure, bores: Sequence[Bore], inner: Any, posts: Any, core: tuple[float, float]) -> Exact:
        """`inner` is the hollow's own figures, `posts` the screw axes, `core` (diameter, depth) their drilling."""
        up = np.array([0.0, 0.0, 1.0])
        shape = loft(box.width_mm, box.length_mm, box.corner_mm, box.lid_mm, box.height_mm, box.draft_deg, box.edge_mm)
        hollow = loft(*inner)
        for x, y in posts:
            post = cone(x, y, box)
            hollow = BRepAlgoAPI.BRepAlgoAPI_Cut(hollow, post).Shape()
        tools = [hollow]
        tools += [rod(np.array([x, y, box.lid_mm - 5]), up, core[0] / 2, core[1] + 5) for x, y in posts]
        for bore in bores:
            face = faces(box)[bore.face]
            thickness = box.top_mm if bore.face == "top" else box.wall_mm
            start = face.to_world(np.array([bore.u_mm, bore.v_mm]), 1.0)
            tools.append(rod(start, -face.out, bore.outline.width_mm / 2, thickness + 2.0))
        for tool in tools:
            shape = BRepAlgoAPI.BRepAlgoAPI_Cut(shape, tool).Shape()
        solid, surface = GProp.GProp_GProps(), GProp.GProp_GProps()
        BRepGProp.BRepGProp.VolumeProperties_s(shape, solid, 1e-9)
        BRepGProp.BRepGProp.SurfaceProperties_s(shape, surface, 1e-9)
        middle = solid.CentreOfMass()
        return Exact(volume=solid.Mass(), area=surface.Mass(), centroid=np.array([middle.X(), middle.Y(), middle.Z()]))

    return make
