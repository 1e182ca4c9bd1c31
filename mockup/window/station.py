"""A station of the work, such as Parts or Check: its place on the rail, its sheet, and what else it has."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from imgui_bundle import imgui

from mockup.model.finding import Severity
from mockup.model.material import Colour
from mockup.window import action_buttons
from mockup.window.desk import Desk
from mockup.window.shell.cards import SHEET_ACTIONS, Cards
from mockup.window.tools.tool import PointerTool


@dataclass(frozen=True, kw_only=True)
class RailState:
    """What the rail says of a station under its word: a few letters, a severity's colour, a dot of paint."""

    text: str = ""
    severity: Severity | None = None
    dot: Colour | None = None


class Station:
    """A station; a subclass answers what it has, the rest is empty.

    `drawer` is the width of its drawer in units, 0 for none.
    """

    drawer = 0.0

    def __init__(self, desk: Desk) -> None:
        self._desk = desk

    def rail_state(self) -> RailState:
        """Return what the rail says of it."""
        return RailState()

    def title(self) -> tuple[str, str]:
        """Return the title of the sheet and the line under it; they change with what is picked."""
        return "", ""

    def draw_head(self) -> None:
        """Draw the sheet's head, 64 high, where it is more than a title and the line under it."""
        widgets = self._desk.widgets
        title, line = self.title()
        with widgets.font(widgets.faces.title):
            imgui.text_unformatted(title)
        imgui.set_cursor_pos_y(imgui.get_cursor_pos_y() - 4 * widgets.scale)
        said = widgets.shortened(line, widgets.wide, widgets.faces.text)
        widgets.text(said, colour=widgets.palette.second)
        if said != line:
            widgets.tip(line)

    def draw_sheet(self) -> None:
        """Draw the sheet's body, which scrolls: what is picked, else the station's own page."""

    def actions(self) -> Sequence[str]:
        """Return the names of the actions at the sheet's foot, five at most."""
        return ()

    def foot_height(self) -> float:
        """Return how high the sheet's foot is, in units; 0 where there is none."""
        return SHEET_ACTIONS if self.actions() else 0.0

    def draw_foot(self) -> None:
        """Draw the sheet's foot: a row of actions, icon over word, where it is nothing else."""
        action_buttons.tiles(self._desk, self.actions())

    def draw_drawer(self) -> None:
        """Draw the drawer's content."""

    def covers_picture(self) -> bool:
        """Return whether it shows something else in the place of picture and foot."""
        return False

    def draw_cover(self, cards: Cards) -> None:
        """Draw what stands in the place of picture and foot."""

    def draw_marks(self, canvas: imgui.ImDrawList) -> None:
        """Draw over the picture: rings, brackets, ghosts, dimensions."""

    def dropped(self, x: float, y: float, paths: Sequence[Path]) -> bool:
        """Take files that were let go over a place of the window; False where it has no use for them."""
        return False

    def tool_at(self, _x: float, _y: float) -> PointerTool | None:
        """Return what a press takes in hand of what it draws over the picture; None where nothing of its own is."""
        return None

    def took_key(self, _key: str) -> bool:
        """Take a key that went down over the picture; False where it has no use for it."""
        return False
