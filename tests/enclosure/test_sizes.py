"""The table of sizes: names say what is in them, and every box can be made."""

from __future__ import annotations

import pytest

from mockup.enclosure.shell import shell_problem
from mockup.enclosure.sizes import SIZES, SOURCES


def test_the_six_generic_sizes_are_there() -> None:
    assert list(SIZES) == ["92x38x31", "112x60x31", "121x66x39", "119x94x34", "145x121x39", "188x119x37"]


@pytest.mark.parametrize("name", SIZES)
def test_a_name_reads_long_by_short_by_height(name: str) -> None:
    box = SIZES[name]
    assert name == f"{box.length_mm:g}x{box.width_mm:g}x{box.height_mm:g}"
    assert box.length_mm >= box.width_mm
    assert shell_problem(box) is None


def test_every_group_of_figures_names_its_source() -> None:
    fields = {field for group in SOURCES for field in group.split(", ")}
    assert fields == set(SIZES["112x60x31"].__dataclass_fields__)


@pytest.mark.parametrize("name", SIZES)
def test_figures_lie_in_the_range_of_hobby_boxes(name: str) -> None:
    """Walls 2 to 2.3 (1.9 allowed), lid 1.5 to 2, draft 1 to 2 degrees, corners 3 to 6 R, edge 1 to 2 R: practice."""
    box = SIZES[name]
    assert 1.9 <= box.wall_mm <= 2.3 and 1.9 <= box.top_mm <= 2.3
    assert 1.5 <= box.lid_mm <= 2.0
    assert 1.0 <= box.draft_deg <= 2.0
    assert 3.0 <= box.corner_mm <= 6.0
    assert 1.0 <= box.edge_mm <= 2.0
