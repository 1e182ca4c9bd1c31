"""A builder at a real window, whose actions are counted: a click, a drag, a key, or a typed value with its Enter."""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import Any

import driver

_MOST_TURNS = 40


class Story:
    """Drives a window as a person does, one action a method; `actions` lists what was done."""

    def __init__(self, window: driver.Window) -> None:
        self.window = window
        self.actions: list[str] = []

    def click(self, where: str | tuple[float, float]) -> None:
        """Click a control or a place."""
        self.actions.append(f"click {where}")
        self.window.click(where)

    def key(self, key: str) -> None:
        """Press a key or a chord."""
        self.actions.append(f"key {key}")
        self.window.key(key)

    def type(self, text: str) -> None:
        """Type a text or a number over what is there, and Enter: one action."""
        self.actions.append(f"type {text}")
        self.window.key("ctrl+a")
        self.window.type(text)
        self.window.key("Return")

    def drag(self, start: tuple[float, float], end: tuple[float, float]) -> None:
        """Drag from one place to another."""
        self.actions.append(f"drag to {end}")
        self.window.drag(start, end)

    def until(self, is_so: Callable[[dict[str, Any]], Any], what: str, seconds: float = 60.0) -> dict[str, Any]:
        """Wait; nobody counts that."""
        return self.window.until(is_so, what, seconds)

    def part(self, name: str) -> tuple[float, float]:
        """Return where a part is seen, once it is there."""
        found = self.until(lambda now: name in now["parts"], f"{name} is in the picture")["parts"][name]
        return found[0], found[1]

    def scroll_to(self, name: str, over: str) -> None:
        """Turn the wheel over a control until another one is in sight; turns of the wheel are not counted."""
        for _ in range(_MOST_TURNS):
            if name in self.window.now["places"]:
                return
            if over in self.window.now["places"]:
                x, y = self.window.place(over)
                self.window.do("mousemove", x, y)
            self.window.do("click", 5)
            time.sleep(0.15)

    def add(self, kind: str, name: str | None = None) -> None:
        """Click a kind in the drawer; type its name where the suggestion will not do."""
        before = len(self.window.now["parts"])
        self.scroll_to(f"drawer.{kind}", "drawer.footswitch")
        self.click(f"drawer.{kind}")
        self.until(lambda now: now["naming"] is not None and "naming" in now["places"], f"the name of {kind} is open")
        if name is not None:
            self.type(name)
            self.until(lambda now: now["selected"] == name and now["naming"] is None, f"{name} is its name")
        self.until(lambda now: not now["is_waiting"] and len(now["parts"]) > before, f"{kind} stands")
