"""Paint: the colour, its sheen, and lacquer over everything."""

from __future__ import annotations

from dataclasses import replace

from mockup.finishes import sheens
from mockup.model.material import Colour
from mockup.window.desk import Desk
from mockup.window.own_edit import own_edit
from mockup.window.station import RailState, Station
from mockup.window.stations._paint_picker import PaintPicker

WORD, ICON = "Paint", "spray-can"


class Page(Station):
    """The page, with its paint picker."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._picker = PaintPicker(desk.widgets, "paint")
        self._was_dragged = False

    def rail_state(self) -> RailState:
        """Return the paint and its sheen."""
        design = self._desk.work.design
        if design is None:
            return RailState()
        sheen = design.finish.sheen
        return RailState(text=sheen.name.capitalize(), dot=design.finish.paint if sheen.is_painted else None)

    def title(self) -> tuple[str, str]:
        """Return the station's name and the sheen."""
        return "Paint", self.rail_state().text

    def draw_sheet(self) -> None:
        """Lay out paint, sheen and lacquer."""
        desk, widgets, work = self._desk, self._desk.widgets, self._desk.work
        design = work.design
        if design is None or work.document is None:
            return
        own_edit(desk)
        widgets.title("Paint", is_first=True)
        if not design.finish.sheen.is_painted:
            widgets.note("The box is bare metal; choose another sheen to paint it.")
        else:
            self._paint(design.finish.paint)
        widgets.title("Sheen")
        rows = [(name, name.capitalize()) for name in sheens()]
        tips = [sheen.about[0].upper() + sheen.about[1:] for sheen in sheens().values()]
        sheen = widgets.choose("sheen", rows, design.finish.sheen.name, columns=3, tips=tips)
        if sheen is not None:
            work.edit(lambda document, scope: document.sheened(sheen, **scope))
        is_coated = design.finish.has_clear_coat
        if widgets.check("Clear coat over everything", "coat", is_coated, tip="Lacquer over paint and film"):
            work.edit(lambda document, scope: document.clear_coated(not is_coated, **scope))
            desk.view.change(replace(desk.view.state, is_lamp_lit=None, has_clear_coat=None))
        if desk.view.state.has_clear_coat is not None:
            widgets.note("The picture tries another clear coat; see Show.")

    def _paint(self, paint: Colour) -> None:
        work = self._desk.work
        try:
            chosen = self._picker.draw(paint, work.paints, is_settled=not work.is_waiting)
        except ValueError as error:
            self._desk.messages.say(str(error))
            return
        if chosen is not None:
            is_step = not self._picker.is_dragged
            work.edit(lambda document, scope: document.painted(chosen, **scope), is_step=is_step)
        elif self._was_dragged and not self._picker.is_dragged:
            work.end_step()
        self._was_dragged = self._picker.is_dragged
