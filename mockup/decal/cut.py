"""Film as it is cut: round the whole picture, round what is drawn, or along the border that is drawn on it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw
from scipy import ndimage
from scipy.spatial import cKDTree

from mockup.decal.ink_over_paint import FAINT, ink_of
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
DEPTH_MM = 1.0  # beyond the widest pixel in which a film's edge is looked for, and its slope: our choice
DEPTH_PITCH_MM = 0.2  # straight edges are exact at any; a corner is rounded by as much: our choice
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
    ink, alpha = ink_of(decal.art.pixels), decal.art.pixels[..., 3]
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


@memoize
def film_depth(decal: Decal) -> NDArray[np.float32]:
    """Return how far places lie within a decal's film, less than 0 beside it, mm and at most `DEPTH_MM` either way.

    They are pixels of `DEPTH_PITCH_MM`, (h, w), round the decal's middle, and reach `DEPTH_MM` beyond the film.
    """
    middle = np.array([decal.width_mm, decal.height_mm]) / 2.0
    outlines = [piece[0] - middle for piece in film_pieces(decal)]
    if not outlines:
        return np.full((2, 2), -DEPTH_MM, np.float32)
    half = np.abs(np.concatenate(outlines)).max(axis=0) + DEPTH_MM
    columns, rows = np.ceil(2.0 * half / DEPTH_PITCH_MM).astype(int).tolist()
    x, y = ((np.arange(count) + 0.5 - count / 2.0) * DEPTH_PITCH_MM for count in (columns, rows))
    at = np.stack(np.meshgrid(x, y), axis=-1)
    if decal.cut is None or decal.cut.shape == "rectangle":
        corner = decal.cut.radius_mm if decal.cut is not None else 0.0
        over = np.abs(at) - (half - DEPTH_MM - corner)
        depth = corner - np.hypot(*np.moveaxis(np.maximum(over, 0.0), -1, 0)) - np.minimum(over.max(axis=-1), 0.0)
    else:
        depth = _within(outlines, at)
    return np.asarray(np.clip(depth, -DEPTH_MM, DEPTH_MM), np.float32)


def film_depth_at(decal: Decal, size: tuple[int, int]) -> NDArray[np.float32]:
    """Return `film_depth` at so many rows and columns over a decal's art."""
    depth = film_depth(decal)
    pitch = np.array([decal.height_mm, decal.width_mm]) / size / DEPTH_PITCH_MM
    offset = (np.array(depth.shape) - 1) / 2.0 - pitch * (np.array(size) - 1) / 2.0
    return np.asarray(ndimage.affine_transform(depth, pitch, offset, size, order=1, cval=-DEPTH_MM), np.float32)


def _within(outlines: list[NDArray[np.float64]], at: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return how far places (h, w, 2) lie within closed outlines; beyond `DEPTH_MM` only which side they are on."""
    points, outward = (np.concatenate(each) for each in zip(*map(_dots, outlines), strict=True))
    off, nearest = cKDTree(points).query(at, distance_upper_bound=DEPTH_MM)
    away = np.append(points, [[0.0, 0.0]], axis=0)[nearest] - at
    across = (away * np.append(outward, [[0.0, 0.0]], axis=0)[nearest]).sum(axis=-1)
    area = Image.new("1", at.shape[1::-1])
    for outline in outlines:
        ImageDraw.Draw(area).polygon([tuple(each) for each in ((outline - at[0, 0]) / DEPTH_PITCH_MM).tolist()], fill=1)
    far = np.where(np.asarray(area), DEPTH_MM, -DEPTH_MM)
    near = np.where(np.abs(across) > 0.5 * off, across, np.copysign(off, across))  # a sharp corner is nearest
    return np.where(np.isfinite(off), near, far)


def _dots(outline: NDArray[np.float64]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return points close together along a closed outline, and the way out of it at each, unit length."""
    way = np.roll(outline, -1, axis=0) - outline
    length = np.hypot(*way.T)
    side = np.sign(size_mm2([outline])) * np.column_stack([way[:, 1], -way[:, 0]]) / np.maximum(length, 1e-9)[:, None]
    corner = side + np.roll(side, 1, axis=0)
    corner /= np.maximum(np.hypot(*corner.T), 1e-9)[:, None]
    steps = np.maximum(np.ceil(length / (0.25 * DEPTH_PITCH_MM)), 1).astype(int)
    which = np.repeat(np.arange(len(outline)), steps)
    first = np.concatenate([[0], np.cumsum(steps)[:-1]])
    along = (np.arange(len(which)) - first[which]) / steps[which]
    outward = np.where((along == 0.0)[:, None], corner[which], side[which])
    return outline[which] + along[:, None] * way[which], outward


def trimmed(decal: Decal) -> Decal:
    """Return a decal without what is drawn beyond its film: it is cut away."""
    share = film_share(decal)
    if share is None or decal.cut is None or decal.cut.shape == "ink":
        return decal
    pixels = decal.art.pixels.copy()
    pixels[..., 3] = np.rint(pixels[..., 3] * (share / 255.0)).astype(np.uint8)
    ink = ink_of(decal.art.pixels) >= FAINT
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
