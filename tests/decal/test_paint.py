"""Paint materials: each sheen differs as a painter would say, and meets its decals without a seam."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from mockup.colour import rgb
from mockup.decal.composite import face_texture
from mockup.decal.paint import film_on, paint_material
from mockup.decal.processes import PROCESSES
from mockup.films import films
from mockup.finishes import sheens
from mockup.model.finish import Artwork, Decal, Finish, Sheen
from mockup.model.material import CAST_ALUMINIUM

FINISH = Finish(paint=rgb.parse("#2b5d8a"), sheen=sheens()["gloss"])
SHEENS = tuple(sheens().values())


@pytest.mark.parametrize("sheen", SHEENS, ids=lambda sheen: sheen.name)
@pytest.mark.parametrize("has_coat", [True, False])
def test_every_sheen_is_a_possible_surface(sheen: Sheen, has_coat: bool) -> None:
    material = paint_material(replace(FINISH, sheen=sheen, has_clear_coat=has_coat))
    figures = (material.metallic, material.roughness, material.coat, material.coat_roughness, material.flake)
    assert all(0 <= value <= 1 for value in (*figures, material.hammer, *material.base_color))
    assert (material.coat > 0) == has_coat


def test_gloss_is_smoother_than_satin_and_satin_than_matte() -> None:
    for has_coat, of in ((True, "coat_roughness"), (False, "roughness")):
        finishes = [
            replace(FINISH, sheen=sheens()[name], has_clear_coat=has_coat) for name in ("gloss", "satin", "matte")
        ]
        gloss, satin, matte = (getattr(paint_material(finish), of) for finish in finishes)
        assert gloss < satin < matte


def test_only_flake_and_bare_are_metallic_and_only_hammered_is_hammered() -> None:
    known = ("gloss", "satin", "matte", "hammered", "flake", "bare")
    made = {name: paint_material(replace(FINISH, sheen=sheen)) for name, sheen in sheens().items() if name in known}
    assert {name for name in made if made[name].metallic} == {"flake", "bare"}
    assert {name for name in made if made[name].flake} == {"flake"}
    assert {name for name in made if made[name].hammer} == {"hammered"}


def test_paint_colour_is_linear_and_bare_metal_ignores_it() -> None:
    assert paint_material(FINISH).base_color == pytest.approx(rgb.linear_colour(FINISH.paint), abs=1e-12)
    bare = paint_material(replace(FINISH, sheen=sheens()["bare"]))
    assert bare.base_color == pytest.approx(CAST_ALUMINIUM.base_color, abs=1e-9)
    assert bare.roughness == CAST_ALUMINIUM.roughness


@pytest.mark.parametrize("look", ["proof", "photo"])
@pytest.mark.parametrize("sheen", SHEENS, ids=lambda sheen: sheen.name)
@pytest.mark.parametrize("is_coated", [True, False])
def test_a_texture_meets_its_paint_without_a_seam(sheen: Sheen, look: str, is_coated: bool) -> None:
    finish = replace(FINISH, sheen=sheen, is_swatch_coated=is_coated)
    art = Artwork(name="white", pixels=np.full((20, 20, 4), 255, np.uint8))
    decal = Decal(art=art, face="top", u_mm=10, v_mm=10, width_mm=5, height_mm=5, film=films()["clear"])
    for angle in (0.0, 12.0):
        texture = face_texture([replace(decal, rotation_deg=angle)], finish, look)  # type: ignore[arg-type]
        assert texture is not None
        material = paint_material(finish, look, texture)  # type: ignore[arg-type]
        assert material.texture is texture
        paint = rgb.to_8bit(rgb.encoded_colour(material.base_color))
        assert (texture.pixels == paint).all()


def test_white_hides_what_glitters_as_far_as_it_covers() -> None:
    """White that lets 6 % through, under the right half alone, half of it there: 0.5 x 0.94 = 0.47; bare film hides
    nothing."""
    alpha = np.zeros((40, 80, 4), np.uint8)
    alpha[:, 40:, 3] = 128
    decal = Decal(
        art=Artwork(name="a", pixels=alpha), face="top", u_mm=30, v_mm=40, width_mm=16, height_mm=8,
        film=films()["clear"], process=PROCESSES["print-service"], rotation_deg=30,
    )  # fmt: skip
    (patch,) = film_on(FINISH, [decal]).patches
    middle = patch.hides[patch.hides.shape[0] // 2]
    half = len(middle) // 2
    assert np.abs(middle[half + 3 : -8] - 0.94 * 128 / 255).max() < 0.001
    assert np.abs(middle[8 : half - 3]).max() < 1e-6
