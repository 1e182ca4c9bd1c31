"""Every sheen, whichever there are: a possible surface, known wherever a sheen is named, unlike every other."""

from __future__ import annotations

import itertools
import re
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from numpy.typing import NDArray

from mockup.colour import rgb
from mockup.comparison.sweep import axes
from mockup.decal import ink_over_paint as ink
from mockup.decal.paint import paint_material
from mockup.engines import raster, traced
from mockup.finishes import FINISHES, UNPAINTED, USUAL, sheens
from mockup.geometry.tessellate import tessellate
from mockup.layout.json_schema import json_schema
from mockup.lights import presets
from mockup.model.finish import Finish, Sheen
from mockup.model.scene import Body, Camera, Scene, Shot
from mockup.model.shape import Turned

PAINT = rgb.parse("#3f8a86")
CAMERA = Camera(eye=(0.0, -60.0, 52.0), target=(0.0, 0.0, 8.0), fov_deg=16.0)
EVERY = pytest.mark.parametrize("sheen", sheens().values(), ids=lambda sheen: sheen.name)


def test_every_file_gives_the_sheen_of_its_name() -> None:
    assert sorted(sheens()) == sorted(FINISHES.names())
    assert sheens()[USUAL].is_painted
    assert not sheens()[UNPAINTED].is_painted
    assert json_schema()["$defs"]["FinishTable"]["properties"]["sheen"]["enum"] == list(sheens())


def test_lists_go_from_shiny_to_dull_then_grain_then_metal() -> None:
    known = ("gloss", "satin", "matte", "hammered", "flake", "bare")
    assert tuple(name for name in sheens() if name in known) == known


@EVERY
class TestEverySheen:
    def test_is_a_possible_surface(self, sheen: Sheen) -> None:
        assert re.fullmatch(r"[a-z].{4,60}[^.]", sheen.about)
        shares = (sheen.metallic, sheen.flake, sheen.hammer, sheen.roughness, sheen.bare_roughness)
        assert all(0.0 <= value <= 1.0 for value in (*shares, sheen.coat_roughness))
        assert sheen.flake_mm > 0.0 and sheen.dent_mm > 0.0
        assert 0.0 <= sheen.veil <= 0.1  # more would turn black paint grey
        assert sheen.caution is None or sheen.caution.endswith(".")
        assert sheen.metallic == 0.0 or sheen.caution is not None  # ink is predicted over paint, which is no metal
        assert sheen.is_painted or sheen.metallic == 1.0

    def test_proof_shows_the_paint_itself(self, sheen: Sheen) -> None:
        """v + (1 - v) p by hand: the veil is white, so it is the same share in any primaries."""
        seen = paint_material(Finish(paint=PAINT, sheen=sheen), "proof").base_color
        own = np.array(sheen.metal.base_color if sheen.metal is not None else rgb.linear_colour(PAINT))
        assert seen == pytest.approx(tuple(sheen.veil + (1.0 - sheen.veil) * own), abs=1e-9)

    def test_says_its_caution_with_a_prediction(self, sheen: Sheen) -> None:
        said = ink.limits(Finish(paint=PAINT, sheen=sheen))
        assert said[len(ink.LIMITS) :] == ((sheen.caution,) if sheen.caution is not None else ())

    def test_is_swept_by_its_name(self, sheen: Sheen) -> None:
        (value,) = axes.axis("--sheen", "finish.sheen", sheen.name).values
        assert sheen.name in value.caption
        (row,) = axes.paints(f"Mine,#3f8a86,{sheen.name.upper()}", "paints.csv").values
        assert row.assignments[-1].value == sheen.name

    @pytest.mark.gl
    def test_path_tracer_takes_it(self, sheen: Sheen) -> None:
        with traced.open(_ball(sheen)) as session:
            pixels = session.render(Shot(camera=CAMERA, width_px=24, height_px=24, quality="draft")).pixels
        assert np.isfinite(pixels).all()
        assert pixels[8:16, 8:16, :3].mean() > 0.01


@pytest.mark.gl
@pytest.mark.parametrize("pair", list(itertools.combinations(sheens(), 2)), ids="-".join)
def test_no_two_sheens_look_alike(pair: tuple[str, str]) -> None:
    one, other = (_seen(name) for name in pair)
    assert np.abs(one - other).mean() > 0.002  # linear; alike would be 0: our choice


def _ball(sheen: Sheen) -> Scene:
    """A ball of 16 mm with the paint bare, so that its own surface shows."""
    angles = np.radians(np.linspace(-90.0, 90.0, 33))
    profile = tuple((8.0 * max(float(np.cos(a)), 0.0), 8.0 + 8.0 * float(np.sin(a))) for a in angles)
    material = replace(paint_material(Finish(paint=PAINT, sheen=sheen, has_clear_coat=False)), name="ball")
    mesh = tessellate(Turned(profile=((0.0, 0.0), *profile[1:-1], (0.0, 16.0)), material=material))
    return Scene(bodies=(Body(name="ball", mesh=mesh, material=material, group="box"),), lighting=presets()["bench"])


@cache
def _seen(name: str) -> NDArray[np.float32]:
    with raster.open(_ball(sheens()[name])) as session:
        shot = Shot(camera=CAMERA, width_px=80, height_px=80, quality="draft")
        return np.asarray(session.render(shot).pixels[24:56, 24:56, :3])
