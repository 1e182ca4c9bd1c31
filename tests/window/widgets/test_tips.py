"""Where tips stand: beside the card of their control, inside the window."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mockup.window.shell.cards import Card, cards
from mockup.window.widgets.tips import Tip, place

WINDOW = (1280.0, 800.0)
PLACED = cards((1280, 800))


@pytest.mark.parametrize(
    ("card", "side"), [(PLACED.rail, "right"), (PLACED.sheet, "left"), (PLACED.head, "below"), (PLACED.foot, "above")]
)
def test_a_tip_covers_nothing_of_its_card(card: Card, side: str) -> None:
    control = (card.x + 5.0, card.y + 5.0, card.x + 40.0, card.y + 30.0)
    x, y = place(Tip(text="", control=control, card=card, side=side), (150.0, 24.0), WINDOW, 6.0)  # type: ignore[arg-type]
    assert x >= card.right or x + 150 <= card.x or y >= card.bottom or y + 24 <= card.y


@given(st.floats(0, 1240), st.floats(0, 780), st.sampled_from(["right", "left", "below", "above"]))
def test_a_tip_stays_in_the_window(x: float, y: float, side: str) -> None:
    tip = Tip(text="", control=(x, y, x + 30, y + 20), card=Card(0, 0, 1280, 800), side=side)  # type: ignore[arg-type]
    left, top = place(tip, (220.0, 28.0), WINDOW, 6.0)
    assert 0 <= left <= 1280 - 220
    assert 0 <= top <= 800 - 28
