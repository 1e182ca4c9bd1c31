"""Decals on a face: every millimetre on its pixel, every colour the model's."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mockup.colour import rgb
from mockup.decal import ink_over_paint as ink
from mockup.decal.composite import PADDING_PX, composite, face_texture
from mockup.films import films
from mockup.finishes import sheens
from mockup.model.finish import Artwork, Decal, Finish

FINISH = Finish(paint=rgb.parse("#c8952d"), sheen=sheens()["gloss"])
PAINT = [0xC8, 0x95, 0x2D]


def art(pixels: np.ndarray) -> Artwork:
    return Artwork(name="art.png", pixels=np.ascontiguousarray(pixels, dtype=np.uint8))


def blank(width: int, height: int, colour: tuple[int, int, int, int] = (255, 255, 255, 255)) -> np.ndarray:
    pixels = np.empty((height, width, 4), np.uint8)
    pixels[:] = colour
    return pixels


def noise(width: int, height: int) -> Artwork:
    return art(np.random.default_rng(1).integers(0, 256, (height, width, 4)))


def decal(picture: Artwork, **changes: object) -> Decal:
    plain = Decal(art=picture, face="top", u_mm=30.0, v_mm=50.0, width_mm=20.0, height_mm=30.0, film=films()["clear"])
    return replace(plain, **changes)  # type: ignore[arg-type]


# --- flatten and composite ------------------------------------------------------------------------------------------


def test_flatten_puts_art_over_white_in_encoded_values() -> None:
    pixels = blank(3, 1)
    pixels[0] = [(10, 20, 30, 255), (10, 20, 30, 0), (0, 100, 255, 51)]
    # 51/255 = 0.2: 0.8 x 255 + 0.2 x (0, 100, 255) = 204, 224, 255, by hand
    assert ink.flatten(pixels).tolist() == [[[10, 20, 30], [255, 255, 255], [204, 224, 255]]]


def test_transparent_and_white_art_show_the_bare_paint() -> None:
    pixels = blank(20, 20)
    pixels[:10] = (200, 10, 10, 0)
    for look in ("proof", "photo"):
        assert (composite(decal(art(pixels)), FINISH, look) == PAINT).all()


def test_composite_is_the_model_pixel_by_pixel() -> None:
    picture = noise(64, 48)
    out = composite(decal(picture, film=films()["white"]), FINISH)
    expected = 255 * ink.predict(ink.flatten(picture.pixels), ink.ground(FINISH, films()["white"]))
    assert out.shape == (48, 64, 3)
    assert np.abs(out - expected).max() <= 3


def test_a_proof_shows_the_veil_and_a_photo_leaves_it_out() -> None:
    black = art(blank(16, 16, (0, 0, 0, 255)))
    matte = replace(FINISH, sheen=sheens()["matte"])
    assert (composite(decal(black), matte, "photo") == 0).all()
    # encode(0.03) = 1.055 x 0.03^(1/2.4) - 0.055 = 0.1897, so 48 of 255, by hand
    assert (composite(decal(black), matte, "proof") == 48).all()


def test_white_film_covers_dark_paint_and_clear_film_does_not() -> None:
    white, dark = art(blank(16, 16)), replace(FINISH, paint=rgb.parse("#101010"))
    assert (
        composite(decal(white, film=films()["white"]), dark).min() > 220
    )  # about 0.75 reflectance: encoded 0.88, 225 of 255
    assert (composite(decal(white), dark) == 0x10).all()


# --- one straight decal: exact --------------------------------------------------------------------------------------


def test_no_decal_no_texture() -> None:
    assert face_texture([], FINISH) is None


@pytest.mark.parametrize("size", [(1350, 2700), (333, 517)])
def test_a_straight_decal_keeps_its_own_pixels_inside_a_border_of_paint(size: tuple[int, int]) -> None:
    picture = noise(*size)
    texture = face_texture([decal(picture, width_mm=57.15, height_mm=114.3)], FINISH)
    assert texture is not None
    pad = PADDING_PX
    assert texture.pixels.shape == (size[1] + 2 * pad, size[0] + 2 * pad, 3)
    assert (texture.pixels[pad:-pad, pad:-pad] == composite(decal(picture), FINISH)).all()
    border = np.ones(texture.pixels.shape[:2], bool)
    border[pad:-pad, pad:-pad] = False
    assert (texture.pixels[border] == PAINT).all()


def marks(width: int, height: int, at: list[tuple[int, int]]) -> Artwork:
    pixels = blank(width, height)
    for x, y in at:
        pixels[y, x] = (0, 0, 0, 255)
    return art(pixels)


def test_a_point_of_the_decal_lies_on_its_pixel_within_half_a_pixel() -> None:
    at = [(0, 0), (1349, 0), (0, 2699), (1349, 2699), (675, 1350), (123, 2550)]
    one = decal(marks(1350, 2700, at), u_mm=31.0, v_mm=60.4, width_mm=57.15, height_mm=114.3)  # 600 dpi
    texture = face_texture([one], FINISH)
    assert texture is not None
    left, top = 31.0 - 57.15 / 2, 60.4 - 114.3 / 2
    for x, y in at:  # the middle of pixel x lies (x + 0.5) x 25.4 / 600 mm from the film's edge
        point = np.array([[left + (x + 0.5) * 25.4 / 600, top + (y + 0.5) * 25.4 / 600]])
        column, row = (texture.normalised(point) * (texture.pixels.shape[1], texture.pixels.shape[0]))[0]
        assert (column % 1, row % 1) == (pytest.approx(0.5, abs=1e-6), pytest.approx(0.5, abs=1e-6))
        assert texture.pixels[int(row), int(column)].max() < 5


def test_quarter_turns_keep_every_pixel_too() -> None:
    picture = noise(40, 60)
    straight = composite(decal(picture), FINISH)
    for quarter in range(-1, 4):
        texture = face_texture([decal(picture, rotation_deg=90.0 * quarter)], FINISH)
        assert texture is not None
        inner = texture.pixels[PADDING_PX:-PADDING_PX, PADDING_PX:-PADDING_PX]
        assert (inner == np.rot90(straight, -quarter)).all()  # numpy turns anticlockwise for positive counts
        centre = (texture.u_mm + texture.width_mm / 2, texture.v_mm + texture.height_mm / 2)
        assert centre == (pytest.approx(30.0), pytest.approx(50.0))
        scale = 60 / 30.0  # pixels per millimetre
        assert texture.width_mm == pytest.approx(texture.pixels.shape[1] / scale)


# --- several and turned decals ---------------------------------------------------------------------------------------


def spot(texture, u_mm: float, v_mm: float) -> list[int]:  # type: ignore[no-untyped-def]
    x, y = (texture.normalised(np.array([[u_mm, v_mm]])) * texture.pixels.shape[1::-1])[0]
    return texture.pixels[int(y), int(x)].tolist()


@settings(max_examples=30)
@given(st.floats(-179, 179), st.floats(5, 40), st.floats(5, 40))
def test_a_turned_decal_turns_clockwise_about_its_centre(angle: float, width: float, height: float) -> None:
    pixels = blank(200, 200)
    pixels[30:70, 130:170] = (0, 0, 0, 255)  # a black square in the upper right quarter, centre at 0.25, -0.25
    one = decal(art(pixels), width_mm=width, height_mm=height, rotation_deg=angle)
    texture = face_texture([one], FINISH)
    assert texture is not None
    dark = np.argwhere(texture.pixels.max(axis=-1) < 60)[:, ::-1] + 0.5
    found = dark.mean(axis=0) * (texture.width_mm, texture.height_mm) / texture.pixels.shape[1::-1]
    x, y, turn = 0.25 * width, -0.25 * height, np.radians(angle)
    # v runs down, so a turn that looks clockwise takes (x, y) to (x cos - y sin, x sin + y cos)
    expected = (30 + x * np.cos(turn) - y * np.sin(turn), 50 + x * np.sin(turn) + y * np.cos(turn))
    pixel_mm = texture.width_mm / texture.pixels.shape[1]
    assert np.abs(np.add(found, (texture.u_mm, texture.v_mm)) - expected).max() < 0.5 * pixel_mm


def test_the_shared_canvas_keeps_the_finest_decals_own_pixels() -> None:
    fine = decal(noise(400, 600))
    coarse = decal(art(blank(32, 32, (0, 0, 0, 255))), u_mm=5.123, width_mm=8.0, height_mm=8.0, rotation_deg=30)
    texture = face_texture([coarse, fine], FINISH)
    assert texture is not None
    assert texture.width_mm / texture.pixels.shape[1] == pytest.approx(20.0 / 400)
    x, y = (texture.normalised(np.array([[20.0, 35.0]])) * texture.pixels.shape[1::-1])[0]
    assert (x % 1 + 1e-6) % 1 < 2e-6
    x, y = round(x), round(y)
    inner = texture.pixels[y : y + 600, x : x + 400]
    expected = 255 * ink.predict(ink.flatten(fine.art.pixels), ink.ground(FINISH, films()["clear"]))
    assert np.abs(inner - expected).max() < 0.51


def test_overlapping_clear_films_filter_twice_and_lie_in_order() -> None:
    yellow = decal(art(blank(100, 150, (255, 220, 0, 255))))
    cyan = decal(art(blank(100, 150, (0, 170, 230, 255))), u_mm=40.0)
    finish = Finish(paint=(1.0, 1.0, 1.0), sheen=sheens()["gloss"])
    texture = face_texture([yellow, cyan], finish)
    assert texture is not None
    assert spot(texture, 22, 50) == [255, 220, 0]
    assert spot(texture, 48, 50) == [0, 170, 230]
    on_yellow = ink.Ground(paint=(1.0, 220 / 255, 0.0))
    assert spot(texture, 35, 50) == rgb.to_8bit(ink.predict((0, 170 / 255, 230 / 255), on_yellow)).tolist()
    assert spot(texture, 5 + texture.u_mm - 5 + 0.1, 50) == [255, 255, 255]


def test_white_film_hides_what_lies_under_it() -> None:
    dark = decal(art(blank(100, 150, (0, 0, 0, 255))))
    label = decal(art(blank(50, 50)), width_mm=6.0, height_mm=6.0, film=films()["white"])
    texture = face_texture([dark, label], FINISH)
    assert texture is not None
    assert min(spot(texture, 30, 50)) > 220
    assert spot(texture, 36, 50) == [0, 0, 0]
    # and beneath the other film it shines through as printed
    texture = face_texture([label, dark], FINISH)
    assert texture is not None
    assert spot(texture, 30, 50) == [0, 0, 0]


def test_white_art_on_clear_film_leaves_no_trace_however_it_lies() -> None:
    matte = replace(FINISH, sheen=sheens()["matte"])
    texture = face_texture(
        [decal(noise(9, 9), width_mm=1, height_mm=1), decal(art(blank(99, 77)), u_mm=50, rotation_deg=17)], matte
    )
    assert texture is not None
    bare = rgb.to_8bit(ink.unprinted(ink.ground(matte)))
    beside = texture.pixels[:, texture.pixels.shape[1] // 3 :]
    assert (beside == bare).all()


def test_a_decal_far_finer_than_a_texture_may_be_is_brought_down_without_losing_its_place() -> None:
    strip = blank(20000, 20, (0, 0, 0, 255))
    strip[:, :10000] = 255
    texture = face_texture([decal(art(strip), width_mm=100.0, height_mm=0.1)], FINISH)
    assert texture is not None
    assert max(texture.pixels.shape) <= 16384
    assert spot(texture, 29.9, 50) == PAINT
    assert max(spot(texture, 30.1, 50)) < 10


def test_the_border_is_paint_on_a_shared_canvas() -> None:
    texture = face_texture([decal(noise(80, 120), rotation_deg=20), decal(noise(30, 30), u_mm=60)], FINISH)
    assert texture is not None
    for edge in (texture.pixels[:8], texture.pixels[-8:], texture.pixels[:, :8], texture.pixels[:, -8:]):
        assert (edge == PAINT).all()
