"""Questions as a builder types them find the page or the key that answers them."""

from __future__ import annotations

import pytest

from mockup.window.frame.help_search import answers, search

KNOWN = answers()


@pytest.mark.parametrize(
    ("asked", "wanted"),
    [
        ("How do I undo?", "Undo"),
        ("how do I save", "Save"),
        ("accept a finding", "Accepting a finding"),
        ("how can I rotate a part by 90 degrees", "Turn by 90 degrees"),
        ("delete", "Remove"),
        ("true size", "True size on this screen"),
        ("side by side", "Side by side, or one picture"),
    ],
)
def test_the_answer_is_among_the_first_three(asked: str, wanted: str) -> None:
    titles = [each.title for each in search(asked, KNOWN)[:3]]
    assert any(wanted.lower() in title.lower() for title in titles), titles


def test_a_question_of_the_workshop_leads_to_the_page_that_answers_it() -> None:
    for asked, words in (
        ("How do I move a label?", "move a part, a label"), ("put text on the pedal", "write a word"),
        ("print the template", "print the drill template"), ("compare two designs", "compare two"),
    ):  # fmt: skip
        assert words in search(asked, KNOWN)[0].title


def test_empty_words_ask_nothing_and_strange_ones_find_nothing() -> None:
    assert search("how do I", KNOWN) == ()
    assert search("xyzzy", KNOWN) == ()


def test_no_answer_speaks_of_a_terminal() -> None:
    for each in KNOWN:
        assert "mockup new" not in each.text
        assert "```" not in each.text
