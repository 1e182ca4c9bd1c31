"""The drawer: every kind in a group, found by plain words."""

from __future__ import annotations

from dataclasses import replace

import pytest

from mockup import hardware
from mockup.model.part import Kind
from mockup.window.part_flow import has_lettering
from mockup.window.parts.catalogue import group, match, shelves, title

KINDS = hardware.kinds()


def found(wanted: str) -> list[str]:
    return [kind.name for shelf in shelves(KINDS, wanted) for kind in shelf.kinds]


def test_every_kind_is_in_the_drawer_once() -> None:
    assert sorted(found("")) == sorted(KINDS)


def test_groups_follow_what_a_hand_does() -> None:
    titles = [shelf.title for shelf in shelves(KINDS)]
    assert titles == ["Turned by hand", "Slid by hand", "Flicked", "Stepped on", "Lit", "Plugged in", "Inside"]


@pytest.mark.parametrize(
    ("typed", "kinds"),
    [
        ("knob", {"pot-9", "pot-16", "pot-24", "rotary-switch"}),
        ("9 volt", {"dc-socket", "battery-9v"}),
        ("in", {"jack-open", "jack-enclosed"}),
        ("small", {"toggle-mini"}),
        ("led", {"lamp-3", "lamp-5"}),
        ("POT 16", {"pot-16"}),
        ("slider", {"fader-30", "fader-60", "slide-switch"}),
        ("8 mm", {"dc-socket-8"}),
        ("stomp", {"footswitch", "footswitch-momentary"}),
    ],
)
def test_plain_words_find_kinds(typed: str, kinds: set[str]) -> None:
    assert kinds <= set(found(typed))


def test_the_best_match_stands_first() -> None:
    assert found("pot 16")[0] == "pot-16"
    assert found("switch")[0] == "rotary-switch"


def test_what_is_nowhere_finds_nothing() -> None:
    assert found("theremin") == []
    assert match(KINDS["pot-9"], "pot theremin") is None


def test_titles_are_short_and_told_apart() -> None:
    titles = [title(kind) for kind in KINDS.values()]
    assert len(set(titles)) == len(titles)
    assert max(map(len, titles)) <= 16


def test_a_kind_of_a_new_family_finds_its_group_and_its_word() -> None:
    """One new file is enough: a part that this program does not know yet."""
    new = replace(KINDS["pot-9"], name="joystick", family="joystick", about="Two-way stick, M12 bushing")
    assert (title(new), group(new)) == ("Two-way stick", "Turned by hand")
    assert group(Kind(name="x", family="x", about="")) == "More"
    own = Kind(name="big-knob", family="own", about="a part of your own", is_own=True)
    assert (title(own), group(own)) == ("big-knob", "Your own")


def test_jacks_lamps_and_what_is_inside_are_not_lettered() -> None:
    lettered = {name for name, kind in KINDS.items() if has_lettering(kind)}
    assert lettered == {
        "pot-9", "pot-16", "pot-24", "rotary-switch", "toggle", "toggle-mini", "slide-switch", "footswitch",
        "footswitch-momentary", "toggle-mini-single", "toggle-sub-mini", "fader-30", "fader-60",
    }  # fmt: skip
