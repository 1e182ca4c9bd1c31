"""Dashes cut from a line by length."""

from __future__ import annotations

import itertools
import math

import pytest

from mockup.window.dimensions.lines import CHAIN, dashes, ticks


def length(points: tuple[tuple[float, float], ...]) -> float:
    return sum(math.dist(a, b) for a, b in itertools.pairwise(points))


def test_dashes_of_a_straight_line() -> None:
    assert dashes([(0, 0), (12, 0)], (5, 4)) == [((0, 0), (5, 0)), ((9, 0), (12, 0))]


def test_a_dash_goes_round_a_corner() -> None:
    pieces = dashes([(0, 0), (3, 0), (3, 10)], (5, 4))
    assert pieces[0] == ((0, 0), (3, 0), (3, 2))
    assert pieces[1] == ((3, 6), (3, 10))


def test_a_chain_line_has_long_and_short_dashes() -> None:
    pieces = dashes([(0, 0), (25, 0)], CHAIN)
    assert [length(piece) for piece in pieces] == pytest.approx([14, 3])


def test_a_closed_line_comes_back() -> None:
    pieces = dashes([(0, 0), (10, 0), (10, 10), (0, 10)], (40, 1), is_closed=True)
    assert length(pieces[0]) == pytest.approx(40)


def test_points_that_fall_together_are_no_trouble() -> None:
    assert dashes([(1, 1), (1, 1)], (5, 4)) == [((1, 1), (1, 1))]
    assert dashes([], (5, 4)) == []


def test_ticks_stand_across_the_ends() -> None:
    assert ticks((0, 0), (10, 0), 6) == [((0, -3), (0, 3)), ((10, -3), (10, 3))]
    assert ticks((1, 1), (1, 1), 6) == []
