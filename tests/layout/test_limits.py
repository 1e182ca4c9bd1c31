"""Own limits of the checks."""

from __future__ import annotations

import pytest

from mockup.limits import limits, usual

LINES = [
    ("wbe_mm = 3", "layout.toml: [limits] wbe_mm: unknown key; did you mean 'web_mm'?"),
    ("web_mm = -1", "layout.toml: [limits] web_mm: expected 0 or more, found -1"),
    ('web_mm = "-1 mm"', 'layout.toml: [limits] web_mm: expected 0 or more, found "-1 mm"'),
    ("web_mm = nan", "layout.toml: [limits] web_mm: expected a finite number, not NaN or infinity"),
    ("web_mm = true", "layout.toml: [limits] web_mm: expected a number, found true"),
    ('web_mm = "3 px"', 'layout.toml: [limits] web_mm: unknown unit \'px\' in \'3 px\'; use "mm", "cm" or "in"'),
]


@pytest.mark.parametrize(("text", "line"), LINES)
def test_each_mistake_gives_exactly_this_line(complaint, text, line):
    assert complaint("[limits]\n" + text) == line


def test_a_limit_that_counts_no_millimetres_takes_no_unit(complaint):
    bare = [name for name, limit in usual().items() if limit.unit != "mm"]
    for name in bare:
        assert complaint(f'[limits]\n{name} = "3 mm"') == (
            f'layout.toml: [limits] {name}: expected a number, found "3 mm"'
        )


def test_they_reach_the_design_and_the_checks(design):
    own = design("[limits]\nweb_mm = 3").limits
    assert own == {"web_mm": 3.0}
    assert limits(own)["web_mm"].value == 3.0
    assert limits(own)["web_mm"].is_own
    assert design("").limits == {}


def test_every_limit_there_is_can_be_set(design):
    text = "".join(f"{name} = {number}\n" for number, name in enumerate(usual(), 1))
    assert design("[limits]\n" + text).limits == {name: number for number, name in enumerate(usual(), 1)}


def test_millimetres_stay_millimetres_in_a_file_in_inches(design):
    box = 'units = "in"\n[box]\nsize = "112x60x31"\n'
    assert design("[limits]\nweb_mm = 2.5", box=box).limits == {"web_mm": 2.5}
    assert design('[limits]\nweb_mm = "2.5"', box=box).limits == {"web_mm": 2.5}
    assert design('[limits]\nweb_mm = "0.1 in"', box=box).limits == {"web_mm": pytest.approx(2.54)}


def test_a_variant_lays_its_own_over_the_files(design):
    text = "[limits]\nweb_mm = 3\n[variants.bold.limits]\nweb_mm = 1\n[variants.plain]"
    assert design(text, variant="bold").limits == {"web_mm": 1.0}
    assert design(text, variant="plain").limits == {"web_mm": 3.0}
    assert design(text).limits == {"web_mm": 3.0}
