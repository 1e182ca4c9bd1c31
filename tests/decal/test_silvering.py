"""Film with air under it: how much by the ground, where, what is seen there, and the same each time."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from mockup.colour import rgb
from mockup.decal.composite import composite, face_texture
from mockup.decal.cut import film_share, with_margin
from mockup.decal.paint import film_on
from mockup.decal.silvering import air_share, roughness_under
from mockup.films import films
from mockup.finishes import sheens
from mockup.model.finish import Artwork, Cut, Decal, Finish
from mockup.picture.options import PictureRequest

PER_MM = 12
NAVY = Finish(paint=rgb.parse("#16243c"), sheen=sheens()["matte"], has_clear_coat=False, is_silvered=True)


def decal(name: str = "moth.png", film: str = "clear", cut: Cut | None = None) -> Decal:
    """Return 24 x 30 mm of film, its lower half black."""
    art = np.zeros((30 * PER_MM, 24 * PER_MM, 4), np.uint8)
    art[15 * PER_MM :] = (0, 0, 0, 255)
    return Decal(
        art=Artwork(name=name, pixels=art), face="top", u_mm=30, v_mm=50, width_mm=24, height_mm=30,
        film=films()[film], cut=cut,
    )  # fmt: skip


def mean(share: np.ndarray | None) -> float:
    assert share is not None
    return float(share.mean()) / 255


def test_the_rougher_the_ground_the_more_air_and_none_unless_asked_for() -> None:
    order = [replace(NAVY, sheen=sheens()[name]) for name in ("satin", "matte")]
    order.insert(0, replace(NAVY, coat_under_film=sheens()["gloss"]))
    found = [mean(air_share(decal(), finish)) for finish in order]
    assert found == sorted(found)
    assert found[0] < 0.03 < 0.3 < found[-1] < 0.7
    assert air_share(decal(), replace(NAVY, is_silvered=False)) is None
    assert roughness_under(replace(NAVY, sheen=sheens()["hammered"])) > roughness_under(order[1])  # dents keep air


def test_the_same_decal_has_the_same_air_and_another_its_own() -> None:
    once, again, other = (air_share(decal(name), NAVY) for name in ("a.png", "a.png", "b.png"))
    assert once is not None
    assert np.array_equal(once, again)
    assert not np.array_equal(once, other)


def test_air_sends_back_what_two_more_surfaces_do() -> None:
    """Index 1.5 sends back 4 % at each: 1 - 0.96^2 = 0.0784 of all, and what is left passes both twice, 0.96^4 = 0.849.
    Matte navy's green of 0.0176 becomes 0.0784 + 0.849 x 0.0176 / (1 - 0.0784 x 0.0176) = 0.0934, but for the veil."""
    bare = replace(NAVY, sheen=replace(NAVY.sheen, veil=0.0))
    pixels, share = composite(decal(), bare), air_share(decal(), bare)
    assert share is not None
    whole = rgb.decode_8bit(pixels[share == 255])[:, 1]
    assert rgb.decode(np.array(bare.paint))[1] == pytest.approx(0.0176, abs=0.0005)
    assert len(whole) > 50
    assert whole[:50].mean() == pytest.approx(0.0934, abs=0.004)  # in bands navy's green holds a little blue


def test_ink_and_white_film_hide_it() -> None:
    plain = replace(NAVY, is_silvered=False)
    change = composite(decal(), NAVY).astype(int) - composite(decal(), plain)
    half = 15 * PER_MM
    assert change[: half - 1].mean() > 10
    assert np.abs(change[half + 1 :]).max() <= 2
    white = composite(decal(film="white"), NAVY).astype(int) - composite(decal(film="white"), plain)
    assert np.abs(white[: half - 1]).max() <= 3


@pytest.mark.parametrize("turn", [0.0, 20.0])
def test_no_air_shows_beside_the_film(turn: float) -> None:
    shaped = replace(decal(cut=Cut(shape="ink", allowance_mm=1.0, radius_mm=0.0)), rotation_deg=turn)
    with_air, plain = (
        face_texture([shaped], replace(NAVY, is_silvered=flag), "photo") for flag in (True, False)
    )  # fmt: skip
    assert with_air is not None and plain is not None
    change = np.abs(with_air.pixels.astype(int) - plain.pixels).max(axis=2) > 2
    assert change.any()
    per_mm2 = with_air.pixels[..., 0].size / (with_air.width_mm * with_air.height_mm)
    share = film_share(with_margin(shaped))
    assert share is not None
    film_mm2 = (share > 0).mean() * with_margin(shaped).width_mm * with_margin(shaped).height_mm
    bare_film_mm2 = film_mm2 - 24 * 15
    assert change.sum() / per_mm2 < bare_film_mm2 * 1.1
    (patch,) = film_on(NAVY, [shaped]).patches
    assert 0.02 < patch.shine.max() < 0.04  # of the two surfaces' 0.078
    assert patch.shine[patch.inside_mm < -0.3].max() == 0.0


def test_the_stage_alone_asks_for_it() -> None:
    import mockup

    design = mockup.loads('[box]\nsize = "112x60x31"\n')
    for stage, is_silvered in (("finished", False), ("drilled", False), ("silvered", True)):
        assert PictureRequest(stage=stage).finished(design).finish.is_silvered is is_silvered  # type: ignore[arg-type]
