"""What every pointer tool answers."""

from __future__ import annotations

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
