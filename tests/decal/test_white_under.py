"""White under the ink: where it lies, what is seen over it, by hand and by the two-layer formula."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from mockup.colour import rgb
from mockup.decal import ink_over_paint as ink
from mockup.decal.bands import bands
from mockup.decal.composite import PADDING_PX, composite, face_texture
from mockup.decal.processes import PROCESSES
from mockup.decal.white_under import white_share
from mockup.films import films
from mockup.finishes import sheens
from mockup.model.finish import Artwork, Decal, Film, Finish

NAVY = Finish(paint=rgb.parse("#16243c"), sheen=sheens()["gloss"])
HIDING = replace(PROCESSES["white-toner"], white=Film(about="nothing shines through", reflectance=0.8, transmittance=0))


def drawn(*colours: tuple[int, int, int, int], **changes: object) -> Decal:
    """Return a decal with one column of two pixels by four rows for every colour."""
    pixels = np.repeat(np.repeat(np.array([colours], np.uint8), 4, axis=0), 2, axis=1)
    plain = Decal(
        art=Artwork(name="a.png", pixels=pixels), face="top", u_mm=30.0, v_mm=50.0, width_mm=2.0 * len(colours),
        height_mm=4.0, film=films()["clear"], process=HIDING,
    )  # fmt: skip
    return replace(plain, **changes)  # type: ignore[arg-type]


def test_layers_add_up_as_two_plates_do() -> None:
    """Stokes, 1862: R = r1 + t1^2 r2 / (1 - r1 r2), by hand for 0.5 and 0.4 over 0.75: 0.5 + 0.4 0.75 / 0.625."""
    both = films()["white"].under(Film(about="", reflectance=0.5, transmittance=0.4))
    assert both.reflectance == pytest.approx(0.5 + 0.4 * 0.75 / (1 - 0.5 * 0.75))
    assert both.transmittance == pytest.approx(0.4 * 0.05 / (1 - 0.5 * 0.75) ** 2)


@pytest.mark.parametrize("name", ["white-toner", "print-service"])
def test_white_letters_on_clear_film_over_navy_are_white(name: str) -> None:
    letters = drawn((255, 255, 255, 255), (255, 255, 255, 0), process=PROCESSES[name])
    seen = composite(letters, NAVY)
    assert seen[0, 0].min() > 190  # 0.6 reflectance is 203 of 255 (IEC 61966-2-1)
    assert (seen[0, 2] == rgb.to_8bit(np.array(NAVY.paint))).all()
    assert (composite(replace(letters, process=PROCESSES["inkjet"]), NAVY) == seen[0, 2]).all()


def test_colour_over_a_white_that_hides_is_as_over_white_paint() -> None:
    colour = (200, 60, 30, 255)
    white_paint = rgb.encoded_colour((0.8, 0.8, 0.8))
    on = ink.ground(Finish(paint=white_paint, sheen=sheens()["gloss"]), films()["clear"])
    expected = ink.predict(np.array(colour[:3]) / 255.0, on) * 255.0
    assert composite(drawn(colour), NAVY)[0, 0] == pytest.approx(expected, abs=3)  # as near as the lookup is


def test_half_white_is_the_mean_of_both_in_light() -> None:
    seen = composite(drawn((255, 255, 255, 128)), NAVY)[0, 0] / 255.0
    navy, share = np.array(NAVY.paint), 128 / 255
    by_hand = (1 - share) * bands(navy) + share * 0.8
    assert bands(seen) == pytest.approx(by_hand, abs=0.005)


def test_white_goes_where_it_is_asked_for() -> None:
    art = ((200, 0, 0, 255), (0, 0, 0, 0))
    assert white_share(drawn(*art))[0].tolist() == [255, 255, 0, 0]  # type: ignore[index]
    assert white_share(drawn(*art, white_under="everything")).min() == 255  # type: ignore[union-attr]
    shape = drawn((0, 0, 0, 0), (9, 9, 9, 255)).art
    assert white_share(drawn(*art, white_under=shape))[0].tolist() == [0, 0, 255, 255]  # type: ignore[index]
    assert white_share(drawn(*art, process=PROCESSES["toner"])) is None


def test_several_decals_on_one_face_have_their_white_too() -> None:
    """Laid on a shared canvas the colour is that of the decal alone."""
    alone = drawn((200, 60, 30, 255), (0, 0, 0, 0))
    texture = face_texture([alone, replace(alone, u_mm=40.0)], NAVY)
    assert texture is not None
    got = texture.pixels[PADDING_PX + 1, PADDING_PX].astype(int)
    assert np.abs(got - composite(alone, NAVY)[0, 0]).max() <= 3
