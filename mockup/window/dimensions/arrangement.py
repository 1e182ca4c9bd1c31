"""Where a drawing, its dimension lines and its number fields stand on the screen; nothing here draws.

All results are in units of the window (pixels at scale 1) from the drawing's top left corner.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from mockup.window.dimensions.rows import spread
from mockup.window.dimensions.sketch import Dimension, Point, Side, Sketch

FIELD = (72.0, 28.0)
"""Width and height of a field: room for "888.88" at any size of type; by eye."""
GAP = 6.0  # between two fields, and between a dimension line and its field: by eye
CAPTION = 18.0  # height of the words over a field without a line: by eye
_BESIDE = 12.0  # from the drawing to a dimension line beside it: by eye
_LEVEL = 10.0  # between two dimension lines beside each other: by eye
_CLEAR = 14.0  # least from the drawing to a field: by eye
_SIDES: tuple[Side, ...] = ("left", "right", "top", "bottom")


@dataclass(frozen=True, kw_only=True)
class Field:
    """A number's place: its field's left, top, width and height, and its measured line.

    `line` is the line with end ticks, `leader` the way from it to the field, `extensions` the thin lines from the
    drawing to a line beside it.
    """

    dimension: Dimension
    box: tuple[float, float, float, float]
    line: tuple[Point, ...] = ()
    leader: tuple[Point, ...] = ()
    extensions: tuple[tuple[Point, Point], ...] = ()


@dataclass(frozen=True, kw_only=True)
class Arrangement:
    """A drawing laid out: `size` is the room it takes, `scale` units per millimetre, `origin` where (0, 0) mm lies.

    `frame` is the drawing's own left, top, right and bottom.
    """

    size: tuple[float, float]
    scale: float
    origin: Point
    frame: tuple[float, float, float, float]
    fields: tuple[Field, ...] = ()

    def at(self, point: Point) -> Point:
        """Return where a point of the drawing in millimetres stands."""
        return self.origin[0] + point[0] * self.scale, self.origin[1] + point[1] * self.scale


def arrange(sketch: Sketch, wide: float, tall: float, *, field: tuple[float, float] = FIELD) -> Arrangement:
    """Lay a drawing out in a width; the drawing itself becomes at most `tall` high.

    Fields at one side are pushed apart until none covers another; the drawing stands in the middle of what the
    margins leave.
    """
    left, top, right, bottom = sketch.bounds
    here = {side: [each for each in sketch.dimensions if each.side == side] for side in _SIDES}
    margin = {side: _margin(here[side], side, field) for side in _SIDES}
    room = max(wide - margin["left"] - margin["right"], 24.0)
    scale = min(room / max(right - left, 1e-6), tall / max(bottom - top, 1e-6))
    drawn = ((right - left) * scale, (bottom - top) * scale)
    body = max(drawn[1], *(_stack(here[side], field[1]) for side in ("left", "right")))
    x0, y0 = margin["left"] + (room - drawn[0]) / 2, margin["top"] + (body - drawn[1]) / 2
    bare = Arrangement(
        size=(wide, margin["top"] + body + margin["bottom"]),
        scale=scale,
        origin=(x0 - left * scale, y0 - top * scale),
        frame=(x0, y0, x0 + drawn[0], y0 + drawn[1]),
    )
    placed: dict[str, Field] = {}
    for side in _SIDES:
        span = (margin["top"], margin["top"] + body) if side in ("left", "right") else (0.0, wide)
        placed |= {each.dimension.name: each for each in _side(bare, here[side], side, span, field)}
    return replace(bare, fields=tuple(placed[each.name] for each in sketch.dimensions))


def levels(dimensions: Sequence[Dimension]) -> dict[str, int]:
    """Return how far out each line beside the drawing stands: 0 next to it; short ones inside long ones."""
    found: dict[str, int] = {}
    spans: dict[str, tuple[float, float]] = {}
    for each in dimensions:
        if each.is_beside and each.start is not None and each.end is not None:
            axis = 1 if each.is_upright else 0
            low, high = sorted((each.start[axis], each.end[axis]))
            spans[each.name] = (low, high)
    for name, (low, high) in sorted(spans.items(), key=lambda item: item[1][1] - item[1][0]):
        over = {found[other] for other in found if spans[other][0] < high - 1e-9 and low < spans[other][1] - 1e-9}
        found[name] = next(level for level in range(len(spans)) if level not in over)
    return found


def _margin(here: Sequence[Dimension], side: Side, field: tuple[float, float]) -> float:
    if not here:
        return 0.0
    out = levels(here)
    clear = _BESIDE + _LEVEL * max(out.values()) + GAP if out else _CLEAR
    if side in ("left", "right"):
        return clear + field[0]
    return clear + field[1] + max(CAPTION if each.caption else 0.0 for each in here)


def _stack(here: Sequence[Dimension], tall: float) -> float:
    return sum(tall + (CAPTION if each.caption else 0.0) for each in here) + GAP * max(len(here) - 1, 0)


def _side(
    bare: Arrangement, here: Sequence[Dimension], side: Side, span: tuple[float, float], field: tuple[float, float]
) -> list[Field]:
    """Lay out the fields of one side, which have `span` to stand in."""
    is_across = side in ("left", "right")
    out = levels(here)
    wanted, sizes = [], []
    for each in here:
        caption = CAPTION if each.caption else 0.0
        sizes.append(field[1] + caption if is_across else field[0])
        middle = _middle(bare, each, span)
        wanted.append(middle[1] - caption / 2 if is_across else middle[0])
    places = spread(wanted, sizes, *span, gap=GAP)
    return [_field(bare, each, out.get(each.name, 0), at, field) for each, at in zip(here, places, strict=True)]


def _middle(bare: Arrangement, each: Dimension, span: tuple[float, float]) -> Point:
    """Return where a field wants to be: at its line, else at the lower end of its side."""
    if each.start is None or each.end is None:
        return (bare.frame[0] + bare.frame[2]) / 2, span[1]
    a, b = bare.at(each.start), bare.at(each.end)
    return (a[0] + b[0]) / 2, (a[1] + b[1]) / 2


def _field(bare: Arrangement, each: Dimension, level: int, at: float, field: tuple[float, float]) -> Field:
    wide, tall = field
    caption = CAPTION if each.caption else 0.0
    if each.side in ("left", "right"):
        x = 0.0 if each.side == "left" else bare.size[0] - wide
        box = (x, at - tall / 2 + caption / 2, wide, tall)
        mouth: Point = (x + wide if each.side == "left" else x, box[1] + tall / 2)
    else:
        y = caption if each.side == "top" else bare.size[1] - tall
        box = (at - wide / 2, y, wide, tall)
        mouth = (at, y + tall if each.side == "top" else y - caption)
    if each.start is None or each.end is None:
        return Field(dimension=each, box=box)
    a, b = bare.at(each.start), bare.at(each.end)
    if not each.is_beside:
        near = min((a, b), key=lambda end: abs(end[0] - mouth[0]) + abs(end[1] - mouth[1]))
        return Field(dimension=each, box=box, line=(a, b), leader=(near, mouth))
    left, top, right, bottom = bare.frame
    away = _BESIDE + _LEVEL * level
    edge = {"left": left - away, "right": right + away, "top": top - away, "bottom": bottom + away}[each.side]
    ends = ((edge, a[1]), (edge, b[1])) if each.is_upright else ((a[0], edge), (b[0], edge))
    middle = ((ends[0][0] + ends[1][0]) / 2, (ends[0][1] + ends[1][1]) / 2)
    return Field(dimension=each, box=box, line=ends, leader=(middle, mouth), extensions=((a, ends[0]), (b, ends[1])))
