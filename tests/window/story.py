"""A builder at a real window; what counts is a click, a drag, a drop, a key, or a typed value with its Enter."""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import driver
from file_manager import FileManager

SHOTS = "MOCKUP_STORY_SHOTS"
"""The variable that names a folder for a picture of the screen after each chapter."""
_MOST_TURNS = 60
_STILL_S = 0.4  # between two keys of somebody who looks where they got to: by eye

Place = tuple[float, float]


class Story:
    """Drives a window as a person does, one action a method; `actions` lists what was done."""

    def __init__(self, window: driver.Window, manager: FileManager) -> None:
        self.window = window
        self.actions: list[str] = []
        self._manager = manager

    def click(self, where: str | Place) -> None:
        """Click a control or a place."""
        self.actions.append(f"click {where}")
        self.window.click(where)

    def key(self, key: str) -> None:
        """Press a key or a chord."""
        self.actions.append(f"key {key}")
        self.window.key(key)

    def type(self, text: str) -> None:
        """Type a text or a number into what has the caret, over what is there, and Enter: one action."""
        self.actions.append(f"type {text}")
        self.window.key("ctrl+a")
        self.window.type(text)
        self.window.key("Return")

    def drag(self, start: Place, end: Place) -> None:
        """Drag from one place to another."""
        self.actions.append(f"drag to {end}")
        self.window.drag(start, end)

    def drop(self, path: Path, where: Place) -> None:
        """Drag a file from another program onto a place of the window."""
        self.actions.append(f"drop {path.name}")
        self._manager.drop(path, *where)

    @contextmanager
    def held(self, key: str) -> Iterator[None]:
        """Hold a key down meanwhile: it belongs to the action."""
        self.window.do("keydown", key)
        yield
        self.window.heard(lambda: self.window.do("keyup", key))

    def until(self, is_so: Callable[[dict[str, Any]], Any], what: str, seconds: float = 60.0) -> dict[str, Any]:
        """Wait; nobody counts that."""
        return self.window.until(is_so, what, seconds)

    def shown(self) -> dict[str, Any]:
        """Wait until every change is in the picture, as a draft."""
        return self.until(lambda now: not now["is_waiting"] and not now["is_moving"], "the picture follows")

    def picked(self, *ways: tuple[str, str | int]) -> None:
        """Wait until just these things are picked."""
        wanted = sorted(map(list, ways), key=str)
        self.until(lambda now: sorted(now["picked"], key=str) == wanted, f"{ways} picked")

    def part(self, name: str) -> Place:
        """Return where a part is seen, once it is there."""
        x, y = self.until(lambda now: name in now["parts"], f"{name} is in the picture")["parts"][name]
        return x, y

    def thing(self, name: str) -> Place:
        """Return where the middle of a picture or word is seen, once it is there."""
        x, y = self.until(lambda now: name in now["things"], f"{name} is in the picture")["things"][name]
        return x, y

    def reach(self, name: str, card: str = "sheet.card") -> None:
        """Turn the wheel over a card until a control is in sight; turns of the wheel are not counted."""
        if self._is_whole(name):
            return
        self.window.do("mousemove", *self.window.place(card))
        button = 5
        for turn in range(_MOST_TURNS):
            if self._is_whole(name) and self._rests(name):
                return
            if turn == _MOST_TURNS // 2:
                button = 4
            self.window.turned(button)
        raise AssertionError(f"{name} is not in sight; there is {sorted(self.window.now['places'])}")

    def _rests(self, name: str) -> bool:
        """Wait until a control stays where it is, for the wheel may be ahead of the window; True if it is in sight."""
        before, since = None, time.monotonic()
        while time.monotonic() - since < _STILL_S:
            now = self.window.now["places"].get(name)
            if now != before:
                before, since = now, time.monotonic()
            time.sleep(0.03)
        return self._is_whole(name)

    def _is_whole(self, name: str) -> bool:
        """True where a control is in sight, and more than its edge."""
        place = self.window.now["places"].get(name)
        return place is not None and place[3] - place[1] >= 16

    def chapter(self, name: str) -> None:
        """Keep a picture of the screen where a folder for them is named."""
        if os.environ.get(SHOTS):
            self.window.until(lambda now: now["is_fine"], "a picture at rest", 120)
            number = len(list(Path(os.environ[SHOTS]).iterdir())) + 1
            self.window.shot(Path(os.environ[SHOTS]) / f"{number:02}-{name}.png")

    def press_until(self, key: str, is_so: Callable[[dict[str, Any]], Any], what: str, most: int = 40) -> None:
        """Press a key until something is so; each press counts."""
        for _ in range(most):
            if is_so(self.window.now):
                return
            before = self._reached()
            self.key(key)
            self.until(lambda _, before=before: self._reached() != before, f"{key} moves the keys towards {what}")
        assert is_so(self.window.now), f"{what} is not reached by {key}"

    def _reached(self) -> list[Any]:
        """Return what has the keys and what is picked, once that stays: on their way they pass a frame or two."""
        before, since = None, time.monotonic()
        while time.monotonic() - since < _STILL_S:
            now = [self.window.now["focus"], self.window.now["picked"]]
            if now != before:
                before, since = now, time.monotonic()
            time.sleep(0.03)
        return before or []

    def focus(self, name: str, card: str, key: str = "Tab", step: str = "F6") -> None:
        """Take the keys to a card, and on it to a control."""
        if self.window.now["focus"] == [card, ""]:  # its page is another one by now: out of it and in again
            self.key("Escape")
            self.until(lambda now: now["focus"][0] != card, f"the keys have left {card}")
        self.press_until(step, lambda now: now["focus"][0] == card, f"the card {card}")
        self.press_until(key, lambda now: now["focus"][1] == name, name)
