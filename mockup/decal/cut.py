"""Film as it is cut: round the whole picture, round what is drawn, or along the border that is drawn on it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw

from mockup.decal.ink_over_paint import FAINT, flatten
from mockup.decal.white_under import SOLID, white_share
from mockup.geometry.flat_areas import Area, grown, pieces, size_mm2, whole
from mockup.geometry.level_lines import level_lines
from mockup.geometry.planar import polygon
from mockup.memo import memoize
from mockup.model.finish import Artwork, Decal
from mockup.model.shape import Outline

Pixels = NDArray[np.uint8]

_PER_MM = 10.0  # pixels in which ink is outlined, at most: a tenth of a millimetre, finer than a knife; our choice
_SPECK_MM2 = 0.05  # drawn dots that are smaller have no film of their own: our choice
_LOST = 0.005  # share of the ink that is cut away and worth a word: our choice
_EDGE_PX = 4  # finer than a pixel: how often one is looked at along the film's edge


@memoize
def film_pieces(decal: Decal) -> tuple[Area, ...]:
    """Return the pieces of film of a decal as cut, the largest first, each an outline without holes.

    Millimetres from the top-left corner of the art as it is drawn, x right and y down; with an allowance they reach
    beyond the art. Film that is cut by the ink has none where nothing is drawn.
    """
    if decal.cut is None or decal.cut.shape == "rectangle":
        return (_rectangle(decal),)
    radius, allowance = decal.cut.radius_mm, decal.cut.allowance_mm
    found = whole([line for line in _drawn(decal) if abs(size_mm2([line])) > _SPECK_MM2])
    if decal.cut.shape == "border":
        found = max(((each,) for each in found), key=size_mm2, default=())
    if not found:
        return ()
    return tuple(whole(each) for each in pieces(whole(grown(grown(found, allowance + radius), -radius))))


def _rectangle(decal: Decal) -> Area:
    cut, middle = decal.cut, (decal.width_mm / 2, decal.height_mm / 2)
    allowance, radius = (cut.allowance_mm, cut.radius_mm) if cut is not None else (0.0, 0.0)
    width, height = decal.width_mm + 2 * allowance, decal.height_mm + 2 * allowance
    corner = min(radius, width / 2, height / 2)
    return (polygon(Outline(kind="rectangle", width_mm=width, height_mm=height, corner_mm=corner)) + middle,)


def _drawn(decal: Decal) -> Area:
    """Return the outlines of what is drawn: ink, white on a clear ground, and white that lies under the ink."""
    ink, alpha = 255 - flatten(decal.art.pixels).min(axis=2), decal.art.pixels[..., 3]
    is_drawn = ink >= FAINT if alpha.min() == 255 else (ink >= FAINT) | (alpha >= SOLID)
    drawn = np.where(is_drawn, 255, 0).astype(np.uint8)
    white = None if decal.is_white_all_over else white_share(decal)
    if white is not None:
        drawn = np.maximum(drawn, np.where(white >= SOLID, 255, 0).astype(np.uint8))
    sides = (decal.width_mm, decal.height_mm)
    size = [max(2, min(px, round(mm * _PER_MM))) for px, mm in zip(drawn.shape[::-1], sides, strict=True)]
    shrunk = np.asarray(Image.fromarray(drawn).resize((size[0], size[1]), Image.Resampling.BOX), np.float64)
    pitch = np.array(sides) / size
    return tuple((line + 0.5) * pitch for line in level_lines(shrunk, 127.5))


@memoize
def film_share(decal: Decal) -> Pixels | None:
    """Return how much of each pixel of a decal's art has film, (h, w), 0 to 255; None where all of it has."""
    if decal.cut is None or (decal.cut.shape == "rectangle" and decal.cut.radius_mm == 0.0):
        return None
    fine = (decal.art.width_px * _EDGE_PX, decal.art.height_px * _EDGE_PX)
    per_mm = np.array(fine) / (decal.width_mm, decal.height_mm)
    picture = Image.new("L", fine)
    draw = ImageDraw.Draw(picture)
    for piece in film_pieces(decal):
        draw.polygon([(x, y) for x, y in (piece[0] * per_mm - 0.5).tolist()], fill=255)
    return np.asarray(picture.reduce(_EDGE_PX))


def trimmed(decal: Decal) -> Decal:
    """Return a decal without what is drawn beyond its film: it is cut away."""
    share = film_share(decal)
    if share is None or decal.cut is None or decal.cut.shape == "ink":
        return decal
    pixels = decal.art.pixels.copy()
    pixels[..., 3] = np.rint(pixels[..., 3] * (share / 255.0)).astype(np.uint8)
    ink = 255 - flatten(decal.art.pixels).min(axis=2) >= FAINT
    lost = float((ink & (share < SOLID)).sum() / max(1, ink.sum()))
    if lost < _LOST:
        return replace(decal, art=replace(decal.art, pixels=pixels))
    where = "its border" if decal.cut.shape == "border" else "its round corners"
    note = f"{lost:.0%} of its ink lies beyond {where} and is cut away with the film."
    return replace(decal, art=replace(decal.art, pixels=pixels, notes=(*decal.art.notes, note)))


def with_margin(decal: Decal) -> Decal:
    """Return a decal whose art has as much bare film round it as its cutting lines need; its middle stays."""
    if decal.cut is None:
        return decal
    outlines = [piece[0] for piece in film_pieces(decal)]
    if not outlines:
        return decal
    points = np.concatenate(outlines)
    size = np.array([decal.width_mm, decal.height_mm])
    over = np.maximum(np.maximum(-points.min(axis=0), points.max(axis=0) - size), 0.0)
    pitch = size / (decal.art.width_px, decal.art.height_px)
    columns, rows = np.ceil(over / pitch - 1e-6).astype(int).tolist()
    if rows == columns == 0:
        return decal
    width, height = (size + 2 * pitch * (columns, rows)).tolist()
    under = decal.white_under
    return replace(
        decal,
        art=_padded(decal.art, decal, rows, columns),
        white_under=under if isinstance(under, str) else _padded(under, decal, rows, columns),
        cut=replace(decal.cut, allowance_mm=0.0) if decal.cut.shape == "rectangle" else decal.cut,
        width_mm=width,
        height_mm=height,
    )


def _padded(art: Artwork, decal: Decal, rows: int, columns: int) -> Artwork:
    """Return art with clear rows and columns on all sides, so many of the decal's own pixels."""
    scale = art.height_px / decal.art.height_px, art.width_px / decal.art.width_px
    down, across = round(rows * scale[0]), round(columns * scale[1])
    return replace(art, pixels=np.pad(art.pixels, ((down, down), (across, across), (0, 0))))
