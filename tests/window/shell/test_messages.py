"""The strip: what is wrong stays until it is mended, and goes by itself then; what was done goes after a while."""

from __future__ import annotations

import pytest

from mockup.window.shell import messages
from mockup.window.shell.messages import MessageLine


@pytest.fixture
def line() -> MessageLine:
    return MessageLine(lambda: None)


def test_a_fault_stays_until_its_own_source_is_well_again(line: MessageLine) -> None:
    line.fault("picture", "art.png cannot be read: it ends too early")
    line.fault("saving", "Nothing can be written to this folder")
    assert line.now is not None
    assert (line.now.source, line.more) == ("picture", 1)
    line.mended("saving")
    assert (line.now.source, line.more) == ("picture", 0)
    line.mended("picture")
    assert line.now is None


def test_what_was_done_is_told_over_a_fault_and_leaves_it_standing(
    line: MessageLine, monkeypatch: pytest.MonkeyPatch
) -> None:
    clock = [100.0]
    monkeypatch.setattr(messages.time, "perf_counter", lambda: clock[0])
    line.fault("picture", "art.png cannot be read")
    line.say("Undone: paint.")
    assert line.now is not None
    assert line.now.text == "Undone: paint."
    assert line.expire() == pytest.approx(messages.SHOWN_S)
    clock[0] += messages.SHOWN_S + 0.1
    assert line.expire() is None
    assert line.now.text == "art.png cannot be read"


def test_a_new_fault_is_seen_at_once_and_the_same_again_hides_nothing(line: MessageLine) -> None:
    line.say("Saved.")
    line.fault("picture", "art.png cannot be read")
    assert line.now is not None
    assert line.now.is_fault
    line.say("Saved.")
    line.fault("picture", "art.png cannot be read")  # every reload tells it again
    assert line.now.text == "Saved."


def test_nothing_is_left_of_a_project_that_was_closed(line: MessageLine) -> None:
    line.fault("file", "broken")
    line.clear()
    assert line.now is None
    assert line.sources == ()


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        (
            "--page: does not fit; choose a larger page, or less --trim",
            "page: does not fit; choose a larger page, or less trim",
        ),
        ("--turn-seconds: 900 is out of range", "turn seconds: 900 is out of range"),
        (
            "a.toml: there is no such file; check the path, or start with: mockup new NAME",
            "a.toml: there is no such file; check the path",
        ),
        ("sea: holds no layout file; start one with: mockup new sea", "sea: holds no layout file"),
        (
            "there is no printer x; calibrate it first: mockup calibrate strip",
            "there is no printer x; calibrate it first",
        ),
        ("art--2.png: is empty; save it again", "art--2.png: is empty; save it again"),
        ('layout.toml: [[label]] "d" it reaches past the edge', 'The label "d": it reaches past the edge'),
        ('layout.toml: [[part]] "GAIN" left: expected a length', 'The part "GAIN": left: expected a length'),
        ("layout.toml: [box] size: unknown name", "The box: size: unknown name"),
    ],
)
def test_what_can_only_be_typed_is_not_said_here(line: MessageLine, text: str, shown: str) -> None:
    line.say(text)
    assert line.now is not None and line.now.text == shown
