"""The sheets of a scale and of a border: drawings that take numbers, and the rest under them."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from mockup.decal.scale_marks import Scale, segments
from mockup.layout.edit.tables import units_of
from mockup.layout.lettering import borders, scales
from mockup.model.edit import PutLength, PutValue, RemoveValue, Value
from mockup.model.enclosure import Face
from mockup.model.part import TRAVEL_DEG
from mockup.model.units import parse_length
from mockup.window.art_flow import change
from mockup.window.desk import Desk
from mockup.window.dimensions.face_sketch import outline
from mockup.window.dimensions.measured_drawing import MeasuredDrawing
from mockup.window.dimensions.sketch import Dimension, Hole, Sketch, Stroke, line, rectangle, rounded

_KNOB_MM = 9.0  # radius of the knob that a scale is drawn round where its part is not there: by eye
_TALL = 150.0
_COUNTED = "Counted from 0 at the first"
Way = tuple[str | int, ...]


class _Sheet:
    """What both sheets share: a drawing, and edits of one table."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._drawing = MeasuredDrawing(desk.widgets, desk.messages.say, desk.work.held.hold)

    def _drawn(self, name: str, sketch: Sketch) -> dict[str, float]:
        return self._drawing.draw(name, sketch, self._desk.work.units, tall=_TALL)

    def _length(self, table: Mapping[str, Any], key: str, usual_mm: float) -> float:
        document = self._desk.work.document
        if key not in table or document is None:
            return usual_mm
        return parse_length(table[key], units_of(document.raw))

    def _put_length(self, way: Way, key: str, mm: float) -> None:
        address = self._desk.tools.lying.changes.address(way).inside(key)
        change(self._desk, f"{key} of a {way[0]}", (PutLength(address=address, mm=mm),))

    def _put(self, way: Way, key: str, value: Value) -> None:
        address = self._desk.tools.lying.changes.address(way).inside(key)
        change(self._desk, f"{key.replace('_', ' ')} of a {way[0]}", (PutValue(address=address, value=value),))


class ScaleSheet(_Sheet):
    """The fan of marks, with how many, how far round, how long and how far away."""

    def draw(self, way: Way) -> None:
        """Lay out the sheet of a scale."""
        desk, widgets = self._desk, self._desk.widgets
        table = desk.tools.lying.changes.table(way)
        widgets.title("Marks", is_first=True)
        for name, value in self._drawn("scale", self._sketch(table)).items():
            if name in ("gap", "major", "minor", "line"):
                self._put_length(way, name, value)
            elif name == "travel":
                self._put(way, name, value)
            else:
                self._put(way, name, round(value))
        widgets.hairline()
        has_numbers = table.get("numbers") is True
        if widgets.check("Numbers at the longer marks", "scale.numbers", has_numbers, tip=_COUNTED):
            if has_numbers:
                address = desk.tools.lying.changes.address(way).inside("numbers")
                change(desk, "no numbers", (RemoveValue(address=address),))
            else:
                self._put(way, "numbers", True)
        if has_numbers and "font" not in desk.tools.lying.changes.shared() and "font" not in table:
            widgets.note("Numbers need a face: write a word or a label first.")

    def _sketch(self, table: Mapping[str, Any]) -> Sketch:
        part = self._desk.work.part(table.get("part"))
        radius = part.knob.diameter_mm / 2 if part is not None and part.knob is not None else _KNOB_MM
        shaft = part.kind.shaft if part is not None else None
        gap = self._length(table, "gap", scales.GAP_MM)
        major = self._length(table, "major", scales.MAJOR_MM)
        marks = Scale(
            u_mm=0.0, v_mm=0.0, inner_mm=max(radius + gap, 0.0), marks=int(table.get("marks", 11)),
            travel_deg=float(table.get("travel", shaft.travel_deg if shaft is not None else TRAVEL_DEG)),
            rotation_deg=0.0, major_every=int(table.get("major_every", 5)), major_mm=major,
            minor_mm=self._length(table, "minor", scales.MINOR_MM), line_mm=self._length(table, "line", scales.LINE_MM),
        )  # fmt: skip
        strokes = tuple(line((a[0], a[1]), (b[0], b[1]), "picked") for a, b in segments(marks).tolist())
        circle = tuple(
            (radius * math.cos(math.radians(turn)), radius * math.sin(math.radians(turn))) for turn in range(0, 360, 10)
        )

        def number(name: str, side: Any, value: float, caption: str, kind: Any = "length", **more: Any) -> Dimension:
            return Dimension(
                name=name, side=side, value=value, caption=caption, quantity=kind, is_kept=name in table, **more
            )

        return Sketch(
            strokes=(Stroke(points=circle, style="thin", is_closed=True), *strokes),
            holes=(Hole(at=(0.0, 0.0), radius_mm=0.8),),
            dimensions=(
                number("marks", "left", marks.marks, "Marks", "number", least=2, most=101),
                number("travel", "left", marks.travel_deg, "Travel", "angle", least=1, most=360),
                number("major_every", "left", marks.major_every, "Long every", "number", least=1, most=100),
                number("gap", "right", gap, "Gap"),
                number("major", "right", major, "Long", least=0.01),
                number("minor", "right", marks.minor_mm, "Short", least=0.0),
                number("line", "right", marks.line_mm, "Line", least=0.01),
            ),
        )


class BorderSheet(_Sheet):
    """The line round a face, with its inset, its corner and its width."""

    def draw(self, way: Way) -> None:
        """Lay out the sheet of a border."""
        table = self._desk.tools.lying.changes.table(way)
        face = self._desk.work.faces.get(table.get("face", "top"))
        if face is None:
            return
        self._desk.widgets.title("Line", is_first=True)
        for name, value in self._drawn("border", self._sketch(face, table)).items():
            self._put_length(way, name, value)

    def _sketch(self, face: Face, table: Mapping[str, Any]) -> Sketch:
        left, top, right, bottom = face.flat
        inset = self._length(table, "inset", borders.INSET_MM)
        shorter = min(right - left, bottom - top) - 2 * inset
        given = table.get("corner")
        corner = borders.CORNER.radius_mm or 0.0
        if isinstance(given, str) and given.strip().endswith("%"):
            corner = float(given.strip().removesuffix("%")) / 100 * shorter
        elif given is not None:
            corner = self._length(table, "corner", corner)
        drawn = rounded(left + inset, top + inset, right - inset, bottom - inset, corner, "picked")
        middle = (top + bottom) / 2
        return Sketch(
            strokes=(outline(face), rectangle(left, top, right, bottom, "thin"), drawn),
            dimensions=(
                Dimension(
                    name="inset", side="right", value=inset, start=(right - inset, middle), end=(right, middle),
                    is_kept="inset" in table, least=0.0, tip="From the edge of the flat to the line's outer edge",
                ),
                Dimension(
                    name="corner", side="left", value=corner, caption="Corner", is_kept="corner" in table, least=0.0,
                    most=max(shorter / 2, 0.0), tip="Radius of its outer corners",
                ),
                Dimension(
                    name="line", side="left", value=self._length(table, "line", borders.LINE_MM), caption="Line",
                    is_kept="line" in table, least=0.01, tip="How wide it is drawn",
                ),
            ),
        )  # fmt: skip
