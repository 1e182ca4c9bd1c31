"""The drawer comes out once each time that it is opened, and is there at once where nothing shall move."""

import pytest

from mockup.window.frame.drawer_slide import SLIDE_S, DrawerSlide


def test_it_comes_out_and_stays():
    slide = DrawerSlide()
    shares = [slide.share(is_open=True, now=10.0 + step * SLIDE_S / 4) for step in range(7)]
    assert shares[0] == 0.0
    assert shares == sorted(shares)
    assert shares[2] == pytest.approx(0.5)  # eased both ways: half the way in half the time
    assert shares[4:] == [1.0, 1.0, 1.0]


def test_it_comes_out_again_after_it_was_closed():
    slide = DrawerSlide()
    slide.share(is_open=True, now=0.0)
    assert slide.share(is_open=False, now=1.0) == 1.0
    assert slide.share(is_open=True, now=2.0) == 0.0


def test_it_goes_back_as_it_came():
    slide = DrawerSlide()
    assert slide.share(is_open=False, now=0.0) == 0.0, "it was never open"
    slide.share(is_open=True, now=1.0)
    shares = [slide.share(is_open=False, now=2.0 + step * SLIDE_S / 4) for step in range(7)]
    assert shares[0] == 1.0
    assert shares == sorted(shares, reverse=True)
    assert shares[2] == pytest.approx(0.5)
    assert shares[4:] == [0.0, 0.0, 0.0]


def test_opened_again_on_its_way_it_turns_round_where_it_is():
    slide = DrawerSlide()
    slide.share(is_open=True, now=0.0)
    slide.share(is_open=False, now=1.0)
    half = slide.share(is_open=False, now=1.0 + SLIDE_S / 2)
    assert slide.share(is_open=True, now=1.0 + SLIDE_S / 2) == half == pytest.approx(0.5)


def test_with_less_motion_it_is_there_at_once():
    assert DrawerSlide().share(is_open=True, now=0.0, seconds=0.0) == 1.0
