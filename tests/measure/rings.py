"""Rings of art round holes: where they come to lie on the face, read off the guide that art is drawn by."""

from __future__ import annotations

import io
import math
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image
from scipy import ndimage

import mockup
from mockup.model.finish import Decal

Floats = NDArray[np.float64]
ART = "rings.png"
DPI, SIZE_MM = 300.0, (56.0, 108.0)
TABLE = f'[[decal]]\nart = "{ART}"\n'
_LEAST_MM = 5.0  # the crosses in the holes are smaller


@dataclass(frozen=True, kw_only=True)
class OffCentre:
    """How far (n,) rings lie off the middles of the holes: as drawn first, laid best, drawn anew by the new guide."""

    before: Floats
    laid: Floats
    redrawn: Floats


def blank_art(folder: Path) -> None:
    """Write clear art, on which rings would be drawn by the guide."""
    size = tuple(round(side / 25.4 * DPI) for side in SIZE_MM)
    Image.new("RGBA", size, (0, 0, 0, 0)).save(folder / ART, dpi=(DPI, DPI))


def off_centre(layout: Path, drilled: Floats) -> OffCentre:
    """Return how far rings of art lie off holes (n, 2) on the top, by the layout and its holes as built beside it."""
    plain, built = mockup.load(layout), mockup.load(layout, as_built=True)
    first, anew = _circles(plain), _circles(built)
    return OffCentre(
        before=_off(_on_face(plain.decals[0], first), drilled),
        laid=_off(_on_face(built.decals[0], first), drilled),
        redrawn=_off(_on_face(built.decals[0], anew), drilled),
    )


def _circles(design: mockup.Design) -> Floats:
    """Return the middles (n, 2) of the holes' circles on a guide, in millimetres from the art's middle."""
    (data,) = mockup.api.output("guide", design, lines="holes", output="guide.png").files.values()
    lines = np.asarray(Image.open(io.BytesIO(data)))[..., 3] > 0
    parts, _ = ndimage.label(lines, structure=np.ones((3, 3)))
    per_mm = DPI / 25.4
    found = []
    for rows, columns in ndimage.find_objects(parts):
        if rows.stop - rows.start > _LEAST_MM * per_mm:
            found.append(((columns.start + columns.stop) / 2, (rows.start + rows.stop) / 2))
    return (np.array(found) - np.array(lines.shape[::-1]) / 2) / per_mm


def _on_face(decal: Decal, at: Floats) -> Floats:
    """Return where on the face (n, 2) places on a decal, from its middle, lie; turned clockwise, v down."""
    cos, sin = math.cos(math.radians(decal.rotation_deg)), math.sin(math.radians(decal.rotation_deg))
    return at @ np.array([[cos, sin], [-sin, cos]]) + (decal.u_mm, decal.v_mm)


def _off(rings: Floats, holes: Floats) -> Floats:
    return np.array([np.hypot(*(rings - each).T).min() for each in holes])
