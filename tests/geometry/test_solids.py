"""Cuts that keep regions and normals: against closed forms and against trimesh's boolean."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
import trimesh
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from solid_gaps import gap, overlap_volume

from mockup.geometry import planar, solids
from mockup.model.mesh import Mesh, joined
from mockup.model.shape import Outline

Maker = Callable[..., Mesh]
Check = Callable[[Mesh], None]
Measure = Callable[[Mesh], float]

BLOCK = Outline(kind="rectangle", width_mm=40, height_mm=30, corner_mm=3)


def circle(diameter: float) -> Outline:
    return Outline(kind="circle", width_mm=diameter)


def polygon_area(outline: Outline, chord: float = 0.02) -> float:
    p = planar.polygon(outline, chord)
    q = np.roll(p, -1, axis=0)
    return float((p[:, 0] * q[:, 1] - q[:, 0] * p[:, 1]).sum() / 2)


@pytest.fixture(scope="session")
def block(prism: Maker) -> solids.Solid:
    mesh = prism(BLOCK, 0.0, 10.0)
    return solids.solid({"block": replace(mesh, uv=2 * mesh.vertices[:, :2] + 1)})


def test_a_prism_less_cylinders(block: solids.Solid, prism: Maker, assert_closed: Check) -> None:
    drilled = solids.cut(block, [solids.solid({f"hole {x}": prism(circle(6), -1, 11, (x, 0.0))}) for x in (-10, 0, 10)])
    exact = planar.area(BLOCK) * 10 - 3 * math.pi * 9 * 10
    assert drilled.volume == pytest.approx(exact, rel=2 * 0.02 / 3)
    assert drilled.volume == pytest.approx((polygon_area(BLOCK) - 3 * polygon_area(circle(6))) * 10, rel=1e-12)
    wall = drilled.regions()["hole 0"]
    # an inscribed polygon is short by a third of its sagitta over the radius
    assert wall.area() == pytest.approx(math.pi * 6 * 10, rel=1.02 * 0.02 / 3 / 3)
    assert drilled.genus == 3 and drilled.pieces == 1
    assert_closed(drilled.welded())
    assert drilled.welded().volume() == pytest.approx(drilled.volume, rel=1e-12)
    assert drilled.area == pytest.approx(sum(mesh.area() for mesh in drilled.regions().values()), rel=1e-12)


def test_walls_of_a_cut_point_out_of_the_metal_and_a_cut_in_a_cutter_points_back(
    block: solids.Solid, prism: Maker, least_cosine: Measure
) -> None:
    sleeve = solids.cut(
        solids.solid({"outer": prism(circle(20), -1, 11)}), [solids.solid({"post": prism(circle(8), -2, 12)})]
    )
    left = solids.cut(block, [sleeve]).regions()
    assert all(least_cosine(mesh) > 0.99 for mesh in left.values())
    for name, sign in (("outer", -1.0), ("post", 1.0)):
        mesh = left[name]
        radial = mesh.vertices[:, :2] / np.linalg.norm(mesh.vertices[:, :2], axis=1, keepdims=True)
        assert np.allclose(mesh.normals[:, :2], sign * radial, atol=1e-9)  # exact, not smoothed afterwards


def test_face_coordinates_ride_through_a_cut(block: solids.Solid, prism: Maker) -> None:
    drilled = solids.cut(block, [solids.solid({"hole": prism(circle(7), -1, 11, (4.0, 3.0))})]).regions()
    uv = drilled["block"].uv
    assert uv is not None and np.allclose(uv, 2 * drilled["block"].vertices[:, :2] + 1, atol=1e-9)
    assert drilled["hole"].uv is None


def test_neighbours_name_the_regions_that_share_an_edge(block: solids.Solid, prism: Maker) -> None:
    through = solids.solid({"through": prism(circle(6), -1, 11, (-10.0, 0.0))})
    first = solids.solid({"first": prism(circle(6), -1, 11, (8.0, 0.0))})
    second = solids.solid({"second": prism(circle(6), -1, 11, (12.0, 0.0))})
    beside = solids.cut(block, [through, first, second]).neighbours()
    assert beside == {
        "block": frozenset({"through", "first", "second"}),
        "through": frozenset({"block"}),
        "first": frozenset({"block", "second"}),
        "second": frozenset({"block", "first"}),
    }


def test_overlap_gap_union_and_centroid(prism: Maker) -> None:
    cube = Outline(kind="rectangle", width_mm=10, height_mm=10)
    a = solids.solid({"a": prism(cube, 0, 10)})
    b = solids.solid({"b": prism(cube, 0, 10, (8.0, 0.0))})
    c = solids.solid({"c": prism(cube, 2, 12, (12.5, 0.0))})
    assert overlap_volume(a, b) == pytest.approx(2 * 10 * 10)
    assert overlap_volume(a, c) == 0.0
    assert gap(a, c, 5.0) == pytest.approx(2.5)
    assert gap(a, c, 1.0) == 1.0
    assert gap(a, b, 5.0) == 0.0
    both = solids.united([a, b])
    assert both.volume == pytest.approx(1800) and both.pieces == 1
    assert np.allclose(
        trimesh.Trimesh(both.welded().vertices, both.welded().faces, process=False).center_mass, [4.0, 0.0, 5.0]
    )
    assert np.allclose(both.bounds(), [[-5, -5, 0], [13, 5, 10]])
    assert solids.united([a, c]).pieces == 2
    assert solids.cut(a, [solids.solid({"all": prism(cube, -1, 11)})]).is_empty
    assert solids.solid({}).is_empty
    assert solids.solid({}).regions() == {}


def test_an_open_or_inside_out_surface_is_refused(prism: Maker) -> None:
    mesh = prism(circle(10), 0, 5)
    with pytest.raises(ValueError, match="tube do not close"):
        solids.solid({"tube": replace(mesh, faces=mesh.faces[:-1])})


def test_a_prism_keeps_its_hole_and_faces_outward() -> None:
    """A square ring, 4 x 4 less 2 x 2, from 1 to 3: 24 cubic millimetres, surface 2 x 12 + 2 x (16 + 8)."""
    square = np.array([[-2, -2], [2, -2], [2, 2], [-2, 2]], float)
    ring = solids.prism("ring", (square, square[::-1] / 2), 1.0, 3.0)
    assert (ring.volume, ring.area, ring.genus) == (pytest.approx(24.0), pytest.approx(72.0), 1)
    assert np.allclose(ring.bounds(), [[-2, -2, 1], [2, 2, 3]])
    assert list(ring.regions()) == ["ring"]
    block = solids.prism("block", (square,), 0.0, 2.0)
    assert solids.cut(block, [ring]).volume == pytest.approx(32.0 - 12.0)
    assert set(solids.cut(block, [ring]).regions()) == {"block", "ring"}


def millimetres(low: float, high: float) -> st.SearchStrategy[float]:
    """Return lengths to the nanometre: closer ones are one place in some steps and two in others."""
    return st.floats(low, high).map(lambda value: round(value, 6))


@settings(max_examples=40)
@given(
    holes=st.lists(
        st.tuples(millimetres(-25, 25), millimetres(-20, 20), millimetres(0.5, 20), millimetres(-5, 9)),
        min_size=1,
        max_size=8,
    )
)
def test_any_cut_stays_closed_and_agrees_with_trimesh(
    holes: list[tuple[float, float, float, float]], block: solids.Solid, prism: Maker, assert_closed: Check
) -> None:
    low, high = block.bounds()
    for i, (x, y, d, _) in enumerate(holes):  # surfaces that just touch share an edge of no thickness
        walls = (x - low[0], high[0] - x, y - low[1], high[1] - y)
        assume(all(abs(wall - d / 2) > 1e-3 and abs(wall + d / 2) > 1e-3 for wall in walls))
        for u, v, e, _ in holes[:i]:
            apart = math.hypot(x - u, y - v)
            assume(abs(apart - (d + e) / 2) > 1e-3 and (abs(apart - abs(d - e) / 2) > 1e-3))
    cutters = [prism(circle(d), bottom, 11, (x, y), 0.05) for x, y, d, bottom in holes]
    drilled = solids.cut(block, [solids.solid({f"hole {i}": mesh}) for i, mesh in enumerate(cutters)])
    if not drilled.is_empty:
        assert_closed(drilled.welded())

    def plain(mesh: Mesh) -> object:
        made = trimesh.Trimesh(mesh.vertices, mesh.faces, process=False)
        made.merge_vertices(merge_norm=True, merge_tex=True, digits_vertex=9)
        return made

    body = plain(joined(block.regions().values()))
    reference = trimesh.boolean.difference([body, *map(plain, cutters)], engine="manifold")
    assert drilled.volume == pytest.approx(float(reference.volume), rel=1e-5, abs=1e-3)
