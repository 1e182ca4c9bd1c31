"""The box: its size, what it is made of, what is drilled into it."""

from __future__ import annotations

from mockup.model.units import format_length
from mockup.window.station import RailState, Station

WORD, ICON = "Box", "cube"


class Page(Station):
    """The box as it is."""

    def rail_state(self) -> RailState:
        """Return its length and width in millimetres."""
        design = self._desk.work.design
        if design is None:
            return RailState()
        box = design.enclosure
        return RailState(text=f"{box.length_mm:.0f} × {box.width_mm:.0f}")

    def title(self) -> tuple[str, str]:
        """Return what the box is called."""
        return "Box", self.rail_state().text

    def draw_sheet(self) -> None:
        """List its measures."""
        widgets, design = self._desk.widgets, self._desk.work.design
        if design is None:
            return
        box = design.enclosure
        widgets.title("Size", is_first=True)
        for label, value in (
            ("Length", box.length_mm), ("Width", box.width_mm), ("Height", box.height_mm), ("Wall", box.wall_mm),
            ("Corners", box.corner_mm), ("Edge", box.edge_mm), ("Lid", box.lid_mm),
        ):  # fmt: skip
            widgets.pair(label, format_length(value, design.units), at=0.4)
