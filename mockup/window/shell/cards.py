"""Where the cards lie: head, rail, drawer, picture, foot and sheet, from the size of the window alone.

Pixels of the window, counted from its top left corner. Sizes are in units: one unit is one pixel at a scale of 1.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

SizeClass = Literal["wide", "small", "tight"]

GAP = 8.0
HEAD, FOOT = 56.0, 44.0
WIDE, SMALL = (1180.0, 720.0), (900.0, 620.0)  # the least window of each class: our choice
LEAST_WINDOW = (640, 400)
ROOMY = 1600.0  # from this width on the sheet is wider
RAILS: dict[SizeClass, float] = {"wide": 76.0, "small": 60.0, "tight": 48.0}
STATIONS: dict[SizeClass, float] = {"wide": 76.0, "small": 62.0, "tight": 44.0}
SHEETS: dict[SizeClass, float] = {"wide": 320.0, "small": 288.0, "tight": 288.0}
WIDEST_SHEET = 360.0
SHEET_HEAD, SHEET_ACTIONS = 64.0, 60.0
NETS: dict[SizeClass, tuple[float, float]] = {"wide": (140.0, 124.0), "small": (140.0, 124.0), "tight": (96.0, 86.0)}
NET_INSET = 12.0
QUESTION = 440.0  # width of a card that asks


@dataclass(frozen=True)
class Card:
    """A rectangle of the window: its top left corner, its width and its height, whole pixels."""

    x: int
    y: int
    width: int
    height: int

    @property
    def right(self) -> int:
        """The first pixel right of it."""
        return self.x + self.width

    @property
    def bottom(self) -> int:
        """The first pixel under it."""
        return self.y + self.height

    def holds(self, x: float, y: float) -> bool:
        """Return whether a place lies in it."""
        return self.x <= x < self.right and self.y <= y < self.bottom


@dataclass(frozen=True, kw_only=True)
class Cards:
    """The rectangles of one window; `drawer` and `sheet` are None while they are closed.

    Where `is_drawer_over` or `is_sheet_over` they lie over the picture.
    """

    size: SizeClass
    window: Card
    head: Card
    rail: Card
    drawer: Card | None
    picture: Card
    foot: Card
    sheet: Card | None
    net: Card
    is_drawer_over: bool = False
    is_sheet_over: bool = False

    def covers_picture(self, x: float, y: float) -> bool:
        """Return whether a card lies over the picture at a place."""
        over = (self.drawer if self.is_drawer_over else None, self.sheet if self.is_sheet_over else None)
        return any(card is not None and card.holds(x, y) for card in over)


def size_class(width: float, height: float) -> SizeClass:
    """Return how large a window of so many units is."""
    if width >= WIDE[0] and height >= WIDE[1]:
        return "wide"
    return "small" if width >= SMALL[0] and height >= SMALL[1] else "tight"


def is_tight(size_px: tuple[int, int], scale: float = 1.0) -> bool:
    """Return whether a window of a size in pixels has room for the drawer or the sheet over its picture, not both."""
    return size_class(size_px[0] / scale, size_px[1] / scale) == "tight"


def cards(
    size_px: tuple[int, int],
    scale: float = 1.0,
    drawer: float = 0.0,
    *,
    is_sheet_open: bool = True,
    is_page: bool = False,
) -> Cards:
    """Return where the cards lie in a window of a size in pixels.

    `drawer` is the width of the open drawer in units, 0 for a closed one. `is_sheet_open` counts in a tight window
    alone, where the sheet lies over the picture. `is_page` says that a page stands over the picture, which then need
    not give way.
    """
    width, height = size_px[0] / scale, size_px[1] / scale
    size = size_class(width, height)
    rail, sheet = RAILS[size], WIDEST_SHEET if width >= ROOMY else SHEETS[size]
    is_over = size == "tight" or (size == "small" and is_page)  # else the picture gives way, not to hide half of it
    left = rail + (drawer + GAP if drawer and not is_over else 0.0)
    foot = left if size == "wide" else rail  # all its words need the room of rail and drawer in a small window
    right = width - GAP - (sheet + GAP if size != "tight" else 0.0)
    low, tall = HEAD, height - HEAD - GAP
    picture_tall = tall - FOOT
    net = NETS[size]
    has_sheet = size != "tight" or is_sheet_open
    place = _Places(scale)
    net_left = left + (drawer + GAP if drawer and is_over else 0.0) + NET_INSET
    return Cards(
        size=size,
        window=Card(0, 0, *size_px),
        head=place.card(0, 0, width, HEAD),
        rail=place.card(0, low, rail, tall),
        drawer=place.card(rail, low, drawer, tall if size == "wide" else picture_tall) if drawer else None,
        picture=place.card(left, low, right - left, picture_tall),
        foot=place.card(foot, height - FOOT, right - foot, FOOT),
        sheet=place.card(width - GAP - sheet, low, sheet, picture_tall if size == "tight" else tall)
        if has_sheet
        else None,
        net=place.card(net_left, low + picture_tall - NET_INSET - net[1], *net),
        is_drawer_over=is_over,
        is_sheet_over=size == "tight",
    )  # fmt: skip


class _Places:
    """Rounds edges, not widths, so that what touches in units touches in pixels."""

    def __init__(self, scale: float) -> None:
        self._scale = scale

    def card(self, x: float, y: float, width: float, height: float) -> Card:
        left, top = round(x * self._scale), round(y * self._scale)
        right, low = round((x + width) * self._scale), round((y + height) * self._scale)
        return Card(left, top, max(right - left, 16), max(low - top, 16))
