"""Decals as ink: which pixels print, how strongly, and where each of them lies on its face."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mockup.checks.panel.built import Built
from mockup.colour import rgb
from mockup.decal import ink_over_paint
from mockup.decal.ink_over_paint import FAINT
from mockup.decal.white_under import SOLID, white_share
from mockup.geometry.planar import axes
from mockup.memo import memoize
from mockup.model.enclosure import FaceName
from mockup.model.finding import Mark, Subject
from mockup.model.finish import Artwork, Decal
from mockup.model.mesh import Floats

Bits = NDArray[np.bool_]
Bytes = NDArray[np.uint8]

COARSE_PER_MM = 4.0  # pixels per mm where only place and size matter, a quarter of a millimetre


@dataclass(frozen=True, eq=False)
class Sheet:
    """One decal as the printer sees it: art flattened over white, in the art's own pixels."""

    decal: Decal

    @property
    def subject(self) -> Subject:
        """The decal, known by its art file."""
        return Subject(kind="decal", name=self.decal.art.name)

    @property
    def colours(self) -> Bytes:
        """Encoded sRGB (h, w, 3) of the art over white."""
        return colours_of(self.decal.art)

    @property
    def ink(self) -> Bytes:
        """How much ink (h, w): 0 for bare film to 255, by the darkest of the three channels."""
        return ink_of(self.decal.art)

    @property
    def is_ink(self) -> Bits:
        """Where ink prints (h, w), drawn white too where white lies under it."""
        return _is_ink(self.decal.art) if self._white is None else _is_ink(self.decal.art) | (self._white >= SOLID)

    @property
    def _white(self) -> Bytes | None:
        """White under what is drawn (h, w), where it is a shape that is seen beside the paint."""
        return None if self.decal.is_white_all_over else white_share(self.decal)

    @property
    def coarse(self) -> Bytes:
        """The most ink in each block of pixels, about `COARSE_PER_MM` blocks to the millimetre; see `block`."""
        ink = _coarse(self.decal.art, self.block)
        return ink if self._white is None else np.maximum(ink, most_of(self._white, self.block))

    @property
    def block(self) -> tuple[int, int]:
        """Pixels (down, across) in one block of `coarse`."""
        across, down = (max(1, round(per / COARSE_PER_MM)) for per in self.per_mm)
        return down, across

    @property
    def per_mm(self) -> tuple[float, float]:
        """Pixels per millimetre, across and down."""
        return self.decal.art.width_px / self.decal.width_mm, self.decal.art.height_px / self.decal.height_mm

    def to_face(self, xy: ArrayLike) -> Floats:
        """Map (..., 2) places in pixels (corner of the art at 0, 0) to face millimetres."""
        decal = self.decal
        half = np.array([decal.width_mm, decal.height_mm]) / 2
        out: Floats = (np.asarray(xy, np.float64) / self.per_mm - half) @ axes(decal.rotation_deg) + (
            decal.u_mm,
            decal.v_mm,
        )
        return out

    def to_px(self, uv: ArrayLike) -> Floats:
        """Map (..., 2) face millimetres to places in pixels."""
        decal = self.decal
        half = np.array([decal.width_mm, decal.height_mm]) / 2
        out: Floats = (
            (np.asarray(uv, np.float64) - (decal.u_mm, decal.v_mm)) @ axes(decal.rotation_deg).T + half
        ) * self.per_mm
        return out

    def indices(self, uv: ArrayLike) -> tuple[NDArray[np.intp], NDArray[np.intp], Bits]:
        """Return (rows, columns, is_inside) of the pixels at (..., 2) face millimetres; clipped where outside."""
        place = np.floor(self.to_px(uv)).astype(np.intp)
        x, y = place[..., 0], place[..., 1]
        width, height = self.decal.art.width_px, self.decal.art.height_px
        inside = (x >= 0) & (x < width) & (y >= 0) & (y < height)
        return np.clip(y, 0, height - 1), np.clip(x, 0, width - 1), inside

    def ink_at(self, uv: ArrayLike) -> Bytes:
        """Return the ink (...) at (..., 2) face millimetres; 0 beside the film."""
        rows, columns, inside = self.indices(uv)
        return np.asarray(np.where(inside, self.ink[rows, columns], 0).astype(np.uint8))

    def mark(self, xy: ArrayLike, radius_mm: float = 3.0) -> Mark:
        """Return a mark round a place given in pixels."""
        u, v = self.to_face(xy).tolist()
        return Mark(face=self.decal.face, u_mm=u, v_mm=v, radius_mm=radius_mm)

    def mark_whole(self) -> Mark:
        """Return a mark round the film."""
        return Mark.round(self.decal)


@memoize
def colours_of(art: Artwork) -> Bytes:
    """Return encoded sRGB (h, w, 3) of art over white."""
    return np.ascontiguousarray(ink_over_paint.flatten(art.pixels))


@memoize
def ink_of(art: Artwork) -> Bytes:
    """Return how much ink (h, w) art prints, see `ink_over_paint`."""
    return ink_over_paint.ink_of(colours_of(art))


@memoize
def _is_ink(art: Artwork) -> Bits:
    return np.asarray(ink_of(art) >= FAINT)


@memoize
def _coarse(art: Artwork, block: tuple[int, int]) -> Bytes:
    return most_of(ink_of(art), block)


def most_of(fine: Bytes, block: tuple[int, int]) -> Bytes:
    """Return the greatest value in each block of so many pixels down and across."""
    down, across = block
    rows, columns = -(-fine.shape[0] // down), -(-fine.shape[1] // across)
    padded = np.zeros((rows * down, columns * across), np.uint8)
    padded[: fine.shape[0], : fine.shape[1]] = fine
    return rgb.most(padded.reshape(rows, down, columns, across).max(axis=1))


def sheets(built: Built) -> tuple[Sheet, ...]:
    """Return the design's decals as sheets, in their order."""
    return tuple(Sheet(decal) for decal in built.design.decals)


def sheets_on(built: Built, face: FaceName) -> tuple[Sheet, ...]:
    """Return the sheets of one face, the uppermost last."""
    return tuple(sheet for sheet in sheets(built) if sheet.decal.face == face)
