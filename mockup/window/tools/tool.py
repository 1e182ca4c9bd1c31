"""What every pointer tool answers."""

from __future__ import annotations

import time
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from mockup.window.desk import Desk


@dataclass(frozen=True, kw_only=True)
class PointerMove:
    """A move of the pointer with a button down, pixels of the window.

    `is_free` while Alt is held: no snapping; `is_coarse` while Shift is: greater steps.
    """

    x: float
    y: float
    dx: float
    dy: float
    is_free: bool = False
    is_coarse: bool = False


class PointerTool:
    """A tool in hand from the press of a button to its release; what one does not answer does nothing."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk

    def drag(self, move: PointerMove) -> None:
        """Follow the pointer, which went further than a click may tremble."""

    def let_go(self, _x: float, _y: float) -> None:
        """End a drag at a place of the window."""
        self.drop()

    def drop(self) -> None:
        """End a drag."""

    def click(self, x: float, y: float) -> None:
        """Take a press that did not move."""


_REACH_PX = 6.0  # units, how near a line draws a dragged thing to it: the window's design
_MOST_REACH_MM = 2.0  # however small the picture: the window's design


class FaceDrag(PointerTool):
    """A tool that drags things on their face; the pedal is built around what is held still."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._build_at = 0.0

    def build_when_still(self) -> float | None:
        """Build the pedal with what is held still where it is; return the seconds until then, None for never."""
        if not self._build_at:
            return None
        left = self._build_at - time.perf_counter()
        if left > 0:
            return left
        self._build_at = 0.0
        self._desk.work.request_scenes()
        return None

    @property
    def _reach_mm(self) -> float:
        """How near a line draws a dragged thing to it."""
        return min(self._desk.camera.mm(_REACH_PX), _MOST_REACH_MM)
