"""What a real window saves: a picture is what the screen shows, and every output has its page."""

import time

import driver
import numpy as np
import pytest
from PIL import Image

from mockup.outputs import OUTPUTS
from mockup.window.saves.output_options import fields

pytestmark = [pytest.mark.gl, pytest.mark.slow]

SAME = 2  # codes: file and screen round each on their own
OTHER = 15  # codes: what every toggle changes somewhere, at the least


def without_net(pixels):
    """The picture but for its lower left corner, where the net of the faces lies over it."""
    pixels = pixels.copy()
    pixels[-126:, :142] = 0  # 140 by 124 units, 12 in, of which 10 are cut off: the window's design
    return pixels


def fine(window):
    """The picture at rest, as good as it gets, the pointer away from it."""
    window.do("mousemove", 700, 545)
    window.until(lambda now: now["line"] is None, "nothing is said over it")
    time.sleep(0.4)
    window.settled()
    window.until(lambda now: now["is_fine"], "at rest", 90)
    time.sleep(0.3)
    return without_net(window.pixels())


def only(window, output):
    """Tick one output alone: template and sheet are ticked at first."""
    for name in {"template", "sheet"} ^ {output}:
        window.click(f"tick.{name}")


def reach(window, name):
    """Turn the wheel down and up until a control is in sight."""
    for button in (5, 4):
        before = None
        while name not in window.now["places"] and window.now["places"] != before:
            before = window.now["places"]
            window.turned(button)


def saved(window, project, name):
    """Save the picture, as large as on the screen; return its codes."""
    window.click("rail.take-away")
    window.click("take.save")
    path = project / "pages" / name
    window.until(lambda now: path.exists() and not now["is_making"], "saved", 90)
    with Image.open(path) as picture:
        seen = np.asarray(picture.convert("RGB")).astype(int)[10:-10, 10:-10]  # without the rounded corners
        return without_net(seen)


def test_a_picture_saved_with_toggles_and_a_new_paint_is_the_screens(start, project):
    window = start("--size", "900x640", project)
    window.ready()
    window.switch("findings")  # numbers are not part of the picture
    window.click("rail.take-away")
    only(window, "still")
    window.click("output.still")
    window.click("still.larger")
    window.place("still.larger.1")
    time.sleep(0.5)  # the list has opened where it stays
    window.click("still.larger.1")
    window.click("still.quality")
    window.place("still.quality.draft")
    time.sleep(0.5)
    window.click("still.quality.draft")
    window.click("rail.check")
    plain = fine(window)
    window.switch("see-through", "decal", "lamp")
    window.until(lambda now: now["is_lamp_lit"] is False, "the toggles are set")
    window.click("rail.paint")
    window.until(lambda now: "paint.candidate.moss" in now["places"], "the station Paint")
    window.do("mousemove", 800, 600)
    window.do("click", "--repeat", 8, 5)  # the wheel, down the sheet
    window.click("paint.hex")
    window.key("ctrl+a")
    window.type("#2b7a3d")
    window.key("Return")
    window.until(lambda now: now["is_changed"], "painted")
    window.click("rail.check")
    there = fine(window)
    assert np.abs(there - plain).max() > OTHER
    picture = saved(window, project, "lantern-moth-three-quarter.png")
    assert picture.shape == there.shape
    assert np.abs(picture - there).max() <= SAME

    window.switch("see-through", "decal", "lamp")
    window.key("ctrl+b")  # two versions side by side, all of it
    window.until(lambda now: len(now["variants"]) == 2 and not now["is_see_through"], "two")
    window.click("rail.check")  # the drawer lies over the picture in a small window
    there = fine(window)
    pair = saved(window, project, "lantern-moth-side-by-side-three-quarter.png")
    there = there[there.shape[0] - pair.shape[0] :]  # without the strips of names and findings over the panes
    half = (pair.shape[1] + 20 - 2) // 2
    low = 6  # the corners of panes are round, and the active one has a frame of 2 px
    for start_px, away in ((0, 0), (half + 2, there.shape[1] - pair.shape[1])):  # panes lie farther apart on the screen
        left, right = max(start_px - 6, 0) + 8, start_px + half - 22
        seen = there[low:-4, left + away : right + away]
        assert np.abs(pair[low:-4, left:right] - seen).max() <= SAME
    wide = half - 30
    assert np.abs(pair[low:, :wide] - pair[low:, half + 2 : half + 2 + wide]).max() > OTHER  # two versions


def test_every_output_has_its_options_and_a_paint_is_mixed(start, project):
    (project / "paints.csv").write_text("name,colour\nMoss,#3a5f2b\n")
    window = start(project)
    window.ready()
    window.click("rail.take-away")
    window.do("mousemove", 180, 400)  # over the drawer, which is turned
    for output in filter(fields, OUTPUTS.names()):
        reach(window, f"output.{output}")  # the options of the last one stand in the way
        window.click(f"output.{output}")
        window.until(lambda now, name=output: f"{name}.{fields(name)[0].name}" in now["places"], output)
    reach(window, "output.jig")
    window.click("output.jig")
    window.click("jig.plate")
    window.key("ctrl+a")
    window.type("4.5")
    window.key("Return")
    only(window, "jig")
    window.click("take.save")
    window.until(
        lambda now: (project / "pages" / "lantern-moth-jig.stl").exists() and not now["is_making"], "the jig", 90
    )

    window.click("rail.paint")
    window.click("paint.project.2")  # after those of the layout and of a variant
    window.until(lambda now: now["is_changed"] and not now["is_waiting"], "painted")
    window.key("ctrl+s")
    window.until(lambda now: not now["is_changed"], "saved")
    assert driver.values(project)["finish"]["paint"] == "#3a5f2b"
    x0, y0, x1, y1 = (round(each) for each in window.now["places"]["paint.slider.0"])
    middle, end, y = (x0 + x1) // 2, x1 - 3, (y0 + y1) // 2  # as light as can be
    drag = ("mousemove", middle, y, "mousedown", 1, "mousemove", end, y, "mouseup", 1)
    window.heard(lambda: window.do(*drag))  # all at once, as a machine sees it that draws slowly
    window.until(lambda now: now["is_changed"], "mixed")
    window.key("ctrl+s")
    window.until(lambda now: not now["is_changed"], "saved again")
    assert driver.values(project)["finish"]["paint"] == "#ffffff"
