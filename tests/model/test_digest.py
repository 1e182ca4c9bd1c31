"""Digests: equal content, equal name; any difference, another name; the same in every process."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import dataclass, replace

import numpy as np
import pytest

import mockup
from mockup.finishes import sheens
from mockup.model.digest import digest


@dataclass(frozen=True, kw_only=True, eq=False)
class Thing:
    """A frozen thing compared by identity."""

    pixels: np.ndarray
    name: str = "a"


def test_equal_content_has_one_name_and_any_difference_another() -> None:
    first, second = (Thing(pixels=np.arange(6, dtype=np.uint8).reshape(2, 3)) for _ in range(2))
    assert digest(first) == digest(second)
    others = [
        first,
        replace(first, name="b"),
        replace(first, pixels=first.pixels.reshape(3, 2)),
        replace(first, pixels=first.pixels.astype(np.int8)),
        replace(first, pixels=first.pixels + 1),
        first.pixels,
        (first, None),
        1,
        1.0,
        True,
        "1",
        b"1",
        None,
        (1, 2),
        ((1,), 2),
        {"a": 1, "b": 2},
        {"a": 2, "b": 1},
        frozenset({1, 2}),
        0.1 + 0.2,
        0.3,
    ]
    assert len({digest(each) for each in others}) == len(others)
    assert digest({"a": 1, "b": 2}) == digest({"b": 2, "a": 1})
    assert digest(np.float64(0.3)) == digest(0.3)


def test_a_slice_counts_as_what_it_shows() -> None:
    whole = np.arange(24, dtype=np.uint8).reshape(4, 6)
    assert digest(whole[:, ::2]) == digest(whole[:, ::2].copy())
    assert digest(np.array(3.0)) != digest(np.array([3.0]))


def test_what_it_does_not_know_it_refuses() -> None:
    with pytest.raises(TypeError, match="generator"):
        digest(each for each in (1, 2))


def test_a_design_has_the_same_name_in_another_process() -> None:
    code = (
        "import mockup; from mockup.model.digest import digest;"
        "print(digest(mockup.load('examples/night_ferry/layout.toml')))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    design = mockup.load("examples/night_ferry/layout.toml")
    assert done.stdout.strip() == digest(design)
    assert digest(replace(design, finish=replace(design.finish, sheen=sheens()["matte"]))) != digest(design)
