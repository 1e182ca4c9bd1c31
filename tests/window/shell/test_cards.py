"""The table of rectangles against the drawn design, and what must hold in every window."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from mockup.window.shell.cards import LEAST_WINDOW, Card, cards, size_class


def test_the_wide_window_is_the_drawn_one() -> None:
    placed = cards((1280, 800))
    assert placed.size == "wide"
    assert placed.head == Card(0, 0, 1280, 56)
    assert placed.rail == Card(0, 56, 76, 736)
    assert placed.drawer is None
    assert placed.picture == Card(76, 56, 868, 692)
    assert placed.sheet == Card(952, 56, 320, 736)
    assert placed.net == Card(88, 612, 140, 124)


def test_with_a_drawer_the_picture_gives_way() -> None:
    placed = cards((1280, 800), drawer=212)
    assert placed.drawer == Card(76, 56, 212, 736)
    assert placed.picture == Card(296, 56, 648, 692)
    assert cards((1280, 800), drawer=236).picture.x == 320


def test_the_small_window_is_the_drawn_one() -> None:
    placed = cards((1024, 700))
    assert placed.size == "small"
    assert placed.picture == Card(60, 56, 660, 592)
    assert placed.sheet == Card(728, 56, 288, 636)
    opened = cards((1024, 700), drawer=212)
    assert opened.drawer == Card(60, 56, 212, 592)
    assert opened.picture == Card(280, 56, 440, 592)  # 60 + 212 + 8, to the sheet: nothing of it lies under the drawer
    assert opened.foot == placed.foot
    assert not opened.covers_picture(100, 300)


def test_in_a_tight_window_the_sheet_lies_over_the_picture() -> None:
    placed = cards((1280, 800), 2.0)
    assert placed.size == "tight"
    assert placed.rail.width == 96
    assert placed.sheet is not None
    assert placed.covers_picture(placed.sheet.x + 1, placed.sheet.y + 1)
    opened = cards((1280, 800), 2.0, drawer=212)
    assert opened.picture == placed.picture
    assert opened.covers_picture(100, 300)  # there the drawer lies over it, too
    closed = cards((1280, 800), 2.0, is_sheet_open=False)
    assert closed.sheet is None
    assert closed.picture == placed.picture


def test_a_roomy_window_has_a_wider_sheet() -> None:
    sheet = cards((1700, 900)).sheet
    assert sheet is not None
    assert sheet.width == 360


@given(
    st.integers(LEAST_WINDOW[0], 3840), st.integers(LEAST_WINDOW[1], 2160), st.sampled_from([1.0, 1.25, 1.5, 2.0]),
    st.sampled_from([0.0, 212.0, 236.0]), st.booleans(),
)  # fmt: skip
def test_cards_lie_in_the_window_and_never_on_each_other(
    width: int, height: int, scale: float, drawer: float, is_open: bool
) -> None:
    size = (round(width * scale), round(height * scale))
    placed = cards(size, scale, drawer, is_sheet_open=is_open)
    assert placed.size == size_class(size[0] / scale, size[1] / scale)
    over = {id(placed.drawer) if placed.is_drawer_over else 0, id(placed.sheet) if placed.is_sheet_over else 0}
    there = [placed.head, placed.rail, placed.drawer, placed.picture, placed.foot, placed.sheet]
    shown = [card for card in there if card is not None]
    for card in shown:
        assert card.x >= 0
        assert card.y >= 0
        assert card.right <= size[0]
        assert card.bottom <= size[1]
    flat = [card for card in shown if id(card) not in over]
    for index, one in enumerate(flat):
        for two in flat[index + 1 :]:
            apart = one.right <= two.x or two.right <= one.x or one.bottom <= two.y or two.bottom <= one.y
            assert apart, (one, two)
    assert placed.picture.width >= 200 * scale
    assert placed.picture.holds(placed.net.x, placed.net.y)
