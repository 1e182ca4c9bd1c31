"""The limits file: complete, sourced, and with the published human-factors figures in it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from mockup.checks import CHECKS
from mockup.checks.report.rows import overrides, row
from mockup.limits import limits, usual

SOURCED = re.compile(
    r"common practice, no source|from memory|as quoted|measured on|"
    r"\b(MIL-STD|WCAG|ISO|IEC|CIE|DOD|NUREG|ASME|DIN)[ -]?\d?"
)


@pytest.mark.parametrize("name", usual())
def test_a_limit_says_what_it_is_and_where_it_comes_from(name: str) -> None:
    limit = usual()[name]
    assert SOURCED.search(limit.source), limit.source
    assert len(limit.about) > 15
    assert not limit.about.endswith(".")
    assert not name.endswith("_mm") or limit.unit == "mm"


def test_every_limit_is_used_by_a_check_or_by_the_room_that_checks_read() -> None:
    package = Path(__file__).parents[2] / "mockup"
    files = [package / "limits.py", *(package / "checks").rglob("*.py"), *(package / "clearance").rglob("*.py")]
    code = "".join(path.read_text() for path in files)
    plugs = {f"{kind}_plug{more}_mm" for kind in ("jack", "dc", "din") for more in ("", "_length")}  # put together
    assert {name for name in usual() if f'"{name}"' not in code} - plugs == set()


@pytest.mark.parametrize(
    ("name", "published"),
    [
        ("knob_advice_mm", 25.0),  # MIL-STD-1472 Figure 7, fingertip knobs, one hand, least separation: from memory
        ("toggle_advice_mm", 19.0),  # MIL-STD-1472E Table VII (p. 44), toggle to continuous rotary, one hand
        ("switch_advice_mm", 50.0),  # MIL-STD-1472 pedals, sequential, edge to edge, least: from memory
        ("jack_plug_tip_mm", 32.0),  # 30 to 32 from shoulder to tip: common practice, no source
        ("coat_mm", 0.1),  # common practice, no source
    ],
)
def test_figures_are_the_published_ones(name: str, published: float) -> None:
    assert usual()[name].value == published


def test_an_own_value_keeps_the_usual_one_in_sight() -> None:
    own = limits({"web_mm": 1.2})["web_mm"]
    assert (own.value, own.usual, own.is_own) == (1.2, 2.0, True)
    assert "common practice, no source" in own.source


def test_every_check_has_a_name_in_plain_words() -> None:
    assert {"bodies", "hole-edges", "knob-gaps", "seats", "webs"} <= set(CHECKS.names())
    assert callable(overrides)
    assert callable(row)
