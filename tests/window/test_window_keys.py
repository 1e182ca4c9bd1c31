"""One table of actions: one key, one action; each is in the help, and each output has one."""

from __future__ import annotations

from collections import Counter

import pytest

from mockup.outputs import OUTPUTS
from mockup.scene.views import VIEWS
from mockup.window.actions.action import Action
from mockup.window.actions.table import ACTIONS, BY_NAME, GROUPS, action_of
from mockup.window.shell.key_names import chord, written


def test_no_two_actions_share_a_name_a_title_or_a_key() -> None:
    for listed in (
        [action.name for action in ACTIONS],
        [action.title for action in ACTIONS],
        [key for action in ACTIONS for key in action.keys],
    ):
        assert [each for each, count in Counter(listed).items() if count > 1] == []


@pytest.mark.parametrize("action", ACTIONS, ids=lambda action: action.name)
def test_every_key_is_written_one_way_and_leads_to_its_action(action: Action) -> None:
    assert action.title[0].isupper()
    assert not action.title.endswith(".")
    for key in action.keys:
        *held, last = key.split("+")
        assert key == chord(last, ctrl="ctrl" in held, alt="alt" in held, shift="shift" in held)
        assert action_of(key) is action


def test_no_letter_or_digit_acts_alone() -> None:
    for action in ACTIONS:
        for key in action.keys:
            *held, last = key.split("+")
            assert len(last) > 1 or {"ctrl", "alt"} & set(held), f"{action.name}: {key}"


def test_every_named_view_has_a_key_of_its_own() -> None:
    assert {name for name in VIEWS if BY_NAME[f"view-{name}"].key} == set(VIEWS)


def test_every_output_can_be_saved() -> None:
    assert {name for name in OUTPUTS.names() if f"save-{name}" in BY_NAME} == set(OUTPUTS.names())


def test_a_key_that_does_nothing() -> None:
    assert action_of("ctrl+alt+shift+q") is None


def test_keys_as_people_write_them() -> None:
    assert written("ctrl+shift+z", is_mac=False) == "Ctrl+Shift+Z"
    assert written("ctrl+shift+z", is_mac=True) == "Cmd+Shift+Z"
    assert written("alt+left", is_mac=False) == "Alt+Left"
    assert written("f1") == "F1"


def test_groups_are_in_the_order_of_the_help() -> None:
    assert GROUPS[0] == "Pedal"
    assert GROUPS[-1] == "Window"
