"""Film as it is cut: outlines against areas worked out by hand, pieces, margins, what is seen beside the film."""

from __future__ import annotations

import io
from dataclasses import replace
from math import pi

import ezdxf
import numpy as np
import pytest
from PIL import Image, ImageDraw

from mockup import api
from mockup.colour import rgb
from mockup.decal.composite import PADDING_PX, face_texture
from mockup.decal.cut import DEPTH_MM, DEPTH_PITCH_MM, film_depth, film_pieces, film_share, trimmed, with_margin
from mockup.films import films
from mockup.finishes import sheens
from mockup.geometry.flat_areas import size_mm2
from mockup.model.design import Design
from mockup.model.finish import Artwork, Cut, Decal, Finish
from mockup.outputs import sheet

PER_MM = 20
NAVY = Finish(paint=rgb.parse("#16243c"), sheen=sheens()["gloss"])
INK = Cut(shape="ink", allowance_mm=1.0, radius_mm=0.0)


def drawn(*boxes: tuple[str, tuple[float, float, float, float]], size: tuple[int, int] = (40, 60)) -> Image.Image:
    """Return a picture with ellipses and rectangles, left, top, right and bottom in mm."""
    picture = Image.new("RGBA", (size[0] * PER_MM, size[1] * PER_MM))
    draw = ImageDraw.Draw(picture)
    for kind, box in boxes:
        left, top, right, bottom = (each * PER_MM for each in box)
        getattr(draw, kind)((left, top, right - 1, bottom - 1), fill=(200, 40, 30, 255))
    return picture


def decal(picture: Image.Image, cut: Cut | None = INK, film: str = "clear") -> Decal:
    return Decal(
        art=Artwork(name="a.png", pixels=np.array(picture)), face="top", u_mm=30.0, v_mm=56.0,
        width_mm=picture.width / PER_MM, height_mm=picture.height / PER_MM, film=films()[film], cut=cut,
    )  # fmt: skip


def test_film_round_a_rectangle_is_its_parallel_curve() -> None:
    """Steiner's formula: area + perimeter x d + pi d^2, for 20 x 10 mm and d = 1; for a disc pi (r + d)^2."""
    (piece,) = film_pieces(decal(drawn(("rectangle", (10, 20, 30, 30)))))
    assert size_mm2(piece) == pytest.approx(200 + 60 + pi, abs=1.0)
    (piece,) = film_pieces(decal(drawn(("ellipse", (10, 20, 30, 40)))))
    assert size_mm2(piece) == pytest.approx(pi * 11**2, rel=0.005)
    assert np.abs(np.hypot(*(piece[0] - (20, 30)).T) - 11.0).max() < 0.1


def test_what_hangs_together_by_its_allowance_is_one_piece() -> None:
    """Two boxes 1.8 mm apart with 1 mm of film round each meet; 2.4 mm apart they do not."""
    for gap, count in ((1.8, 1), (2.4, 2)):
        two = drawn(("rectangle", (5, 5, 15, 25)), ("rectangle", (15 + gap, 5, 30, 25)))
        assert len(film_pieces(decal(two))) == count


def test_an_inner_corner_is_as_round_as_asked_for() -> None:
    """A square corner with a fillet of radius r gains (1 - pi / 4) r^2; a corner that runs outward gains nothing."""
    corner = drawn(("rectangle", (5, 5, 15, 35)), ("rectangle", (5, 25, 35, 35)))
    sharp, round_ = (film_pieces(decal(corner, replace(INK, radius_mm=r)))[0] for r in (0.0, 4.0))
    assert size_mm2(round_) - size_mm2(sharp) == pytest.approx(
        (1 - pi / 4) * 16, abs=0.6
    )  # 120 mm of outline to 0.005 mm


def test_holes_in_what_is_drawn_keep_their_film() -> None:
    ring = drawn(("ellipse", (10, 10, 30, 30)))
    ImageDraw.Draw(ring).ellipse((15 * PER_MM, 15 * PER_MM, 25 * PER_MM, 25 * PER_MM), fill=(0, 0, 0, 0))
    (piece,) = film_pieces(decal(ring))
    assert len(piece) == 1
    assert size_mm2(piece) == pytest.approx(pi * 11**2, rel=0.005)


def test_film_is_cut_along_the_border_and_what_lies_beyond_is_gone() -> None:
    framed = drawn(("rectangle", (5, 5, 35, 45)), ("rectangle", (10, 50, 20, 52)))
    ImageDraw.Draw(framed).rectangle((6 * PER_MM, 6 * PER_MM, 34 * PER_MM - 1, 44 * PER_MM - 1), fill=(0, 0, 0, 0))
    cut = decal(framed, Cut(shape="border", allowance_mm=0.0, radius_mm=0.0))
    (piece,) = film_pieces(cut)
    assert size_mm2(piece) == pytest.approx(30 * 40, rel=0.005)
    left = trimmed(cut)
    assert left.art.pixels[50 * PER_MM :, :, 3].max() == 0
    assert (left.art.pixels[: 44 * PER_MM] == cut.art.pixels[: 44 * PER_MM]).mean() > 0.999
    # the frame has 30 x 40 - 28 x 38 = 136 mm2 of ink, the bar 20: 20 / 156 is 13 %
    assert "13% of its ink lies beyond its border" in left.art.notes[-1]


def test_margin_and_round_corners_of_a_rectangle() -> None:
    """44 x 64 mm with corners of radius 5: less (4 - pi) r^2; the film over all pixels is that area."""
    plain = decal(drawn(("ellipse", (10, 20, 30, 40))), Cut(shape="rectangle", allowance_mm=2.0, radius_mm=5.0))
    grown = with_margin(plain)
    assert (grown.width_mm, grown.height_mm) == pytest.approx((44, 64))
    assert (grown.art.pixels[40:-40, 40:-40] == plain.art.pixels).all()
    share = film_share(grown)
    assert share is not None
    assert share.mean() / 255 * 44 * 64 == pytest.approx(44 * 64 - (4 - pi) * 25, rel=0.001)
    assert with_margin(grown).width_mm == grown.width_mm  # once


@pytest.mark.parametrize("copies", [1, 2])
def test_beside_cut_white_film_the_paint_shows(copies: int) -> None:
    one = decal(drawn(("ellipse", (10, 20, 30, 40))), INK, "white")
    texture = face_texture([replace(one, u_mm=30.0 + 60 * each) for each in range(copies)], NAVY)
    assert texture is not None
    row = PADDING_PX + 30 * PER_MM  # through the middle of the disc, which spans 9 to 31 mm with its film
    beside, film = (texture.pixels[row, PADDING_PX + round(mm * PER_MM)] for mm in (8.5, 9.5))
    assert np.abs(beside.astype(int) - rgb.to_8bit(np.array(NAVY.paint))).max() <= 1
    assert film.min() > 180


def pedal(keys: str) -> Design:
    out = io.BytesIO()
    drawn(("ellipse", (10, 10, 20, 20)), ("rectangle", (5, 40, 35, 50))).save(out, "PNG", dpi=(508, 508))
    text = f'[box]\nsize = "112x60x31"\n[[decal]]\nart = "a.png"\n{keys}\n'
    return api.loads(text, {"a.png": out.getvalue()})


def test_a_cutter_gets_the_lines_of_the_sheet() -> None:
    """Read by another program: two closed lines, 12 mm across and 32 x 12 mm, and the crosses in a layer apart."""
    made = sheet.make(pedal('cut = "ink"'), sheet.Options(output="s.pdf", cutter="dxf", page="100x150"))
    drawing = ezdxf.read(io.StringIO(made.files["s-cut.dxf"].decode()))  # type: ignore[attr-defined]
    lines = drawing.modelspace().query('LWPOLYLINE[layer=="film"]')
    assert all(each.closed for each in lines)
    sizes = sorted(np.ptp(np.array(each.get_points("xy")), axis=0).round(1).tolist() for each in lines)
    assert sizes == [pytest.approx([12, 12], abs=0.15), pytest.approx([32, 12], abs=0.15)]
    assert len(drawing.modelspace().query('CIRCLE[layer=="register"]')) == 4
    assert made.facts["decals"][0]["pieces"] == 2


def test_mirrored_film_is_cut_mirrored() -> None:
    plain, mirrored = (
        sheet.make(pedal('cut = "ink"'), sheet.Options(output="s.png", page="100x150", cutter="svg", mirror=each))
        for each in (False, True)
    )
    assert plain.files["s-cut.svg"] != mirrored.files["s-cut.svg"]


def test_without_a_cut_there_is_nothing_for_a_cutter() -> None:
    with pytest.raises(Exception, match="no decal says how its film is cut"):
        sheet.make(pedal(""), sheet.Options(output="s.pdf", cutter="svg"))


@pytest.mark.parametrize("radius", [0.0, 1.0])
def test_depth_within_film_is_the_distance_to_its_edge(radius: float) -> None:
    """A disc of 10 mm with 1 mm of film round it: 11 - r everywhere near its edge, however the grid cuts it."""
    disc = decal(drawn(("ellipse", (10, 20, 30, 40))), replace(INK, radius_mm=radius))
    depth = film_depth(disc)
    y, x = ((np.arange(n) + 0.5 - n / 2) * DEPTH_PITCH_MM for n in depth.shape)
    true = 11.0 - np.hypot(x[None], y[:, None])
    assert np.abs(depth - np.clip(true, -DEPTH_MM, DEPTH_MM)).max() < 0.06  # the outline's own error, of 0.1 mm pixels


def test_depth_within_round_corners() -> None:
    """44 x 64 mm with corners of radius 5: on the diagonal the edge lies 5 (1 - 1 / sqrt 2) within the square one."""
    plain = decal(drawn(("ellipse", (10, 20, 30, 40))), Cut(shape="rectangle", allowance_mm=2.0, radius_mm=5.0))
    depth = film_depth(plain)
    at = (np.array([32.0, 22.0]) - 5 * (1 - 1 / np.sqrt(2))) / DEPTH_PITCH_MM + np.array(depth.shape) / 2 - 0.5
    row, column = np.round(at).astype(int)
    assert abs(depth[row, column]) < DEPTH_PITCH_MM
    assert depth[row - 10, column - 10] == DEPTH_MM
