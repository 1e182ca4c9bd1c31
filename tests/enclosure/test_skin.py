"""The lofted skin against closed forms: sections, volume, surface, normals, chord error, face coordinates."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st

from mockup.enclosure.skin import WALLS, Skin, inner_skin, lofted, outer_skin
from mockup.geometry.solids import solid
from mockup.model.enclosure import FACES, Enclosure, faces
from mockup.model.mesh import Floats, Mesh, joined

BOX = Enclosure(width_mm=60, length_mm=112, height_mm=31)
WIDE = Enclosure(width_mm=120, length_mm=90, height_mm=40, draft_deg=3, edge_mm=4, corner_mm=9)
PLAIN = Enclosure(width_mm=70, length_mm=50, height_mm=25, draft_deg=0, edge_mm=0, corner_mm=3)


def by_hand(box: Enclosure) -> tuple[float, float, float]:
    """Volume, surface and height of the centre of volume of a box's outside, by 1-D quadrature.

    Section A(r) = 4ab + 4(a + b)r + pi r^2 with perimeter 4(a + b) + 2 pi r; the line of the wall, then
    a tangent arc. Surface: perimeter times arc length along the profile.
    """
    draft, radius = math.radians(box.draft_deg), box.edge_mm
    a, b = box.width_mm / 2 - box.corner_mm, box.length_mm / 2 - box.corner_mm
    t, weight = np.polynomial.legendre.leggauss(24)

    def section(r: Floats) -> Floats:
        return 4 * a * b + 4 * (a + b) * r + math.pi * r**2

    def around(r: Floats) -> Floats:
        return 4 * (a + b) + 2 * math.pi * r

    end = box.body_mm - radius * (1 - math.sin(draft))  # where the wall's line ends, above the rim
    z = (t + 1) / 2 * end
    r = box.corner_mm - z * math.tan(draft)
    volume = end / 2 * (weight * section(r)).sum()
    moment = end / 2 * (weight * section(r) * z).sum()
    surface = end / 2 / math.cos(draft) * (weight * around(r)).sum()
    span = math.pi / 2 - draft
    rise = draft + (t + 1) / 2 * span
    top = box.corner_mm - box.body_mm * math.tan(draft) - radius * math.tan(span / 2)
    r = top + radius * np.cos(rise)
    z = box.body_mm - radius + radius * np.sin(rise)
    dz = radius * np.cos(rise)
    volume += span / 2 * (weight * section(r) * dz).sum()
    moment += span / 2 * (weight * section(r) * dz * z).sum()
    surface += span / 2 * radius * (weight * around(r)).sum()
    caps = section(np.array([box.corner_mm, top])).sum()
    return float(volume), float(surface + caps), float(box.lid_mm + moment / volume)


@pytest.mark.parametrize("chord", [0.02, 0.005, 0.001])
@pytest.mark.parametrize("box", [BOX, WIDE, PLAIN], ids=["usual", "wide", "plain"])
def test_volume_surface_and_centroid(box: Enclosure, chord: float, assert_closed: Callable[[Mesh], None]) -> None:
    made = solid(lofted(outer_skin(box), chord))
    volume, surface, height = by_hand(box)
    assert_closed(made.welded())
    # chords take at most their sagitta off a surface, all of which is less than a third round
    assert volume - chord * surface / 3 <= made.volume <= volume
    assert made.area == pytest.approx(surface, rel=0.02 * chord)
    assert np.allclose(
        trimesh.Trimesh(made.welded().vertices, made.welded().faces, process=False).center_mass,
        [0.0, 0.0, height],
        atol=0.25 * chord,
    )


def off_the_surface(skin: Skin, points: Floats) -> Floats:
    """Return the distance of points from the true skin (not its caps), through its profile in (radius, z)."""
    a, b = skin.core
    beyond = np.maximum(np.abs(points[:, :2]) - (a, b), 0.0)
    radius, z = np.linalg.norm(beyond, axis=1), points[:, 2] - skin.low_mm
    draft = math.radians(skin.draft_deg)
    height = skin.high_mm - skin.low_mm
    centre = skin.corner_mm - height * math.tan(draft) - skin.edge_mm * math.tan((math.pi / 2 - draft) / 2)
    to_wall = (radius - skin.corner_mm) * math.cos(draft) + z * math.sin(draft)
    to_edge = np.hypot(radius - centre, z - height + skin.edge_mm) - skin.edge_mm
    angle = np.arctan2(z - height + skin.edge_mm, radius - centre)
    return np.abs(np.where((skin.edge_mm > 0) & (angle > draft), to_edge, to_wall))


@pytest.mark.parametrize("chord", [0.05, 0.02, 0.002])
@pytest.mark.parametrize("skin", [outer_skin(BOX), inner_skin(BOX), outer_skin(WIDE), inner_skin(WIDE)])
def test_points_and_normals_are_exact_and_triangles_within_the_chord_error(skin: Skin, chord: float) -> None:
    regions = lofted(skin, chord)
    mesh = joined(each for name, each in regions.items() if name not in ("top|flat", "rim|flat"))
    assert off_the_surface(skin, mesh.vertices).max() < 1e-9
    step = 1e-6  # a step along a true normal changes the distance by the step itself
    assert np.allclose(off_the_surface(skin, mesh.vertices + step * mesh.normals), step, atol=1e-9)
    a, b, c = (mesh.vertices[mesh.faces[:, i]] for i in range(3))
    for weights in ((1 / 3, 1 / 3, 1 / 3), (0.5, 0.5, 0), (0, 0.5, 0.5), (0.5, 0, 0.5)):
        inside = weights[0] * a + weights[1] * b + weights[2] * c
        assert off_the_surface(skin, inside).max() <= 2 * chord  # one chord error per direction of bending
    assert (regions["top|flat"].normals == (0, 0, 1)).all()
    assert (regions["rim|flat"].normals == (0, 0, -1)).all()


def test_smooth_across_walls_corners_and_roundings() -> None:
    """A point of the painted outside has one normal, whichever region it is read from."""
    regions = lofted(outer_skin(BOX), 0.02)
    mesh = joined(each for name, each in regions.items() if name != "rim|flat")
    _, index = np.unique(mesh.vertices + 0.0, axis=0, return_inverse=True)
    index = index.reshape(-1)
    first = np.full(index.max() + 1, -1)
    first[index[::-1]] = np.arange(len(index))[::-1]
    assert np.allclose(mesh.normals, mesh.normals[first[index]], atol=1e-12)


def test_the_skin_meets_the_faces_of_the_contract() -> None:
    """Flats lie in their face's plane, within its flat bounds, with plain ruler coordinates."""
    for box in (BOX, WIDE):
        regions = lofted(outer_skin(box), 0.02, faces(box))
        for name in FACES:
            mesh, face = regions[f"{name}|flat"], faces(box)[name]
            seen = face.from_world(mesh.vertices)
            assert np.abs(seen[:, 2]).max() < 1e-9
            assert mesh.uv is not None and np.allclose(mesh.uv, seen[:, :2], atol=1e-9)
            left, top, right, bottom = face.flat
            assert np.allclose([seen[:, :2].min(axis=0), seen[:, :2].max(axis=0)], [[left, top], [right, bottom]])
            assert np.allclose(mesh.normals, face.out, atol=1e-12)


def test_a_point_so_far_from_the_edge_of_the_top_maps_there() -> None:
    """d mm in from the sharp left and far edges is (d, d): worked from the drawing, not from the code.

    Box 60 x 112, body 29.2 high, draft 1 degree: sharp edges of the top at x = -(30 - 29.2 tan 1).
    """
    edge = 30 - 29.2 * math.tan(math.radians(1.0))
    far = 56 - 29.2 * math.tan(math.radians(1.0))
    mesh = lofted(outer_skin(BOX), 0.02, faces(BOX))["top|flat"]
    assert mesh.uv is not None
    assert np.allclose(mesh.uv[:, 0], mesh.vertices[:, 0] + edge, atol=1e-9)
    assert np.allclose(mesh.uv[:, 1], far - mesh.vertices[:, 1], atol=1e-9)


@pytest.mark.parametrize("box", [BOX, WIDE], ids=["usual", "wide"])
def test_coordinates_run_on_round_the_edge_by_arc_length(box: Enclosure) -> None:
    regions = lofted(outer_skin(box), 0.001, faces(box))
    flat, edge = regions["top|flat"], regions["top|edge"]
    assert flat.uv is not None and edge.uv is not None
    # where the rounding meets the flat, both give the same coordinates
    on_top = np.isclose(edge.vertices[:, 2], box.height_mm, atol=1e-12)
    for point, uv in zip(edge.vertices[on_top], edge.uv[on_top], strict=True):
        match = np.isclose(flat.vertices, point, atol=1e-12).all(axis=1)
        assert match.any() and np.allclose(flat.uv[match], uv, atol=1e-12)
    # down the middle of the right wall: u grows by R (90 - draft) in radians from flat to wall
    in_line = edge.vertices[:, 1] > 0
    in_line &= np.isclose(edge.vertices[:, 1], box.length_mm / 2 - box.corner_mm) & (edge.vertices[:, 0] > 0)
    in_line &= np.isclose(edge.normals[:, 1], 0.0, atol=1e-12)
    u = np.sort(np.unique(edge.uv[in_line, 0].round(9)))
    arc = box.edge_mm * math.radians(90 - box.draft_deg)
    assert u[-1] - u[0] == pytest.approx(arc, abs=1e-6)
    # length along the surface and length in the map agree, step by step, within the chord error
    order = np.argsort(edge.uv[in_line, 0])
    steps = np.linalg.norm(np.diff(edge.vertices[in_line][order], axis=0), axis=1)
    assert np.allclose(np.diff(edge.uv[in_line, 0][order]), steps, atol=1e-3)


def test_coordinates_run_on_round_the_corners_of_the_walls() -> None:
    regions = lofted(outer_skin(BOX), 0.02, faces(BOX))
    for name in WALLS:
        face, flat, corner = faces(BOX)[name], regions[f"{name}|flat"], regions[f"{name}|corner"]
        assert flat.uv is not None and corner.uv is not None
        # at the rim a wall with both half corners is as long as its straight part and a quarter circle
        at_rim = np.isclose(corner.vertices[:, 2], BOX.lid_mm)
        straight = {"near": 60, "far": 60, "left": 112, "right": 112}[name] - 2 * 5.0
        span = corner.uv[at_rim, 0].max() - corner.uv[at_rim, 0].min()
        assert span == pytest.approx(straight + math.pi / 2 * 5.0, abs=1e-9)
        assert np.allclose(corner.uv[at_rim, 1], face.height_mm, atol=1e-9)
        assert (corner.vertices[:, :2] @ face.out[:2] > 0).all()


def test_inner_skin_keeps_the_walls_thickness() -> None:
    inner = inner_skin(BOX)
    outer = outer_skin(BOX)
    assert inner.width_mm == 56.0 and inner.length_mm == 108.0 and inner.high_mm == 29.0
    for z in (1.8, 10.0, 25.0):
        gap = (outer.width_mm / 2 - outer.inset_mm(z)) - (inner.width_mm / 2 - inner.inset_mm(z))
        assert gap == pytest.approx(2.0)
    carried_on = inner_skin(BOX, below_mm=1.0)
    assert carried_on.inset_mm(1.8) - (carried_on.width_mm - inner.width_mm) / 2 == pytest.approx(0.0)
    assert carried_on.top_corner_mm == pytest.approx(inner.top_corner_mm)


@settings(max_examples=40)
@given(data=st.data())
def test_any_skin_closes(
    data: st.DataObject, boxes: st.SearchStrategy[Enclosure], assert_closed: Callable[[Mesh], None]
) -> None:
    box = data.draw(boxes)
    for skin in (outer_skin(box), inner_skin(box)):
        made = solid(lofted(skin, 0.05))
        assert_closed(made.welded())
        assert made.genus == 0 and made.pieces == 1
    volume, surface, _ = by_hand(box)
    made = solid(lofted(outer_skin(box), 0.02))
    assert made.volume == pytest.approx(volume, rel=2e-3)
    assert made.area == pytest.approx(surface, rel=2e-3)
