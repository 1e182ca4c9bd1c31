"""A fault that has been mended goes away by itself, whatever mended it: a real window, files replaced under it."""

import driver
import pytest
from PIL import Image

pytestmark = [pytest.mark.gl, pytest.mark.slow]


def test_faults_go_when_they_are_mended(start, project):
    window = start(project)
    window.ready()
    art, layout = project / "art.png", project / "layout.toml"
    whole, text = art.read_bytes(), layout.read_text()
    with Image.open(art) as picture:
        first = picture.convert("RGBA")

    # a picture that is written in two halves, in place
    art.write_bytes(whole[: len(whole) // 2])
    window.until(lambda now: now["faults"] == ["picture"], "half a picture is told")
    with art.open("ab") as file:
        file.write(whole[len(whole) // 2 :])
    window.until(lambda now: now["faults"] == [] and not now["is_fault"], "the second half mends it")

    # the same after an unsaved change here
    window.key("Tab", "Right")
    window.until(lambda now: now["is_changed"] and not now["is_waiting"], "changed here")
    art.write_bytes(b"no picture")
    window.until(lambda now: now["faults"] == ["picture"], "told")
    driver.replaced(art, first)
    window.until(lambda now: now["faults"] == [], "mended while something is unsaved")

    # a layout broken outside while something is unsaved, and put right outside
    driver.rewritten(layout, text + "[[part\n")
    window.until(lambda now: "file" in now["faults"], "the broken file is told")
    driver.rewritten(layout, text + "# put right\n")
    window.until(lambda now: now["faults"] == [] and not now["clashes"], "put right outside")
    assert window.now["is_changed"]

    # a change outside that names art which is not there, put right by undoing nothing here
    driver.rewritten(layout, text.replace('"art.png"', '"gone.png"'))
    window.until(lambda now: "picture" in now["faults"], "missing art is told")
    driver.rewritten(layout, text)
    window.until(lambda now: now["faults"] == [], "there again")
