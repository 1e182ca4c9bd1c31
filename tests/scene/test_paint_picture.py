"""A picture that is the paint in a scene: no painted place lies beyond it, and edges meet."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from mockup.enclosure.sizes import SIZES
from mockup.finishes import sheens
from mockup.lights import presets
from mockup.model.design import Design
from mockup.model.enclosure import DECAL_FACES
from mockup.model.finish import Finish
from mockup.model.paint_picture import PaintPicture
from mockup.model.scene import Body
from mockup.scene.assemble import assemble

BOX = SIZES["112x60x31"]


def fade() -> PaintPicture:
    """Red grows to the right, green nearer to the player."""
    pixels = np.zeros((110, 60, 3), np.uint8)
    pixels[..., 0], pixels[..., 1] = np.linspace(0, 255, 60)[None], np.linspace(0, 255, 110)[:, None]
    return PaintPicture(name="fade.png", pixels=pixels, box=BOX)


def painted(box: str, sheen: str) -> dict[str, Body]:
    finish = Finish(paint=(0.5, 0.5, 0.0), sheen=sheens()[sheen], picture=fade())
    scene = assemble(Design(name="", source="", enclosure=SIZES[box], finish=finish), presets()["bench"])
    return {body.name: body for body in scene.bodies if body.name in DECAL_FACES}


def colours(body: Body) -> np.ndarray:
    """Return the texture's colour (n, 3) at each point of a body's mesh."""
    texture = body.material.texture
    assert texture is not None and body.mesh.uv is not None
    at = texture.normalised(body.mesh.uv)
    assert at.min() >= 0.0 and at.max() <= 1.0, body.name
    height, width = texture.pixels.shape[:2]
    return texture.pixels[
        (at[:, 1] * height).astype(int).clip(0, height - 1), (at[:, 0] * width).astype(int).clip(0, width - 1)
    ].astype(int)


@pytest.mark.parametrize(("box", "sheen"), [("112x60x31", "gloss"), ("119x94x34", "flake")])
def test_every_painted_face_lies_under_the_picture_and_goes_on_where_its_neighbour_ends(box: str, sheen: str) -> None:
    """Of a picture made for another box too, as where boxes are tried on."""
    found = painted(box, sheen)
    assert set(found) == set(DECAL_FACES)
    top, on_top = found["top"].mesh.vertices, colours(found["top"])
    for name in ("near", "far", "left", "right"):
        mesh, own = found[name].mesh, colours(found[name])
        away = np.linalg.norm(top[:, None] - mesh.vertices[None], axis=-1)
        one, other = np.nonzero(away < 1e-6)  # where they meet
        assert len(one) > 10, name
        assert np.abs(on_top[one] - own[other]).max() <= 12, name  # on the corners film unrolls otherwise: our choice


def test_no_painted_place_lies_beyond_the_corners_of_its_face() -> None:
    """A box with walls that lean and wide rounding: film that bends over its edge runs on past the sharp edge."""
    box = replace(BOX, edge_mm=2.5, corner_mm=6.0, draft_deg=3.0)
    finish = Finish(paint=(0.5, 0.5, 0.0), sheen=sheens()["gloss"])
    picture = replace(fade(), box=box)
    for body in assemble(Design(name="", source="", enclosure=box, finish=finish), presets()["bench"]).bodies:
        if body.name in DECAL_FACES:
            low, high = picture.corners(body.name)
            assert body.mesh.uv is not None
            assert (body.mesh.uv >= low).all() and (body.mesh.uv <= high).all(), body.name
