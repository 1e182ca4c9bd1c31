"""The window as a person uses it: a real one on a virtual screen, with real mouse and key events."""

import os
import random
import time
from pathlib import Path

import driver
import numpy as np
import pytest
from PIL import Image, ImageOps

pytestmark = [pytest.mark.gl, pytest.mark.slow]

EXAMPLE = driver.ROOT / "examples" / "lantern_moth"


def test_view_toggles_and_variants(start, project):
    window = start(project)
    window.ready()
    before, orbit = window.pixels(), window.now["orbit"]

    window.drag((440, 720), (560, 690))
    turn = 0.4  # degrees a pixel, see look_tool.py
    there = pytest.approx([orbit[0] - 120 * turn, orbit[1] - 30 * turn], abs=0.01)
    window.until(lambda now: now["orbit"][:2] == there, "orbit, nothing lost at the start")
    time.sleep(0.5)
    assert window.now["orbit"][:2] == there  # no inertia
    window.settled()
    assert np.abs(window.pixels() - before).mean() > 3

    window.view("three-quarter")
    window.until(lambda now: now["orbit"] == orbit, "back in the named view")
    window.do("mousemove", 440, 300)  # right of the drawer, which lies over the picture
    window.do("click", 4)
    nearer = window.until(lambda now: now["orbit"][2] != orbit[2], "zoom")["orbit"][2]
    assert orbit[2] / nearer == pytest.approx(1.12)  # one line of the wheel, see pointer_tools.py
    window.view("three-quarter")

    window.settled()
    before = window.pixels()
    drafts = window.now["drafts"]
    window.switch("hardware")
    window.until(lambda now: not now["has_hardware"] and now["drafts"] > drafts, "hardware off")
    time.sleep(0.3)
    assert np.abs(window.pixels() - before).mean() > 1
    window.switch("hardware")

    window.click("variant.dusk")
    window.until(lambda now: now["variants"] == ["dusk"], "variant")
    window.settled()
    time.sleep(0.5)
    red, _, blue = window.pixels()[500:560, 300:340].reshape(-1, 3).mean(axis=0)
    window.key("ctrl+shift+Tab")
    window.until(lambda now: now["variants"] == [None], "the layout itself")
    window.key("ctrl+Tab")
    window.until(lambda now: now["variants"] == ["dusk"], "the next one")
    window.key("ctrl+shift+Tab")
    window.until(lambda now: now["variants"] == [None], "back a second time")
    time.sleep(0.5)
    window.settled()
    ivory = window.pixels()[500:560, 300:340].reshape(-1, 3).mean(axis=0)
    assert ivory[0] - ivory[2] > red - blue  # dusk is bluer than ivory

    window.click("foot.show")
    window.click("panes.three-panes")
    window.key("Escape")
    back = lambda now: len(now["variants"]) == 3 and now["orbit"][2] > 1.2 * orbit[2]  # noqa: E731
    window.until(back, "three pictures, the whole pedal in each")
    window.click("foot.show")
    window.click("panes.wipe")
    window.key("Escape")
    window.until(lambda now: len(now["variants"]) == 2 and "wipe.line" in now["places"], "wipe")
    x, y = window.place("wipe.line")
    window.drag((x, y), (x - 100, y))
    window.until(lambda now: abs(sum(now["places"]["wipe.line"][::2]) / 2 - (x - 100)) <= 2, "the line follows")
    window.key("F1")
    window.until(lambda now: now["has_help"], "help")
    window.key("Escape")
    window.until(lambda now: not now["has_help"], "help is gone")


def test_the_manual_is_in_the_help(start):
    window = start()
    window.until(lambda now: "front.name" in now["places"], "the front door")
    window.key("F1")
    window.until(lambda now: "help.search" in now["places"], "help")
    window.until(lambda now: "help.page.check" in now["places"], "the pages are listed")
    below = window.place("help.page.colour")[1]
    window.click("help.page.check")
    window.until(lambda now: now["places"].get("help.page.colour", (0, 9e9))[1] > below + 200, "the page is open")


def test_a_part_is_dragged_typed_undone_and_saved(start, project):
    text = (project / "layout.toml").read_text()
    window = start(project)
    window.ready()
    window.view("above")
    window.until(lambda now: now["orbit"][1] > 89, "seen from above")
    window.settled()
    time.sleep(0.4)
    x, y = window.now["parts"]["LANTERN"]
    window.drag((x, y), (x - 40, y + 37), steps=12)
    now = window.until(lambda now: now["is_changed"], "the layout is changed")
    assert now["selected"] == "LANTERN"
    window.settled()
    assert (project / "layout.toml").read_text() == text  # nothing is written unasked

    window.key("ctrl+s")
    window.until(lambda now: not now["is_changed"], "saved")
    after = (project / "layout.toml").read_text().splitlines()
    kept = [line for line in after if line in text.splitlines()]
    assert len(after) - len(kept) <= 2  # where it is: top, and left, which was half-way without saying so
    moved = driver.values(project)["LANTERN"]
    assert moved["top"] > 60.75
    assert moved["left"] < 32.35
    for side in ("left", "top"):
        assert moved[side] / 0.5 == pytest.approx(round(moved[side] / 0.5)) or side == "left"  # on the grid

    window.key("ctrl+z")
    window.until(lambda now: now["is_changed"] and abs(now["parts"]["LANTERN"][1] - y) < 2, "undone")
    window.click("place.top")
    window.key("ctrl+a")
    window.type("2 1/4 in")
    window.key("Return")
    window.until(lambda now: now["parts"]["LANTERN"][1] < y - 5, "moved up")
    window.settled()
    window.key("ctrl+s")
    window.until(lambda now: not now["is_changed"], "saved again")
    assert driver.values(project)["LANTERN"]["top"] == pytest.approx(57.15)  # 2.25 x 25.4

    window.key("Right", "Right")
    window.until(lambda now: now["is_changed"], "nudged")
    window.settled()
    window.key("ctrl+q")
    window.until(lambda now: now["is_asking"], "asked about what is unsaved")
    window.key("Escape")
    window.until(lambda now: not now["is_asking"], "not closed")
    window.process.kill()
    window.process.wait()

    window = start(project)
    window.until(lambda now: now["is_asking"], "offered after a crash", 90)
    window.click("ask.take")
    window.until(lambda now: now["is_changed"], "unsaved changes are back")
    window.key("ctrl+q")
    window.until(lambda now: now["is_asking"], "asked again")
    window.click("ask.save")
    assert window.process.wait(60) == 0
    left = driver.values(project)["LANTERN"]["left"]
    assert left == pytest.approx(32.35 + 1.0, abs=0.3)  # two steps of 0.5 mm from the middle


def test_saved_art_shows_at_once_and_broken_art_keeps_the_picture(start, project):
    window = start(project)
    window.ready()
    window.view("above")
    window.settled()
    time.sleep(0.6)
    window.until(lambda now: now["is_fine"], "at rest", 90)
    before = window.pixels()
    art = project / "art.png"
    with Image.open(art) as picture:
        first = picture.convert("RGBA")
    negative = ImageOps.invert(first.convert("RGB"))
    negative.putalpha(first.getchannel("A").point(lambda _: 255))

    drafts = window.now["drafts"]
    driver.replaced(art, negative)
    window.until(lambda now: now["drafts"] > drafts, "new art is shown", 20)
    window.until(lambda now: now["is_fine"], "at rest", 90)  # a slow machine moves it in coarse pixels
    time.sleep(0.3)
    changed = window.pixels()
    assert np.abs(changed - before).mean() > 5

    art.write_bytes(b"half a pic")
    said = window.until(lambda now: now["is_fault"], "what is wrong")["line"]
    assert said.startswith("art.png: ")
    assert window.now["drafts"] >= 1
    high = len(changed) // 2  # what is wrong is said over the lower half, in as many lines as it needs

    def is_kept(now: dict) -> bool:
        kept = window.pixels()[:high]
        return np.abs(kept - changed[:high]).mean() < 0.1 * np.abs(kept - before[:high]).mean()

    window.until(is_kept, "the picture is the one before", 90)

    driver.replaced(art, first)
    window.until(lambda now: not now["is_fault"], "well again")
    (project / "layout.toml").write_text((project / "layout.toml").read_text().replace("121x66x39", "121x66"))
    said = window.until(lambda now: now["is_fault"], "the layout's mistake")["line"]
    assert said.startswith('The box: size: unknown name "121x66"')


def test_pages_are_saved_into_their_folder_and_a_stopped_one_is_not(start, project):
    window = start(project)
    window.ready()
    before = (project / "layout.toml").read_bytes()
    window.until(lambda now: not now["is_checking"], "looked at", 120)
    window.click("rail.take-away")
    window.until(lambda now: "page.fit" in now["places"], "the real page is shown", 120)
    window.click("take.save")  # template and sheet are ticked
    if window.until(lambda now: now["is_making"] or now["is_asking"], "being made")["is_asking"]:
        window.click("ask.save")  # the page says that a stop is open
    window.until(lambda now: not now["is_making"] and "take.open.1" in now["places"], "made", 180)
    pages = {path.name for path in (project / "pages").iterdir()}
    assert pages == {"lantern-moth-template.pdf", "lantern-moth-sheet.pdf"}
    assert (project / "pages" / "lantern-moth-template.pdf").read_bytes().startswith(b"%PDF")
    window.click("tick.template")
    window.click("tick.sheet")
    window.click("tick.turntable")
    window.click("take.save")
    window.until(lambda now: now["is_making"], "being made")
    time.sleep(1.0)
    window.click("take.stop")
    window.until(lambda now: not now["is_making"], "stopped")
    assert {path.name for path in (project / "pages").iterdir()} == pages
    assert {path.name for path in project.iterdir()} == {"art.png", "draw.py", "layout.toml", "pages", "records"}
    assert (project / "layout.toml").read_bytes() == before


def test_without_a_display_there_is_one_clear_line():
    import subprocess
    import sys

    env = {key: value for key, value in os.environ.items() if key not in ("DISPLAY", "WAYLAND_DISPLAY")}
    command = [sys.executable, "-m", "mockup", "view", str(EXAMPLE)]
    done = subprocess.run(command, env=env, capture_output=True, text=True, check=False, cwd=driver.ROOT)
    assert done.returncode == 2
    assert done.stderr.startswith("mockup: there is no display")
    assert len(done.stderr.splitlines()) == 1


def test_many_saves_and_random_inputs_leave_it_well(start, project):
    soak(start(project), project, saves=20, inputs=50, room_mb=300)  # half-way, what is kept is not yet all there


def soak(window, project, saves, inputs, told=None, room_mb=120):
    """Save art and layout over and over and press and drag at random; memory stays, nothing slips."""
    window.ready()
    art, layout = project / "art.png", project / "layout.toml"
    with Image.open(art) as picture:
        pictures = [picture.convert("RGBA"), picture.convert("RGBA").transpose(Image.Transpose.FLIP_LEFT_RIGHT)]
    text = layout.read_text()
    dice = random.Random(7)
    keys = "alt+1 alt+2 alt+3 alt+4 alt+5 alt+9 d 1 Tab Left Up ctrl+plus ctrl+minus ctrl+1 ctrl+2 ctrl+3 ctrl+4 ctrl+5"
    keys += " ctrl+6 ctrl+7 ctrl+0 ctrl+b ctrl+Tab shift+Left alt+Left ctrl+Left ctrl+z ctrl+shift+z ctrl+r Escape F6"
    early = None
    for step in range(max(saves, inputs)):
        if step < saves:
            if step % 4 == 3:
                layout.write_text(text.replace('sheen = "satin"', f'sheen = "{dice.choice(["gloss", "matte"])}"'))
            else:
                driver.replaced(art, pictures[step % 2])
        if step < inputs:
            if dice.random() < 0.6:
                window.key(
                    dice.choice(keys.split())
                )  # waits: keys ahead of the window by minutes are no use to anybody
            else:
                x, y = dice.randrange(90, 500), dice.randrange(90, 700)
                window.drag((x, y), (x + dice.randrange(-80, 80), y + dice.randrange(-80, 80)), steps=3)
        time.sleep(0.05)
        if step == max(saves, inputs) // 2:
            early = alone_mb(window)
        if told is not None and step % 25 == 0:
            told(f"{step}: {memory_mb(window):.0f} MB")
    late = alone_mb(window)
    assert window.now["failures"] == 0, window.said()
    assert window.process.poll() is None
    assert late - early < room_mb, f"{early:.0f} MB, later {late:.0f} MB"
    return early, late


def alone_mb(window):
    """The window's memory with one picture in it: several panes take more."""
    window.key("Escape", "Escape", "alt+1")
    if len(window.settled()["variants"]) > 1:
        window.key("ctrl+b")
    window.until(lambda now: len(now["variants"]) == 1 and not now["is_waiting"], "one picture, and well", 90)
    time.sleep(0.5)
    return memory_mb(window)


def memory_mb(window):
    """The window's memory in use."""
    status = Path(f"/proc/{window.process.pid}/status").read_text()
    return int(next(line for line in status.splitlines() if line.startswith("VmRSS")).split()[1]) / 1024
