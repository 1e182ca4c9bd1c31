"""What the tool prints into a decal by itself: drawn at the art's own resolution, over the art."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from mockup.decal.curves import Box
from mockup.decal.pictures.formats import MAX_PIXELS, MIN_SIDE_PX
from mockup.decal.pictures.vector import draw
from mockup.geometry.planar import axes
from mockup.memo import memoize
from mockup.model.enclosure import Face
from mockup.model.finish import Artwork, Decal, Film
from mockup.model.units import MM_PER_INCH

DPI = 600.0  # of a decal that the tool makes: common practice, no source
_SVG_DPI = 96.0  # draws one user unit as one pixel: CSS Values and Units Module Level 4, 6.2
_MARGIN_PX = 2  # round what is drawn, for its soft edge


@dataclass(frozen=True, kw_only=True)
class Inked:
    """Something to print: SVG in face millimetres, and the box that all its ink lies in."""

    svg: str
    box: Box


def grown(box: Box, by_mm: float) -> Box:
    """Return a box larger by `by_mm` on every side."""
    left, top, right, bottom = box
    return left - by_mm, top - by_mm, right + by_mm, bottom + by_mm


def joined(*boxes: Box) -> Box:
    """Return the box round boxes."""
    left, top, right, bottom = zip(*boxes, strict=True)
    return min(left), min(top), max(right), max(bottom)


def blank(face: Face, name: str, film: Film) -> Decal:
    """Return film over a face's flat, with nothing printed on it.

    It is `DPI` fine (less where that would be more than a picture may have) and a whole number of pixels
    large, so up to a pixel smaller than the flat.
    """
    left, top, right, bottom = face.flat
    finest = MM_PER_INCH * math.sqrt(MAX_PIXELS / ((right - left) * (bottom - top)))
    dpi = min(DPI, math.floor(finest))
    columns, rows = (
        max(MIN_SIDE_PX, math.floor(side * dpi / MM_PER_INCH + 1e-6)) for side in (right - left, bottom - top)
    )
    return Decal(
        art=Artwork(name=name, pixels=np.zeros((rows, columns, 4), np.uint8), dpi=(dpi, dpi)),
        face=face.name,
        u_mm=(left + right) / 2,
        v_mm=(top + bottom) / 2,
        width_mm=columns * MM_PER_INCH / dpi,
        height_mm=rows * MM_PER_INCH / dpi,
        film=film,
    )


def overhang(decal: Decal, box: Box) -> Box:
    """Return how far a box stands out of a decal on the left, top, right and bottom, millimetres; negative inside.

    For a turned decal the sides are the decal's own, but those of the face where it is turned by quarters.
    """
    left, top, right, bottom = box
    corners = np.array([[left, top], [right, top], [right, bottom], [left, bottom]]) - (decal.u_mm, decal.v_mm)
    quarters = round(decal.rotation_deg / 90.0)
    is_square = decal.rotation_deg % 90.0 == 0.0
    half = np.array([decal.width_mm, decal.height_mm]) / 2
    if is_square:
        half = half[::-1] if quarters % 2 else half
    else:
        corners = corners @ axes(decal.rotation_deg).T
    low, high = (-half - corners.min(axis=0)).tolist(), (corners.max(axis=0) - half).tolist()
    return low[0], low[1], high[0], high[1]


def slack_mm(decal: Decal) -> float:
    """Return how far ink may stand out of a decal unseen: half a pixel, of its soft edge."""
    return 0.5 * MM_PER_INCH / min(decal.dpi)


@memoize
def printed(decal: Decal, marks: Sequence[Inked]) -> Decal:
    """Return a decal with marks drawn into its art, pixel for pixel, later ones over earlier.

    Ink lies over the art as a layer in an image editor does: mixed in encoded sRGB by coverage. Pixels
    without new ink stay as they are. Whatever lies off the decal is lost: ask `overhang` first.
    """
    art = decal.art
    per_mm = np.array([art.width_px / decal.width_mm, art.height_px / decal.height_mm])
    to_pixels = axes(decal.rotation_deg).T * per_mm  # (2, 2): face millimetres to pixels, as rows times this
    shift = np.array([art.width_px, art.height_px]) / 2 - np.array([decal.u_mm, decal.v_mm]) @ to_pixels
    pixels = art.pixels.copy()
    matrix = " ".join(f"{each:.9g}" for each in (*to_pixels.ravel(), *shift))
    for mark in marks:  # each alone in its window: most of a decal has no lettering, and what stays is kept
        x, width, y, height = _windows(mark.box, to_pixels, shift, art)
        svg = (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}" '
            f'viewBox="{x} {y} {width} {height}"><g transform="matrix({matrix})">{mark.svg}</g></svg>'
        )
        pixels[y : y + height, x : x + width] = over(_layer(svg), pixels[y : y + height, x : x + width])
    return replace(decal, art=replace(art, pixels=pixels))


@memoize
def _layer(svg: str) -> NDArray[np.uint8]:
    """Return lettering as pixels; kept, since a part that is moved leaves that of all others as it was."""
    pixels = draw(svg.encode(), "lettering", dpi=_SVG_DPI).pixels
    pixels.flags.writeable = False
    return pixels


def _windows(
    box: Box, to_pixels: NDArray[np.float64], shift: NDArray[np.float64], art: Artwork
) -> tuple[int, int, int, int]:
    """Return the first column and count of columns, first row and count of rows that hold a box."""
    left, top, right, bottom = box
    corners = np.array([[left, top], [right, top], [right, bottom], [left, bottom]]) @ to_pixels + shift
    return *_window(corners[:, 0], art.width_px), *_window(corners[:, 1], art.height_px)


def over(layer: NDArray[np.uint8], below: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """Return pixels (h, w, 4) over others, encoded sRGB and straight alpha mixed as an image editor does."""
    is_inked = layer[..., 3] > 0
    ink, ground = layer[is_inked].astype(np.float64), below[is_inked].astype(np.float64)
    cover, through = ink[:, 3:] / 255.0, ground[:, 3:] / 255.0
    alpha = cover + through * (1.0 - cover)
    colour = (ink[:, :3] * cover + ground[:, :3] * through * (1.0 - cover)) / alpha
    result = below.copy()
    result[is_inked] = np.rint(np.concatenate([colour, alpha * 255.0], axis=1)).astype(np.uint8)
    return result


def _window(reached: NDArray[np.float64], side_px: int) -> tuple[int, int]:
    """Return the first pixel and the count of pixels that hold what is reached, at least the smallest drawing."""
    first = min(max(math.floor(reached.min()) - _MARGIN_PX, 0), side_px - MIN_SIDE_PX)
    last = max(min(math.ceil(reached.max()) + _MARGIN_PX, side_px), first + MIN_SIDE_PX)
    return first, last - first
