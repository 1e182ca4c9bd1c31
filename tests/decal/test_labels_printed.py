"""Ink in its place, to the pixel, at the art's own resolution."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mockup.decal.label_ink import lettered
from mockup.decal.lettering import blank, over, overhang, printed, slack_mm
from mockup.decal.typeface import line, read
from mockup.films import films
from mockup.model.enclosure import Enclosure, faces
from mockup.model.finish import Artwork, Decal
from mockup.model.label import Lettering

BLACK = (0.0, 0.0, 0.0)


@pytest.fixture(scope="module")
def face(bold):
    """Return the font."""
    return read(bold, "bold.ttf")


def decal(width_mm=40.0, height_mm=30.0, dpi=(600.0, 600.0), at=(50.0, 40.0), rotation_deg=0.0, fill=(0, 0, 0, 0)):
    """Return one-coloured film, transparent unless told."""
    size = [round(mm * each / 25.4) for mm, each in zip((width_mm, height_mm), dpi, strict=True)]
    pixels = np.full((size[1], size[0], 4), fill, np.uint8)
    art = Artwork(name="art.png", pixels=pixels, dpi=dpi)
    return Decal(
        art=art,
        face="top",
        u_mm=at[0],
        v_mm=at[1],
        width_mm=size[0] * 25.4 / dpi[0],
        height_mm=size[1] * 25.4 / dpi[1],
        rotation_deg=rotation_deg,
        film=films()["clear"],
    )


def write(face, film, text, u, v, size=3.0, rotation=0.0, **style):
    """Return the pixels of film with a text written on it."""
    look = Lettering(font="bold.ttf", size_mm=size, **{"colour": BLACK, **style})
    return printed(film, [lettered(line(face, text, size), u, v, rotation, look)]).art.pixels


def middle_of_ink(pixels):
    """Return (x, y) of the centre of coverage, in pixels from the top-left corner."""
    cover = pixels[..., 3] / 255.0
    return (
        float((cover.sum(axis=0) * (np.arange(cover.shape[1]) + 0.5)).sum() / cover.sum()),
        float((cover.sum(axis=1) * (np.arange(cover.shape[0]) + 0.5)).sum() / cover.sum()),
    )


@settings(max_examples=25)
@given(
    u=st.floats(35, 65),
    v=st.floats(30, 50),
    across=st.sampled_from([72.0, 300.0, 600.0, 1200.0]),
    down=st.sampled_from([150.0, 600.0]),
    turn=st.sampled_from([0.0, 90.0, 180.0, 30.0, -47.5]),
)
def test_a_label_lies_at_its_place_within_half_a_pixel(face, u, v, across, down, turn):
    # An H is its own mirror image both ways (but for 2 of 2000 units), so its ink balances at its middle.
    film = decal(width_mm=60, height_mm=60, dpi=(across, down), rotation_deg=turn)
    x, y = middle_of_ink(write(face, film, "H", u, v))
    angle = math.radians(turn)
    du, dv = u - film.u_mm, v - film.v_mm
    right, below = du * math.cos(angle) + dv * math.sin(angle), dv * math.cos(angle) - du * math.sin(angle)
    assert x == pytest.approx((right + film.width_mm / 2) * across / 25.4, abs=0.5)
    assert y == pytest.approx((below + film.height_mm / 2) * down / 25.4, abs=0.5)


def test_capitals_are_as_high_as_asked_for(face):
    cover = write(face, decal(), "H", 50, 40, size=3.0)[..., 3] / 255.0
    stem = cover[:, cover.sum(axis=0).argmax()]
    assert stem.sum() == pytest.approx(3.0 * 600 / 25.4, abs=0.3)  # 70.87 px


def test_an_edge_is_at_most_two_pixels_soft_at_600_dpi(face):
    cover = write(face, decal(), "I", 50.013, 40.007, size=3.0)[..., 3]
    across = cover[cover.shape[0] // 2]
    down = cover[:, cover.shape[1] // 2]
    for line_of_pixels in (across, down):
        inked = np.flatnonzero(line_of_pixels)
        full = np.flatnonzero(line_of_pixels == 255)
        assert (np.diff(inked) == 1).all()
        assert full[0] - inked[0] <= 2
        assert inked[-1] - full[-1] <= 2
    # A slope too: no pixel of a V that is only partly inked lies more than two pixels from bare film.
    slope = write(face, decal(), "V", 50.013, 40.007, size=3.0)[..., 3]
    row = slope[slope.shape[0] // 2]
    changes = np.flatnonzero(np.diff(((row > 0) & (row < 255)).astype(int)))
    assert len(changes) == 8  # two strokes, two edges each
    assert (changes[1::2] - changes[::2]).max() <= 2


@pytest.mark.parametrize("art", [(255, 255, 255, 255), (30, 80, 200, 128), (9, 9, 9, 0)])
def test_pixels_without_new_ink_stay_as_they_are(face, art):
    film = decal(fill=art)
    pixels = write(face, film, "TIDE", 50, 40, colour=(1.0, 0.0, 0.0))
    bare = write(face, decal(), "TIDE", 50, 40, colour=(1.0, 0.0, 0.0))[..., 3] == 0
    assert (pixels[bare] == art).all()
    assert 0.9 < bare.mean() < 1.0
    assert (film.art.pixels == art).all()
    inside = write(face, decal(), "TIDE", 50, 40)[..., 3] == 255
    assert (pixels[inside] == (255, 0, 0, 255)).all()


def test_ink_mixes_over_art_as_layers_do():
    layer = np.array([[[0, 0, 0, 128], [255, 0, 0, 51], [0, 0, 0, 0], [10, 20, 30, 255], [0, 0, 0, 128]]], np.uint8)
    below = np.array(
        [[[255, 255, 255, 255], [0, 0, 0, 0], [1, 2, 3, 4], [200, 200, 200, 200], [255, 255, 255, 128]]], np.uint8
    )
    # By hand: 255 * 127/255 = 127; alone it keeps its colour; no ink; opaque; alpha 128 + 128 * 127/255 = 191.7,
    # white share 128 * 127/255 = 63.7 of it: 84.8.
    expected = [[127, 127, 127, 255], [255, 0, 0, 51], [1, 2, 3, 4], [10, 20, 30, 255], [85, 85, 85, 192]]
    assert over(layer, below)[0].tolist() == expected


def test_letters_lie_over_their_outline_over_their_shadow(face):
    film = decal(fill=(255, 255, 255, 255))
    style = {
        "colour": (0.0, 0.0, 1.0),
        "outline_mm": 0.5,
        "outline_colour": (0.0, 1.0, 0.0),
        "shadow_mm": (1.0, 2.0),
        "shadow_colour": (1.0, 0.0, 0.0),
    }
    size = 14.4  # one font unit is 0.01 mm: the I is a bar 2.4 mm wide
    pixels = write(face, film, "I", 50, 40, size=size, **style)
    half = line(face, "I", size).width_mm / 2

    def at(du, dv):
        x, y = (du + film.width_mm / 2) * 600 / 25.4, (dv + film.height_mm / 2) * 600 / 25.4
        return tuple(pixels[int(y), int(x)].tolist())

    blue, green, red, white = (0, 0, 255, 255), (0, 255, 0, 255), (255, 0, 0, 255), (255, 255, 255, 255)
    assert at(0, 0) == blue  # the shadow lies here too, under it
    assert at(half - 0.05, 0) == blue
    assert at(half + 0.05, 0) == green  # the outline stands out by 0.5 mm
    assert at(half + 0.45, 0) == green
    assert at(half + 0.55, 0) == red  # the shadow, outline included, reaches 1 mm further right
    assert at(half + 1.45, 0) == red
    assert at(half + 1.55, 0) == white
    assert at(-half - 0.55, 0) == white
    assert at(0, 7.2 + 2.45) == red  # and 2 mm further down
    assert at(0, 7.2 + 2.55) == white
    assert at(0, -7.2 - 0.45) == green
    assert at(0, -7.2 - 0.55) == white


def test_the_ink_box_holds_all_ink_and_no_more_than_a_pixel_of_nothing(face):
    film = decal(width_mm=60, height_mm=60)
    style = Lettering(font="b", size_mm=4.0, colour=BLACK, outline_mm=0.4, shadow_mm=(-0.7, 0.9), outline_colour=BLACK)
    ink = lettered(line(face, "gåy", 4.0), 48, 41, 33.0, style)
    cover = printed(film, [ink]).art.pixels[..., 3]
    xs, ys = np.flatnonzero(cover.any(axis=0)), np.flatnonzero(cover.any(axis=1))
    corner = np.array([film.u_mm - film.width_mm / 2, film.v_mm - film.height_mm / 2])
    left, top = (np.array(ink.box[:2]) - corner) * 600 / 25.4
    right, bottom = (np.array(ink.box[2:]) - corner) * 600 / 25.4
    for edge, first in ((left, xs[0]), (top, ys[0])):
        assert edge - 1.01 <= first <= edge + 1.5
    for edge, last in ((right, xs[-1] + 1), (bottom, ys[-1] + 1)):
        assert edge - 1.5 <= last <= edge + 1.01


def test_a_label_turns_clockwise(face):
    # The L's stem stands at its left, its foot at the bottom; a quarter turn lays the stem along the top.
    cover = write(face, decal(), "L", 50, 40, size=6, rotation=90.0)[..., 3] / 255.0
    rows, columns = np.flatnonzero(cover.any(axis=1)), np.flatnonzero(cover.any(axis=0))
    letter = cover[rows[0] : rows[-1] + 1, columns[0] : columns[-1] + 1]
    assert letter[5].mean() > 0.9
    assert letter[:, 5].mean() > 0.9
    assert letter[-5].mean() < 0.3


def test_later_marks_lie_over_earlier_ones(face):
    film = decal()
    looks = [Lettering(font="b", size_mm=6, colour=colour) for colour in ((1.0, 0, 0), (0, 0, 1.0))]
    marks = [lettered(line(face, "I", 6), 50, 40, 0, look) for look in looks]
    pixels = printed(film, marks).art.pixels
    assert tuple(pixels[pixels.shape[0] // 2, pixels.shape[1] // 2]) == (0, 0, 255, 255)


def test_ink_at_the_very_edge_is_drawn_up_to_it(face):
    film = decal(width_mm=20, height_mm=20, fill=(255, 255, 255, 255))
    pixels = write(face, film, "I", 60 - line(face, "I", 4).width_mm / 2, 50 - 2.0, size=4)
    assert tuple(pixels[-2, -2]) == (0, 0, 0, 255)


def test_film_of_its_own_covers_the_flat_at_600_dpi():
    top = faces(Enclosure(width_mm=60, length_mm=112, height_mm=31))["top"]
    film = blank(top, "lettering", films()["clear"])
    left, upper, right, lower = top.flat
    assert film.dpi == pytest.approx((600, 600))
    assert 0 <= right - left - film.width_mm < 25.4 / 600
    assert 0 <= lower - upper - film.height_mm < 25.4 / 600
    assert (film.u_mm, film.v_mm) == pytest.approx(((left + right) / 2, (upper + lower) / 2))
    assert film.film == films()["clear"]
    assert not film.art.pixels.any()


def test_film_of_its_own_on_a_huge_box_is_coarser_instead_of_too_large():
    film = blank(faces(Enclosure(width_mm=500, length_mm=900, height_mm=40))["top"], "lettering", films()["clear"])
    assert film.art.width_px * film.art.height_px <= 60_000_000
    assert 280 <= film.dpi[0] <= 300  # 60 million px on about 0.447 m2: 294 dpi


@pytest.mark.parametrize(
    ("turn", "box", "expected"),
    [
        (0, (29, 24, 71, 56), (1, 1, 1, 1)),
        (0, (31, 24, 68, 50), (-1, 1, -2, -5)),
        (90, (34, 21, 66, 59), (1, -1, 1, -1)),  # the film is now 30 wide and 40 high
        (45, (50, 40, 50, 40), (-20, -15, -20, -15)),
    ],
)
def test_overhang_is_told_side_by_side(turn, box, expected):
    film = decal(dpi=(254.0, 127.0), rotation_deg=turn)  # 10 and 5 px per mm
    assert overhang(film, box) == pytest.approx(expected)
    assert slack_mm(film) == pytest.approx(0.1)
