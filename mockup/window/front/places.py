"""Where everything of the front door lies, from the size of the window alone. Units, from the top left corner."""

from __future__ import annotations

from dataclasses import dataclass

from mockup.window.shell.cards import size_class

HEAD = 92.0
START_TALL, LOW_START_TALL = 356.0, 304.0  # of the card that starts a pedal, and where the window is low
FORM_WIDE, NARROW_FORM_WIDE = 288.0, 248.0
_LIST_TALL = 424.0  # with a list in three columns
INSET = 24.0
ROW_GAP = 12.0
CARD, EXAMPLE = (160.0, 180.0), (148.0, 146.0)
PRINT_TALL = 120.0  # of the picture on a card
_TITLE_TALL = 36.0  # of the line over a row of cards
_FOOT_TALL = 56.0
_NARROW_BOXES, _NARROW_LIST = 176.0, 360.0  # height of boxes and of a list where the card has one column


@dataclass(frozen=True)
class Area:
    """A rectangle in units."""

    x: float
    y: float
    wide: float
    tall: float

    @property
    def right(self) -> float:
        """Its right edge."""
        return self.x + self.wide

    @property
    def low(self) -> float:
        """Its lower edge."""
        return self.y + self.tall


@dataclass(frozen=True, kw_only=True)
class FrontPlaces:
    """The front door's areas; `cards` and `examples` are as many as fit, or all of them where all are asked for."""

    head: Area
    start: Area
    boxes: Area
    form: Area
    is_one_column: bool
    bench: Area | None
    cards: tuple[Area, ...]
    finished: Area
    examples: tuple[Area, ...]
    foot: Area


def front_places(
    size: tuple[float, float],
    recent: int,
    examples: int,
    *,
    has_all_recent: bool = False,
    has_all_examples: bool = False,
    is_list: bool = False,
) -> FrontPlaces:
    """Return the areas in a window of (width, height) units, with so many pedals on the bench and so many examples.

    `is_list` where the card holds a list of controls, which takes more room than the boxes do.
    """
    width, height = size
    kind = size_class(width, height)
    margin = {"wide": 40.0, "small": 24.0, "tight": 16.0}[kind]
    wide = width - 2 * margin
    is_one_column = kind == "tight"
    head = Area(margin, 0.0, wide, HEAD if not is_one_column else 64.0)
    if is_one_column:
        inner = wide - 2 * INSET
        boxes = Area(margin + INSET, head.low + 44.0, inner, _NARROW_LIST if is_list else _NARROW_BOXES)
        form = Area(margin + INSET, boxes.low + 24.0, inner, 284.0)
        start = Area(margin, head.low, wide, form.low + 16.0 - head.low)
    else:
        tall = (
            _LIST_TALL if is_list and kind == "small" else START_TALL if height >= 780.0 or is_list else LOW_START_TALL
        )
        start = Area(margin, head.low, wide, tall)
        form_wide = FORM_WIDE if kind == "wide" else NARROW_FORM_WIDE
        form = Area(start.right - INSET - form_wide, start.y + 22.0, form_wide, start.tall - 46.0)
        boxes = Area(start.x + INSET, start.y + 56.0, form.x - 2 * INSET - 4.0 - start.x - INSET, start.tall - 80.0)
    top = start.low + 20.0
    is_beside = not is_one_column and recent > 0 and not has_all_examples and not has_all_recent
    shown = _fitting(wide * 0.58 if is_beside else wide, CARD[0]) if not has_all_recent else recent
    cards = _grid(margin, top + _TITLE_TALL, wide, CARD, min(recent, shown))
    bench = Area(margin, top, wide, _TITLE_TALL) if recent else None
    left, low = margin, cards[-1].low if cards else top
    if is_beside:
        left, example_top = margin + _row_wide(max(min(4, shown), len(cards)), CARD[0]) + 52.0, top
    else:
        example_top = low + 20.0 if cards else top
    room = margin + wide - left
    fit = examples if has_all_examples else min(examples, _fitting(room, EXAMPLE[0]))
    found = _grid(left, example_top + _TITLE_TALL, room, EXAMPLE, fit)
    end = max([low, *(each.low for each in found)])
    foot = Area(margin, max(end + 8.0, height - _FOOT_TALL - 8.0), wide, _FOOT_TALL)
    return FrontPlaces(
        head=head, start=start, boxes=boxes, form=form, is_one_column=is_one_column, bench=bench, cards=cards,
        finished=Area(left, example_top, room, _TITLE_TALL), examples=found, foot=foot,
    )  # fmt: skip


def _fitting(room: float, wide: float) -> int:
    return max(int((room + ROW_GAP) // (wide + ROW_GAP)), 1)


def _row_wide(count: int, wide: float) -> float:
    return count * wide + (count - 1) * ROW_GAP


def _grid(left: float, top: float, room: float, size: tuple[float, float], count: int) -> tuple[Area, ...]:
    across = _fitting(room, size[0])
    return tuple(
        Area(left + index % across * (size[0] + ROW_GAP), top + index // across * (size[1] + ROW_GAP), *size)
        for index in range(count)
    )
