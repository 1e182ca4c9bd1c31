"""Edits of the box, read back as the layout reads it."""

from __future__ import annotations

import pytest

from mockup.layout.edit import box
from mockup.layout.edit.undo import LayoutDocument
from mockup.layout.edit.variants import shown

TEXT = """\
# mine
[box]
size = "121x66x39"  # as bought
height = 40
wall = 2.5

[variants.flat.box]
height = 35
"""


def opened() -> LayoutDocument:
    return LayoutDocument.opened(TEXT.encode(), "layout.toml")


def test_a_bought_size_takes_own_measures_away() -> None:
    after = opened().edited("b", box.bought(opened().raw, "112x60x31"))
    assert after.raw["box"] == {"size": "112x60x31"}
    assert "# mine" in after.text
    assert after.undone().text == TEXT


def test_a_measure_of_ones_own_stands_beside_the_size() -> None:
    after = opened().edited("m", box.measured(opened().raw, "width", 70.0))
    assert after.raw["box"] == {"size": "121x66x39", "height": 40, "wall": 2.5, "width": 70.0}
    draft = opened().edited("m", box.measured(opened().raw, "draft", 1.5))
    assert draft.raw["box"]["draft"] == 1.5


def test_a_measure_goes_where_the_variant_gives_it() -> None:
    after = opened().edited("m", box.measured(opened().raw, "height", 33.0, "flat"))
    assert after.raw["box"]["height"] == 40
    assert shown(after.raw, "flat")["box"]["height"] == 33.0


def test_kept_measures_are_those_that_the_layout_says() -> None:
    assert box.kept(opened().raw) == {"height", "wall"}


@pytest.mark.parametrize("size", ["92x38x31", "188x119x37"])
def test_bought_in_a_variant_alone(size: str) -> None:
    after = opened().edited("b", box.bought(opened().raw, size, "flat", is_own=True))
    assert after.raw["box"] == opened().raw["box"]
    assert shown(after.raw, "flat")["box"]["size"] == size
