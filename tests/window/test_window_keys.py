"""One key, one action; every action is in the help."""

from __future__ import annotations

from collections import Counter

import pytest

from mockup.scene.cameras import VIEWS
from mockup.window import actions as keys


def test_no_two_actions_share_a_name_a_title_or_a_key() -> None:
    for listed in (
        [action.name for action in keys.ACTIONS],
        [action.title for action in keys.ACTIONS],
        [key for action in keys.ACTIONS for key in action.keys],
    ):
        assert [each for each, count in Counter(listed).items() if count > 1] == []


@pytest.mark.parametrize("action", keys.ACTIONS, ids=lambda action: action.name)
def test_every_key_is_written_one_way_and_leads_to_its_action(action: keys.Action) -> None:
    assert action.title[0].isupper()
    assert not action.title.endswith(".")
    for key in action.keys:
        *held, last = key.split("+")
        assert key == keys.chord(last, ctrl="ctrl" in held, alt="alt" in held, shift="shift" in held)
        assert keys.action_of(key) == action.name


def test_every_named_view_has_a_key_of_its_own() -> None:
    assert {name for name in VIEWS if keys.BY_NAME[f"view-{name}"].key} == set(VIEWS)


def test_a_key_that_does_nothing() -> None:
    assert keys.action_of("ctrl+alt+shift+q") is None


def test_keys_as_people_write_them() -> None:
    assert keys.shown("ctrl+shift+z") == "Ctrl+Shift+Z"
    assert keys.shown("ctrl+shift+z", is_mac=True) == "Cmd+Shift+Z"
    assert keys.shown("alt+left") == "Alt+Left"
    assert keys.shown("f1") == "F1"


def test_groups_are_in_the_order_of_the_menus() -> None:
    assert keys.GROUPS[0] == "Project"
    assert keys.GROUPS[-1] == "Help"


def test_the_help_lists_every_group_once():
    from mockup.window.actions import GROUPS
    from mockup.window.panel.help_page import COLUMNS

    listed = [group for groups in COLUMNS for group in groups]
    assert sorted(listed) == sorted(["Mouse", *GROUPS])
