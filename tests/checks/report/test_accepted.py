"""Accepted findings: told apart, back when their figure gets worse; tables of the layout, edits, exit status."""

from __future__ import annotations

import json
import subprocess
from dataclasses import replace
from pathlib import Path

import pytest
from command import typed

import mockup
from mockup.checks.report import accepted
from mockup.checks.report.rows import tally
from mockup.layout.edit.apply import apply
from mockup.layout.parse import parse
from mockup.model.acceptance import Acceptance
from mockup.model.edit import Address, InsertTable, RemoveTable, RenameTable
from mockup.model.errors import InputError
from mockup.model.finding import Finding, Quantity, Subject, mm

TEXT = """\
[box]
size = "112x60x31"

[[part]]
name = "GAIN"
kind = "pot-16"
left = 20
top = 25

[[part]]
name = "TONE"
kind = "pot-16"
left = 26
top = 25
"""
GAP = Finding(
    severity="warn", title="Tight", what="{measured}", check="knob-gaps", subjects=Subject.parts("GAIN", "TONE"),
    measured=mm(8.0), limit=mm(25.0),
)  # fmt: skip
OVERLAP = Finding(
    severity="stop", title="In one place", what="", check="bodies", subjects=Subject.parts("GAIN"),
    measured=Quantity(292.0, "mm³"),
)  # fmt: skip


def checked(layout: Path, *flags: str) -> subprocess.CompletedProcess[str]:
    return typed("check", layout.name, *flags, cwd=layout.parent)


def reason(finding: Finding, before: Acceptance) -> str:
    return accepted.marked([finding], [before])[0].accepted


def test_a_finding_comes_back_when_its_figure_gets_worse_and_stays_accepted_when_it_gets_better() -> None:
    gap, overlap = accepted.acceptance_of(GAP, "It is meant so"), accepted.acceptance_of(OVERLAP, "filed")
    assert reason(GAP, gap) == "It is meant so"
    assert reason(replace(GAP, measured=mm(9.0)), gap)  # more room than was accepted
    assert not reason(replace(GAP, measured=mm(7.9)), gap)
    assert reason(replace(OVERLAP, measured=Quantity(200.0, "mm³")), overlap)
    assert not reason(replace(OVERLAP, measured=Quantity(293.0, "mm³")), overlap)
    assert reason(replace(GAP, measured=mm(7.999)), gap)  # what is kept is rounded


def test_it_is_for_that_check_and_those_things_alone() -> None:
    gap = accepted.acceptance_of(GAP, "meant")
    assert reason(replace(GAP, subjects=Subject.parts("TONE", "GAIN")), gap)  # in whichever order
    assert not reason(replace(GAP, subjects=Subject.parts("GAIN")), gap)
    assert not reason(replace(GAP, check="webs"), gap)
    assert not reason(replace(GAP, failure="it broke"), gap)  # what gave no answer has nothing to accept


def test_the_layout_says_what_is_accepted_and_the_report_lists_it_apart(tmp_path: Path) -> None:
    layout = tmp_path / "layout.toml"
    layout.write_text(TEXT)
    text, count = TEXT, 0
    while stops := [each for each in accepted.opened(mockup.check(mockup.load(layout))) if each.severity == "stop"]:
        count += 1  # what another cause of the same parts hid is told once that one is accepted
        kept = accepted.acceptance_of(stops[0], "I file it to fit")
        values = {"check": kept.check, "subjects": list(kept.subjects), "why": kept.why}
        if kept.measured is not None:
            values["measured"] = kept.measured
        text = apply(text, [InsertTable(address=Address(way=("accept",)), values=values)], "layout.toml")
        layout.write_text(text)
        assert count < 9
    assert count
    assert text.startswith(TEXT.rstrip())
    again = mockup.check(mockup.load(layout))
    assert {each.severity for each in accepted.opened(again)} <= {"warn", "note"}
    kept_count = len(again) - len(accepted.opened(again))
    assert kept_count >= count  # what a check says twice of the same parts is accepted once
    assert f"{kept_count} accepted" in tally(again)
    told = checked(layout)
    assert told.returncode == 0
    assert "Accepted:" in told.stdout
    assert "I file it to fit" in told.stdout
    data = json.loads(checked(layout, "--json").stdout)
    assert sum(bool(each["accepted"]) for each in data["findings"]) == kept_count

    # nearer together: the figure is worse than what was accepted, so it is open again
    layout.write_text(text.replace("left = 26", "left = 22"))
    worse = accepted.opened(mockup.check(mockup.load(layout)))
    assert any(each.severity == "stop" for each in worse)
    assert checked(layout).returncode == 1


def test_a_renamed_part_stays_accepted_and_the_table_can_be_taken_out() -> None:
    text = TEXT + '\n[[accept]]\ncheck = "bodies"\nsubjects = ["GAIN", "TONE"]\nwhy = "meant"  # by hand\n'
    renamed = apply(text, [RenameTable(address=Address(way=("part", "TONE")), name="BITE")], "layout.toml")
    assert 'subjects = ["GAIN", "BITE"]' in renamed
    assert parse(renamed, "layout.toml").file.accept[0].subjects == ("GAIN", "BITE")
    without = apply(text, [RemoveTable(address=Address(way=("accept", 0)))], "layout.toml")
    assert "accept" not in without


@pytest.mark.parametrize(
    ("table", "said"),
    [
        ('check = "bodys"\nwhy = "so"', "bodies"),
        ('check = "bodies"', "why"),
        ('check = "bodies"\nwhy = "so"\nsubjects = 3', "expected names"),
        ('check = "bodies"\nwhy = "so"\nmeasured = "much"', "measured"),
    ],
)
def test_mistakes_in_the_table_are_told(table: str, said: str) -> None:
    with pytest.raises(InputError, match=said):
        parse(f"{TEXT}\n[[accept]]\n{table}\n", "layout.toml")
