"""Parts: what is turned, stepped on, lit and plugged in, where it stands, and its exact place to type."""

from __future__ import annotations

from dataclasses import replace

from imgui_bundle import imgui

from mockup.colour import rgb
from mockup.model.design import Placement
from mockup.model.enclosure import FACES
from mockup.model.part import Cutout, Knob, Lamp
from mockup.model.units import Unit, format_length
from mockup.window import action_buttons
from mockup.window.desk import Desk
from mockup.window.dimensions.face_sketch import place_sketch
from mockup.window.dimensions.measured_drawing import MeasuredDrawing
from mockup.window.dimensions.sketch import Dimension
from mockup.window.finding_rows import finding_row
from mockup.window.own_edit import own_edit
from mockup.window.pointer.measuring import both
from mockup.window.pointer.snapping import GRIDS
from mockup.window.station import RailState, Station
from mockup.window.stations._paint_picker import PaintPicker

_TURN_TIP = "Degrees clockwise as seen from outside; Enter takes it"


WORD, ICON = "Parts", "screwdriver-wrench"


class Page(Station):
    """All parts, or the one that is picked, with the picker of a lamp's colour."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._drawing = MeasuredDrawing(desk.widgets)
        self._picker = PaintPicker(desk.widgets, "lamp")

    def rail_state(self) -> RailState:
        """Return how many parts there are."""
        count = len(self._desk.work.part_names)
        return RailState(text=str(count) if count else "")

    def title(self) -> tuple[str, str]:
        """Return the picked part's name, its kind and face; else how many there are."""
        part = self._part
        if part is not None:
            return part.name, f"{part.kind.name}, {part.face} face"
        count = len(self._desk.work.part_names)
        return "On this pedal", "1 part" if count == 1 else f"{count} parts"

    def actions(self) -> tuple[str, ...]:
        """Return what can be done with the picked part."""
        return ("turn-part",) if self._part is not None else ()

    def draw_sheet(self) -> None:
        """Lay out the picked part, or the list of all."""
        part = self._part
        if part is None:
            self._list()
            return
        self._about(part)
        self._place(part)
        if part.knob is not None:
            self._knob(part, part.knob)
        if part.lamp is not None:
            self._lamp(part, part.lamp)
        self._findings(part)

    @property
    def _part(self) -> Placement | None:
        return self._desk.work.part(self._desk.view.state.selected)

    def _list(self) -> None:
        """List the parts by face; one that is clicked is picked."""
        desk, widgets = self._desk, self._desk.widgets
        parts = desk.work.design.parts if desk.work.design is not None else ()
        for face in FACES:
            here = [part for part in parts if part.face == face]
            if not here:
                continue
            widgets.note(face.capitalize())
            for part in here:
                if widgets.button(f"{part.name}   {part.kind.name}", f"part.{part.name}", look="quiet"):
                    desk.view.change(desk.view.state.picking(("part", part.name)))
        if not parts:
            widgets.note("Bare box.")
        self._grid()

    def _about(self, part: Placement) -> None:
        widgets, units = self._desk.widgets, self._units
        kind = part.kind
        widgets.note(kind.about[0].upper() + kind.about[1:])
        for cutout in kind.cutouts:
            widgets.pair("Drill" if cutout.outline.kind == "circle" else "Cut", _hole(cutout, units))
        if kind.thread is not None:
            widgets.pair("Thread", kind.thread.designation)
        if kind.depth_mm > 0:
            widgets.pair("Depth", f"{both(kind.depth_mm, units)} behind the panel")
        if part.knob is not None:
            widgets.pair("Knob", f"{part.knob.style}, {both(part.knob.diameter_mm, units)}")

    def _place(self, part: Placement) -> None:
        desk, widgets = self._desk, self._desk.widgets
        widgets.title(f"Place on the {part.face} face")
        own_edit(desk)
        at, carried = (part.u_mm, part.v_mm), desk.view.carried
        if carried is not None and carried.part == part.name:
            at = (carried.u_mm, carried.v_mm)
        assert desk.work.design is not None
        parts = [each for each in desk.work.design.parts if each.face == part.face]
        turn = Dimension(
            name="turn", side="right", value=part.rotation_deg, quantity="angle", caption="Turned", tip=_TURN_TIP
        )
        sketch = place_sketch(desk.work.faces[part.face], at, parts, part.name, desk.work.kept_edges(part.name), [turn])
        try:
            typed = self._drawing.draw("place", sketch, self._units)
        except ValueError as error:
            desk.messages.say(str(error))
            typed = {}
        for edge, value in typed.items():
            self._put(part, edge, value)
        widgets.note('Type a length such as 19, "19 mm" or "3/4 in", then Enter. The arrow keys move it by the grid.')
        self._grid()

    def _put(self, part: Placement, edge: str, value: float) -> None:
        work = self._desk.work
        if edge == "turn":
            work.edit(lambda document, scope: document.turned(part.name, value, **scope))
        else:
            work.edit(lambda document, scope: document.measured(part.name, edge, value, **scope))

    def _grid(self) -> None:
        desk, widgets = self._desk, self._desk.widgets
        imgui.align_text_to_frame_padding()
        imgui.text_unformatted("Grid")
        imgui.same_line()
        grids = [(name, name) for name in GRIDS]
        picked = widgets.combo("grid", grids, desk.view.state.grid, wide=120 * widgets.scale)
        if picked is not None:
            desk.view.change(desk.view.state.with_grid(picked))
        imgui.same_line()
        action_buttons.check(desk, "snapping", page="part")

    def _knob(self, part: Placement, knob: Knob) -> None:
        widgets = self._desk.widgets
        widgets.title("Knob")
        imgui.set_next_item_width(-90 * widgets.scale)
        changed, value = imgui.slider_float("points to##pointer", knob.pointer, 0.0, 1.0, "%.2f")
        widgets.mark("pointer")
        widgets.tip("0 is fully anticlockwise, 0.5 twelve o'clock, 1 fully clockwise")
        if changed:
            rounded = round(min(max(value, 0.0), 1.0), 2)
            self._desk.work.edit(
                lambda document, scope: document.knob_set(part.name, "pointer", rounded, **scope), is_step=False
            )

    def _lamp(self, part: Placement, lamp: Lamp) -> None:
        desk, widgets = self._desk, self._desk.widgets
        widgets.title("Lamp")
        try:
            colour = self._picker.draw(rgb.encoded_colour(lamp.colour), is_settled=not desk.work.is_waiting)
        except ValueError as error:
            desk.messages.say(str(error))
            return
        if colour is not None:
            desk.work.edit(lambda document, scope: document.lamp_coloured(part.name, colour, **scope), is_step=False)
        if widgets.check("Lit", "lamp.lit", lamp.is_lit):
            desk.work.edit(lambda document, scope: document.lamp_lit(part.name, not lamp.is_lit, **scope))
            desk.view.change(replace(desk.view.state, is_lamp_lit=None, has_clear_coat=None))

    def _findings(self, part: Placement) -> None:
        work, widgets = self._desk.work, self._desk.widgets
        widgets.title("What is in its way")
        found = [(index, each) for index, each in enumerate(work.findings) if each.is_about(part.name)]
        if not found:
            widgets.note("Being checked ..." if work.is_checking else "Nothing: no finding names this part.")
        for index, finding in found:
            finding_row(self._desk, index, finding, "part.finding")

    @property
    def _units(self) -> Unit:
        return self._desk.work.design.units if self._desk.work.design is not None else "mm"


def _hole(cutout: Cutout, units: Unit) -> str:
    outline = cutout.outline
    if outline.kind == "circle":
        size = f"{both(outline.width_mm, units)} diameter"
    else:
        size = f"{outline.kind}, {format_length(outline.width_mm, units)} x {format_length(outline.height_mm, units)}"
    return f"{size}, {cutout.purpose}"
