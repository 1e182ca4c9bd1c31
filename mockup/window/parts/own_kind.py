"""A kind of one's own from three figures by caliper: the hole, how wide the body is, how deep it goes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from mockup.arrange.names import numbered
from mockup.layout.edit import parts as edits_of
from mockup.layout.edit.lengths import like
from mockup.model.design import Placement
from mockup.model.edit import Address, InsertTable
from mockup.model.kind_figures import kind_figures
from mockup.model.part import Kind
from mockup.model.text import uncapitalized
from mockup.model.units import Unit
from mockup.window import new_part, part_flow
from mockup.window.desk import Desk
from mockup.window.dimensions.measured_drawing import MeasuredDrawing
from mockup.window.dimensions.sketch import Dimension, Sketch, line, rectangle
from mockup.window.parts.catalogue import shelves, title

_NUT = 1.55  # across a nut, of its hole: a usual bushing's; common practice, no source
_LENS = 0.6  # across a lens, of its hole: common practice, no source
_NUT_MM = 2.5  # height of washer and nut: common practice, no source
_SHAFT = (6.0, 13.0)  # diameter and top of a shaft that takes a knob, mm: a small pot's; common practice, no source
_BODY_MM, _DEPTH_MM, _HOLE_MM = 16.0, 12.0, 7.5  # before anything is typed: a small pot's


@dataclass(frozen=True, kw_only=True)
class Caliper:
    """What a caliper says of a part, mm, and the kind whose form it has, "" for none of those that there are."""

    hole_mm: float = _HOLE_MM
    body_mm: float = _BODY_MM
    depth_mm: float = _DEPTH_MM
    has_shaft: bool = True
    is_lamp: bool = False
    like: str = ""

    @classmethod
    def of(cls, kind: Kind) -> Caliper:
        """Return the figures and the form of a kind that there is."""
        found = kind_figures(kind)
        return cls(
            hole_mm=round(found.hole_mm, 2), body_mm=round(found.body_mm or _BODY_MM, 2),
            depth_mm=round(found.depth_mm or _DEPTH_MM, 2), has_shaft=kind.shaft is not None, is_lamp=kind.is_lamp,
            like=kind.name,
        )  # fmt: skip


def kind_table(name: str, caliper: Caliper, unit: Unit = "mm") -> dict[str, Any]:
    """Return the layout's table of a kind of one's own."""

    def long(mm: float) -> Any:
        return like(0.0, mm, unit)

    if caliper.like:
        hole = {"hole": long(caliper.hole_mm)} if caliper.hole_mm else {}
        return {
            "name": name, "like": caliper.like, **hole, "body": long(caliper.body_mm), "depth": long(caliper.depth_mm)
        }  # fmt: skip
    table: dict[str, Any] = {
        "name": name,
        "hole": long(caliper.hole_mm),
        "above": [{"diameter": long(_NUT * caliper.hole_mm), "to": long(_NUT_MM), "material": "nickel"}],
        "below": [{"diameter": long(caliper.body_mm), "to": long(caliper.depth_mm)}],
    }
    if caliper.is_lamp:
        lens = {"diameter": long(_LENS * caliper.hole_mm), "from": long(_NUT_MM), "to": long(2 * _NUT_MM), "lens": True}
        table["above"].append(lens)
    if caliper.has_shaft:
        table["shaft"] = {"diameter": long(_SHAFT[0]), "top": long(_SHAFT[1])}
    return table


def caliper_sketch(caliper: Caliper) -> Sketch:
    """Return a part from the side, through the panel, with the three figures to type."""
    half, hole, nut = caliper.body_mm / 2, caliper.hole_mm / 2, _NUT * caliper.hole_mm / 2  # no hole: it lies inside
    reach = max(half, nut) + 6.0
    return Sketch(
        strokes=(
            line((-reach, 0.0), (-hole, 0.0), "thin"),
            line((hole, 0.0), (reach, 0.0), "thin"),
            line((-reach, 2.0), (-hole, 2.0), "thin"),
            line((hole, 2.0), (reach, 2.0), "thin"),
            rectangle(-nut, -_NUT_MM, nut, 0.0),
            rectangle(-hole, 0.0, hole, 2.0, "picked"),
            rectangle(-half, 2.0, half, 2.0 + caliper.depth_mm),
        ),
        dimensions=(
            *(
                (
                    Dimension(
                        name="hole", side="top", value=caliper.hole_mm, start=(-hole, -_NUT_MM), end=(hole, -_NUT_MM),
                        least=1.0, most=60.0, tip="The hole that it goes through",
                    ),
                )
                if hole
                else ()
            ),
            Dimension(
                name="body", side="bottom", value=caliper.body_mm, start=(-half, 2.0 + caliper.depth_mm),
                end=(half, 2.0 + caliper.depth_mm), least=1.0, most=120.0, tip="Across the body at its widest",
            ),
            Dimension(
                name="depth", side="left", value=caliper.depth_mm, start=(-half, 2.0),
                end=(-half, 2.0 + caliper.depth_mm), least=0.5, most=120.0,
                tip="From the inside of the panel to the deepest end, terminals too",
            ),
        ),
    )  # fmt: skip


class OwnKind:
    """The sheet "Measure your own"; `part` is the part that the new kind is for, None for a new one."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._drawing = MeasuredDrawing(desk.widgets, desk.messages.say, desk.work.held.hold)
        self.is_open, self.name = False, ""
        self.caliper = Caliper()
        self.part: Placement | None = None

    def open(self, part: Placement | None = None) -> None:
        """Open the sheet, with the figures of a part where one is given."""
        if part is None:
            self._desk.view.change(self._desk.view.state.picking())
        self.is_open, self.part = True, part
        self.caliper = Caliper.of(part.kind) if part is not None else Caliper()
        self._name_it(part.kind if part is not None else None)

    def _name_it(self, kind: Kind | None) -> None:
        word = title(kind).partition(",")[0] if kind is not None else "part"
        word = word if word[1:2].isupper() else uncapitalized(word)
        self.name = numbered(f"My {word}", part_flow.catalogue(self._desk))

    def close(self) -> None:
        """Leave the sheet; nothing is made."""
        self.is_open, self.part, self.name, self.caliper = False, None, "", Caliper()

    def draw(self) -> None:
        """Lay out the name, the drawing and what it is."""
        desk, widgets = self._desk, self._desk.widgets
        if desk.view.state.picked and self.part is None:  # something else was picked meanwhile
            self.close()
            return
        widgets.title("Name", is_first=True)
        typed = widgets.field("own.name", self.name, is_taken_on_leaving=True)
        if typed is not None and typed.strip():
            self.name = typed.strip()
        units = desk.work.units
        widgets.title("Three figures", hint=f"{units}, by caliper")
        found = self._drawing.draw("own", caliper_sketch(self.caliper), units, tall=110.0)
        now = self.caliper
        self.caliper = replace(
            now, hole_mm=found.get("hole", now.hole_mm), body_mm=found.get("body", now.body_mm),
            depth_mm=found.get("depth", now.depth_mm),
        )  # fmt: skip
        widgets.title("Its form")
        self._form()
        widgets.space(8)
        widgets.note("It stands in the drawer under Your own, and is saved with this pedal.")

    def _form(self) -> None:
        """Draw the kinds whose form it may have; a plain body is turned, lit or neither."""
        widgets, kinds = self._desk.widgets, part_flow.catalogue(self._desk)
        forms = [("", "A plain body")]
        forms += [(kind.name, title(kind)) for shelf in shelves(kinds) for kind in shelf.kinds]
        like = widgets.combo("own.like", forms, self.caliper.like)
        if like is not None:
            self.caliper = Caliper.of(kinds[like]) if like else replace(self.caliper, like="")
            self._name_it(kinds[like] if like else None)
        if self.caliper.like:
            return
        widgets.space(8)
        rows = (("knob", "Turned"), ("lamp", "Lit"), ("plain", "Neither"))
        sort = "knob" if self.caliper.has_shaft else "lamp" if self.caliper.is_lamp else "plain"
        pushed = widgets.choose("own.is", rows, sort, columns=3)
        if pushed is not None:
            self.caliper = replace(self.caliper, has_shaft=pushed == "knob", is_lamp=pushed == "lamp")

    def draw_foot(self) -> None:
        """Draw its two buttons."""
        widgets, scale = self._desk.widgets, self._desk.widgets.scale
        for index, wide in widgets.side_by_side(2):
            if index == 0 and widgets.button("Put back", "own.close", wide=wide, tall=36 * scale):
                self.close()
            label = "Add it" if self.part is None else "Use it"
            if index == 1 and widgets.button(label, "own.make", wide=wide, tall=36 * scale, look="chalk"):
                self._make()

    def _make(self) -> None:
        desk, part, name = self._desk, self.part, self.name
        units = desk.work.units
        values: Mapping[str, Any] = kind_table(name, self.caliper, units)
        insert = InsertTable(address=Address(way=("kind",)), values=values)
        title = f"measure {name}"
        if not part_flow.change(desk, title, lambda _raw: (insert,), merge=title):
            return
        kind = part_flow.catalogue(desk).get(name)
        self.close()
        if kind is None:
            return
        if part is None:
            new_part.add(desk, kind, called=name)
            return
        scope = desk.work.scope
        part_flow.change(desk, title, lambda raw: edits_of.rekinded(raw, [part], kind, **scope), merge=title)
        desk.work.end_step()
