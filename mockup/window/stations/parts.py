"""Parts: what is turned, stepped on, lit and plugged in, and where it stands."""

from __future__ import annotations

from imgui_bundle import imgui

from mockup.window import action_buttons, part_flow
from mockup.window.desk import Desk
from mockup.window.parts import carried_marks, carried_page, list_page, part_head
from mockup.window.parts.drawer import DRAWER, Drawer
from mockup.window.parts.group_page import GroupPage
from mockup.window.parts.knob_page import KnobPage
from mockup.window.parts.naming import NamingField
from mockup.window.parts.part_page import PartPage
from mockup.window.station import RailState, Station

WORD, ICON = "Parts", "screwdriver-wrench"


class Page(Station):
    """What is carried, the part or parts that are picked, else all that is on the pedal; and the drawer."""

    drawer = DRAWER

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._drawer = Drawer(desk)
        knobs = KnobPage(desk)
        self._one, self._several = PartPage(desk, self._drawer.own_kind, knobs), GroupPage(desk, knobs)
        self._naming = NamingField(desk)

    def rail_state(self) -> RailState:
        """Return how many parts there are."""
        design = part_flow.pedal(self._desk)
        return RailState(text=str(len(design.parts)) if design is not None and design.parts else "")

    def title(self) -> tuple[str, str]:
        """Return what the sheet is about and the line under it."""
        if self._desk.view.is_carrying:
            return carried_page.title(self._desk)
        if self._drawer.own_kind.is_open:
            return "Measure your own", "By caliper, on your own part"
        count = self.rail_state().text or "0"
        return "On this pedal", "1 part" if count == "1" else f"{count} parts"

    def draw_head(self) -> None:
        """Draw the picked parts' name, kind and face, else the title."""
        parts = part_flow.picked(self._desk)
        if parts and not self._desk.view.is_carrying and not self._drawer.own_kind.is_open:
            part_head.draw(self._desk, parts)
        else:
            super().draw_head()

    def actions(self) -> tuple[str, ...]:
        """Return what can be done with the picked parts."""
        if self._desk.view.is_carrying or not self._desk.view.state.picked_parts:
            return ()
        return ("label", "scale", "twin", "turn-part", "remove")

    def foot_height(self) -> float:
        """Return how high the sheet's foot is."""
        return 56.0 if self._drawer.own_kind.is_open else super().foot_height()

    def draw_foot(self) -> None:
        """Draw the actions, or the buttons of what is measured."""
        if self._drawer.own_kind.is_open:
            self._drawer.own_kind.draw_foot()
        else:
            super().draw_foot()

    def draw_sheet(self) -> None:
        """Lay out what is carried, measured or picked, or the list of all."""
        parts = part_flow.picked(self._desk)
        if self._desk.view.is_carrying:
            carried_page.draw(self._desk)
        elif self._drawer.own_kind.is_open:
            self._drawer.own_kind.draw()
        elif len(parts) == 1:
            self._one.draw(parts[0])
        elif parts:
            self._several.draw(parts)
        else:
            list_page.draw(self._desk)
            self._desk.widgets.title("Grid")
            action_buttons.check(self._desk, "snapping", page="part")

    def draw_drawer(self) -> None:
        """Lay out the drawer."""
        self._drawer.draw()

    def draw_marks(self, canvas: imgui.ImDrawList) -> None:
        """Draw what is carried, its room, and the name that is open."""
        carried_marks.draw(self._desk, canvas)
        self._naming.draw()
