"""The front door's areas: inside the window, apart from each other, in every class of window."""

import itertools
from datetime import date, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mockup.enclosure.sizes import SIZES
from mockup.window.front.box_row import GAP, row
from mockup.window.front.places import front_places
from mockup.window.shell.cards import LEAST_WINDOW
from mockup.window.shell.days import day_words

WINDOWS = [(1280, 800), (1180, 720), (1024, 700), (900, 620), LEAST_WINDOW, (1920, 1080)]


def apart(one, two):
    return one.right <= two.x or two.right <= one.x or one.low <= two.y or two.low <= one.y


@pytest.mark.parametrize("size", WINDOWS, ids=str)
@pytest.mark.parametrize(("recent", "has_all"), [(0, False), (1, False), (12, False), (12, True), (0, True)])
@pytest.mark.parametrize("is_list", [False, True])
def test_nothing_lies_over_anything_else(size, recent, has_all, is_list):
    places = front_places(size, recent, 15, has_all_recent=has_all, has_all_examples=has_all, is_list=is_list)
    rows = [each for each in (places.bench, places.finished) if each is not None]
    outer = [places.head, places.start, *places.cards, *places.examples, places.foot]
    for one, two in itertools.combinations(outer, 2):
        assert apart(one, two), (one, two)
    assert apart(places.boxes, places.form)
    for each in (*outer, places.boxes, places.form, *rows):
        assert each.x >= 0
        assert each.right <= size[0]
    for inner in (places.boxes, places.form):
        assert places.start.x <= inner.x and inner.right <= places.start.right
        assert places.start.y <= inner.y and inner.low <= places.start.low
    if has_all:
        assert (len(places.cards), len(places.examples)) == (recent, 15)
    assert len(places.examples) >= 1


def test_a_usual_window_shows_four_pedals_and_three_finished_ones_without_scrolling():
    places = front_places((1280, 800), 6, 15)
    assert (len(places.cards), len(places.examples)) == (4, 3)
    assert places.foot.low <= 800
    assert not places.is_one_column
    assert front_places((640, 400), 6, 15).is_one_column


@given(
    wide=st.floats(500, 1400), tall=st.floats(80, 400),
    own=st.tuples(st.floats(30, 400), st.floats(20, 400)),
)  # fmt: skip
def test_boxes_stand_to_one_scale_side_by_side(wide, tall, own):
    from mockup.model.enclosure import Enclosure

    boxes = [*SIZES.items(), ("own", Enclosure(length_mm=own[0], width_mm=own[1], height_mm=30))]
    laid = row(boxes, wide, tall, beside=70.0)
    for (name, box), place in zip(boxes, laid.places, strict=True):
        assert place.name == name
        assert place.wide == pytest.approx(box.width_mm * laid.scale)
        assert place.tall == pytest.approx(box.length_mm * laid.scale)
        assert place.tall <= tall + 1e-6
    for one, two in itertools.pairwise(laid.places):
        assert two.left >= one.left + one.wide + GAP - 1e-6 or laid.scale == 0.05
    if laid.scale > 0.05:
        assert laid.places[-1].left + laid.places[-1].wide <= wide + 1e-6


@pytest.mark.parametrize(
    ("then", "words"),
    [
        (datetime(2026, 11, 28, 14, 20), "today, 14:20"),
        (datetime(2026, 11, 27, 23, 59), "yesterday"),
        (datetime(2026, 11, 12, 8, 0), "12 November"),
        (datetime(2025, 12, 1, 8, 0), "1 December 2025"),
    ],
)
def test_days_are_said_as_one_says_them(then, words):
    assert day_words(then, date(2026, 11, 28)) == words
