"""Keys pressed while the machine is behind: none is lost, and each goes where its order says."""

import os
import signal
import time

import driver
import pytest

pytestmark = [pytest.mark.gl, pytest.mark.slow]


def behind(window, *words):
    """Give events to a window that does not move, then let it go on."""
    os.kill(window.process.pid, signal.SIGSTOP)
    try:
        for each in words:
            window.do(*each)
    finally:
        os.kill(window.process.pid, signal.SIGCONT)


def test_a_length_typed_into_a_window_that_is_behind_arrives_whole(start, project):
    window = start(project)
    window.ready()
    window.view("above")
    window.settled()
    window.click("list.part.FLUTTER")
    x, y = window.place("place.left")
    for value in ("17.25", "18.5", "20.75", "16"):
        behind(
            window, ("mousemove", x, y), ("click", 1), ("key", "ctrl+a"), ("type", "--delay", 0, value),
            ("key", "Return"),
        )  # fmt: skip
        window.until(lambda now: now["is_changed"] and not now["is_waiting"], "taken")
        window.key("ctrl+s")
        window.until(lambda now: not now["is_changed"], "saved")
        assert driver.values(project)["FLUTTER"]["left"] == pytest.approx(float(value))
    assert window.now["view"] == "above"
    assert window.now["station"] == "parts"


def test_keys_pressed_before_a_question_is_seen_do_not_answer_it(start, project):
    window = start(project)
    window.ready()
    window.key("Tab", "Right")
    window.until(lambda now: now["is_changed"], "changed")
    behind(window, ("key", "ctrl+q"), ("key", "Return"), ("key", "Escape"), ("key", "space"))
    window.until(lambda now: now["is_asking"], "asked")
    assert window.now["is_asking"]  # neither saved and closed by Enter nor left by Escape
    assert window.process.poll() is None
    window.key("Escape")
    window.until(lambda now: not now["is_asking"], "answered")
    assert window.now["is_changed"]


def test_letters_and_digits_with_no_caret_do_nothing(start, project):
    window = start(project)
    window.ready()
    before = {key: value for key, value in window.now.items() if key not in ("at", "releases", "places")}
    window.type("dhlxkciomgvwfpqn1234567890")
    time.sleep(0.5)
    now = {key: value for key, value in window.now.items() if key not in ("at", "releases", "places")}
    changing = {"findings", "is_checking", "drafts", "is_fine", "parts"}
    assert {k: v for k, v in now.items() if k not in changing} == {k: v for k, v in before.items() if k not in changing}
