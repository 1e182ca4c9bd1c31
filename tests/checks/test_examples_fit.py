"""The examples and the starter project are pedals that can be built: nothing in them stops or warns."""

from __future__ import annotations

from pathlib import Path

import pytest

import mockup
from mockup.checks.report.sentences import what

pytestmark = pytest.mark.slow

FIT = [
    "bodies",
    "drill-sizes",
    "hole-edges",
    "knob-gaps",
    "knob-overlaps",
    "plug-bodies",
    "plug-tips",
    "seats",
    "shoe-room",
    "webs",
]
EXAMPLES = ("copper_kettle", "lantern_moth", "night_ferry")


def bad(layout: Path, variant: str | None = None) -> list[str]:
    found = mockup.check(mockup.load(layout, variant), FIT)
    return [f"{each.severity} {each.check}: {what(each, 'mm')}" for each in found if each.severity != "note"]


@pytest.mark.parametrize("name", EXAMPLES)
def test_an_example_fits(name: str, examples: Path) -> None:
    layout = examples / name / "layout.toml"
    for variant in (None, *mockup.variants(layout)):
        assert not bad(layout, variant)


def test_a_new_project_fits(tmp_path: Path) -> None:
    mockup.new(tmp_path / "fresh")
    assert not bad(tmp_path / "fresh" / "layout.toml")
