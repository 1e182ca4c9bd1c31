"""Edits of what lies on a face, where the open variant takes it from: moved, made larger, turned."""

from __future__ import annotations

from typing import Any, Literal

from pydantic import ValidationError

from mockup.layout.edit import decals, words
from mockup.layout.edit.tables import units_of
from mockup.layout.edit.undo import LayoutDocument
from mockup.layout.edit.variants import shown, table_home
from mockup.layout.lettering.beside import TOWARDS
from mockup.layout.lettering.beside import reach as reach_of
from mockup.layout.lettering.labels import GAP_MM
from mockup.layout.lettering.tables import Side
from mockup.model.edit import Address, Edit
from mockup.model.errors import InputError
from mockup.model.units import parse_length
from mockup.window.pointer.face_things import FaceThing
from mockup.window.pointer.lying import Laid, Lying
from mockup.window.pointer.snapping import Uv
from mockup.window.work.drawn_marks import DrawnMark, drawn_marks
from mockup.window.work.workbench import Workbench

Grip = Literal["body", "corner", "arc"]
Way = tuple[str | int, ...]


class FaceEdits:
    """Says what an edit of a decal, a word, a scale or a border comes down to, in the layout that is open."""

    def __init__(self, work: Workbench) -> None:
        self._work = work

    def tables(self, array: str, document: LayoutDocument | None = None) -> list[dict[str, Any]]:
        """Return the tables of a list as the open variant shows them."""
        document = document or self._work.document
        if document is None:
            return []
        found: list[dict[str, Any]] = shown(document.raw, self._work.scope["variant"]).get(array, [])
        return found

    def table(self, way: Way, document: LayoutDocument | None = None) -> dict[str, Any]:
        """Return one table of a list, empty where there is none."""
        tables = self.tables(str(way[0]), document)
        return tables[int(way[1])] if int(way[1]) < len(tables) else {}

    def shared(self) -> dict[str, Any]:
        """Return what all lettering looks like that says nothing else."""
        document = self._work.document
        if document is None:
            return {}
        found: dict[str, Any] = shown(document.raw, self._work.scope["variant"]).get("lettering", {})
        return found

    def address(self, way: Way) -> Address:
        """Return where the table of a thing is changed: where its values are given, or in the variant alone."""
        scope, document = self._work.scope, self._work.document
        if scope["is_own"] or document is None:
            return Address(way=way, variant=scope["variant"])
        return table_home(document.raw, str(way[0]), int(way[1]), scope["variant"])

    def new_in(self, array: str) -> str | None:
        """Return where a new table of a list goes: a variant with such a list of its own, else the layout itself."""
        scope, document, variant = self._work.scope, self._work.document, self._work.scope["variant"]
        if variant is None or document is None:
            return None
        has_own = array in document.raw.get("variants", {}).get(variant, {})
        return variant if scope["is_own"] or has_own else None

    def drawn(self) -> tuple[DrawnMark, ...]:
        """Return the scales and borders that the open variant shows; none while the layout is not sound."""
        design, document = self._work.design, self._work.document
        if design is None or document is None:
            return ()
        try:
            return tuple(drawn_marks(design, shown(document.raw, self._work.scope["variant"])))
        except (InputError, ValidationError):
            return ()

    def centred(self, way: Way) -> tuple[bool, bool]:
        """Return for each axis whether a thing stands in the middle without being measured."""
        table = self.table(way)
        return not {"left", "right"} & set(table), not {"top", "bottom"} & set(table)

    def gap_mm(self, way: Way) -> float:
        """Return the gap between a part and its label, as its table or the shared look gives it."""
        document = self._work.document
        gap = self.table(way).get("gap", self.shared().get("gap"))
        if gap is None or document is None:
            return GAP_MM
        return parse_length(gap, units_of(document.raw))

    def edits(self, thing: FaceThing, grip: Grip, to: Laid, before: LayoutDocument) -> tuple[Edit, ...]:
        """Return the edits that bring a thing, as a document has it, to where it was dragged by a grip."""
        if thing.part is not None:
            return self._by_its_part(thing, to, before) if grip == "body" else ()
        address, face = self.address(thing.way), self._work.faces[thing.face]
        edits: tuple[Edit, ...] = ()
        if grip == "corner" and thing.is_word:
            edits = words.sized(address, before.raw, round(to.thing.height_mm, 1))
        elif grip == "corner":
            edits = decals.sized(address, round(to.thing.width_mm, 1))
        elif grip == "arc":
            edits = decals.turned_to(address, to.thing.rotation_deg)
        place = (to.thing.u_mm, to.thing.v_mm)
        return (*edits, *decals.stood(before.raw, address, face, to.thing.reach, place, to.is_centred))

    def _by_its_part(self, thing: FaceThing, to: Laid, before: LayoutDocument) -> tuple[Edit, ...]:
        """Return the edits that stand a part's label on the side that it was dragged to."""
        part = self._work.part(thing.part)
        if part is None:
            return ()
        table, variant = self.table(thing.way, before), self._work.scope["variant"]
        was: Side = table.get("side", "below")
        gap = table.get("gap", shown(before.raw, variant).get("lettering", {}).get("gap"))
        gap_mm = GAP_MM if gap is None else parse_length(gap, units_of(before.raw))
        middle = (part.u_mm, part.v_mm)
        scale_mm = _room(thing.lying, middle, was) - gap_mm - reach_of(part, was)  # what its scale takes beside it
        side = _side(to.thing, middle)
        wanted = _room(to.thing, middle, side) - reach_of(part, side) - scale_mm
        return words.beside(before.raw, int(thing.way[1]), side, max(round(wanted, 1), 0.0), variant)


def _side(thing: Lying, middle: Uv) -> Side:
    """Return the side of a part's middle on which most of a thing lies."""
    right, down = thing.u_mm - middle[0], thing.v_mm - middle[1]
    across, deep = thing.reach
    if abs(right) - across / 2 > abs(down) - deep / 2:
        return "right" if right > 0 else "left"
    return "below" if down > 0 else "above"


def _room(thing: Lying, middle: Uv, side: Side) -> float:
    """Return how far a thing's near edge is from a part's middle, towards a side of the part."""
    right, down = TOWARDS[side]
    across, deep = thing.reach
    away = (thing.u_mm - middle[0]) * right + (thing.v_mm - middle[1]) * down
    return away - (across if right else deep) / 2
