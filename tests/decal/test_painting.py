"""A picture that is the paint: one colour answers as paint of that colour, two tones each as their own.

All on the top face of a 60 x 112 x 31 mm box; what a pixel should be is the ink model's own answer for paint of one
colour, which other tests hold to figures from outside.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from PIL import Image

from mockup.colour import rgb
from mockup.decal import ink_over_paint as ink
from mockup.decal.composite import face_texture
from mockup.decal.match import match, match_on
from mockup.decal.painting import (
    face_pixels,
    finishes_under,
    main_colours,
    mean_colour,
    paint_words,
)
from mockup.enclosure.sizes import SIZES
from mockup.films import films
from mockup.finishes import sheens
from mockup.model.enclosure import DECAL_FACES, FaceName, faces
from mockup.model.finish import Artwork, Cut, Decal, Finish
from mockup.model.material import Texture
from mockup.model.paint_picture import PaintPicture

BOX = SIZES["112x60x31"]
TOP = faces(BOX)["top"]
CREAM, NAVY = (0xF0, 0xDE, 0xB4), (0x1C, 0x28, 0x48)
INKS = (255, 255, 255), (0xA8, 0x40, 0x1C), (0, 0, 0), (0x00, 0xA0, 0xE0)


def painted(pixels: np.ndarray, sheen: str = "gloss", **more) -> Finish:
    picture = PaintPicture(name="tones.png", pixels=np.ascontiguousarray(pixels, np.uint8), box=BOX)
    return Finish(paint=mean_colour(picture.pixels), sheen=sheens()[sheen], picture=picture, **more)


def plain(code: tuple[int, int, int], sheen: str = "gloss") -> Finish:
    return Finish(paint=tuple(each / 255 for each in code), sheen=sheens()[sheen])


def tones(left: tuple[int, int, int], right: tuple[int, int, int]) -> np.ndarray:
    pixels = np.empty((60, 40, 3), np.uint8)
    pixels[:, :20], pixels[:, 20:] = left, right
    return pixels


def bars(**more) -> Decal:
    """Four bars of ink from left to right over the middle of the face, 8 pixels a millimetre."""
    pixels = np.full((4 * 80, 320, 4), 255, np.uint8)
    for row, code in enumerate(INKS):
        pixels[80 * row : 80 * (row + 1), :, :3] = code
    place = {"u_mm": TOP.width_mm / 2, "v_mm": TOP.height_mm / 2, "width_mm": 40.0, "height_mm": 40.0}
    art = Artwork(name="art.png", pixels=pixels)
    return Decal(art=art, face="top", **place | {"film": films()["clear"]} | more)


def code_at(texture: Texture | None, u: float, v: float) -> list[int]:
    assert texture is not None
    height, width = texture.pixels.shape[:2]
    column, row = texture.normalised(np.array([[u, v]]))[0] * (width, height)
    return texture.pixels[int(row), int(column)].tolist()


def wanted(code: tuple[int, int, int], finish: Finish, decal: Decal, look: str) -> list[int]:
    return rgb.to_8bit(ink.predict(np.array(code) / 255, ink.ground(finish, decal.ink_film, look))).tolist()


@pytest.mark.parametrize("turn", [0.0, 90.0, 12.0])
@pytest.mark.parametrize(("film", "look", "sheen"), [("clear", "photo", "gloss"), ("white", "proof", "matte")])
def test_a_picture_in_one_colour_is_paint_of_that_colour(turn: float, film: str, look: str, sheen: str) -> None:
    decal = bars(film=films()[film], rotation_deg=turn)
    found = face_texture([decal], painted(tones(CREAM, CREAM), sheen), look)
    away = np.array([(0.0, 10.0 * row - 15.0) for row in range(4)])
    angle = np.radians(turn)
    ways = np.array([[np.cos(angle), np.sin(angle)], [-np.sin(angle), np.cos(angle)]])
    for (u, v), code in zip(away @ ways + (decal.u_mm, decal.v_mm), INKS, strict=True):
        assert code_at(found, u, v) == pytest.approx(wanted(code, plain(CREAM, sheen), decal, look), abs=1)
    bare = rgb.to_8bit(ink.unprinted(ink.ground(plain(CREAM, sheen), look=look))).tolist()
    assert code_at(found, 2.0, 2.0) == pytest.approx(bare, abs=1)


def test_each_half_of_two_tones_is_its_own_paint() -> None:
    decal = bars()
    found = face_texture([decal], painted(tones(CREAM, NAVY)))
    for tone, side in ((CREAM, -10.0), (NAVY, 10.0)):
        for row, code in enumerate(INKS):
            there = code_at(found, decal.u_mm + side, decal.v_mm + 10.0 * row - 15.0)
            assert there == pytest.approx(wanted(code, plain(tone), decal, "proof"), abs=1), (tone, code)


def test_dark_tones_say_how_much_the_surface_mirrors() -> None:
    """What comes off matte paint's surface is taken from its colour once: from navy no more than navy has."""
    navy, cream, both = (
        ink.gloss(each) for each in (plain(NAVY, "matte"), plain(CREAM, "matte"), painted(tones(CREAM, NAVY), "matte"))
    )
    assert navy < both < cream == 1.0
    assert ink.gloss(painted(tones(NAVY, NAVY), "matte")) == pytest.approx(navy)
    bare = face_texture([], painted(tones(CREAM, NAVY), "matte"), "photo", "top")
    assert min(code_at(bare, 50.0, 50.0)) > 0


def test_white_film_that_is_cut_away_shows_the_tone_beside_it() -> None:
    """A disc on white film, cut round its ink: past the cut lies bare paint of either tone."""
    pixels = np.full((320, 320, 4), (255, 255, 255, 0), np.uint8)
    pixels[120:200, 120:200] = (0, 0, 0, 255)
    decal = replace(
        bars(width_mm=20.0, height_mm=20.0, film=films()["white"]),
        art=Artwork(name="dot.png", pixels=pixels),
        cut=Cut(shape="ink", allowance_mm=1.0, radius_mm=0.0),
    )
    found = face_texture([decal], painted(tones(CREAM, NAVY)))
    for tone, side in ((CREAM, -8.0), (NAVY, 8.0)):
        bare = rgb.to_8bit(ink.unprinted(ink.ground(plain(tone)))).tolist()
        assert code_at(found, decal.u_mm + side, decal.v_mm) == pytest.approx(bare, abs=1)


def test_sides_carry_on_the_edge_and_the_lid_lies_under_its_face() -> None:
    """A red far edge, a green left, a blue near and a grey right one, each 4 mm wide, by the face's own frame."""
    pixels = np.full((round(5 * TOP.height_mm), round(5 * TOP.width_mm), 3), 255, np.uint8)
    pixels[:20], pixels[-20:] = (255, 0, 0), (0, 0, 255)
    pixels[20:-20, :20], pixels[20:-20, -20:] = (0, 255, 0), (90, 90, 90)
    picture = painted(pixels).picture
    assert picture is not None

    def at(name: FaceName, u: float, v: float) -> list[int]:
        (found,) = picture.at(name, np.array([[u, v]])).tolist()
        return found

    seen = {name: at(name, 30.0, 20.0) for name in DECAL_FACES}
    assert seen == {
        "top": [255, 255, 255],
        "near": [0, 0, 255],
        "far": [255, 0, 0],
        "left": [0, 255, 0],
        "right": [90, 90, 90],
        "lid": [255, 255, 255],
    }
    # the right end of the left side, seen from outside, is its near one; of the lid, turned over sideways, the left
    assert at("left", TOP.height_mm - 2.0, 20.0) == [0, 0, 255]
    assert at("lid", 58.0, 50.0) == [0, 255, 0]
    for name in DECAL_FACES:
        texture = face_texture([], painted(pixels), face=name)
        assert texture is not None
        ends = texture.normalised(picture.corners(name))
        assert (ends[0] >= 0).all(), name
        assert (ends[1] <= 1).all(), name


def test_a_photograph_is_straightened_between_its_corners() -> None:
    """Pillow's own perspective transform makes the photograph, by coefficients solved for its four corners."""
    own = np.kron(np.array([[CREAM, NAVY], [NAVY, (200, 60, 40)], [CREAM, CREAM]], np.uint8), np.ones((100, 100, 1)))
    own = own.astype(np.uint8)
    corners = [(60.0, 50.0), (330.0, 80.0), (300.0, 420.0), (90.0, 390.0)]
    rows, values = [], []
    for (x, y), (u, v) in zip(corners, [(0, 0), (200, 0), (200, 300), (0, 300)], strict=True):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
        values += [u, v]
    taken = Image.fromarray(own).transform(
        (400, 460),
        Image.Transform.PERSPECTIVE,
        np.linalg.solve(rows, values),
        Image.Resampling.BICUBIC,
        fillcolor="lime",
    )
    art = Artwork(name="photo.jpg", pixels=np.asarray(taken.convert("RGBA")))
    found = face_pixels(art, (58.0, 87.0), corners)
    height, width = found.shape[:2]
    assert height / width == pytest.approx(1.5, rel=0.02)
    for row in range(3):
        for column in range(2):
            middle = found[round((row + 0.5) * height / 3), round((column + 0.5) * width / 2)]
            assert middle.tolist() == pytest.approx(own[100 * row + 50, 100 * column + 50].tolist(), abs=2)


@pytest.mark.parametrize(
    ("corners", "said"),
    [
        ([(0, 0), (0, 90), (90, 90), (90, 0)], "do not run clockwise"),
        ([(-20, 0), (99, 0), (99, 99), (-20, 99)], "reaches beyond the photograph"),
        ([(0, 0), (9, 0), (9, 9), (0, 9)], "too small between the corners"),
    ],
)
def test_corners_that_cannot_be_are_said(corners: list[tuple[float, float]], said: str) -> None:
    with pytest.raises(ValueError, match=said):
        face_pixels(Artwork(name="photo.jpg", pixels=np.zeros((100, 100, 4), np.uint8)), (58.0, 87.0), corners)


def test_the_whole_picture_covers_the_face_and_is_no_finer_than_a_photograph_shows() -> None:
    large = Artwork(name="large.png", pixels=np.full((800, 600, 4), 255, np.uint8))
    assert face_pixels(large, (10.0, 20.0)).shape == (240, 120, 3)  # 12 pixels a millimetre
    assert face_pixels(large, (10.0, 20.0), [(0, 0), (600, 0), (600, 800), (0, 800)]).shape == (240, 120, 3)


def test_main_colours_are_the_tones_and_steps_of_a_fade() -> None:
    two = painted(tones(CREAM, NAVY)).picture
    assert two is not None
    assert {rgb.to_hex(each) for each in main_colours(two)} == {"#f0deb4", "#1c2848"}
    share = np.linspace(0, 1, 200)[:, None, None]
    fade = painted(np.broadcast_to((1 - share) * CREAM + share * NAVY, (200, 100, 3))).picture
    assert fade is not None
    steps = main_colours(fade)
    assert 4 <= len(steps) <= 8
    light = sorted(float(rgb.luminance(each)) for each in steps)
    assert light[0] < 0.05 < 0.6 < light[-1]
    assert paint_words(painted(tones(NAVY, NAVY))) == "picture tones.png (#1c2848)"


def test_only_tones_under_a_decal_count() -> None:
    finish = painted(tones(CREAM, NAVY))
    both = finishes_under(finish, bars())
    assert len(both) == 2
    (left,) = finishes_under(finish, bars(u_mm=12.0, width_mm=20.0))
    assert rgb.to_hex(left.paint) == "#f0deb4"
    assert left.picture is None
    assert finishes_under(plain(NAVY), bars()) == (plain(NAVY),)


def test_ink_is_matched_to_the_tone_it_lies_on() -> None:
    decal = bars()
    small = replace(decal, art=replace(decal.art, pixels=np.ascontiguousarray(decal.art.pixels[::8, ::8])))
    found = match_on(painted(tones(CREAM, NAVY)), small)
    for tone, columns in ((CREAM, slice(2, 17)), (NAVY, slice(-17, -2))):
        alone = match(small.art.pixels, ink.ground(plain(tone), decal.film))
        assert np.abs(found.pixels[:, columns].astype(int) - alone.pixels[:, columns]).max() <= 1
        assert found.after[:, columns] == pytest.approx(alone.after[:, columns], abs=0.05)
