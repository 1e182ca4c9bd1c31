"""What the pointer meets first; boxes whose sides are known by hand, and a slow search beside the quick one."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mockup import api
from mockup.geometry.tessellate import tessellate
from mockup.model.enclosure import faces
from mockup.model.material import STEEL
from mockup.model.mesh import Mesh
from mockup.model.scene import Body
from mockup.model.shape import Extruded, Outline
from mockup.window.pointer.orbit import Orbit
from mockup.window.pointer.rays import Picker, Ray, ray


def block(low: float, high: float, at: tuple[float, float] = (0.0, 0.0), size: float = 10.0) -> Mesh:
    outline = Outline(kind="rectangle", width_mm=size, height_mm=size)
    return tessellate(Extruded(outline=outline, bottom_mm=low, top_mm=high, at=at, material=STEEL))


def body(name: str, mesh: Mesh, group: str = "hardware", part: str | None = None) -> Body:
    return Body(name=name, mesh=mesh, material=STEEL, group=group, part=part)  # type: ignore[arg-type]


def down(x: float, y: float) -> Ray:
    return Ray(origin=np.array([x, y, 100.0]), way=np.array([0.0, 0.0, -1.0]))


def test_the_nearer_of_two_is_met() -> None:
    picker = Picker([body("low", block(0, 5)), body("high", block(10, 20), part="TONE")])
    hit = picker.pick(down(1, 1))
    assert hit is not None
    assert (hit.body.name, hit.part, hit.face) == ("high", "TONE", None)
    assert hit.distance_mm == pytest.approx(80)
    assert hit.point == pytest.approx((1, 1, 20))


def test_what_is_hidden_lets_the_pointer_through() -> None:
    picker = Picker([body("low", block(0, 5), "box"), body("high", block(10, 20))])
    hit = picker.pick(down(1, 1), frozenset({"hardware"}))
    assert hit is not None
    assert hit.body.name == "low"


def test_beside_everything_nothing_is_met() -> None:
    picker = Picker([body("only", block(0, 5))])
    assert picker.pick(down(6, 0)) is None
    assert Picker([]).pick(down(0, 0)) is None


def test_what_lies_behind_the_eye_is_not_met() -> None:
    up = Ray(origin=np.array([1.0, 1.0, 100.0]), way=np.array([0.0, 0.0, 1.0]))
    assert Picker([body("only", block(0, 5))]).pick(up) is None


def test_from_within_the_far_side_is_met() -> None:
    inside = Ray(origin=np.array([1.0, 1.0, 2.0]), way=np.array([0.0, 0.0, 1.0]))
    hit = Picker([body("only", block(0, 5))]).pick(inside)
    assert hit is not None
    assert hit.distance_mm == pytest.approx(3)


def test_a_seam_between_triangles_lets_nothing_through() -> None:
    """Right down the diagonals and edges of a square's triangles."""
    picker = Picker([body("only", block(0, 5))])
    for step in np.linspace(-4.9, 4.9, 41):
        for x, y in ((step, step), (step, -step), (step, 0.0), (0.0, step)):
            assert picker.pick(down(x, y)) is not None


def brute(bodies: list[Body], line: Ray) -> float:
    """Every triangle, one by one, by solving three equations for each."""
    best = math.inf
    for each in bodies:
        for a, b, c in each.mesh.vertices[each.mesh.faces]:
            matrix = np.stack([b - a, c - a, -line.way], axis=1)
            if abs(np.linalg.det(matrix)) > 1e-12:
                u, v, t = np.linalg.solve(matrix, line.origin - a)
                if u >= -1e-9 and v >= -1e-9 and u + v <= 1 + 1e-9 and t >= 0:
                    best = min(best, t)
    return best


@settings(max_examples=40)
@given(
    st.lists(st.tuples(st.floats(-30, 30), st.floats(-30, 30), st.floats(-20, 20), st.floats(1, 15)), max_size=6),
    st.tuples(st.floats(-40, 40), st.floats(-40, 40)),
    st.tuples(st.floats(-30, 30), st.floats(-30, 30)),
)
def test_the_quick_search_finds_what_the_slow_one_finds(
    blocks: list[tuple[float, float, float, float]], start: tuple[float, float], end: tuple[float, float]
) -> None:
    bodies = [body(str(i), block(z, z + size, (x, y), size)) for i, (x, y, z, size) in enumerate(blocks)]
    way = np.array([*end, 0.0]) - np.array([*start, 90.0])
    line = Ray(origin=np.array([*start, 90.0]), way=way / np.linalg.norm(way))
    hit = Picker(bodies).pick(line)
    wanted = brute(bodies, line)
    assert (math.inf if hit is None else hit.distance_mm) == pytest.approx(wanted, abs=1e-6)


@pytest.fixture(scope="module")
def pedal() -> tuple[Picker, dict[str, np.ndarray]]:
    design = api.load(Path(__file__).parents[3] / "examples" / "lantern_moth" / "layout.toml")
    sides = faces(design.enclosure)
    places = {
        part.name: sides[part.face].to_world(np.array([part.u_mm, part.v_mm]), 3.0)
        for part in design.parts
        if part.face == "top" and part.kind.mount == "panel"
    }
    return Picker(api.build(design).bodies), places


def test_pointing_at_a_parts_place_from_above_finds_that_part(pedal: tuple[Picker, dict[str, np.ndarray]]) -> None:
    picker, places = pedal
    assert len(places) >= 4
    size = (1000, 1000)
    camera = Orbit(elevation_deg=90, ortho_mm=200.0).camera()
    for name, place in places.items():
        at = (500 + place[0] * 5, 500 - place[1] * 5)  # 1000 px over 200 mm: 5 px a millimetre
        hit = picker.pick(ray(camera, at, size))
        assert hit is not None
        assert hit.part == name


def test_bare_panel_is_the_face(pedal: tuple[Picker, dict[str, np.ndarray]]) -> None:
    picker, _ = pedal
    camera = Orbit(elevation_deg=90, ortho_mm=200.0).camera()
    left = min(float(each.mesh.vertices[:, 0].min()) for each in picker.bodies if each.name == "top")
    hit = picker.pick(ray(camera, (500 + (left + 6) * 5, 500 + 20 * 5), (1000, 1000)))
    assert hit is not None
    assert (hit.face, hit.part, hit.body.group) == ("top", None, "box")


def test_hidden_groups_uncover_what_is_inside(pedal: tuple[Picker, dict[str, np.ndarray]]) -> None:
    picker, _ = pedal
    camera = Orbit(elevation_deg=-90, ortho_mm=200.0).camera()
    closed = picker.pick(ray(camera, (500, 500), (1000, 1000)))
    assert closed is not None
    assert closed.face == "lid"
    assert closed.body.group == "lid"
    opened = picker.pick(ray(camera, (500, 500), (1000, 1000)), frozenset({"lid"}))
    assert opened is not None
    assert opened.body.group in ("inside", "box")
