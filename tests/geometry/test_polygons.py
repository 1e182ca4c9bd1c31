"""Flat areas against areas known by hand."""

from __future__ import annotations

import math

import numpy as np
import pytest

from mockup.geometry.polygons import area, hull, shared_area, union

SQUARE = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]])


def _disc(radius: float, count: int = 720) -> np.ndarray:
    angle = np.linspace(0, 2 * math.pi, count, endpoint=False)
    return radius * np.stack([np.cos(angle), np.sin(angle)], axis=1)


def test_union_counts_what_overlaps_once() -> None:
    assert area(union([SQUARE, SQUARE + 0.5])) == pytest.approx(1.75)
    assert area([SQUARE, SQUARE + 0.5]) == pytest.approx(1.75)


def test_a_hole_runs_the_other_way() -> None:
    ring = [_disc(2.0), _disc(1.0)[::-1]]
    assert area(ring) == pytest.approx(3 * math.pi, rel=1e-4)
    assert shared_area(ring, [_disc(1.5)]) == pytest.approx(1.25 * math.pi, rel=1e-4)


def test_hull_spans_its_points() -> None:
    inside = np.random.default_rng(1).uniform(0.1, 0.9, (50, 2))
    assert area([hull(np.concatenate([SQUARE, inside]))]) == pytest.approx(1.0)


def test_nothing_covers_nothing() -> None:
    line = np.array([[0.0, 0.0], [1.0, 1.0], [2.0, 2.0]])
    assert area([hull(line)]) == 0.0
    assert shared_area([SQUARE], []) == 0.0
    assert union([]) == ()


def test_two_discs_share_a_lens() -> None:
    # two circles of radius r, d apart: 2 r^2 acos(d / 2r) - d / 2 sqrt(4 r^2 - d^2)
    r, d = 2.0, 1.5
    lens = 2 * r**2 * math.acos(d / (2 * r)) - d / 2 * math.sqrt(4 * r**2 - d**2)
    assert shared_area([_disc(r)], [_disc(r) + (d, 0.0)]) == pytest.approx(lens, rel=1e-4)
