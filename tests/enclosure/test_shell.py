"""The whole box: closed, outward, named, right in volume, and errors in plain words."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mockup.enclosure.lid import screw_places
from mockup.enclosure.shell import build, shell_problem, undrilled_body
from mockup.enclosure.sizes import SIZES
from mockup.geometry import planar
from mockup.model.bore import Bore
from mockup.model.enclosure import FACES, Enclosure, faces
from mockup.model.mesh import Mesh
from mockup.model.shape import Outline

BOX = SIZES["112x60x31"]
SLOT = Outline(kind="slot", width_mm=12, height_mm=4)
FLATTED = Outline(kind="d", width_mm=7, height_mm=6)
BORES = (
    Bore(part="A", purpose="bushing", face="top", u_mm=15, v_mm=25, outline=Outline(kind="circle", width_mm=7.2)),
    Bore(part="B", purpose="slot", face="top", u_mm=40, v_mm=25, outline=SLOT, rotation_deg=30),
    Bore(part="C", purpose="shaft", face="top", u_mm=30, v_mm=60, outline=FLATTED, rotation_deg=-45),
    Bore(part="IN", purpose="bushing", face="right", u_mm=50, v_mm=15, outline=Outline(kind="circle", width_mm=9.7)),
    Bore(part="OUT", purpose="bushing", face="left", u_mm=50, v_mm=15, outline=Outline(kind="circle", width_mm=9.7)),
    Bore(part="DC", purpose="socket", face="far", u_mm=30, v_mm=14, outline=Outline(kind="circle", width_mm=12.2)),
    Bore(
        part="USB",
        purpose="slot",
        face="near",
        u_mm=30,
        v_mm=14,
        outline=Outline(kind="rectangle", width_mm=9, height_mm=4),
    ),
)


def polygon_area(outline: Outline) -> float:
    p = planar.polygon(outline)
    q = np.roll(p, -1, axis=0)
    return float((p[:, 0] * q[:, 1] - q[:, 0] * p[:, 1]).sum() / 2)


def test_regions_are_the_ones_that_pictures_need() -> None:
    made = build(BOX, BORES)
    assert set(made.body) == {*FACES, "rim", "inner", *(f"bore:{bore.name}" for bore in BORES)}
    assert set(made.lid) == {"lid", "lid inside", "lid seam", "lid holes", "lid screws"}
    assert made.problems == ()
    for name, mesh in made.body.items():
        assert (mesh.uv is not None) == (name in FACES)


def test_closed_outward_and_one_handle_per_hole(
    assert_closed: Callable[[Mesh], None], least_cosine: Callable[[Mesh], float]
) -> None:
    made = build(BOX, BORES)
    assert_closed(made.solid.welded())
    assert made.solid.genus == len(BORES) and made.solid.pieces == 1
    assert made.solid.welded().volume() == pytest.approx(made.solid.volume, rel=1e-12)
    for mesh in (*made.body.values(), *made.lid.values()):
        assert least_cosine(mesh) > 0.95
    low = min(mesh.vertices[:, 2].min() for mesh in made.body.values())
    high = max(mesh.vertices[:, 2].max() for mesh in made.body.values())
    assert (low, high) == (pytest.approx(BOX.lid_mm), pytest.approx(BOX.height_mm))


def test_each_hole_takes_away_its_area_times_the_thickness_it_goes_through() -> None:
    """Perpendicular to its face: top plate 2.0 mm; a side wall 2.0 mm level, so 2.0 cos(1 degree) through."""
    whole = undrilled_body(BOX).volume
    for bore in BORES:
        through = 2.0 if bore.face == "top" else 2.0 * math.cos(math.radians(1.0))
        lost = whole - build(BOX, [bore]).solid.volume
        assert lost == pytest.approx(polygon_area(bore.outline) * through, rel=1e-6)
        assert lost == pytest.approx(planar.area(bore.outline) * through, rel=0.02)


def test_a_hole_stands_where_and_how_it_is_told() -> None:
    made = build(BOX, BORES)
    for bore in BORES:
        face, wall = faces(BOX)[bore.face], made.body[f"bore:{bore.name}"]
        seen = face.from_world(wall.vertices)
        through = 2.0 if bore.face == "top" else 2.0 * math.cos(math.radians(1.0))
        assert seen[:, 2].max() == pytest.approx(0.0, abs=1e-9)  # from the outer surface
        assert seen[:, 2].min() == pytest.approx(-through, abs=1e-9)  # to the inner one
        assert np.abs(wall.normals @ face.out).max() < 1e-9  # perpendicular to the face, draft or not
        # a quarter turn clockwise from outside takes +x of the outline towards v (down)
        angle = math.radians(bore.rotation_deg)
        right, down = seen[:, 0] - bore.u_mm, seen[:, 1] - bore.v_mm
        x = right * math.cos(angle) + down * math.sin(angle)
        y = right * math.sin(angle) - down * math.cos(angle)
        box = planar.bounds(bore.outline)
        assert np.allclose([x.min(), y.min(), x.max(), y.max()], box, atol=0.03)


def test_coordinates_and_normals_survive_the_drilling() -> None:
    made = build(BOX, BORES)
    for name in FACES:
        mesh, face = made.body[name], faces(BOX)[name]
        assert mesh.uv is not None
        seen = face.from_world(mesh.vertices)
        is_flat = (np.abs(seen[:, 2]) < 1e-9) & (mesh.normals @ face.out > 1 - 1e-12)
        assert is_flat.sum() > 10
        assert np.allclose(mesh.uv[is_flat], seen[is_flat, :2], atol=1e-8)


def test_posts_reach_the_rim_and_stay_inside_the_casting() -> None:
    made = build(BOX)
    rim = made.body["rim"]
    assert np.allclose(rim.vertices[:, 2], BOX.lid_mm) and (rim.normals[:, 2] == -1).all()
    inner = made.body["inner"].vertices
    for x, y in screw_places(BOX):
        distance = np.hypot(inner[:, 0] - x, inner[:, 1] - y)
        for end, radius in ((BOX.lid_mm, 3.5), (29.0, 3.5 + 27.2 * math.tan(math.radians(1.0)))):  # 7 mm at the rim
            is_end = (np.abs(distance - radius) < 1e-6) & (np.abs(inner[:, 2] - end) < 1e-6)
            assert is_end.sum() > 10
        assert (np.abs(distance - 2.5 / 2) < 1e-6).sum() > 10  # M3 tapping hole: 3 - 0.5 mm pitch
    # half a wall, at the ceiling, is left between the post as it is at the rim and the outside
    x, y = screw_places(BOX)[0]
    drift = (BOX.body_mm - BOX.top_mm) * math.tan(math.radians(1.0))
    for from_wall in (30 - drift - x, 56 - drift - y):
        assert from_wall - BOX.post_mm / 2 >= BOX.wall_mm / 2 - 1e-9


@settings(max_examples=40)
@given(data=st.data())
def test_any_box_with_any_holes_stays_sound(
    data: st.DataObject,
    boxes: st.SearchStrategy[Enclosure],
    bores_of: Callable[[Enclosure], st.SearchStrategy[list[Bore]]],
    assert_closed: Callable[[Mesh], None],
) -> None:
    """Bad holes are named, and even then the solid is closed; good ones take away exactly their share."""
    box = data.draw(boxes)
    bores = data.draw(bores_of(box))
    made = build(box, bores)
    whole = undrilled_body(box)
    assert 0 < made.solid.volume <= whole.volume * (1 + 1e-12)
    assert_closed(made.solid.welded())
    assert {each.bore for each in made.problems} <= {bore.name for bore in bores}
    if not made.problems:
        draft = math.cos(math.radians(box.draft_deg))
        expected = sum(
            polygon_area(bore.outline) * (box.top_mm if bore.face == "top" else box.wall_mm * draft) for bore in bores
        )
        lost = whole.volume - made.solid.volume
        # a hole may graze the fillet inside, which is thicker than the wall by a little
        assert expected * (1 - 1e-6) - 1e-6 <= lost <= expected * 1.35
        assert made.solid.genus == len(bores)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"width_mm": 0.0}, "width of the box must be above 0 mm, found 0 mm"),
        ({"length_mm": -5.0}, "length of the box must be above 0 mm"),
        ({"height_mm": math.nan}, "height of the box must be above 0 mm, found nan"),
        ({"wall_mm": math.inf}, "side wall of the box must be above 0 mm"),
        ({"edge_mm": -1.0}, "rounding of the top edge must be 0 mm or more"),
        ({"draft_deg": 20.0}, "draft must lie between 0 and 15 degrees"),
        ({"draft_deg": math.nan}, "draft must lie between"),
        ({"wall_mm": 30.0}, "two walls of 30 mm must be thinner than the shorter side of the box (60 mm)"),
        ({"lid_mm": 31.0}, "together must be thinner"),
        ({"top_mm": 29.5}, "together must be thinner"),
        ({"edge_mm": 40.0}, "must be smaller than the body is high"),
        ({"corner_mm": 1.9}, "corner radius must be more than 1.98 mm"),  # 29.2 tan 1 + 1.5 tan 44.5 = 1.984
        ({"corner_mm": 30.0}, "less than half the shorter side (30 mm)"),
        ({"wall_mm": 28.5}, "leave no room inside"),
        ({"lip_mm": -1.0}, "lip of the lid must be 0 mm or more, found -1 mm"),
        ({"lip_wall_mm": 0.0}, "lip's thickness of the box must be above 0 mm"),
        ({"lip_mm": 27.2}, "must be lower than the box is deep inside (27.2 mm)"),
        ({"seam_mm": 1.8}, "the seam (1.8 mm) must be narrower than the lid is thick (1.8 mm)"),
        ({"feet_mm": math.nan}, "feet of the lid must be 0 mm or more, found nan"),
        ({"post_mm": 2.0}, "screw post must be thicker than its screw"),
        ({"post_mm": 30.0}, "do not fit beside each other"),
    ],
)
def test_impossible_boxes_are_named(change: dict[str, float], words: str) -> None:
    box = replace(BOX, **change)
    problem = shell_problem(box)
    assert problem is not None and words in problem
    with pytest.raises(ValueError, match=re.escape(words)):
        build(box)


def test_two_holes_of_one_name_are_refused() -> None:
    with pytest.raises(ValueError, match="two holes share the name A/bushing"):
        build(BOX, [BORES[0], replace(BORES[0], u_mm=40)])
