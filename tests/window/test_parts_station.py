"""Parts in a real window with real mouse and keys: added, named, carried, doubled, set in order, removed; the box."""

from __future__ import annotations

import time
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import driver
import pytest

pytestmark = [pytest.mark.gl, pytest.mark.slow]  # real windows: a minute each, measured

BARE = """\
# begun by hand
name = "Heron"
[box]
size = "121x66x39"
[finish]
paint = "#a5d2c8"
"""


@pytest.fixture
def bare(folder_of: Callable[[str], Path]) -> Path:
    """The folder of a bare box."""
    return folder_of(BARE)


def saved(window: driver.Window, folder: Path) -> dict[str, Any]:
    """Save, and return the layout as it reads."""
    return tomllib.loads(window.saved(folder))


def named(window: driver.Window, kind: str, name: str) -> None:
    """Click a kind in the drawer and type its name."""
    window.click(f"drawer.{kind}")
    window.until(lambda now: now["naming"] is not None and "naming" in now["places"], f"the name of {kind} is open")
    time.sleep(0.4)
    window.type(name)
    window.key("Return")
    window.until(lambda now: now["naming"] is None and now["selected"] == name, f"{name} is its name")
    window.settled()


def part(raw: dict[str, Any], name: str) -> dict[str, Any]:
    return next(each for each in raw["part"] if each["name"] == name)


def test_parts_are_added_named_doubled_and_removed(start, bare):
    window = start(bare)
    window.ready()
    named(window, "pot-16", "FLOW")
    named(window, "pot-16", "BANK")
    raw = saved(window, bare)
    flow, bank = part(raw, "FLOW"), part(raw, "BANK")
    assert flow["left"] == bank["right"]  # a mirrored pair
    assert flow["top"] == bank["top"]
    assert [label["part"] for label in raw["label"]] == ["FLOW", "BANK"]  # lettered as they came
    assert (bare / raw["lettering"]["font"]).exists()

    window.key("ctrl+z")  # one step takes back coming, name and label together
    window.until(lambda now: "BANK" not in now["parts"] and not now["is_waiting"], "BANK is gone")
    window.key("ctrl+shift+z")
    window.until(lambda now: "BANK" in now["parts"], "BANK is back")
    window.settled()

    window.click("list.part.FLOW") if "list.part.FLOW" in window.now["places"] else window.key("Tab")
    window.until(lambda now: now["selected"] is not None, "one is picked")
    window.key("ctrl+d")
    window.until(lambda now: "naming" in now["places"], "the twin's name is open")
    window.key("Escape")
    window.until(lambda now: now["naming"] is None and len(now["parts"]) == 3, "a third part")
    window.settled()
    window.key("Delete")
    window.until(lambda now: len(now["parts"]) == 2, "it is removed")
    window.settled()
    raw = saved(window, bare)
    assert sorted(each["name"] for each in raw["part"]) == ["BANK", "FLOW"]
    assert (bare / "layout.toml").read_text().startswith("# begun by hand")


def test_a_part_is_carried_out_of_the_drawer_and_two_are_set_in_order(start, bare):
    window = start(bare)
    window.from_above()
    left, top, right, bottom = window.now["places"]["picture"]
    x, y = (left + right) / 2, top + (bottom - top) * 0.4
    window.drag(window.place("drawer.toggle-mini"), (x, y), steps=10)
    window.until(lambda now: "naming" in now["places"], "the switch is set down and its name is open")
    time.sleep(0.4)
    window.key("Return")
    window.until(lambda now: now["naming"] is None and len(now["parts"]) == 1, "MODE")
    window.settled()
    named(window, "pot-9", "A")
    named(window, "pot-9", "B")
    window.do("keydown", "shift")
    window.click(tuple(window.now["parts"]["MODE"]))
    window.do("keyup", "shift")
    window.until(lambda now: len(now["picked"]) == 2, "two are picked")
    window.click("line.middle")
    window.until(lambda now: abs(now["parts"]["MODE"][0] - now["parts"]["B"][0]) < 3, "lined up in one column")
    raw = saved(window, bare)
    assert {each["name"]: each["kind"] for each in raw["part"]} == {"MODE": "toggle-mini", "A": "pot-9", "B": "pot-9"}


def test_the_box_is_bought_and_measured(start, bare):
    window = start(bare)
    window.ready()
    window.click("rail.box")
    window.click("size.112x60x31")
    window.until(lambda now: now["is_changed"], "another size")
    window.settled()
    window.click("box.width")
    time.sleep(0.4)
    window.type("2 1/2 in")
    window.key("Return")
    window.settled()
    raw = saved(window, bare)
    assert raw["box"] == {"size": "112x60x31", "width": 63.5}  # 2.5 x 25.4
