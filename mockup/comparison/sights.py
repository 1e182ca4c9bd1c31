"""The pictures that a comparison takes, the same of every pedal, and how wide they are."""

from __future__ import annotations

from collections.abc import Sequence

from mockup.comparison.options import CompareOptions
from mockup.comparison.sheet import grid
from mockup.comparison.sheet.pages import style
from mockup.model.design import Design
from mockup.picture import framing
from mockup.picture.shots import Sight
from mockup.scene.views import VIEWS

WIDE_PX = 2560  # about how wide the pictures of a sheet are together: a large screen, our choice
MOST_PX, LEAST_PX = 1280, 360  # the longer side of one picture, if nothing else is asked for: our choice
PX_PER_MM = 4.0  # of a sheet in pixels, on which a millimetre is just a unit
SCREEN = style(text_mm=4.6, margin_mm=12.0)  # 18 pixels high
_EVEN = 2
_SHAPE = 1.25  # width over height that a sheet's pictures together come near to: a screen's, our taste


def sights(
    designs: Sequence[Design], options: CompareOptions, turns_deg: Sequence[float] = (0.0,)
) -> tuple[Sight, ...]:
    """Return the pictures to take of every design: one camera for each view, which holds them all."""
    names = tuple(dict.fromkeys(options.view))
    points = framing.extents(designs, names)
    if options.size is not None:
        sizes = dict.fromkeys(names, options.size)
    else:
        ratios = [framing.aspect(VIEWS[name], points[name], turns_deg) for name in names]
        wide = column_px(len(designs), ratios)
        sizes = {name: framing.size_at(ratio, wide) for name, ratio in zip(names, ratios, strict=True)}
    return tuple(framing.sight(name, points[name], sizes[name], turns_deg) for name in names)


def column_px(count: int, ratios: Sequence[float]) -> int:
    """Return how many pixels wide the pictures of a column are, all the same, an even number."""
    wide = min(WIDE_PX / across(count, ratios), MOST_PX * min(1.0, *ratios), MOST_PX)
    return max(LEAST_PX, round(wide / _EVEN) * _EVEN)


def across(count: int, ratios: Sequence[float]) -> int:
    """Return how many columns stand side by side on a sheet for the screen, about as wide as it is high."""
    room = WIDE_PX / PX_PER_MM
    return grid.shape(count, ratios, (room, room / _SHAPE), SCREEN).across
