"""All checks together: order, choice, own limits, and the figures as people read them."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner

import mockup
from mockup.checks import CHECKS, webs
from mockup.checks.report import run as run_module
from mockup.checks.report.rows import figure, overrides, row, tally
from mockup.checks.report.run import failure, run
from mockup.checks.report.sentences import remedy, what
from mockup.cli import cli
from mockup.comparison.differences.designs import differences
from mockup.model.finding import SEVERITIES, Limit, Quantity, mm
from mockup.model.units import is_enough
from mockup.outputs.pages.log_words import sections

TEXT = """
name = "Two"
[box]
size = "112x60x31"
[[part]]
name = "TONE"
kind = "pot-16"
left = 20
top = 20
[[part]]
name = "DRIVE"
kind = "pot-16"
left = 28.5
top = 20
[[part]]
name = "STOMP"
kind = "footswitch"
bottom = 60
"""
ROUND = '[[part]]\nname = "A"\nkind = "pot-9"\nleft = 30\ntop = 30\n'
HANGING = '[[part]]\nname = "Z"\nkind = "pot-9"\ntop = 90\nknob = { style = "barrel", height = 10 }\n'


def test_the_worst_comes_first() -> None:
    found = mockup.check(mockup.loads(TEXT + HANGING))
    keys = [(SEVERITIES.index(each.severity), each.check, [s.name for s in each.subjects]) for each in found]
    assert keys == sorted(keys)
    assert {each.severity for each in found} >= {"stop", "warn"}
    assert all(each.check in CHECKS.names() for each in found)


def test_only_runs_what_it_names() -> None:
    found = mockup.check(mockup.loads(TEXT), ("webs",))
    assert {each.check for each in found} == {"webs"}
    # holes of 7.5, middles 8.5 apart
    assert found[0].measured is not None
    assert found[0].measured.value == pytest.approx(1.0)


def test_a_name_that_is_no_check_is_refused_with_the_nearest() -> None:
    with pytest.raises(mockup.InputError) as caught:
        run(mockup.loads(TEXT), ("webs", "boddies"))
    (fault,) = caught.value.faults
    assert "bodies" in fault.remedy


def test_an_own_limit_is_kept_to_and_said() -> None:
    design = replace(mockup.loads(TEXT), limits={"web_mm": 0.9})
    assert not mockup.check(design, ("webs",))
    strict = replace(design, limits={"web_mm": 1.5})
    (found,) = mockup.check(strict, ("webs",))
    assert isinstance(found.limit, Limit)
    assert found.limit.quantity == mm(1.5)
    assert found.limit.is_own
    assert row(found, "mm").limit == "1.5 mm (own)"
    assert overrides(strict) == ("web_mm = 1.5 mm (usual 2)",)
    assert overrides(replace(design, limits={})) == ()


def test_a_check_changes_nothing_and_says_the_same_twice() -> None:
    design = mockup.loads(TEXT)
    before = [(each.name, each.u_mm, each.v_mm, each.rotation_deg) for each in design.parts]
    first, second = mockup.check(design), mockup.check(design)
    assert first == second
    assert [(each.name, each.u_mm, each.v_mm, each.rotation_deg) for each in design.parts] == before


def test_a_pedal_with_next_to_nothing_on_it_has_nothing_wrong() -> None:
    assert mockup.check(mockup.loads('name = "Bare"\n[box]\nsize = "112x60x31"\n')) == ()
    one = mockup.check(mockup.loads('name = "One"\n[box]\nsize = "112x60x31"\n' + ROUND))
    assert [each for each in one if each.severity != "note"] == []


def test_figures_come_in_the_units_of_the_layout() -> None:
    assert figure(mm(2.54), "in") == "0.1 in"
    assert figure(mm(2.5), "mm") == "2.5 mm"
    assert figure(Quantity(62.77, "mm³"), "mm") == "62.8 mm³"
    assert figure(Quantity(25.4**3 / 4, "mm³"), "in") == "0.25 cu in"
    assert figure(Quantity(25.4**2 * 3, "mm²"), "in") == "3 sq in"
    assert figure(Quantity(14.0, "%"), "mm") == "14%"
    assert figure(Quantity(3.03, ":1"), "mm") == "3.03:1"
    assert figure(None, "mm") == ""


def test_a_layout_in_inches_is_told_in_inches() -> None:
    text = TEXT.replace('name = "Two"', 'name = "Two"\nunits = "in"').replace("left = 20", 'left = "20 mm"')
    text = text.replace("left = 28.5", 'left = "28.5 mm"').replace("top = 20", 'top = "20 mm"')
    (found,) = mockup.check(mockup.loads(text.replace("bottom = 60", 'bottom = "60 mm"')), ("webs",))
    assert "0.039 in" in what(found, "in")  # 1 mm
    assert "0.04 in" in remedy(found, "in")  # the 1 mm that is missing, up to the next hundredth
    assert " mm" not in what(found, "in") + remedy(found, "in")


def test_the_tally_counts_in_plain_words() -> None:
    assert tally(mockup.check(mockup.loads(TEXT), ("webs",))) == "0 stops, 1 warning, 0 notes"


def test_what_no_rule_can_show_is_no_shortfall() -> None:
    """Two decimals of a millimetre are shown, three of an inch: less than that missing is not said."""
    assert is_enough(2.996, 3.0, "mm")
    assert not is_enough(2.994, 3.0, "mm")
    assert is_enough(3.0 - 0.025, 3.0, "in")
    assert not is_enough(3.0 - 0.026, 3.0, "in")  # 0.001 in = 0.0254 mm


def _broken(monkeypatch: pytest.MonkeyPatch) -> None:
    def check(*_: object) -> None:
        raise ZeroDivisionError("planted")

    monkeypatch.setattr(webs, "check", check)
    monkeypatch.setattr(run_module, "failure", failure)  # as a builder meets it: the tests' own fixture raises


def test_a_check_that_fails_is_named_and_the_others_still_run(monkeypatch: pytest.MonkeyPatch) -> None:
    whole = list(mockup.check(mockup.loads(TEXT), [name for name in CHECKS.names() if name != "webs"]))
    _broken(monkeypatch)
    found = mockup.check(mockup.loads(TEXT))
    assert [each for each in found if not each.failure] == whole
    (failed,) = [each for each in found if each.failure]
    assert (failed.check, failed.severity) == ("webs", "warn")
    assert "planted" in failed.failure
    assert "webs" in row(failed, "mm").what
    assert "report" in row(failed, "mm").remedy


def test_a_failing_check_ends_the_command_with_three(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    _broken(monkeypatch)
    (tmp_path / "layout.toml").write_text(TEXT)
    for more in ((), ("--json",), ("--strict",)):
        done = CliRunner().invoke(cli, ["check", str(tmp_path / "layout.toml"), *more])
        assert done.exit_code == 3, done.output
        assert "webs" in done.output
        assert "planted" in done.output or "--json" not in more


def test_a_log_and_a_comparison_survive_a_failing_check(monkeypatch: pytest.MonkeyPatch) -> None:
    _broken(monkeypatch)
    design = mockup.loads(TEXT)
    found = mockup.check(design)
    changes = differences(design, design, mockup.check(design, ("seats",)), found)
    assert any(each.subject == "webs" for each in changes)
    said = [str(block) for section in sections(design, found) for block in section.blocks]
    assert any("webs" in each and "report" in each for each in said)


@pytest.mark.parametrize(
    ("height", "kind", "is_said"),
    [
        ("28.5", "footswitch", True),  # 24.3 deep with its inner nut, 24.7 between top (2) and lid (1.8): 0.4 left
        ("23.5", "footswitch", False),  # runs into the lid by 4.6, which no other make puts right
        ("28.5", "mine", False),  # as deep, by the builder's own caliper
    ],
)
def test_what_figures_from_memory_decide_by_little_is_said(height: str, kind: str, is_said: bool) -> None:
    own = '[[kind]]\nname = "mine"\nlike = "footswitch"\ndepth = 24.3\n'
    box, part = f'[box]\nsize = "112x60x31"\nheight = {height}\n', f'[[part]]\nname = "A"\nkind = "{kind}"\ntop = 60\n'
    (found,) = run(mockup.loads(f'name = "X"\n{box}{own}{part}'), ("bodies",))
    assert found.measured is not None
    said = "the figures of A are from memory, so measure yours"
    assert (said in what(found, "mm")) == is_said
