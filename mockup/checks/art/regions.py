"""Small separate pieces of art near parts: marks, symbols, words that are no rows of letters."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from scipy import ndimage

from mockup.checks.art.guide_layer import guide_lines
from mockup.checks.art.lettering import pieces
from mockup.checks.art.sheets import Bits, Sheet, sheets
from mockup.checks.panel.built import Built
from mockup.decal.ink_over_paint import FAINT
from mockup.memo import memoize
from mockup.model.enclosure import FaceName
from mockup.model.finding import Mark, Subject
from mockup.model.mesh import Floats

# What is compact, and near: common practice, no source.
LEAST_MM, MOST_MM = 1.2, 22.0  # longer side of its box
LEAST_INK_MM2 = 1.0
NEAR_MM = 18.0  # from its middle to a part's axis
JOIN_MM = 0.5  # ink closer than this belongs together


@dataclass(frozen=True, eq=False)
class Region:
    """One piece of ink: `ink` (h, w) is its cells; `corner` (column, row) is where they start in the coarse grid."""

    sheet: Sheet
    ink: Bits
    corner: tuple[int, int]

    @property
    def face(self) -> FaceName:
        """The face that it lies on."""
        return self.sheet.decal.face

    @property
    def box(self) -> Floats:
        """Corners (4, 2) of its box in face millimetres."""
        rows, columns = self.ink.shape
        down, across = self.sheet.block
        cells = np.array([[0, 0], [columns, 0], [columns, rows], [0, rows]]) + np.array(self.corner)
        return self.sheet.to_face(cells * (across, down))

    def to_cells(self, uv: Floats) -> Floats:
        """Map face millimetres (n, 2) to the region's own cells."""
        down, across = self.sheet.block
        return self.sheet.to_px(uv) / (across, down) - self.corner - 0.5

    @property
    def middle(self) -> tuple[float, float]:
        """Middle of its box in face millimetres."""
        u, v = self.box.mean(axis=0).tolist()
        return u, v

    @property
    def size_mm(self) -> tuple[float, float]:
        """Width and height in the art's own directions."""
        rows, columns = self.ink.shape
        (down, across), (x, y) = self.sheet.block, self.sheet.per_mm
        return columns * across / x, rows * down / y

    @property
    def subject(self) -> Subject:
        """It, known by its place."""
        u, v = self.middle
        return Subject(kind="art", face=self.face, u_mm=u, v_mm=v)

    @property
    def mark(self) -> Mark:
        """A circle round it."""
        u, v = self.middle
        return Mark(face=self.face, u_mm=u, v_mm=v, radius_mm=math.hypot(*self.size_mm) / 2)


def regions(built: Built) -> tuple[Region, ...]:
    """Return compact pieces of ink near parts that are no lettering, on faces without declared labels."""
    settled = {label.face for label in built.design.labels}
    return tuple(
        region
        for sheet in sheets(built)
        if sheet.decal.face not in settled and not guide_lines(built, sheet.decal.face)
        for region in _of_sheet(sheet)
        if _is_near_part(built, region) and not _is_lettering(built, region)
    )


@memoize
def _of_sheet(sheet: Sheet) -> tuple[Region, ...]:
    found = []
    is_ink = sheet.coarse >= 2 * FAINT
    (down, across), (x, y) = sheet.block, sheet.per_mm
    cell = across / x, down / y
    wide, tall = (max(0, math.ceil(JOIN_MM / 2 / side)) for side in cell)
    joined = ndimage.maximum_filter(is_ink, size=(2 * tall + 1, 2 * wide + 1))
    names, _ = ndimage.label(joined, np.ones((3, 3), bool))
    for number, (rows, columns) in enumerate(ndimage.find_objects(names), start=1):
        size = (columns.stop - columns.start) * cell[0], (rows.stop - rows.start) * cell[1]
        if not LEAST_MM <= max(size) <= MOST_MM:
            continue
        own = is_ink[rows, columns] & (names[rows, columns] == number)
        if own.sum() * cell[0] * cell[1] >= LEAST_INK_MM2:
            found.append(Region(sheet, own, (columns.start, rows.start)))
    return tuple(found)


def _is_near_part(built: Built, region: Region) -> bool:
    u, v = region.middle
    return any(
        part.face == region.face and math.hypot(part.u_mm - u, part.v_mm - v) <= NEAR_MM
        for part in built.design.parts
        if part.kind.mount == "panel"
    )


def _is_lettering(built: Built, region: Region) -> bool:
    low, high = region.box.min(axis=0), region.box.max(axis=0)
    for piece in pieces(built):
        first, last = piece.box(0.3).min(axis=0), piece.box(0.3).max(axis=0)
        if piece.label.face == region.face and (first < high).all() and (last > low).all():
            return True
    return False
