"""The layout changed in the window and saved by an editor too: a real window, real keys, files replaced under it."""

import os
import re
import signal
import time

import driver
import pytest

from mockup.files import UNSAVED_FOLDER

pytestmark = [pytest.mark.gl, pytest.mark.slow]


def left(project):
    """Where the layout file has FLUTTER, mm from the left."""
    return driver.values(project)["FLUTTER"]["left"]


def edited(project, value, also=""):
    """What an editor saves: FLUTTER elsewhere, and a comment at the end."""
    text = (project / "layout.toml").read_text()
    head, tail = text.split('name = "FLUTTER"', 1)
    tail = re.sub(r"left = [\d.]+", f"left = {value}", tail, count=1)
    driver.rewritten(project / "layout.toml", f'{head}name = "FLUTTER"{tail}{also}')


def picked(window):
    """Pick FLUTTER with the keys: Tab goes on from part to part."""
    while window.now["selected"] != "FLUTTER":
        before = window.now["selected"]
        window.key("Tab")
        window.until(lambda now, before=before: now["selected"] != before, "Tab goes on")


def nudged(window):
    """Move FLUTTER one step of the grid to the right."""
    window.key("Right")
    window.until(lambda now: now["is_changed"], "changed here")
    window.settled()


def answered(window, name):
    """Click an answer, once the question stands where it stays."""
    window.place(f"ask.{name}")
    window.until(lambda now: now["is_asking"], "the question is seen")
    window.click(f"ask.{name}")


def looked_at(window, tmp_path, name):
    """Keep a screenshot where it may be looked at."""
    window.shot(tmp_path / f"{name}.png")


def test_every_answer_when_the_file_was_changed_on_both_sides(start, project, tmp_path):
    window = start(project, is_rough=True)
    window.ready()
    window.key("alt+2")
    picked(window)
    first = left(project)

    # another value was saved elsewhere: both stay, nobody is asked
    nudged(window)
    path = project / "layout.toml"
    driver.rewritten(path, path.read_text().replace('sheen = "satin"', 'sheen = "gloss"  # tried'))
    time.sleep(1.0)
    window.settled()
    assert window.now["is_changed"]
    assert window.now["clashes"] == []
    window.key("ctrl+s")
    window.until(lambda now: not now["is_changed"], "saved")
    assert left(project) == pytest.approx(first + 0.5, abs=0.3)  # one step of 0.5 mm, onto the grid
    assert 'sheen = "gloss"  # tried' in path.read_text()

    # the same value: told at once, asked on saving; Escape leaves all as it is
    nudged(window)
    edited(project, 20.0, "# by hand\n")
    told = window.until(lambda now: now["clashes"], "the clash is told")
    assert re.fullmatch(
        r"layout\.toml: part FLUTTER left is 1\d\.\d+ here, 20\.0 in the file; keep one of them", told["clashes"][0]
    )
    assert "asks which to keep" in told["line"]
    assert not told["is_asking"]  # nobody is interrupted
    looked_at(window, tmp_path, "told")
    before = path.read_bytes()
    window.key("ctrl+s")
    window.until(lambda now: now["is_asking"], "asked")
    time.sleep(0.3)
    looked_at(window, tmp_path, "asked")
    window.key("Escape")
    window.until(lambda now: not now["is_asking"], "left as it is")
    assert window.now["is_changed"]
    assert window.now["clashes"]
    assert path.read_bytes() == before

    # the file's value
    window.key("ctrl+s")
    answered(window, "file.0")  # ticks a row: it asks on
    answered(window, "keep")
    window.until(lambda now: not now["is_changed"] and not now["clashes"], "the file's is kept")
    assert path.read_bytes() == before
    window.settled()
    there = window.now["parts"]["FLUTTER"][0]

    # mine, by the keyboard: the first answer is on Enter; what else the editor wrote stays
    nudged(window)
    window.until(lambda now: now["parts"]["FLUTTER"][0] > there, "shown where it was moved to from 20 mm")
    edited(project, 24.0, "# twice\n")
    window.until(lambda now: now["clashes"], "told again")
    window.key("ctrl+s")
    window.until(lambda now: now["is_asking"], "asked again")
    time.sleep(0.3)
    window.key("Return")
    window.until(lambda now: not now["is_changed"] and not now["is_asking"], "mine is kept")
    assert left(project) == pytest.approx(20.5)
    assert path.read_text().endswith("# by hand\n# twice\n")

    # undone here: the file's value is followed without a question
    nudged(window)
    edited(project, 26.0)
    window.until(lambda now: now["clashes"], "told a third time")
    window.key("ctrl+z")
    window.until(lambda now: not now["clashes"] and not now["is_changed"], "nothing of mine is left")
    window.settled()
    window.until(lambda now: now["parts"]["FLUTTER"][0] > there + 5, "the file's own place is shown")

    # an editor saved something that is no layout: nothing is asked or written, what is wrong is told
    nudged(window)
    sound = path.read_text()
    driver.rewritten(path, sound + "[[part\n")
    window.until(lambda now: now["clashes"] and now["is_fault"], "the file cannot be read")
    window.key("ctrl+s")
    time.sleep(0.8)
    assert not window.now["is_asking"]
    assert window.now["is_changed"]
    assert path.read_text().endswith("[[part\n")
    looked_at(window, tmp_path, "broken")
    driver.rewritten(path, sound)
    window.until(lambda now: not now["clashes"] and not now["is_fault"], "the file is well again")

    # on closing: saving asks which one, and then closes
    edited(project, 28.0)
    window.until(lambda now: now["clashes"], "told a last time")
    window.key("ctrl+q")
    answered(window, "save")
    answered(window, "keep")
    assert window.process.wait(60) == 0
    assert left(project) == pytest.approx(26.5)


def test_killed_with_unsaved_changes_and_the_file_changed_since(start, project, tmp_path):
    window = start(project, is_rough=True)
    window.ready()
    picked(window)
    nudged(window)
    mine = left(project) + 0.5
    time.sleep(0.8)  # changes are kept a quarter of a second after they are made
    os.kill(window.process.pid, signal.SIGKILL)
    assert window.process.wait(10) == -signal.SIGKILL
    edited(project, 22.0)

    window = start(project, is_rough=True)
    window.until(lambda now: now["is_asking"], "offered after a crash", 90)
    time.sleep(0.3)
    looked_at(window, tmp_path, "offered")
    answered(window, "take")
    window.until(lambda now: "ask.mine.0" in now["places"], "asked which value")
    time.sleep(0.3)
    looked_at(window, tmp_path, "which")
    answered(window, "keep")
    window.until(lambda now: now["is_changed"] and not now["is_asking"], "mine is back")
    assert left(project) == 22.0
    window.settled()
    window.key("ctrl+s")
    window.until(lambda now: not now["is_changed"], "saved")
    assert left(project) == pytest.approx(mine, abs=0.3)

    picked(window)
    nudged(window)
    kept = (project / "layout.toml").read_bytes()
    window.key("ctrl+q")
    answered(window, "cancel")
    window.until(lambda now: not now["is_asking"], "not closed")
    assert window.now["is_changed"]
    window.key("ctrl+q")
    answered(window, "drop")
    assert window.process.wait(60) == 0
    assert (project / "layout.toml").read_bytes() == kept
    assert not list((tmp_path / "settings" / UNSAVED_FOLDER).iterdir())  # nothing is offered again
