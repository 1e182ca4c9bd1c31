"""The sheet of several picked parts: the distances between them, and how they are set in order."""

from __future__ import annotations

from collections.abc import Sequence

from mockup.arrange import groups
from mockup.arrange.groups import Line
from mockup.model.design import Placement
from mockup.model.enclosure import faces
from mockup.window import part_flow
from mockup.window.desk import Desk
from mockup.window.dimensions.measured_drawing import MeasuredDrawing
from mockup.window.dimensions.row_sketch import row_sketch
from mockup.window.parts.knob_page import KnobPage

_LINES: tuple[tuple[Line, str], ...] = (
    ("left", "Left"), ("middle", "Middle"), ("right", "Right"), ("far", "Far"), ("centre", "Centre"), ("near", "Near"),
)  # fmt: skip


class GroupPage:
    """Draws the sheet of several parts."""

    def __init__(self, desk: Desk, knobs: KnobPage) -> None:
        self._desk = desk
        self._drawing = MeasuredDrawing(desk.widgets, desk.messages.say, desk.work.held.hold)
        self._knobs = knobs

    def draw(self, parts: Sequence[Placement]) -> None:
        """Lay out the sheet."""
        widgets = self._desk.widgets
        sides = {part.face for part in parts}
        if len(sides) == 1:
            self._distances(parts)
        else:
            widgets.note("On several faces: those of each face are set in order by themselves.")
        widgets.title("Line up")
        picked = widgets.choose("line", [(line, word) for line, word in _LINES], None, columns=3)
        if picked is not None:
            line: Line = picked  # type: ignore[assignment]
            part_flow.order(self._desk, "line up", lambda here, _face: groups.lined_up(here, line))
        widgets.title("Set out")
        pushed = widgets.choose(
            "set", [("spread", "Spread evenly"), ("mirror", "Mirror"), ("centre", "Centre as one")], None, columns=1,
            tips=("Equal distances, the outermost stay", "About the centre line", "The group onto the centre line"),
        )  # fmt: skip
        if pushed is not None:
            part_flow.set_out(self._desk, pushed)
        if all(part.kind.shaft is not None for part in parts):
            self._knobs.draw(parts)

    def _distances(self, parts: Sequence[Placement]) -> None:
        desk, widgets = self._desk, self._desk.widgets
        design = part_flow.pedal(desk)
        if design is None:
            return
        widgets.title("Between them", is_first=True, hint=f"{desk.work.units} from middle to middle")
        here = [each for each in design.parts if each.face == parts[0].face]
        side = faces(design.enclosure)[parts[0].face]
        typed = self._drawing.draw("row", row_sketch(side, here, parts), desk.work.units)
        for value in typed.values():
            part_flow.order(desk, "distances of", lambda row, _face, mm=value: groups.spaced(row, mm))  # type: ignore[misc]
