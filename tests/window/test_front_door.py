"""The front door in a real window: a pedal is started, one is chosen, an example is taken apart, files are dropped."""

import os
import time
import tomllib

import driver
import pytest

pytestmark = [pytest.mark.gl, pytest.mark.slow]
NEEDED = "/usr/bin:/bin"  # what a window calls besides: no dialog of the system's


@pytest.fixture
def pedals(desk_settings):
    return desk_settings / "Documents" / "Pedals"


def at_the_door(window):
    return window.until(lambda now: "front.name" in now["places"], "the front door")


def test_a_pedal_is_started_with_a_box_a_paint_and_a_name(start, pedals):
    window = start()
    at_the_door(window)
    window.click("front.box.121x66x39")
    window.click("front.paint.moss")
    window.type("Chalk River")  # the name has the caret, and kept it
    window.key("Return")
    window.ready()
    raw = tomllib.loads((pedals / "Chalk River" / "layout.toml").read_text())
    assert raw == {
        "name": "Chalk River", "units": "mm", "box": {"size": "121x66x39"},
        "finish": {"paint": "#8fb39b", "sheen": "satin"},
    }  # fmt: skip
    window.until(lambda now: now["orbit"][1] > 89, "straight from above")
    window.click("head.start-page")
    window.until(lambda now: "recent.0" in now["places"], "it lies on the bench")
    window.click("recent.0")
    window.ready()


def test_a_box_of_ones_own_is_measured_in_inches_and_lives_where_one_likes(start, pedals, tmp_path):
    (tmp_path / "workshop").mkdir()
    window = start()
    at_the_door(window)
    window.click("front.unit")
    for side, text in (("length", "5"), ("width", "3"), ("height", "38.1mm")):
        window.click(f"front.own.{side}")
        window.key("ctrl+a")
        window.type(text)
        window.key("Return")
    window.click("front.start")
    window.ready()
    raw = tomllib.loads((pedals / "My pedal" / "layout.toml").read_text())
    assert raw["units"] == "in"
    assert raw["box"] == {"length": 5.0, "width": 3.0, "height": 1.5}  # 38.1 mm / 25.4


def test_an_example_opens_as_ones_own_copy(start, pedals):
    before = (driver.ROOT / "examples/gallery/chalk_river/layout.toml").read_bytes()
    window = start()
    at_the_door(window)
    window.click("example.chalk_river")
    window.ready()
    copy = pedals / "Chalk River"
    assert (copy / "layout.toml").read_bytes() == before
    assert (copy / "art.svg").exists()
    assert not (copy / "draw.py").exists()


def test_the_windows_own_browser_finds_a_pedal(start, project, pedals, monkeypatch):
    pedals.mkdir(parents=True)
    project.rename(pedals / "Lantern")
    monkeypatch.setenv("PATH", NEEDED)
    if any(os.access(f"{folder}/zenity", os.X_OK) for folder in NEEDED.split(":")):
        pytest.skip("this system has a dialog of its own")
    window = start()
    at_the_door(window)
    window.click("front.open")
    window.until(lambda now: "browser.Lantern" in now["places"], "the browser")
    window.click("browser.Lantern")
    window.click("browser.choose")
    window.until(lambda now: "browser.layout.toml" in now["places"], "inside the folder")
    window.key("Escape")
    window.until(lambda now: "browser.choose" not in now["places"], "left")
    window.click("front.open")
    window.click("browser.Lantern")
    window.click("browser.choose")
    window.click("browser.layout.toml")
    window.click("browser.choose")
    window.ready()


def test_the_systems_own_dialog_is_asked_where_there_is_one(start, project, tmp_path, monkeypatch):
    helper = tmp_path / "bin" / "zenity"
    helper.parent.mkdir()
    helper.write_text(f'#!/bin/sh\necho "$@" >> "{tmp_path}/asked"\nsleep 0.3\necho "{project}/layout.toml"\n')
    helper.chmod(0o755)
    monkeypatch.setenv("PATH", f"{helper.parent}:{os.environ['PATH']}")
    window = start()
    at_the_door(window)
    window.click("front.open")
    window.ready()
    asked = (tmp_path / "asked").read_text()
    assert "--file-selection" in asked
    assert "*.toml" in asked


def test_changes_that_were_never_saved_are_said_on_the_bench(start, project):
    window = start(project)
    window.ready()
    window.click("rail.paint")
    window.click("sheen.matte")
    window.until(lambda now: now["is_changed"], "changed")
    time.sleep(1.5)  # kept a moment later
    window.end()
    again = start()
    at_the_door(again)
    again.click("recent.0")
    again.until(lambda now: now["is_asking"], "asked, for so long that an answer counts")
    again.click("ask.take")
    again.until(lambda now: now["is_changed"], "the changes are back")
