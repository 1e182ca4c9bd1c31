"""The first walk: each card waits for its own deed, and stands beside its place inside the window."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mockup.window.frame.walk_steps import STEPS, Glance, beside, is_done

BARE = Glance()
TAKEN = Glance(parts=(("LEVEL", "top", 20.0, 20.0),), naming="LEVEL")
NAMED = replace(TAKEN, parts=(("FLOW", "top", 20.0, 20.0),), naming=None)
MOVED = replace(NAMED, parts=(("FLOW", "top", 30.0, 20.0),))
STORY = (BARE, TAKEN, NAMED, MOVED, replace(MOVED, station="check"), replace(MOVED, station="take-away"))


def test_the_story_takes_every_card_once():
    for step, before, now in zip(STEPS, STORY[:-1], STORY[1:], strict=True):
        assert not is_done(step, before, before), step.name
        assert is_done(step, before, now), step.name


def test_a_name_is_no_move():
    move = next(step for step in STEPS if step.name == "move")
    assert not is_done(move, NAMED, replace(NAMED, parts=(("BANK", "top", 20.0, 20.0),)))


@pytest.mark.parametrize("window", [(0, 0, 1280, 800), (0, 0, 640, 400)])
@given(x=st.floats(0, 1280), y=st.floats(0, 800), wide=st.floats(4, 300), tall=st.floats(4, 100))
def test_a_card_stays_in_the_window_and_off_its_place_where_there_is_room(window, x, y, wide, tall):
    x, y = min(x, window[2] - wide), min(y, window[3] - tall)
    target, size, gap = (x, y, x + wide, y + tall), (288.0, 130.0), 14.0
    left, top = beside(target, size, window, gap)
    assert window[0] <= left and left + size[0] <= window[2]
    assert window[1] <= top and top + size[1] <= window[3]
    has_room = max(x, window[2] - x - wide) >= size[0] + 2 * gap
    if has_room:
        assert left + size[0] <= x or left >= x + wide or top + size[1] <= y or top >= y + tall
