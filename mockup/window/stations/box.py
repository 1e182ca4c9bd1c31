"""The box: a size as bought or your own measures, and what no longer fits in it."""

from __future__ import annotations

from imgui_bundle import ImVec2, imgui

from mockup.checks.panel.built import Built
from mockup.checks.panel.clearance import clearances
from mockup.enclosure.sizes import SIZES
from mockup.layout.edit import box as edits_of
from mockup.model.design import Design
from mockup.model.errors import InputError
from mockup.model.units import Unit
from mockup.window import part_flow
from mockup.window.desk import Desk
from mockup.window.dimensions.box_sketch import plan_sketch, section_sketch
from mockup.window.dimensions.measured_drawing import MeasuredDrawing
from mockup.window.dimensions.sketch import Sketch
from mockup.window.own_edit import own_edit
from mockup.window.parts.room_words import sentence
from mockup.window.shell import theme
from mockup.window.station import RailState, Station
from mockup.window.widgets.marked_row import marked_row
from mockup.window.widgets.tile import tile
from mockup.window.work.bare_design import bare_design

WORD, ICON = "Box", "cube"
_PLANS = 76.0  # units, height of the longest plan in the row: by eye
_TALL = 128.0  # units, height of a drawing: by eye


class Page(Station):
    """The box as it is; numbers stand on its drawings."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._plan = MeasuredDrawing(desk.widgets, desk.messages.say, desk.work.held.hold)
        self._section = MeasuredDrawing(desk.widgets, desk.messages.say, desk.work.held.hold)
        self._told: tuple[str, tuple[tuple[str, str], ...]] = ("", ())

    def rail_state(self) -> RailState:
        """Return its length and width in millimetres."""
        design = part_flow.pedal(self._desk)
        if design is None:
            return RailState()
        box = design.enclosure
        return RailState(text=f"{box.length_mm:.0f} × {box.width_mm:.0f}")

    def title(self) -> tuple[str, str]:
        """Return what is picked, the box or its lid, and its size."""
        is_lid = ("lid",) in self._desk.view.state.picked
        return "Lid" if is_lid else "Box", self.rail_state().text

    def draw_sheet(self) -> None:
        """Lay out the sizes, the drawings, and what no longer fits."""
        desk, widgets, design = self._desk, self._desk.widgets, part_flow.pedal(self._desk)
        if design is None or desk.work.document is None:
            return
        misfits = self._misfits(design)
        if misfits:
            self._say(misfits)
        widgets.title("As bought", is_first=not misfits, hint="length x width x height, mm")
        own_edit(desk)
        self._sizes(design)
        kept = edits_of.kept(desk.work.document.raw, desk.work.content.variant)
        widgets.title("From above", hint=f"{desk.work.units}, outside")
        self._draw(self._plan, "box", plan_sketch(design.enclosure, kept), design)
        widgets.title("Cut through")
        self._draw(self._section, "box", section_sketch(design.enclosure, kept), design)

    def _draw(self, drawing: MeasuredDrawing, name: str, sketch: Sketch, design: Design) -> None:
        for key, value in drawing.draw(name, sketch, self._desk.work.units, tall=_TALL).items():
            self._put(key, value)

    def _put(self, key: str, value: float) -> None:
        scope = self._desk.work.scope
        title = f"change the {key.replace('_', ' ')} of the box"
        part_flow.change(self._desk, title, lambda raw: edits_of.measured(raw, key, value, **scope))

    def _buy(self, size: str) -> None:
        scope = self._desk.work.scope
        part_flow.change(self._desk, f"choose the box {size}", lambda raw: edits_of.bought(raw, size, **scope))

    def _sizes(self, design: Design) -> None:
        """Draw the boxes that are bought, from above and to one scale; the one that it is has a chalk edge."""
        widgets, scale = self._desk.widgets, self._desk.widgets.scale
        longest = max(box.length_mm for box in SIZES.values())
        px, palette = _PLANS * scale / longest, widgets.palette
        top = imgui.get_cursor_screen_pos()
        gap = (widgets.wide - sum(box.width_mm for box in SIZES.values()) * px) / (len(SIZES) - 1)
        x = top.x
        for name, box in SIZES.items():
            size = ImVec2(box.width_mm * px, box.length_mm * px)
            imgui.set_cursor_screen_pos(ImVec2(x, top.y + _PLANS * scale - size.y))
            plan = tile(widgets, f"size.{name}", size.x, size.y, tip=name.replace("x", " x "))
            is_now = box == design.enclosure
            if plan.is_pushed and not is_now:
                self._buy(name)
            corner = max(box.corner_mm * px, 2.0)
            fill = palette.chosen if is_now else palette.hover if plan.is_hovered else palette.raised
            plan.canvas.add_rect_filled(plan.low, plan.high, theme.packed(fill), corner)
            edge = palette.chalk if is_now else palette.rule
            plan.canvas.add_rect(plan.low, plan.high, theme.packed(edge), corner, (2.0 if is_now else 1.0) * scale)
            x += size.x + gap
        imgui.set_cursor_screen_pos(ImVec2(top.x, top.y + (_PLANS + 4) * scale))
        imgui.dummy(ImVec2(0, 0))

    def _misfits(self, design: Design) -> tuple[tuple[str, str], ...]:
        """Return the parts that the box stops, each with what is wrong; looked at again when the layout changes."""
        work = self._desk.work
        text = f"{work.document.text if work.document is not None else ''}|{work.content.variant}"
        if self._told[0] != text:
            self._told = text, (*self._refused(), *_stopped(design, self._desk.work.units))
        return self._told[1]

    def _refused(self) -> list[tuple[str, str]]:
        """Return what makes the layout unsound, such as a part off its face; nothing where it is sound."""
        work = self._desk.work
        if work.document is None or work.project is None:
            return []
        try:
            bare_design(work.document.text, work.project, work.content.variant)
        except InputError as error:
            return [("", fault.what) for fault in error.faults]
        return []

    def _say(self, misfits: tuple[tuple[str, str], ...]) -> None:
        """Tell what no longer fits, with a way to it."""
        desk, widgets = self._desk, self._desk.widgets
        widgets.title("What no longer fits", is_first=True)
        for index, (part, what) in enumerate(misfits[:6]):
            label = "Show me" if part else ""
            if marked_row(widgets, "stop", what, label, f"misfit.{index}", look="quiet"):
                desk.view.change(desk.view.state.picking(("part", part)))


def _stopped(design: Design, units: Unit) -> list[tuple[str, str]]:
    """Return the parts that something stops, each with what it is in a sentence; two that meet are told once."""
    found, told = [], set()
    for part in design.parts:
        worst = clearances(Built(design), part)[:1]
        if worst and worst[0].severity == "stop" and frozenset((part.name, worst[0].other)) not in told:
            told.add(frozenset((part.name, worst[0].other)))
            found.append((part.name, sentence(part.name, worst[0], units)))
    return found
