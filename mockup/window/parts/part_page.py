"""The sheet of one part: where it stands on a drawing, its knob or its lamp, and what is in its way."""

from __future__ import annotations

from dataclasses import replace

from imgui_bundle import ImVec2, imgui

from mockup.colour import rgb
from mockup.layout.edit.parts import deepened, measured
from mockup.layout.edit.placing import upright
from mockup.model.design import Placement
from mockup.model.enclosure import faces
from mockup.model.part import Lamp
from mockup.model.text import capitalized
from mockup.model.units import format_length
from mockup.window import part_flow
from mockup.window.desk import Desk
from mockup.window.dimensions.face_sketch import place_sketch
from mockup.window.dimensions.measured_drawing import MeasuredDrawing
from mockup.window.dimensions.sketch import Dimension
from mockup.window.finding_rows import finding_row
from mockup.window.own_edit import own_edit
from mockup.window.parts.knob_page import KnobPage
from mockup.window.parts.own_kind import OwnKind
from mockup.window.parts.swatches import LAMPS, swatch

_TURN_TIP = "Degrees clockwise as seen from outside"
_DEPTH_TIP = "From the inside of the top down to the part"


class PartPage:
    """Draws the sheet of the part that alone is picked."""

    def __init__(self, desk: Desk, own_kind: OwnKind, knobs: KnobPage) -> None:
        self._desk = desk
        self._drawing = MeasuredDrawing(desk.widgets, desk.messages.say, desk.work.held.hold)
        self._knobs, self._own_kind = knobs, own_kind

    def draw(self, part: Placement) -> None:
        """Lay out the sheet."""
        self._place(part)
        if part.kind.shaft is not None:
            self._knobs.draw([part])
        if part.lamp is not None:
            self._lamp(part)
        self._findings(part)
        self._about(part)

    def _place(self, part: Placement) -> None:
        desk, widgets = self._desk, self._desk.widgets
        design = part_flow.pedal(desk)
        if design is None:
            return
        units = desk.work.units
        widgets.title("Place", is_first=True, hint=f"{units} to the middle")
        own_edit(desk)
        at = (part.u_mm, part.v_mm)
        parts = [each for each in design.parts if each.face == part.face]
        more = [*self._inside(part), self._turn(part)]
        side = faces(design.enclosure)[part.face]
        sketch = place_sketch(side, at, parts, part.name, desk.work.kept_edges(part.name), more)
        drill = part.kind.cutouts[0] if part.kind.cutouts else None
        corner = imgui.get_cursor_screen_pos()
        typed = self._drawing.draw("place", sketch, units)
        end = imgui.get_cursor_screen_pos()
        if drill is not None:
            word = "Drill" if drill.outline.kind == "circle" else "Cut"
            size = format_length(drill.outline.width_mm, units)
            if drill.outline.kind != "circle":
                size = (
                    f"{format_length(drill.outline.width_mm, units)} x {format_length(drill.outline.height_mm, units)}"
                )
            self._said(word, size, corner, end)
        imgui.set_cursor_screen_pos(end)
        imgui.dummy(ImVec2(0, 0))
        for name, value in typed.items():
            self._put(part, name, value)

    def _said(self, word: str, value: str, corner: ImVec2, end: ImVec2) -> None:
        """Write a figure that cannot be typed at the drawing's lower left."""
        widgets, scale = self._desk.widgets, self._desk.widgets.scale
        y = end.y - 48.0 * scale
        widgets.draw_text(
            imgui.get_window_draw_list(), (corner.x, y - 4 * scale), word, widgets.faces.small,
            widgets.palette.faint,
        )  # fmt: skip
        widgets.draw_text(
            imgui.get_window_draw_list(), (corner.x, y + 13 * scale), value, widgets.faces.number,
            widgets.palette.text,
        )  # fmt: skip

    def _turn(self, part: Placement) -> Dimension:
        return Dimension(
            name="turn", side="right", value=part.rotation_deg, quantity="angle", caption="Turned", tip=_TURN_TIP
        )

    def _inside(self, part: Placement) -> list[Dimension]:
        if part.kind.mount != "inside":
            return []
        return [
            Dimension(
                name="depth", side="left", value=part.depth_mm, caption="Depth", tip=_DEPTH_TIP, least=0.0, most=200.0
            )
        ]

    def _put(self, part: Placement, name: str, value: float) -> None:
        desk, scope = self._desk, self._desk.work.scope
        if name == "turn":
            way, title = ("part", part.name, "rotation"), f"turn {part.name}"
            desk.work.edit(lambda document, s: document.put(way, upright(value), title, **s))
        elif name == "depth":
            part_flow.change(
                desk, f"change the depth of {part.name}", lambda raw: deepened(raw, part.name, value, **scope)
            )
        else:
            part_flow.change(desk, f"move {part.name}", lambda raw: measured(raw, part.name, name, value, **scope))

    def _lamp(self, part: Placement) -> None:
        desk, widgets, scale = self._desk, self._desk.widgets, self._desk.widgets.scale
        shown = desk.work.part(part.name)
        lamp: Lamp | None = shown.lamp if shown is not None and shown.lamp is not None else part.lamp
        if lamp is None:
            return
        widgets.title("Lamp")
        top = imgui.get_cursor_screen_pos()
        imgui.set_cursor_screen_pos(ImVec2(top.x, top.y + 4 * scale))
        widgets.text("Colour", colour=widgets.palette.second)
        imgui.set_cursor_screen_pos(ImVec2(top.x + 74 * scale, top.y))
        chosen = swatch(widgets, "The lamp's colour", "lamp", rgb.encoded_colour(lamp.colour), LAMPS)
        if chosen is not None:
            colour, way = rgb.to_hex(chosen), ("part", part.name, "colour")
            desk.work.edit(lambda document, s: document.put(way, colour, f"change the colour of {part.name}", **s))
        imgui.set_cursor_screen_pos(ImVec2(top.x + 124 * scale, top.y - 2 * scale))
        if widgets.check("Lit", "lamp.lit", lamp.is_lit):
            is_lit, way = not lamp.is_lit, ("part", part.name, "lit")
            desk.work.edit(
                lambda document, s: document.put(way, is_lit, f"switch {part.name} {'on' if is_lit else 'off'}", **s)
            )
            desk.view.change(replace(desk.view.state, is_lamp_lit=None, has_clear_coat=None))

    def _findings(self, part: Placement) -> None:
        work, widgets = self._desk.work, self._desk.widgets
        found = [(index, each) for index, each in enumerate(work.findings) if each.is_about(part.name)]
        if not found:
            return
        widgets.title("What is in its way")
        for index, finding in found:
            finding_row(self._desk, index, finding, "part.finding")

    def _about(self, part: Placement) -> None:
        """Say what the kind is, and offer figures of one's own."""
        widgets, units = self._desk.widgets, self._desk.work.units
        widgets.title("The part itself")
        widgets.note(capitalized(part.kind.about))
        if part.kind.thread is not None:
            widgets.pair("Thread", part.kind.thread.designation, at=0.52)
        if part.kind.depth_mm > 0:
            widgets.pair("Behind the panel", format_length(part.kind.depth_mm, units), at=0.52)
        tip = "Three figures by caliper make a kind of your own"
        if widgets.button("Mine measures ...", "part.mine", tip=tip, glyph="ruler-combined"):
            self._own_kind.open(part)
