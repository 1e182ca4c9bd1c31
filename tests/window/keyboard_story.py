"""The same pedal from nothing by keyboard alone, chapter by chapter."""

from __future__ import annotations

from pathlib import Path

from story import Story

_OTHERS = (
    ("small toggle", "FORD"),
    ("3 mm lamp", ""),
    ("footswitch", ""),
    ("enclosed jack", ""),
    ("enclosed jack", ""),
    ("dc", ""),
)


def start(told: Story) -> None:
    """Choose a box, name the pedal; the paint is Shell by itself."""
    told.until(lambda now: now["focus"][1] == "front.name", "the front door, the caret in the name")
    told.press_until("shift+Tab", lambda now: now["focus"][1] == "front.box.121x66x39", "the box")
    told.key("Return")
    told.until(lambda now: now["focus"][1] == "front.name", "the caret is in the name again")
    told.type("Chalk River")
    told.until(lambda now: "drawer.pot-16" in now["places"] and now["has_picture"], "the bench, at Parts")


def _add(told: Story, words: str, name: str) -> None:
    count = len(told.window.now["parts"]) + 1
    told.key("F3")
    told.until(lambda now: now["focus"][1] == "drawer.find", "the caret is in the search")
    told.type(words)
    told.until(lambda now: len(now["parts"]) == count and now["focus"][1] == "naming", f"{words} stands, its name open")
    if name:
        told.type(name)
        told.until(lambda now: now["selected"] == name and now["naming"] is None, f"it is called {name}")


def add_parts(told: Story) -> None:
    """Find each part by plain words; the second pot is the first one's twin, knob and scale included."""
    _add(told, "pot 16", "FLOW")
    told.shown()
    told.focus("knob.scalloped", "sheet")
    told.press_until("Left", lambda now: now["focus"][1] == "knob.dome", "the first of its row: the arrows put on each")
    told.press_until("Down", lambda now: now["focus"][1] == "knob.stepped", "the knob Stepped")
    told.shown()
    told.press_until("Tab", lambda now: now["focus"][1] == "knob.diameter", "the width")
    told.type("17")
    told.shown()
    told.press_until("Tab", lambda now: now["focus"][1] == "cap", "the cap")
    told.key("Return")
    told.press_until("Right", lambda now: now["focus"][1] == "cap.Ivory", "ivory")
    told.key("Return")
    told.shown()
    told.key("ctrl+shift+l")
    told.shown()
    told.key("ctrl+d")
    told.until(lambda now: now["focus"][1] == "naming", "the twin's name is open")
    told.type("BANK")
    told.until(lambda now: now["selected"] == "BANK" and now["naming"] is None, "it is called BANK")
    for words, name in _OTHERS:
        _add(told, words, name)
    told.key("Escape")
    told.until(lambda now: now["naming"] is None, "the last name is taken")
    told.shown()
    told.chapter("keys-parts")


def lay_art(told: Story, art: Path, project: Path) -> None:
    """Lay a picture that was put into the pedal's folder, and make it fit."""
    (project / art.name).write_bytes(art.read_bytes())
    told.key("ctrl+4")
    told.focus(f"picture.{art.name}", "drawer", step="shift+F6")
    told.key("Return")
    told.picked(("decal", 0))
    told.thing("decal.0")
    told.focus("art.fit", "sheet")
    told.key("Return")
    told.shown()
    told.chapter("keys-art")


def write(told: Story) -> None:
    """Write a word on the face, set it under the art, and make the labels smaller."""
    told.key("ctrl+5")
    told.focus("letters.write", "sheet")
    told.key("Return")
    told.until(lambda now: "writing" in now["places"], "the caret is on the face")
    told.type("CHALK RIVER")
    told.until(lambda now: "writing" not in now["places"] and now["picked"][0][0] == "label", "it is written")
    told.shown()
    told.focus("face.Hand", "sheet")
    told.key("Return")
    told.shown()
    told.press_until("Tab", lambda now: now["focus"][1] == "word.size", "the capital height")
    told.type("5.6")
    told.shown()
    told.press_until("Tab", lambda now: now["focus"][1] == "word.top", "its place")
    told.type("83.5")
    told.shown()
    told.key("Escape")
    told.key("Escape")
    told.until(lambda now: not now["picked"], "nothing is picked")
    told.focus("label.0", "sheet")
    told.key("Return")
    told.picked(("label", 0))
    told.key("Escape")
    told.until(lambda now: now["focus"][0] == "picture", "the keys are at the picture")
    told.key("Return")
    told.until(lambda now: now["focus"][1] == "word.size", "its size waits to be typed")
    told.type("2.2")
    told.shown()
    told.chapter("keys-letters")


def make_variant(told: Story) -> None:
    """Make a variant, name it, give it another paint and sheen, look at both side by side."""
    told.key("ctrl+shift+v")
    told.until(lambda now: now["focus"][1] == "variant.name", "its name is open")
    told.type("Moss")
    told.until(lambda now: now["variants"] == ["Moss"], "it is called Moss")
    told.key("ctrl+3")
    told.focus("paint.candidate.moss", "sheet")
    told.key("Return")
    told.shown()
    told.press_until("Tab", lambda now: now["focus"][1] == "sheen.hammered", "the sheen")
    told.key("Return")
    told.shown()
    told.key("ctrl+b")
    told.until(lambda now: len(now["variants"]) == 2, "both side by side")
    told.shown()
    told.key("ctrl+b")
    told.until(lambda now: len(now["variants"]) == 1, "one picture")
    told.key("ctrl+Tab")
    told.until(lambda now: now["variants"] == [None], "the design")
    told.shown()


def cure_stop(told: Story) -> None:
    """Type a pot into the switch, and have the stop cured."""
    told.key("ctrl+2")
    told.key("Escape")
    told.press_until("Tab", lambda now: now["selected"] == "FLOW", "FLOW is picked")
    told.key("Return")
    told.press_until("Tab", lambda now: now["focus"][1] == "place.left", "its place from the left")
    told.type("24.5")
    told.until(lambda now: not now["is_waiting"] and not now["is_checking"] and now["stops"] > 0, "a stop", 300)
    told.key("F8")
    told.until(lambda now: now["trial"], "the remedy is judged", 300)
    told.key("Return")
    told.until(lambda now: not now["is_checking"] and now["stops"] == 0, "nothing stops the build", 300)


def take_away(told: Story, project: Path) -> None:
    """Save template and sheet, and the pedal; close."""
    told.key("ctrl+7")
    told.focus("take.save", "sheet.foot")
    told.key("Return")
    told.until(lambda now: not now["is_making"] and len(list((project / "pages").glob("*.pdf"))) == 2, "2 pages", 120)
    told.key("ctrl+s")
    told.until(lambda now: not now["is_changed"], "saved")
    told.key("ctrl+q")
    assert told.window.process.wait(60) == 0


def reopen(told: Story) -> None:
    """Open the pedal again from the bench; it is as it was."""
    told.until(lambda now: now["focus"][1] == "front.name" and "recent.0" in now["places"], "it lies on the bench")
    told.key("F6")
    told.until(lambda now: now["focus"][1] == "recent.0", "the keys are at the bench")
    told.key("Return")
    now = told.until(lambda now: now["has_picture"] and len(now["parts"]) == 8, "as it was")
    assert not now["is_changed"]
