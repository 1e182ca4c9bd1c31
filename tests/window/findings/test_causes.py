"""Findings grouped by cause, told by hand."""

from __future__ import annotations

from mockup.model.edit import Address, Move
from mockup.model.finding import Finding, Severity, Subject
from mockup.window.findings.causes import cause_of, causes
from mockup.window.work.remedy_trial import verdict

MOVE = Move(address=Address(way=("part", "FLOW")), right_mm=-7.3)


def finding(severity: Severity, *parts: str, check: str = "bodies", edits: tuple[Move, ...] = ()) -> Finding:
    return Finding(severity=severity, title="", what="", check=check, subjects=Subject.parts(*parts), edits=edits)


def test_what_stands_between_the_same_two_parts_is_one_cause() -> None:
    found = causes(
        [
            finding("stop", "FLOW", "FORD"),
            finding("stop", "FORD", "FLOW", check="seats"),
            finding("warn", "FLOW", "FORD", check="knob-gaps"),
            finding("warn", "IN"),
            finding("note", "FLOW", "FORD", check="registration"),
        ]
    )
    assert [each.findings for each in found] == [(0, 1, 2), (3,), (4,)]
    assert [each.severity for each in found] == ["stop", "warn", "note"]


def test_what_the_same_move_cures_goes_together() -> None:
    found = causes(
        [finding("warn", "FLOW", edits=(MOVE,)), finding("stop", "LIT", edits=(MOVE,)), finding("note", "LIT")]
    )
    assert [each.findings for each in found] == [(1, 0), (2,)]  # the worst first
    assert found[0].edits == (MOVE,)
    assert cause_of(found, 0) == 0
    assert cause_of(found, 2) == 1
    assert cause_of(found, None) is None


def test_every_finding_belongs_to_one_cause() -> None:
    listed = [
        finding("warn", "A", "B"),
        finding("stop", "B", "C", edits=(MOVE,)),
        finding("warn", "C", "B"),
        finding("note"),
    ]
    found = causes(listed)
    assert sorted(number for each in found for number in each.findings) == [0, 1, 2, 3]
    assert causes([]) == ()


def test_what_a_remedy_does_is_said_in_one_sentence() -> None:
    stop, trouble, note = finding("stop", "A", "B"), finding("warn", "C"), finding("note", "D")
    assert verdict([stop, trouble], [trouble]) == "Cures all that stops, nothing new."
    assert verdict([stop, finding("stop", "E", "F")], [stop]) == "Cures 1 of 2 stops, nothing new."
    assert verdict([trouble, note], [note]) == "Cures all likely troubles, nothing new."
    assert verdict([stop], [finding("stop", "A", "G")]) == "Cures nothing yet, brings 1 new."
