"""A whole pedal built in one real window, each action counted, and the layout read back at the end."""

from __future__ import annotations

import os
import tomllib
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import driver
import keyboard_story
import mouse_story
import pytest
from file_manager import file_manager
from story import SHOTS, Story

from mockup import api

pytestmark = [pytest.mark.gl, pytest.mark.slow]

MOST_ACTIONS = 60  # by mouse and keys: our goal
MOST_KEYS = 160  # by keyboard alone, each Tab counted: our goal
RIVER = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="30mm" viewBox="0 0 40 30">'
    '<g fill="none" stroke="#3b3b3b" stroke-width="0.8">'
    + "".join(f'<path d="M2 {5 + 4 * n} C 12 {4 * n - 2} 22 {14 + 4 * n} 38 {5 + 4 * n}"/>' for n in range(6))
    + "</g></svg>"
)


@pytest.fixture
def river(tmp_path: Path) -> Path:
    """A drawing that lies on the desktop."""
    desktop = tmp_path / "my desktop"
    desktop.mkdir()
    (desktop / "river.svg").write_text(RIVER)
    return desktop / "river.svg"


@pytest.fixture
def project(desk_settings: Path) -> Path:
    """Where the pedal of the story will live."""
    return desk_settings / "Documents" / "Pedals" / "Chalk River"


@contextmanager
def told(display: str, folder: Path, *arguments: str) -> Iterator[Story]:
    """Tell a story at a window; it fails where anything slipped in it."""
    (folder / "trace.jsonl").unlink(missing_ok=True)
    window = driver.Window(display, folder, *arguments, is_rough=SHOTS not in os.environ)
    try:
        with file_manager(display) as manager:
            yield Story(window, manager)
    finally:
        now = window.now
        window.end()
    assert now.get("failures", 0) == 0, window.said()


def tables(raw: dict[str, Any], array: str, key: str) -> dict[str, dict[str, Any]]:
    """Return an array's tables by what they say under a key."""
    return {each[key]: each for each in raw[array] if key in each}


def assert_built(project: Path) -> None:
    """The layout is what was built, its assets lie beside it, and nothing stops the build."""
    raw = tomllib.loads((project / "layout.toml").read_text())
    assert raw["name"] == "Chalk River"
    assert raw["box"] == {"size": "121x66x39"}
    assert raw["finish"]["sheen"] == "satin"
    parts = tables(raw, "part", "name")
    assert {name: part["kind"] for name, part in parts.items()} == {
        "FLOW": "pot-16", "BANK": "pot-16", "FORD": "toggle-mini", "LAMP": "lamp-3", "BYPASS": "footswitch",
        "IN": "jack-enclosed", "OUT": "jack-enclosed", "POWER": "dc-socket",
    }  # fmt: skip
    assert {name: parts[name]["face"] for name in ("IN", "OUT", "POWER")} == {
        "IN": "right", "OUT": "left", "POWER": "far",
    }  # fmt: skip
    for name in ("FLOW", "BANK"):
        assert parts[name]["knob"] == {"style": "stepped", "diameter": 17, "colour": "#efe6cf"}
    assert not {"left", "right"} & set(parts["LAMP"])  # it holds on to the centre line
    assert set(tables(raw, "label", "part")) == {"FLOW", "BANK", "FORD", "BYPASS"}
    assert set(tables(raw, "scale", "part")) == {"FLOW", "BANK"}
    assert raw["lettering"]["size"] == 2.2
    word = tables(raw, "label", "text")["CHALK RIVER"]
    assert (word["size"], word["font"], "left" in word) == (5.6, "AmaticSC-Bold.ttf", False)
    (decal,) = raw["decal"]
    assert decal["art"] == "river.svg"
    assert decal["width"] > 40  # larger than drawn: it was made to fit
    assert raw["variants"] == {"Moss": {"finish": {"paint": "#8fb39b", "sheen": "hammered"}}}
    for name in ("river.svg", word["font"], raw["lettering"]["font"], "pages/chalk-river-template.pdf"):
        assert (project / name).stat().st_size > 0
    assert (project / "pages" / "chalk-river-sheet.pdf").read_bytes().startswith(b"%PDF")
    findings = api.check(api.load(project / "layout.toml"))
    assert not [each.title for each in findings if each.severity == "stop"]


def tell_by_mouse(display: str, folder: Path, river: Path, project: Path, *arguments: str) -> None:
    """Tell the whole story by mouse and keys, and open the pedal again."""
    with told(display, folder, *arguments) as story:
        mouse_story.start(story)
        mouse_story.add_parts(story)
        mouse_story.choose_knobs(story)
        mouse_story.lay_art(story, river)
        mouse_story.write(story)
        mouse_story.make_variant(story)
        mouse_story.cure_stop(story)
        mouse_story.take_away(story, project)
        actions = story.actions
    assert_built(project)
    with told(display, folder, *arguments) as story:
        story.until(lambda now: "recent.0" in now["places"], "it lies on the bench")
        story.click("recent.0")
        now = story.until(lambda now: now["has_picture"] and len(now["parts"]) == 8, "as it was")
        assert not now["is_changed"]
        actions += story.actions
    (folder / "actions.txt").write_text("\n".join(actions))
    assert len(actions) <= MOST_ACTIONS, actions


def test_a_pedal_is_built_by_mouse_and_keys(tmp_path, river, project):
    with driver.virtual_screen((1280, 800)) as display:
        tell_by_mouse(display, tmp_path, river, project, "--size", "1280x800")


@pytest.mark.long
def test_a_pedal_is_built_by_keyboard_alone(tmp_path, river, project):
    size = ("--size", "1280x800")
    with driver.virtual_screen((1280, 800)) as display:
        with told(display, tmp_path, *size) as story:
            keyboard_story.start(story)
            keyboard_story.add_parts(story)
            keyboard_story.lay_art(story, river, project)
            keyboard_story.write(story)
            keyboard_story.make_variant(story)
            keyboard_story.cure_stop(story)
            keyboard_story.take_away(story, project)
        actions = story.actions
        assert_built(project)
        with told(display, tmp_path, *size) as story:
            keyboard_story.reopen(story)
        actions += story.actions
    (tmp_path / "actions.txt").write_text("\n".join(actions))
    assert len(actions) <= MOST_KEYS, actions


@pytest.mark.long
@pytest.mark.parametrize(
    ("size", "scale"),
    [("1024x700", "1"), ("2560x1600", "2"), ("1280x800", "2")],
    ids=["small", "200 %", "200 % of a small screen"],
)
def test_a_pedal_is_built_in_a_window_of_any_size(tmp_path, river, project, size, scale):
    width, height = (int(each) for each in size.split("x"))
    with driver.virtual_screen((width, height)) as display:
        tell_by_mouse(display, tmp_path, river, project, "--size", size, "--scale", scale)
