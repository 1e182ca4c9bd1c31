"""Whose a key is: nothing that is typed acts, and nothing that acts is typed."""

from __future__ import annotations

import string

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mockup.window.actions.table import ACTIONS
from mockup.window.shell.key_owner import owner

SITUATIONS = st.fixed_dictionaries(
    {name: st.booleans() for name in ("is_typing", "is_list_open", "is_in_cards", "is_asked", "is_too_early")}
)


@given(
    st.sampled_from([*string.ascii_lowercase, *string.digits, "comma", "period", "plus"][:36]),
    st.booleans(),
    SITUATIONS,
)
def test_a_letter_or_digit_never_acts(letter: str, is_shifted: bool, situation: dict[str, bool]) -> None:
    assert owner(f"shift+{letter}" if is_shifted else letter, **situation) == "nobody"


@pytest.mark.parametrize("key", ["ctrl+a", "ctrl+z", "left", "shift+right", "delete", "enter", "escape", "tab"])
def test_what_edits_text_is_the_texts_while_it_has_the_caret(key: str) -> None:
    for is_asked in (False, True):
        assert owner(key, is_typing=True, is_list_open=False, is_in_cards=True, is_asked=is_asked) == "text"


@pytest.mark.parametrize("key", ["ctrl+s", "f1", "f8", "ctrl+1", "alt+2", "ctrl+tab", "ctrl+shift+plus", "f6"])
def test_commands_are_the_windows_wherever_the_focus_is(key: str) -> None:
    for is_typing in (False, True):
        assert owner(key, is_typing=is_typing, is_list_open=False, is_in_cards=True, is_asked=False) == "window"


@given(st.sampled_from([key for action in ACTIONS for key in action.keys]), st.booleans())
def test_a_question_lets_no_action_through(key: str, is_in_cards: bool) -> None:
    found = owner(key, is_typing=False, is_list_open=False, is_in_cards=is_in_cards, is_asked=True)
    assert found in ("cards", "nobody") or key == "escape"


@pytest.mark.parametrize("key", ["left", "up", "enter", "tab", "escape"])
def test_with_nothing_else_the_picture_gets_them(key: str) -> None:
    assert owner(key, is_typing=False, is_list_open=False, is_in_cards=False, is_asked=False) == "window"


def test_a_list_that_is_open_is_closed_by_escape_and_walked_by_arrows() -> None:
    for key in ("escape", "down", "enter"):
        assert owner(key, is_typing=False, is_list_open=True, is_in_cards=False, is_asked=False) == "cards"


@given(st.sampled_from(["enter", "escape", "tab", "left", "space", "ctrl+s", "f1"]), st.booleans())
def test_a_question_that_nobody_has_seen_yet_takes_only_what_is_typed_into_it(key: str, is_typing: bool) -> None:
    found = owner(
        key, is_typing=is_typing, is_list_open=False, is_in_cards=True, is_asked=True, is_too_early=True
    )  # fmt: skip
    is_text = is_typing and key in ("enter", "escape", "tab", "left")
    assert found == ("text" if is_text else "nobody")
