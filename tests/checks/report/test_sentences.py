"""Sentences are made from facts, in the reader's units, whatever names hold."""

from __future__ import annotations

import pytest

from mockup.checks.report.rows import data, row
from mockup.checks.report.sentences import named, quantity, remedy, what
from mockup.model.edit import Address, Move, PutValue, RemoveValue
from mockup.model.finding import Finding, Quantity, Subject, mm

FOUND = Subject(kind="lettering", face="top", u_mm=25.4, v_mm=50.8)
FINDING = Finding(
    severity="warn",
    title="Close",
    what="{subjects} are {measured} apart, less than {limit}; {missing} is missing",
    subjects=Subject.parts("A{0}", "{limit}"),
    measured=mm(12.7),
    limit=mm(25.4),
)


def test_the_same_facts_are_said_in_either_unit_and_names_are_left_alone() -> None:
    """12.7 and 25.4 mm are a half and a whole inch."""
    assert what(FINDING, "mm") == "Close: A{0} and {limit} are 12.7 mm apart, less than 25.4 mm; 12.7 mm is missing."
    assert what(FINDING, "in") == "Close: A{0} and {limit} are 0.5 in apart, less than 1 in; 0.5 in is missing."


def test_what_was_only_found_goes_by_its_place_in_the_readers_units() -> None:
    assert named(FOUND, "mm") == "lettering 25 mm from the left, 51 mm from the top"
    assert named(FOUND, "in") == "lettering 1.00 in from the left, 2.00 in from the top"


@pytest.mark.parametrize(
    ("edit", "said"),
    [
        (Move(address=Address(way=("part", "A")), right_mm=-2.5), "Move A 2.5 mm left."),
        (Move(address=Address(way=("label", "A")), down_mm=2.5), "Move A 2.5 mm down."),
        (Move(address=Address(way=("part", "A")), right_mm=1, down_mm=-2), "Move A 1 mm right and 2 mm up."),
        (
            PutValue(address=Address(way=("part", "A", "rotation")), value=270.0),
            "Turn A to 270 degrees (rotation = 270).",
        ),
    ],
)
def test_an_edit_is_said_as_a_builder_would(edit: Move | PutValue, said: str) -> None:
    finding = Finding(severity="note", title="T", what="w", remedy="not said where an edit is", edits=(edit,))
    assert remedy(finding, "mm") == said
    (told,) = data(finding, "mm")["remedy_edits"]
    assert told["edit"] == type(edit).__name__


def test_an_edit_that_no_sentence_is_known_for_is_refused() -> None:
    with pytest.raises(TypeError):
        remedy(Finding(severity="note", title="T", what="w", edits=(RemoveValue(address=Address(way=("a",))),)), "mm")


@pytest.mark.parametrize(
    ("share", "said"),
    [(0.0, "next to none of"), (0.25, "about a quarter of"), (1 / 3, "about a third of"), (0.5, "about half"),
     (2 / 3, "about two thirds of"), (0.75, "about three quarters of"), (0.95, "nearly all"), (1.2, "all")],
)  # fmt: skip
def test_a_share_is_said_in_words(share: float, said: str) -> None:
    assert quantity(Quantity(share, "share"), "mm") == said


def test_data_keeps_numbers_and_tells_kinds() -> None:
    told = data(Finding(severity="note", title="T", what="{first}", subjects=(FOUND,), measured=mm(3.0)), "in")
    assert told["subjects"] == [{"kind": "lettering", "face": "top", "u_mm": 25.4, "v_mm": 50.8}]
    assert (told["measured"], told["limit"], told["unit"]) == (3.0, None, "mm")
    assert row(FINDING, "in").measured == "0.5 in"
