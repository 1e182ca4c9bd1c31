"""Worn edges: bare patches lie on the rounding, keep off film and holes, and are in photos of paint alone."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from mockup.enclosure.sizes import SIZES
from mockup.enclosure.skin import outer_skin
from mockup.films import films
from mockup.finishes import sheens
from mockup.geometry.level_lines import part_above
from mockup.lights import presets
from mockup.model.bore import Bore
from mockup.model.design import Design
from mockup.model.enclosure import faces
from mockup.model.finish import Artwork, Decal, Finish
from mockup.model.mesh import Mesh
from mockup.model.shape import Outline
from mockup.scene.assemble import assemble
from mockup.scene.wear import worn

BOX = SIZES["112x60x31"]


def test_the_part_above_a_level_is_cut_where_the_field_passes_it() -> None:
    """Two triangles that make a square of 2 mm, the field its x: above 0.5 lie 1.5 by 2 mm, above 2 nothing."""
    points = np.array([(0.0, 0.0, 0.0), (2.0, 0.0, 0.0), (2.0, 2.0, 0.0), (0.0, 2.0, 0.0)])
    up = np.tile((0.0, 0.0, 1.0), (4, 1))
    square = Mesh(vertices=points, normals=up, faces=np.array([(0, 1, 2), (0, 2, 3)]))
    kept = part_above(square, points[:, 0], 0.5)
    assert kept.area() == pytest.approx(3.0)
    assert kept.vertices[:, 0].min() == pytest.approx(0.5)
    a, b, c = (kept.vertices[kept.faces[:, i]] for i in range(3))
    assert (np.cross(b - a, c - a)[:, 2] > 0.0).all()
    assert part_above(square, points[:, 0], 2.0).area() == 0.0
    assert part_above(square, points[:, 0], -1.0).area() == pytest.approx(4.0)


def test_wear_lies_on_the_rounded_edges_and_grows() -> None:
    """The skin's section at each height is a rounded rectangle: its own formula, by hand."""
    skin = outer_skin(BOX)
    mesh = worn(BOX, 3.0, (), ())
    at = mesh.vertices - 0.02 * mesh.normals
    inset = np.array([skin.inset_mm(z) for z in at[:, 2]])
    over = np.maximum(np.abs(at[:, :2]) - skin.core, 0.0)
    assert np.hypot(*over.T) == pytest.approx(skin.corner_mm - inset, abs=0.005)
    assert mesh.vertices[:, 2].max() < BOX.height_mm, "nothing stands over the flat of the top"
    is_wall = mesh.normals[:, 2] < 0.1
    assert np.abs(mesh.normals[is_wall, :2]).max() < 0.99, "nothing on a wall's flat"
    areas = [worn(BOX, amount, (), ()).area() for amount in (0.02, 0.5, 1.0, 2.0, 3.0)]
    assert areas == sorted(areas) and areas[0] < 0.5 and areas[2] < 25.0 < areas[4]
    rounding = 2.0 * (BOX.width_mm + BOX.length_mm) * BOX.edge_mm * np.pi / 2
    assert areas[4] < 0.2 * rounding, "slight, even at its most"
    sharp = worn(replace(BOX, edge_mm=0.0), 3.0, (), ())
    assert sharp.vertices[:, 2].max() <= BOX.height_mm, "a sharp edge has no rounding to wear"


def test_nothing_is_worn_under_film_or_where_a_hole_is() -> None:
    top = faces(BOX)["top"]
    middle = (top.width_mm / 2, top.height_mm / 2)
    bore = Bore(
        part="A", purpose="shaft", number=1, face="top", u_mm=middle[0], v_mm=middle[1],
        outline=Outline(kind="circle", width_mm=62.0),
    )  # fmt: skip
    art = Artwork(name="a", pixels=np.zeros((1, 2, 4), np.uint8))
    # turned by a quarter: 90 mm down, 20 mm across, over the left edge
    film = Decal(
        art=art, face="top", u_mm=0.0, v_mm=middle[1], width_mm=90.0, height_mm=20.0, rotation_deg=90.0,
        film=films()["clear"],
    )  # fmt: skip
    free, drilled, covered = worn(BOX, 3.0, (), ()), worn(BOX, 3.0, (), (bore,)), worn(BOX, 3.0, (film,), ())

    def near(mesh: Mesh) -> int:
        return int(((np.hypot(*mesh.vertices[:, :2].T) < 31.0) & (mesh.normals[:, 2] > 0.2)).sum())

    assert near(free) > 0 and near(drilled) == 0
    assert 0.0 < drilled.area() < free.area()

    def left(mesh: Mesh) -> int:
        return int(((mesh.vertices[:, 0] < -20.0) & (np.abs(mesh.vertices[:, 1]) < 45.0)).sum())

    assert left(free) > 0 and left(covered) == 0
    assert 0.0 < covered.area() < free.area()


def test_only_a_photo_of_worn_paint_shows_wear() -> None:
    def names(sheen: str, wear: float, look: str) -> set[str]:
        finish = Finish(paint=(0.5, 0.5, 0.0), sheen=sheens()[sheen], edge_wear=wear)
        design = Design(name="", source="", enclosure=BOX, finish=finish)
        return {body.name for body in assemble(design, presets()["bench"], look=look).bodies}  # type: ignore[arg-type]

    assert "edge wear" in names("gloss", 1.0, "photo")
    for other in (("gloss", 0.0, "photo"), ("gloss", 1.0, "proof"), ("bare", 1.0, "photo")):
        assert "edge wear" not in names(*other)
