"""The story from nothing to the bench in one real window: each action counted, the file read back at the end."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from pathlib import Path

import driver
import pytest
from story import Story

from mockup import api

pytestmark = [pytest.mark.gl, pytest.mark.slow]

SIZE = "940x800"
MOST_ACTIONS = 60  # our goal for all of it


@pytest.fixture
def told(tmp_path: Path, screen: str) -> Iterator[Story]:
    """A story that begins at the front door."""
    window = driver.Window(screen, tmp_path, "--size", SIZE)
    yield Story(window)
    now = window.now
    window.end()
    assert now.get("failures", 0) == 0, window.said()


def test_a_pedal_is_built_checked_cured_and_taken_away(told: Story, desk_settings: Path) -> None:
    window = told.window
    told.until(lambda now: "front.name" in now["places"], "the front door")

    # box, paint, name
    told.click("front.box.121x66x39")
    told.click("front.paint.shell")
    told.type("Chalk River")
    window.ready()
    layout = next(desk_settings.parent.rglob("Chalk River/layout.toml"), None) or Path(window.now["project"])

    # parts, each where there is room
    told.until(lambda now: "drawer.pot-16" in now["places"], "the drawer")
    told.add("pot-16", "FLOW")
    told.add("pot-16", "BANK")
    told.add("toggle-mini", "FORD")
    told.add("lamp-3")
    told.add("footswitch")
    told.add("jack-enclosed")
    told.add("jack-enclosed")
    told.add("dc-socket")
    told.key("alt+2")
    window.settled()
    assert len(window.now["parts"]) == 8

    # a stop, brought about and cured
    flow, ford = told.part("FLOW"), told.part("FORD")
    told.drag(flow, ((flow[0] + 2 * ford[0]) / 3, (flow[1] + 2 * ford[1]) / 3))
    told.until(lambda now: now["is_changed"] and not now["is_waiting"], "moved")
    told.until(lambda now: not now["is_checking"] and now["stops"] > 0, "the mark says stop", 120)
    told.click("head.readiness")
    told.until(lambda now: "finding.1.do" in now["places"], "a remedy is offered")
    told.click("finding.1.do")
    told.until(lambda now: now["trial"], "it is judged", 120)
    told.key("Return")
    told.until(lambda now: not now["is_checking"] and now["stops"] == 0, "nothing stops the build", 120)

    # kept
    told.key("ctrl+s")
    told.until(lambda now: not now["is_changed"], "saved")
    told.key("ctrl+q")
    assert window.process.wait(20) == 0

    raw = tomllib.loads(layout.read_text())
    assert raw["name"] == "Chalk River"
    assert raw["box"]["size"] == "121x66x39"
    kinds = [each["kind"] for each in raw["part"]]
    assert sorted(kinds) == sorted(
        ["pot-16", "pot-16", "toggle-mini", "lamp-3", "footswitch", "jack-enclosed", "jack-enclosed", "dc-socket"]
    )
    assert {"FLOW", "BANK", "FORD"} <= {each["name"] for each in raw["part"]}
    findings = api.check(api.load(layout))
    assert not [each for each in findings if each.severity == "stop"]
    assert len(told.actions) <= MOST_ACTIONS, told.actions
