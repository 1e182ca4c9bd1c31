"""One small picture of every material, as a ball on a card: golden pictures against change, and plain facts of each."""

import functools
from dataclasses import replace

import numpy as np
import pytest
import scenes

from mockup.colour.view import view
from mockup.decal.paint import paint_material
from mockup.engines import raster
from mockup.engines.appearance import grain
from mockup.engines.appearance.bloom import with_bloom
from mockup.finishes import sheens
from mockup.lights import presets
from mockup.model import material as m
from mockup.model.finish import Finish
from mockup.model.material import Material
from mockup.model.scene import Body, Camera, Scene, SoftBox

pytestmark = [pytest.mark.gl, pytest.mark.slow]

TEAL = (0.25, 0.55, 0.52)
CAMERA = Camera(eye=(0.0, -60.0, 52.0), target=(0.0, 0.0, 7.0), fov_deg=22.0)
LENS = m.plastic((0.9, 0.25, 0.02), "lens", roughness=0.06)
SWATCHES = {
    "chrome": m.CHROME,
    "nickel": m.NICKEL,
    "brass": m.BRASS,
    "cast-aluminium": m.CAST_ALUMINIUM,
    "drilled-aluminium": m.DRILLED_ALUMINIUM,
    "turned-aluminium": m.TURNED_ALUMINIUM,
    "gloss-coated": paint_material(Finish(paint=TEAL, sheen=sheens()["gloss"])),
    "satin-coated": paint_material(Finish(paint=TEAL, sheen=sheens()["satin"])),
    "matte-bare": paint_material(Finish(paint=TEAL, sheen=sheens()["matte"], has_clear_coat=False)),
    "hammered-coated": paint_material(Finish(paint=TEAL, sheen=sheens()["hammered"])),
    "flake-coated": paint_material(Finish(paint=TEAL, sheen=sheens()["flake"])),
    "phenolic": m.PHENOLIC,
    "rubber": m.RUBBER,
    "lens": replace(LENS, transmission=0.6),
    "lit-lens": replace(LENS, transmission=0.6, emission=(6.3, 1.75, 0.14)),
}


def ball(material):
    """A ball of 16 mm on a grey card."""
    t = np.radians(np.linspace(-90, 90, 33))
    profile = [(8.0 * max(np.cos(a), 0.0), 8.0 + 8.0 * np.sin(a)) for a in t]
    mesh = scenes.lathe(profile, 96)
    card = Material(name="card", base_color=(0.4, 0.4, 0.4), roughness=0.8)
    return Scene(
        bodies=(
            Body(
                name="ball", mesh=mesh, material=material, group="hardware", spindle=((0.0, 0.0, 8.0), (0.0, 0.0, 1.0))
            ),
            Body(name="card", mesh=replace(scenes.quad(60.0, 60.0), uv=None), material=card, group="box"),
        ),
        lighting=presets()["bench"],
    )


@functools.cache
def seen(material, look="photo"):
    with raster.open(ball(material)) as session:
        return session.render(scenes.shot(CAMERA, 120, 96, quality="normal", look=look)).pixels


@pytest.mark.parametrize("name", SWATCHES)
def test_a_ball_of_it_looks_as_it_did(name, matches_golden):
    matches_golden(f"swatch-{name}", view(with_bloom(seen(SWATCHES[name])), "photo")[..., :3], mean=1.0, worst=40.0)


@pytest.fixture(scope="module")
def looks():
    pictures = {name: seen(material)[..., :3] for name, material in SWATCHES.items()}
    cover = seen(m.RUBBER, "proof")  # the ball's own colour tells it from the card
    on = np.abs(cover[..., 0] - m.RUBBER.base_color[0]) < 1e-3
    assert 0.1 < on.mean() < 0.5
    return {name: picture[on] for name, picture in pictures.items()}


def test_smoother_surfaces_show_brighter_and_darker_spots(looks):
    spread = {name: float(np.ptp(np.percentile(picture.mean(axis=1), (2, 98)))) for name, picture in looks.items()}
    assert spread["chrome"] > spread["drilled-aluminium"] > spread["cast-aluminium"]
    assert spread["gloss-coated"] > spread["matte-bare"]
    assert spread["phenolic"] > spread["rubber"]


def test_metals_have_their_own_hue(looks):
    """Brass is yellower than nickel, nickel warmer than chrome: their reflectances in `model.material`."""
    warmth = {name: float(np.log(looks[name][:, 0].mean() / looks[name][:, 2].mean())) for name in looks}
    assert warmth["brass"] > warmth["nickel"] > warmth["chrome"]


def test_grain_is_seen_as_grain():
    def busy(name):
        """Mean change from pixel to pixel on the ball's front, as a share of its brightness."""
        front = seen(SWATCHES[name])[44:58, 54:70, :3].mean(axis=2)  # beside what a plain ball mirrors
        return float((np.abs(np.diff(front, n=2, axis=1)) / front[:, 1:-1]).mean())

    # the front of a plain ball changes evenly: no second difference but its highlights' edges
    assert busy("hammered-coated") > 2.0 * busy("gloss-coated")
    assert busy("flake-coated") > 2.0 * busy("gloss-coated")


def test_a_lit_lens_is_brightest_at_its_crown_and_keeps_its_hue():
    lit, off = (seen(SWATCHES[name])[..., :3] for name in ("lit-lens", "lens"))
    # the ball's crown (0, 0, 16) and a spot low on its near side (0, -7.2, 4.5)
    pose = CAMERA.basis()
    scale = 48 / np.tan(np.radians(CAMERA.fov_deg) / 2)

    def at(point):
        x, y, z = pose[:3, :3].T @ (np.array(point) - pose[:3, 3])
        return int(48 - y / -z * scale), int(60 + x / -z * scale)

    crown, rim = at((0.0, -0.6, 15.9)), at((0.0, -7.2, 4.5))
    assert lit[crown].max() > 4.0 * lit[rim].max()
    assert lit[crown].max() > 5.0 * off[crown].max()
    assert lit[rim][0] > 1.5 * lit[rim][2]
    red, green, blue = lit[crown] / lit[crown].max()
    assert red == 1.0
    assert 0.2 < green < 0.5  # 0.278 of the red, a little whiter in the middle
    assert blue < 0.2


def test_each_flake_leans_as_the_path_tracer_draws_it():
    """Of flakes in view of a lamp on the right, those that lean to the right are bright: the picture that the path
    tracer lays on says which."""
    metal = Material(
        name="flakes", base_color=(0.8, 0.8, 0.8), metallic=0.5, roughness=0.4, coat=1.0, flake=1.0, flake_mm=0.9
    )
    mesh = replace(scenes.quad(20.3, 20.3), uv=None)  # no whole number of flakes: the grid starts at its corner
    lamp = SoftBox(centre=(150.0, 0.0, 200.0), right=(0.0, 200.0, 0.0), up=(-60.0, 0.0, 60.0), radiance=(3.0, 3.0, 3.0))
    lighting = replace(scenes.flat_lighting(0.02), boxes=(lamp,))
    scene = Scene(bodies=(Body(name="card", mesh=mesh, material=metal, group="box"),), lighting=lighting)
    with raster.open(scene) as session:
        camera = replace(scenes.DOWN, ortho_mm=20.3)
        found = session.render(scenes.shot(camera, 115, 115, quality="normal")).pixels[
            ::-1, :, 1
        ]  # 5 pixels to a flake
    (side,) = grain.sides(mesh)
    lean = grain.flakes(side, 0.3, 0.9)[..., 0]
    each = found.reshape(23, 5, 23, 5)[:, 1:4, :, 1:4].mean(axis=(1, 3))
    assert lean.shape == each.shape
    assert np.corrcoef(lean.ravel(), each.ravel())[0, 1] > 0.8
