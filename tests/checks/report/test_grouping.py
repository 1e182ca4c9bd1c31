"""One cause is one finding, and no part is told to go two ways."""

from __future__ import annotations

from dataclasses import replace

from mockup.checks.report.grouping import grouped
from mockup.checks.report.sentences import remedy, what
from mockup.model.edit import Address, Edit, Move
from mockup.model.finding import Finding, Subject, mm


def move(name: str, right: float = 0.0, down: float = 0.0) -> Move:
    return Move(address=Address(way=("part", name)), right_mm=right, down_mm=down)


def finding(
    check: str, title: str, *parts: str, edits: tuple[Edit, ...] = (), room: float = 0.2, **more: str
) -> Finding:
    return Finding(
        check=check, severity="warn", title=title, what="{subjects} leave {measured}", subjects=Subject.parts(*parts),
        edits=edits, remedy="Choose a smaller one", measured=mm(room), limit=mm(1.0), facts=more,
    )  # fmt: skip


def never(_: str) -> tuple[Edit, ...]:
    return ()


def test_what_lies_between_the_same_two_parts_is_one_finding_either_way_round() -> None:
    first = finding("knob-overlaps", "Knob nearly rubs", "A", "B", edits=(move("B", 1.0),))
    found = grouped([first, replace(first, subjects=Subject.parts("B", "A"), edits=(move("A", -1.0),))], never)
    (only,) = found
    assert what(only, "mm") == "Knob nearly rubs: A and B leave 0.2 mm; B with A too."
    (mixed,) = grouped([first, finding("seats", "Washers too close", "B", "A", room=0.1)], never)
    assert what(mixed, "mm") == "Washers too close: B and A leave 0.1 mm; also: knob nearly rubs."


def test_two_jacks_too_high_are_one_finding_with_an_order_for_each() -> None:
    jacks = [
        finding("bodies", "Bodies too close", name, edits=(move(name, 0.0, -0.4),), other="the lid") for name in "AB"
    ]
    (only,) = grouped(jacks, never)
    assert what(only, "mm") == "Bodies too close: A leave 0.2 mm; B too."
    assert remedy(only, "mm") == "Move A 0.4 mm up and move B 0.4 mm up."
    apart = [jacks[0], finding("bodies", "Bodies too close", "B", edits=(move("B", 0.0, -0.4),), other="the near wall")]
    assert len(grouped(apart, never)) == 2


def test_words_on_one_paint_are_one_finding_and_parts_without_an_order_are_not() -> None:
    words = [
        replace(finding("contrast", "Hard to read"), subjects=(Subject(kind="label", name=each),)) for each in "ABCD"
    ]
    (only,) = grouped(words, never)
    assert len(only.subjects) == 4
    assert what(only, "mm") == "Hard to read: A leave 0.2 mm; B, C and D too."
    assert (
        len(grouped([finding("bodies", "In one place", "A", "B"), finding("bodies", "In one place", "C", "D")], never))
        == 2
    )


def test_a_part_gets_one_order() -> None:
    two = [
        finding("bodies", "Bodies too close", "A", "B", edits=(move("A", 0.0, -26.4),)),
        finding("plug-tips", "Plug too close", "A", "C", edits=(move("A", 0.0, 5.0),)),
    ]
    (only,) = grouped(two, lambda name: (move(name, 3.0),))
    assert only.edits == (move("A", 3.0),)
    kept = grouped(two, never)  # no one move does: the worst one's is given, the other says what else would do
    assert [each.edits for each in kept] == [(move("A", 0.0, -26.4),), ()]


def test_a_note_and_a_check_that_failed_stand_alone() -> None:
    note = replace(finding("bodies", "Little room", "A", "B"), severity="note")
    failed = replace(finding("bodies", "A check failed", "A", "B"), failure="it broke")
    assert len(grouped([note, failed, finding("bodies", "Too close", "A", "B")], never)) == 3
