"""Turned and extruded solids against Pappus' theorems, spheres, tori and prisms worked by hand."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from perimeters import perimeter

from mockup.geometry import planar
from mockup.geometry.tessellate import tessellate
from mockup.model.material import CHROME
from mockup.model.mesh import Mesh
from mockup.model.shape import Extruded, Outline, Point, Turned

Check = Callable[[Mesh], None]
Measure = Callable[[Mesh], float]


def turned(*profile: Point, **more: float) -> Turned:
    return Turned(profile=tuple(profile), material=CHROME, **more)  # type: ignore[arg-type]


def disc(diameter: float, low: float, high: float, bevel: float = 0.0) -> Extruded:
    outline = Outline(kind="circle", width_mm=diameter)
    return Extruded(outline=outline, bottom_mm=low, top_mm=high, bevel_mm=bevel, material=CHROME)


def arc(centre: Point, radius: float, start_deg: float, end_deg: float, steps: int) -> list[Point]:
    angles = np.radians(np.linspace(start_deg, end_deg, steps + 1))
    points = np.stack([centre[0] + radius * np.cos(angles), centre[1] + radius * np.sin(angles)], axis=1)
    points[np.abs(points) < 1e-12] = 0.0
    return [(float(r), float(z)) for r, z in points]


BARREL = turned((0, 0), (10, 0), (10, 12), (9.5, 12.8), (8.7, 13), (0, 13))
FLUTED = turned((0, 0), (10, 0), (10, 12), (0, 12), flutes=24, flute_depth_mm=0.8, flute_from_mm=7.0)
WASHER = turned((5.2, 0), (8.0, 0), (8.0, 1.2), (5.2, 1.2))
SOCKET = turned((0, -8), (5, -8), (5, 2), (3, 2), (3, -7), (0, -7))
BALL = turned(*arc((0, 0), 4.0, -90, 90, 48))
LEVER = turned((0, 0), (1.5, 0), (1.5, 10), (0, 10), tilt_deg=12.0, pivot_z_mm=-2.0, at=(3.0, 4.0))
CONE = turned((0, 0), (6, 0), (0, 8))
NUT = Extruded(outline=Outline(kind="hexagon", width_mm=14), bottom_mm=0.5, top_mm=2.5, bevel_mm=0.4, material=CHROME)
CASE = Extruded(
    outline=Outline(kind="rectangle", width_mm=20, height_mm=12, corner_mm=0.3),
    bottom_mm=-15,
    top_mm=-1,
    bevel_mm=1.0,
    rotation_deg=30,
    at=(5, -3),
    material=CHROME,
)
FLAT_SHAFT = Extruded(
    outline=Outline(kind="d", width_mm=6, height_mm=4.5), bottom_mm=0, top_mm=9, bevel_mm=0.5, material=CHROME
)
SLOT = Extruded(
    outline=Outline(kind="slot", width_mm=9, height_mm=4), bottom_mm=0, top_mm=2, bevel_mm=0.5, material=CHROME
)
SOLIDS = {
    "barrel": BARREL, "fluted": FLUTED, "washer": WASHER, "socket": SOCKET, "ball": BALL, "lever": LEVER,
    "cone": CONE, "nut": NUT, "case": CASE, "flat shaft": FLAT_SHAFT, "slot": SLOT,
}  # fmt: skip


@pytest.mark.parametrize("name", SOLIDS)
def test_every_solid_closes_and_faces_outward(name: str, assert_closed: Check, least_cosine: Measure) -> None:
    mesh = tessellate(SOLIDS[name])
    assert_closed(mesh)
    assert mesh.volume() > 0
    assert np.allclose(np.linalg.norm(mesh.normals, axis=1), 1.0, atol=1e-12)
    # a smooth corner of up to 30 degrees puts a normal at most 30 degrees off its triangle
    assert least_cosine(mesh) > math.cos(math.radians(30.01))


@pytest.mark.parametrize("chord", [0.05, 0.01, 0.001])
def test_pappus(chord: float) -> None:
    """Volume = 2 pi r A and area = 2 pi r L of each segment (Pappus of Alexandria), less what chords cut off."""
    for solid in (BARREL, WASHER, SOCKET, CONE):
        points = np.array(solid.profile)
        following = np.roll(points, -1, axis=0)
        cross = points[:, 0] * following[:, 1] - following[:, 0] * points[:, 1]
        volume = 2 * math.pi * ((points[:, 0] + following[:, 0]) * cross).sum() / 6
        area = (math.pi * (points[:, 0] + following[:, 0]) * np.linalg.norm(following - points, axis=1)).sum()
        mesh = tessellate(solid, chord)
        # an n-gon in a circle of radius R has 1 - (2/3)(pi/n)^2 of its area, and its sagitta is R (pi/n)^2 / 2
        loss = 4 / 3 * chord / points[:, 0].max()
        assert volume * (1 - 1.02 * loss) <= mesh.volume() <= volume
        assert area * (1 - 1.02 * loss) <= mesh.area() <= area


def test_a_ball_has_the_normals_of_a_ball() -> None:
    mesh = tessellate(BALL)
    assert np.allclose(mesh.normals, mesh.vertices / 4.0, atol=1e-9)
    assert mesh.volume() == pytest.approx(4 / 3 * math.pi * 64, rel=3e-3)


def test_a_ring_has_the_normals_of_a_torus(assert_closed: Check) -> None:
    mesh = tessellate(turned(*arc((10, 0), 2.0, -180, 180, 40)[:-1]))
    assert_closed(mesh)
    radius = np.hypot(mesh.vertices[:, 0], mesh.vertices[:, 1])
    spine = mesh.vertices * np.array([1, 1, 0]) * (10 / radius)[:, None]
    assert np.allclose(mesh.normals, (mesh.vertices - spine) / 2.0, atol=1e-9)
    assert mesh.volume() == pytest.approx(2 * math.pi * 10 * math.pi * 4, rel=6e-3)


def test_flats_stay_flat_and_walls_stay_upright_beside_a_rounding() -> None:
    """A cap next to a tangent arc keeps its own normal to the last point, and so does the wall below it."""
    mesh = tessellate(turned((0, 0), (10, 0), *arc((8.5, 8.5), 1.5, 0, 90, 8), (0, 10)))
    is_cap = np.isclose(mesh.vertices[:, 2], 10.0)
    assert is_cap.any() and np.array_equal(mesh.normals[is_cap], np.tile([0.0, 0.0, 1.0], (is_cap.sum(), 1)))
    is_wall = np.isclose(np.hypot(mesh.vertices[:, 0], mesh.vertices[:, 1]), 10.0) & (mesh.vertices[:, 2] > 1)
    assert is_wall.any() and (mesh.normals[is_wall, 2] == 0).all()


def test_corners_over_30_degrees_are_crisp_and_others_smooth() -> None:
    for lean, expected in ((29.0, 1), (31.0, 2)):
        top = (8.0 + 5 * math.sin(math.radians(-lean)), 5 + 5 * math.cos(math.radians(lean)))
        mesh = tessellate(turned((0, 0), (8, 0), (8, 5), top, (0, top[1])))
        at_corner = np.isclose(mesh.vertices, [8.0, 0.0, 5.0]).all(axis=1)
        assert len(np.unique(mesh.normals[at_corner].round(9), axis=0)) == expected


def test_a_knob_is_round_enough() -> None:
    """At least 96 steps round a 20 mm knob, so that its outline stays smooth in a large picture."""
    mesh = tessellate(BARREL)
    rim = mesh.vertices[np.isclose(mesh.vertices[:, 2], 12.0)]
    assert len(np.unique(np.arctan2(rim[:, 1], rim[:, 0]).round(6))) >= 96
    small = tessellate(turned((0, 0), (0.5, 0), (0.5, 1), (0, 1))).vertices
    assert len(np.unique(np.arctan2(small[:, 1], small[:, 0])[np.hypot(small[:, 0], small[:, 1]) > 0.4].round(6))) >= 48


def test_flutes_take_away_what_they_should(assert_closed: Check) -> None:
    """Section = half the integral of rho^2 over the angle, rho = R - depth (1 - x^2) across 0.7 of each pitch."""
    x, weight = np.polynomial.legendre.leggauss(8)
    groove = 10 - 0.8 * (1 - x**2)
    section = 0.5 * (0.3 * 2 * math.pi * 100 + 0.7 * math.pi * (weight * groove**2).sum())
    mesh = tessellate(FLUTED, 0.0005)
    assert mesh.volume() == pytest.approx(12 * section, rel=2e-4)
    assert_closed(mesh)


def test_flutes_repeat_round_the_axis_and_are_crisp_at_their_lands() -> None:
    mesh = tessellate(FLUTED)
    edge = np.isclose(mesh.vertices[:, 2], 12.0) & (mesh.normals[:, 2] == 0)
    angle = np.degrees(np.arctan2(mesh.vertices[edge, 1], mesh.vertices[edge, 0])) % 15.0
    radius = np.hypot(mesh.vertices[edge, 0], mesh.vertices[edge, 1])
    middle = np.isclose(np.minimum(angle, 15 - angle), 0.0, atol=1e-6)
    assert middle.sum() == 24 and np.allclose(radius[middle], 9.2)
    lip = np.isclose(angle, 15 * 0.35, atol=1e-6)
    assert lip.sum() == 48 and np.allclose(radius[lip], 10.0)
    # slope of the groove at its lip: d rho / d s = 2 depth / half width
    lean = math.atan(2 * 0.8 / (10 * math.radians(15 * 0.35)))
    radial = np.stack([np.cos(np.radians(15 * 0.35)), np.sin(np.radians(15 * 0.35))])
    first = np.isclose(np.arctan2(mesh.vertices[edge, 1], mesh.vertices[edge, 0]), math.radians(5.25), atol=1e-6)
    assert np.allclose(np.sort(mesh.normals[edge][first][:, :2] @ radial), [math.cos(lean), 1.0], atol=1e-9)


def test_a_lever_leans_towards_plus_y_about_its_pivot() -> None:
    mesh = tessellate(LEVER)
    tip = np.array([3.0, 4.0 + 12 * math.sin(math.radians(12)), -2 + 12 * math.cos(math.radians(12))])
    assert np.isclose(mesh.vertices, tip, atol=1e-12).all(axis=1).any()
    upright = tessellate(turned((0, 0), (1.5, 0), (1.5, 10), (0, 10)))
    assert mesh.volume() == pytest.approx(upright.volume(), rel=1e-12)


@pytest.mark.parametrize("name", ["nut", "case", "flat shaft", "slot"])
def test_extruded_volume_and_area(name: str) -> None:
    """Prism below plus the integral of the shrinking section over the bevel; bevel faces are at 45 degrees."""
    solid = SOLIDS[name]
    assert isinstance(solid, Extruded)
    x, weight = np.polynomial.legendre.leggauss(8)
    insets = [planar.inset(solid.outline, (value + 1) / 2 * solid.bevel_mm) for value in x]
    straight = solid.top_mm - solid.bottom_mm - solid.bevel_mm
    volume = planar.area(solid.outline) * straight
    volume += solid.bevel_mm / 2 * sum(w * planar.area(each) for w, each in zip(weight, insets, strict=True))
    assert tessellate(solid, 1e-4).volume() == pytest.approx(volume, rel=1e-4)
    top = planar.area(planar.inset(solid.outline, solid.bevel_mm))
    around = solid.bevel_mm / 2 * sum(w * perimeter(each) for w, each in zip(weight, insets, strict=True))
    if name in ("nut", "slot"):  # elsewhere sharp corners cut across the bevel's rounding
        bevel = around * math.sqrt(2)
        area = planar.area(solid.outline) + top + perimeter(solid.outline) * straight + bevel
        assert tessellate(solid, 1e-4).area() == pytest.approx(area, rel=1e-4)


def test_rotation_is_clockwise_from_outside() -> None:
    bar = Outline(kind="rectangle", width_mm=10, height_mm=2)
    mesh = tessellate(Extruded(outline=bar, bottom_mm=0, top_mm=1, rotation_deg=30, material=CHROME))
    tip = (5 * math.cos(math.radians(-30)), 5 * math.sin(math.radians(-30)))
    right_end = mesh.vertices[np.argsort(mesh.vertices[:, 0])[-8:], :2]
    assert np.allclose(np.unique(right_end.round(9), axis=0).mean(axis=0), tip, atol=1.1)
    assert mesh.vertices[mesh.vertices[:, 0].argmax(), 1] < 0


def test_caps_and_hexagon_sides_are_flat_shaded() -> None:
    mesh = tessellate(NUT)
    for height, way in ((0.5, -1.0), (2.5, 1.0)):
        on = np.isclose(mesh.vertices[:, 2], height)
        assert (mesh.normals[on, 2] == way).sum() >= 6
    sides = np.unique(mesh.normals[mesh.normals[:, 2] == 0].round(9), axis=0)
    assert len(sides) == 6
    assert np.unique((np.degrees(np.arctan2(sides[:, 1], sides[:, 0])) % 60).round(6)).tolist() in (
        [0.0],
        [60.0],
        [0.0, 60.0],
    )


@settings(max_examples=60)
@given(
    steps=st.lists(st.tuples(st.floats(0.2, 12.0), st.floats(0.1, 6.0)), min_size=1, max_size=6),
    flutes=st.integers(0, 40),
    depth=st.floats(0.0, 1.0),
    start=st.floats(0.0, 12.0),
    tilt=st.floats(-30, 30),
)
def test_any_stepped_solid_closes(
    steps: list[tuple[float, float]], flutes: int, depth: float, start: float, tilt: float, assert_closed: Check
) -> None:
    profile: list[Point] = [(0.0, 0.0)]
    z = 0.0
    for radius, rise in steps:
        profile += [(radius, z), (radius, z + rise)]
        z += rise
    profile.append((0.0, z))
    depth = min(depth, 0.3 * max(radius for radius, _ in steps))
    solid = turned(*profile, flutes=flutes, flute_depth_mm=depth, flute_from_mm=start, tilt_deg=tilt)
    mesh = tessellate(solid, 0.05)
    assert_closed(mesh)
    plain = sum(math.pi * radius**2 * rise for radius, rise in steps)
    assert 0 < mesh.volume() <= plain
    assert np.isfinite(mesh.normals).all()


@pytest.mark.parametrize(
    ("solid", "words"),
    [
        (turned((0, 0), (1, 0)), "three points"),
        (turned((0, 0), (math.nan, 0), (0, 1)), "finite"),
        (turned((0, 0), (-1, 0), (0, 1)), "axis"),
        (turned((0, 1), (1, 1), (1, 0), (0, 0)), "counter-clockwise"),
        (turned((0, 0), (4, 0), (1, 3), (4, 3), (0, 1)), "cross itself"),
        (turned((0, 0), (1, 0), (1, 1), (0, 1), flutes=-1), "negative"),
        (turned((0, 0), (1, 0), (1, 1), (0, 1), flutes=5, flute_depth_mm=0.9), "less deep"),
        (disc(0, 0, 1), "above 0 mm"),
        (disc(5, 1, 1), "above the bottom"),
        (disc(5, 0, 1, bevel=2), "a bevel must lie"),
        (disc(1, 0, 9, bevel=1), "leaves nothing"),
    ],
)  # fmt: skip
def test_impossible_solids_are_named(solid: Turned | Extruded, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        tessellate(solid)
