"""A pedal from nothing by mouse and keys, chapter by chapter."""

from __future__ import annotations

from pathlib import Path

from story import Story

KINDS = ("pot-16", "pot-16", "toggle-mini", "lamp-3", "footswitch", "jack-enclosed", "jack-enclosed", "dc-socket")
_NAMES = {0: "FLOW", 1: "BANK", 2: "FORD"}


def start(told: Story) -> None:
    """Choose a box and a paint, name it."""
    told.until(lambda now: "front.name" in now["places"], "the front door")
    told.click("front.box.121x66x39")
    told.reach("front.paint.shell", "front")
    told.click("front.paint.shell")
    told.type("Chalk River")
    told.until(lambda now: "drawer.pot-16" in now["places"] and now["has_picture"], "the bench, at Parts")
    told.chapter("bench")


def add_parts(told: Story) -> None:
    """Click each part in the drawer; it stands where there is room, its name open."""
    for number, kind in enumerate(KINDS):
        told.reach(f"drawer.{kind}", "drawer")
        told.click(f"drawer.{kind}")
        told.until(
            lambda now, count=number + 1: len(now["parts"]) == count and "naming" in now["places"],
            f"{kind} stands, its name open",
        )
        if number in _NAMES:
            name = _NAMES[number]
            told.type(name)
            told.until(lambda now, name=name: now["selected"] == name and now["naming"] is None, f"it is called {name}")
    told.until(lambda now: {"IN", "OUT", "POWER", "LAMP", "BYPASS"} <= set(now["parts"]), "the names that are usual")
    told.shown()
    ford, bypass = told.part("FORD"), told.part("BYPASS")
    told.drag(told.part("LAMP"), (ford[0] + 2, ford[1] + 0.2 * (bypass[1] - ford[1])))  # it holds on to the middle
    told.picked(("part", "LAMP"))
    told.shown()
    told.chapter("parts")


def choose_knobs(told: Story) -> None:
    """Pick both pots, give them another knob, its colour and width, and a scale."""
    told.click(told.part("FLOW"))
    told.picked(("part", "FLOW"))
    with told.held("shift"):
        told.click(told.part("BANK"))
    told.picked(("part", "FLOW"), ("part", "BANK"))
    told.reach("knob.stepped")
    told.click("knob.stepped")
    told.shown()
    told.reach("cap")
    told.click("cap")
    told.click("cap.Ivory")
    told.shown()
    told.reach("knob.diameter")
    told.click("knob.diameter")
    told.type("17")
    told.shown()
    told.click("sheet.scale")
    told.shown()
    told.chapter("knobs")


def lay_art(told: Story, art: Path) -> None:
    """Drop a picture on the top, and make it fit."""
    ford, bypass = told.part("FORD"), told.part("BYPASS")
    told.drop(art, (ford[0], (ford[1] + bypass[1]) / 2))
    told.picked(("decal", 0))
    told.thing("decal.0")
    told.reach("art.fit")
    told.click("art.fit")
    told.shown()
    told.chapter("art")


def write(told: Story) -> None:
    """Write a word on the face, drag it under the art, and make the labels smaller."""
    told.click("rail.letters")
    told.click("letters.write")
    told.until(lambda now: "writing" in now["places"], "the caret is on the face")
    told.type("CHALK RIVER")
    told.until(lambda now: "writing" not in now["places"] and now["picked"][0][0] == "label", "it is written")
    told.shown()
    told.click("face.Hand")
    told.shown()
    told.reach("word.size")
    told.click("word.size")
    told.type("5.6")
    told.shown()
    (word,) = [name for name in told.window.now["things"] if name == "label." + str(told.window.now["picked"][0][1])]
    x, y = told.thing(word)
    told.drag((x, y), (x + 3, y + 0.32 * (told.part("BYPASS")[1] - told.part("FORD")[1])))
    told.shown()
    told.click(told.thing("label.0"))
    told.picked(("label", 0))
    told.reach("word.size")
    told.click("word.size")
    told.type("2.2")
    told.shown()
    told.chapter("letters")


def _click_in_head(told: Story, name: str, more: str) -> None:
    """Click a control of the head; in a tight one it is behind its More."""
    if name not in told.window.now["places"]:
        told.click("head.more")
        name = more
    told.click(name)


def make_variant(told: Story) -> None:
    """Make a variant, name it, give it another paint and sheen, look at both side by side."""
    _click_in_head(told, "head.new-variant", "more.new-variant")
    told.until(lambda now: "variant.name" in now["places"], "its name is open")
    told.type("Moss")
    told.until(lambda now: now["variants"] == ["Moss"], "it is called Moss")
    told.click("rail.paint")
    told.click("paint.candidate.moss")
    told.shown()
    told.reach("sheen.hammered")
    told.click("sheen.hammered")
    told.shown()
    told.key("ctrl+b")
    told.until(lambda now: len(now["variants"]) == 2, "both side by side")
    told.shown()
    told.chapter("variant")
    told.key("ctrl+b")
    told.until(lambda now: len(now["variants"]) == 1, "one picture")
    _click_in_head(told, "variant.the layout itself", "more.variant.As designed")
    told.until(lambda now: now["variants"] == [None], "the design")
    told.shown()


def cure_stop(told: Story) -> None:
    """Drag a pot into the switch, and have the stop cured."""
    flow, ford = told.part("FLOW"), told.part("FORD")
    told.drag(flow, ((flow[0] + ford[0]) / 2, (flow[1] + ford[1]) / 2))
    told.until(lambda now: not now["is_waiting"] and not now["is_checking"] and now["stops"] > 0, "a stop", 300)
    told.click("head.readiness")
    told.until(lambda now: "sheet.card" in now["places"] and now["station"] == "check", "what stands in the way")
    told.reach("finding.1.do")
    told.chapter("stop")
    told.click("finding.1.do")
    told.until(lambda now: now["trial"], "it is judged", 300)
    told.chapter("remedy")
    told.key("Return")
    told.until(lambda now: not now["is_checking"] and now["stops"] == 0, "nothing stops the build", 300)


def take_away(told: Story, project: Path) -> None:
    """Save template and sheet, and the pedal; close."""
    told.click("rail.take-away")
    told.until(lambda now: "take.save" in now["places"], "the outputs")
    told.chapter("take-away")
    told.click("take.save")
    told.until(lambda now: not now["is_making"] and len(list((project / "pages").glob("*.pdf"))) == 2, "2 pages", 120)
    told.chapter("saved")
    told.key("ctrl+s")
    told.until(lambda now: not now["is_changed"], "saved")
    told.key("ctrl+q")
    assert told.window.process.wait(60) == 0
