"""Findings grouped by cause, told by hand."""

from __future__ import annotations

from mockup.model.edit import Address, Edit, Move, PutLength, PutValue
from mockup.model.finding import Finding, Severity, Subject
from mockup.window.findings.causes import cause_of, causes
from mockup.window.findings.remedy_words import counted
from mockup.window.work.remedy_trial import verdict

MOVE = Move(address=Address(way=("part", "FLOW")), right_mm=-7.3)


def finding(severity: Severity, *parts: str, check: str = "bodies", edits: tuple[Edit, ...] = ()) -> Finding:
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


def test_remedies_that_undo_each_other_are_not_offered() -> None:
    back = Move(address=MOVE.address, right_mm=2.0)
    down = Move(address=MOVE.address, down_mm=4.0)
    found = causes(
        [
            finding("stop", "FLOW", "FORD", edits=(MOVE,)),
            finding("warn", "FLOW", "EDGE", edits=(back,)),
            finding("warn", "FLOW", "LIT", edits=(down,)),
        ]
    )
    assert [each.against for each in found] == [(1,), (0,), ()]
    assert [each.offered for each in found] == [(), (), (down,)]


def test_one_value_put_two_ways_is_a_contradiction() -> None:
    drill = Address(way=("kind", "My pot", "hole"))
    found = causes(
        [
            finding("stop", "A", edits=(PutLength(address=drill, mm=7.0),)),
            finding("warn", "B", edits=(PutLength(address=drill, mm=8.0),)),
        ]
    )
    assert [each.against for each in found] == [(1,), (0,)]


def test_a_change_is_counted_in_the_words_of_the_bench() -> None:
    turn = PutValue(address=Address(way=("part", "FLOW", "rotation")), value=90)
    knob = PutLength(address=Address(way=("part", "FLOW", "knob", "diameter")), mm=15.0)
    word = Move(address=Address(way=("label", "FLOW")), down_mm=1.0)
    drill = PutLength(address=Address(way=("kind", "My pot", "hole")), mm=7.0)
    box = PutValue(address=Address(way=("box", "size")), value="145x121x39")
    other = Move(address=Address(way=("part", "FORD")), right_mm=1.0)
    assert counted([MOVE, other, other]) == "2 parts moved"
    assert counted([MOVE, turn, word, knob, drill]) == (
        "1 part moved, 1 part turned, 1 word moved, 1 knob changed, 1 hole changed"
    )
    assert counted([box]) == "a larger box"
    assert counted([]) == ""
