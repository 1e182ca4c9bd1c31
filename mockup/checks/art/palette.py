"""The colours of a sheet of art with their areas, and what each turns into over this paint."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mockup.checks.art.sheets import Bits, Bytes, Sheet, sheets
from mockup.checks.panel.built import Built
from mockup.colour import rgb
from mockup.colour.difference import ciede2000, encoded_to_lab
from mockup.decal import ink_over_paint
from mockup.decal.ink_over_paint import FAINT
from mockup.decal.painting import main_at, plain_finishes
from mockup.decal.white_under import SOLID, grounds, white_share
from mockup.memo import memoize
from mockup.model.finish import Finish
from mockup.model.material import Colour
from mockup.model.mesh import Floats, Ints

SAMPLES = 200_000  # pixels looked at, evenly spread: shares to 0.2 %
BITS = 4  # per channel, for the first sorting; colours of one box are averaged
ALIKE_DE = 6.0  # colours closer than this are one: common practice, no source
MOST = 24  # colours of one sheet, the rest is edges and shades between them


@dataclass(frozen=True, kw_only=True, eq=False)
class Shade:
    """One art colour: as drawn (encoded sRGB), its area, what it turns into over which paint, and how that differs.

    `from_film` is CIEDE2000 of the drawn colour to white; `from_paint` of the printed one to the bare
    ground; `at_edges` is the share of it that lies on the soft edges of something else; `at` (x, y) is one place of
    it in pixels.
    """

    drawn: Colour
    printed: Colour
    paint: Colour
    area_mm2: float
    share: float
    from_film: float
    from_paint: float
    at_edges: float
    at: tuple[float, float]

    @property
    def turn_deg(self) -> float:
        """How far the CIELAB hue turns, 0 to 180 degrees; 0 where either is nearly grey."""
        (_, a1, b1), (_, a2, b2) = encoded_to_lab(self.drawn).tolist(), encoded_to_lab(self.printed).tolist()
        if min(np.hypot(a1, b1), np.hypot(a2, b2)) < _GREY:
            return 0.0
        turn = np.degrees(np.arctan2(b2, a2) - np.arctan2(b1, a1))
        return float(abs((turn + 180.0) % 360.0 - 180.0))

    @property
    def chroma(self) -> tuple[float, float]:
        """CIELAB chroma as drawn and as printed."""
        one, two = (np.hypot(*encoded_to_lab(each)[1:]) for each in (self.drawn, self.printed))
        return float(one), float(two)


_GREY = 12.0  # CIELAB chroma below which a hue says little: common practice, no source


def palettes(built: Built) -> tuple[tuple[Sheet, tuple[Shade, ...]], ...]:
    """Return each sheet with its colours, the largest first."""
    return tuple((sheet, shades(built.design.finish, sheet)) for sheet in sheets(built))


@memoize
def shades(finish: Finish, sheet: Sheet) -> tuple[Shade, ...]:
    """Return the colours of one sheet over a finish, the largest first.

    Where a picture is the paint, a colour over two of its main colours is two.
    """
    height, width = sheet.ink.shape
    step = max(1, int(np.sqrt(height * width / SAMPLES)))
    rows, columns = np.meshgrid(np.arange(step // 2, height, step), np.arange(step // 2, width, step), indexing="ij")
    samples = rows.size
    is_ink = sheet.ink[rows, columns] >= FAINT
    rows, columns = rows[is_ink], columns[is_ink]
    if finish.picture is None:
        found = _shades(finish, sheet, (rows, columns), samples)
    else:
        face, places = sheet.decal.face, sheet.to_face(np.stack([columns, rows], axis=-1) + 0.5)
        number = main_at(finish.picture, finish.picture.at(face, places))
        parts = [(plain, number == each) for each, plain in enumerate(plain_finishes(finish))]
        found = [
            shade for plain, here in parts for shade in _shades(plain, sheet, (rows[here], columns[here]), samples)
        ]
    ink = len(rows) / samples
    return tuple(sorted((replace(each, share=each.share / ink) for each in found), key=lambda each: -each.area_mm2))


def _shades(finish: Finish, sheet: Sheet, at: tuple[Ints, Ints], samples: int) -> list[Shade]:
    """Return the colours at some pixels of a sheet over a finish in one colour, their shares of so many pixels."""
    rows, columns = at
    if not len(rows):
        return []
    pixels, white = sheet.colours[rows, columns], white_share(sheet.decal)
    boxes = (pixels >> (8 - BITS)).astype(np.int32) @ np.array([1 << 2 * BITS, 1 << BITS, 1])
    on_white = np.zeros(len(rows), bool) if white is None else white[rows, columns] >= SOLID
    boxes += on_white * (1 << 3 * BITS)  # a colour with white under it and without is two
    _, first, number, count = np.unique(boxes, return_index=True, return_inverse=True, return_counts=True)
    mean = np.stack([np.bincount(number, pixels[:, band]) for band in range(3)], axis=1) / count[:, None] / 255.0
    on_edge = np.bincount(number, _is_edge(sheet.ink, rows, columns)) / count
    beside, over = grounds(finish, sheet.decal)
    seen = np.where(on_white[first, None], ink_over_paint.predict(mean, over), ink_over_paint.predict(mean, beside))
    on = over if sheet.decal.is_white_all_over else beside
    bare = np.array(ink_over_paint.unprinted(on))
    if on.film is not None and not on.film.is_clear:
        bare = ink_over_paint.predict(np.ones(3), on)
    groups = _grouped(encoded_to_lab(mean), count)
    film = sheet.decal.width_mm * sheet.decal.height_mm
    found = []
    for group in groups:
        weight = count[group] / count[group].sum()
        drawn, printed = weight @ mean[group], weight @ seen[group]
        largest = group[int(np.argmax(count[group]))]
        share = float(count[group].sum()) / samples
        found.append(
            Shade(
                drawn=rgb.colour(np.clip(drawn, 0.0, 1.0)),
                printed=rgb.colour(np.clip(printed, 0.0, 1.0)),
                area_mm2=share * film,
                share=share,
                paint=finish.paint,
                from_film=float(ciede2000(encoded_to_lab(drawn), encoded_to_lab(np.ones(3)))),
                from_paint=float(ciede2000(encoded_to_lab(printed), encoded_to_lab(bare))),
                at_edges=float((count * on_edge)[group].sum() / count[group].sum()),
                at=(float(columns[first[largest]]), float(rows[first[largest]])),
            )
        )
    return found


def _is_edge(ink: Bytes, rows: Ints, columns: Ints) -> Bits:
    """Return which pixels lie between more ink on one side and less on the other, across or down."""
    height, width = ink.shape
    found = np.zeros(len(rows), bool)
    for down, across in ((0, 1), (1, 0)):
        low = ink[np.maximum(rows - down, 0), np.maximum(columns - across, 0)].astype(np.int16)
        high = ink[np.minimum(rows + down, height - 1), np.minimum(columns + across, width - 1)]
        found |= np.abs(high - low) >= FAINT
    return found


def _grouped(lab: Floats, count: NDArray[np.integer[Any]]) -> list[list[int]]:
    """Return boxes gathered round the most frequent colours, at most `MOST` groups."""
    groups: list[list[int]] = []
    left = np.ones(len(lab), bool)
    while left.any() and len(groups) < MOST:
        heart = int(np.argmax(np.where(left, count, -1)))
        near = np.flatnonzero(left & (ciede2000(lab, lab[heart]) < ALIKE_DE))
        groups.append(near.tolist())
        left[near] = False
    return groups
