"""The layout as it stands on disk, and what was changed here since: moved, turned, painted, undone.

A document is never altered: every verb returns a new one. With a variant open a value that the variant's
own table gives is changed there, any other in the file itself, for all versions; `is_own` keeps the change
to this variant by adding the key to its table.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any, Literal, Self

from mockup.colour import rgb
from mockup.layout.edit.lengths import like, millimetres
from mockup.layout.edit.splice import MISSING, Place, Value, found, put
from mockup.layout.parse import read_toml
from mockup.model.enclosure import Face
from mockup.model.errors import Fault, InputError
from mockup.model.material import Colour
from mockup.model.units import Unit

BOM = b"\xef\xbb\xbf"  # UTF-8 byte order mark: Unicode 23.8
KnobKey = Literal["style", "diameter", "height", "colour", "pointer_colour", "pointer"]
CLOSE_MM = 5e-4  # half a thousandth: below what the file's own rounding can hold
Prefer = Literal["mine", "file"]
_LENGTHS = ("diameter", "height")


class ClashError(InputError):
    """Values were changed on both sides, here and in the file, to different things; each fault's `what` is one."""


@dataclass(frozen=True, kw_only=True)
class Step:
    """One step of undo: its title, and the values it puts at places. Steps with one `merge` become one."""

    title: str
    values: Mapping[Place, Value]
    merge: str = ""


@dataclass(frozen=True, kw_only=True)
class Document:
    """A layout file being edited.

    `source` is the file's name as the user knows it; `base` the text that `steps` were made on, of which
    the first `done` count (the others can be redone); `disk` is what the file holds as far as is known.
    Both texts are without a byte order mark, line ends as they are in the file.
    """

    source: str
    base: str
    disk: str
    has_bom: bool = False
    steps: tuple[Step, ...] = ()
    done: int = 0
    is_closed: bool = False

    @classmethod
    def opened(cls, data: bytes, source: str) -> Document:
        """Return the document of a file's bytes; `InputError` where they are no UTF-8."""
        has_bom = data.startswith(BOM)
        try:
            text = data.removeprefix(BOM).decode("utf-8")
        except UnicodeDecodeError:
            what = "is not UTF-8 text"
            raise InputError(Fault(file=source, what=what, remedy="save it again as UTF-8")) from None
        return cls(source=source, base=text, disk=text, has_bom=has_bom)

    @cached_property
    def text(self) -> str:
        """The text with every change in it: what is shown, and what saving writes.

        Raises `InputError` where the file is written in a way that cannot be changed.
        """
        values: dict[Place, Value] = {}
        for step in self.steps[: self.done]:
            values.update(step.values)
        return put(self.base, values, self.source) if values else self.base

    @property
    def data(self) -> bytes:
        """The bytes that saving writes."""
        return (BOM if self.has_bom else b"") + self.text.encode()

    @property
    def is_changed(self) -> bool:
        """True where there is something to save."""
        return self.text != self.disk

    @property
    def undoes(self) -> str | None:
        """The title of the step that `undone` takes back, None for none."""
        return self.steps[self.done - 1].title if self.done else None

    @property
    def redoes(self) -> str | None:
        """The title of the step that `redone` makes again, None for none."""
        return self.steps[self.done].title if self.done < len(self.steps) else None

    @cached_property
    def raw(self) -> dict[str, Any]:
        """The edited text as TOML reads it; `InputError` where it is none."""
        return read_toml(self.text, self.source)

    @property
    def units(self) -> Unit:
        """What plain numbers of the file are counted in."""
        return "in" if self.raw.get("units") == "in" else "mm"

    @property
    def unsaved(self) -> dict[Place, tuple[Any, Value]]:
        """What saving would change, by place: the value on disk (`MISSING` where there is none) and the new one."""
        before = read_toml(self.disk, self.source)
        places = dict.fromkeys(place for step in self.steps for place in step.values)
        pairs = {place: (found(before, place), found(self.raw, place)) for place in places}
        return {place: pair for place, pair in pairs.items() if pair[0] != pair[1] and pair[1] is not MISSING}

    def undone(self) -> Self:
        """Return the document without its last step; as it is where there is none."""
        return replace(self, done=max(self.done - 1, 0), is_closed=True)

    def redone(self) -> Self:
        """Return the document with the step that was last undone; as it is where there is none."""
        return replace(self, done=min(self.done + 1, len(self.steps)), is_closed=True)

    def closed(self) -> Self:
        """Return the document whose next change becomes a step of its own, whatever it is."""
        return replace(self, is_closed=True)

    def reverted(self) -> Self:
        """Return the document as it is on disk, without any change."""
        return replace(self, base=self.disk, steps=(), done=0)

    def saved(self) -> Self:
        """Return the document after its bytes were written."""
        return replace(self, disk=self.text, is_closed=True)

    def onto(self, text: str, *, prefer: Prefer | None = None) -> Document:
        """Return the document with what is unsaved put onto a new text of the file on disk.

        Values that were changed on both sides to different things are a conflict: `prefer` says which one
        stays; without it, raises `ClashError` with one fault per conflict. What the new text no longer has a
        table for is a conflict too. Steps before the last save can no longer be undone.
        """
        fresh = Document(source=self.source, base=text, disk=text, has_bom=self.has_bom)
        unsaved = self.unsaved
        before = {place: was for place, (was, _) in unsaved.items()}
        return fresh.restored(before, {place: now for place, (_, now) in unsaved.items()}, prefer=prefer)

    def restored(
        self, before: Mapping[Place, Any], values: Mapping[Place, Value], *, prefer: Prefer | None = None
    ) -> Document:
        """Return the document with values put in as one step, made when the file held what `before` says.

        Conflicts are treated as `onto` treats them.
        """
        kept: dict[Place, Value] = {}
        clashes: list[Fault] = []
        for place, now in values.items():
            there = found(self.raw, place)
            is_lost = place[0] == "part" and found(self.raw, place[:2]) is MISSING
            is_clash = is_lost or (there != before[place] and there != now)
            if is_clash:
                clashes.append(self._clash(place, there, now))
            if there != now and not is_lost and (not is_clash or prefer == "mine"):
                kept[place] = now
        if clashes and prefer is None:
            raise ClashError(clashes)
        return self._with("changes from before", kept)

    def moved(
        self, part: str, face: Face, u_mm: float, v_mm: float, *, variant: str | None = None, is_own: bool = False
    ) -> Document:
        """Return the document with a part's centre at (u, v) of its face, in the keys that the file measures it by."""
        v_key, v_home = self._axis(part, ("top", "bottom"), variant, is_own)
        u_key, u_home = self._axis(part, ("left", "right"), variant, is_own)
        wanted = {
            (*v_home, v_key): (v_mm if v_key == "top" else face.height_mm - v_mm, v_mm - face.height_mm / 2),
            (*u_home, u_key): (
                u_mm - face.left_edge(v_mm) if u_key == "left" else face.right_edge(v_mm) - u_mm,
                u_mm - face.width_mm / 2,
            ),
        }
        values = {}
        for place, (mm, off_centre) in wanted.items():
            before = self._effective(place, part, variant)
            if before is MISSING and abs(off_centre) < CLOSE_MM:
                continue  # half-way without saying so, and so it stays
            if before is MISSING or abs(millimetres(before, self.units) - mm) >= CLOSE_MM:
                values[place] = like(before if before is not MISSING else 0.0, mm, self.units)
        return self._with(f"move {part}", values, merge=f"move {part}")

    def turned(self, part: str, degrees: float, *, variant: str | None = None, is_own: bool = False) -> Document:
        """Return the document with a part turned clockwise by `degrees` from upright."""
        turn = round((degrees + 180.0) % 360.0 - 180.0, 2) + 0.0
        return self._set_part(part, "rotation", 180.0 if turn == -180.0 else turn, variant, is_own, f"turn {part}")

    def knob_set(
        self, part: str, key: KnobKey, value: Value, *, variant: str | None = None, is_own: bool = False
    ) -> Document:
        """Return the document with one key of a knob set; diameter and height are millimetres."""
        home = self._home(part, ("knob", key), variant, is_own)
        place = (*home, "knob", key)
        if key in _LENGTHS:
            before = found(self.raw, place)
            value = like(before if before is not MISSING else 0.0, float(value), self.units)
        return self._with(f"{key.replace('_', ' ')} of the knob {part}", {place: value}, merge=f"knob {part} {key}")

    def lamp_coloured(self, part: str, colour: Colour, *, variant: str | None = None, is_own: bool = False) -> Document:
        """Return the document with a lamp of another colour, encoded sRGB."""
        return self._set_part(part, "colour", rgb.to_hex(colour), variant, is_own, f"colour of {part}")

    def lamp_lit(self, part: str, is_lit: bool, *, variant: str | None = None, is_own: bool = False) -> Document:
        """Return the document with a lamp lit or not."""
        return self._set_part(part, "lit", is_lit, variant, is_own, f"light of {part}")

    def painted(self, colour: Colour, *, variant: str | None = None, is_own: bool = False) -> Document:
        """Return the document with another paint, encoded sRGB."""
        return self._set_finish("paint", rgb.to_hex(colour), variant, is_own, "paint")

    def sheened(self, sheen: str, *, variant: str | None = None, is_own: bool = False) -> Document:
        """Return the document with another sheen."""
        return self._set_finish("sheen", sheen, variant, is_own, "sheen")

    def clear_coated(self, is_coated: bool, *, variant: str | None = None, is_own: bool = False) -> Document:
        """Return the document with or without clear lacquer."""
        return self._set_finish("clear_coat", is_coated, variant, is_own, "clear coat")

    def filmed(self, decal: int, film: str, *, variant: str | None = None) -> Document:
        """Return the document with another film under a decal, counted as the design's decals are.

        Decals have no names, so a variant that gives none of its own shares the file's.
        """
        place = self._decals(variant)[decal]
        return self._with("film", {(*place, "film"): film}, merge=f"film {place}")

    def where(self, places: Sequence[Place]) -> str:
        """Return in words what places belong to: the file itself, or a variant."""
        names = {str(place[1]) for place in places if place[0] == "variants"}
        if any(place[0] != "variants" for place in places):
            return "all versions" if "variants" in self.raw else "the layout"
        return f"variant {', '.join(sorted(names))} only"

    @property
    def last_places(self) -> tuple[Place, ...]:
        """The places of the last step that counts."""
        return tuple(self.steps[self.done - 1].values) if self.done else ()

    def _with(self, title: str, values: Mapping[Place, Value], merge: str = "") -> Document:
        """Return the document with one more step, or the last one widened; faults of writing come out at once."""
        values = {place: value for place, value in values.items() if found(self.raw, place) != value}
        if not values:
            return self
        kept = self.steps[: self.done]
        if merge and kept and kept[-1].merge == merge and not self.is_closed:
            kept, values = kept[:-1], {**kept[-1].values, **values}
        step = Step(title=title, values=values, merge=merge)
        changed = replace(self, steps=(*kept, step), done=len(kept) + 1, is_closed=False)
        _ = changed.text
        return changed

    def _set_part(self, part: str, key: str, value: Value, variant: str | None, is_own: bool, title: str) -> Document:
        place = (*self._home(part, (key,), variant, is_own), key)
        return self._with(title, {place: value}, merge=f"{key} {part}")

    def _set_finish(self, key: str, value: Value, variant: str | None, is_own: bool, title: str) -> Document:
        own: Place = ("variants", variant or "", "finish")
        is_there = variant is not None and (is_own or found(self.raw, (*own, key)) is not MISSING)
        return self._with(title, {(*(own if is_there else ("finish",)), key): value}, merge=f"finish {key}")

    def _home(self, part: str, keys: tuple[str, ...], variant: str | None, is_own: bool) -> Place:
        """Return the table that a key of a part is to be changed in; `keys` is the way to it from there."""
        base: Place = ("part", part)
        if variant is None:
            return base
        own: Place = ("variants", variant, "part", part)
        has_base = found(self.raw, base) is not MISSING
        return own if is_own or not has_base or found(self.raw, (*own, *keys)) is not MISSING else base

    def _axis(self, part: str, keys: tuple[str, str], variant: str | None, is_own: bool) -> tuple[str, Place]:
        """Return the key that a part is measured by along one axis, and the table to change it in."""
        own: Place = ("variants", variant or "", "part", part)
        base: Place = ("part", part)
        for home in (own, base) if variant is not None else (base,):
            for key in keys:
                if found(self.raw, (*home, key)) is not MISSING:
                    return key, own if is_own and variant is not None else home
        return keys[0], self._home(part, (keys[0],), variant, is_own)

    def _effective(self, place: Place, part: str, variant: str | None) -> Any:
        """Return the value that counts at a place of a part: its own, or where there is none the file's."""
        value = found(self.raw, place)
        return found(self.raw, ("part", part, place[-1])) if value is MISSING and variant is not None else value

    def _decals(self, variant: str | None) -> list[Place]:
        """Return the places of the decals of a version, in the design's order."""
        listed = self.raw.get("decal", [])
        own = found(self.raw, ("variants", variant, "decal")) if variant is not None else MISSING
        base: list[Place] = [("decal", index) for index in range(len(listed))]
        if own is MISSING or variant is None:
            return base
        faces = {entry.get("face", "top") for entry in own}
        kept = [
            place for place, entry in zip(base, listed, strict=True) if own and entry.get("face", "top") not in faces
        ]
        return kept + [("variants", variant, "decal", index) for index in range(len(own))]

    def _clash(self, place: Place, there: Any, mine: Value) -> Fault:
        words = " ".join(str(step) for step in place)
        now = "gone from the file" if there is MISSING else f"{there!r} in the file"
        return Fault(file=self.source, what=f"{words} is {mine!r} here, {now}", remedy="keep one of them")


def digest(data: bytes) -> str:
    """Return the hash of a file's bytes, by which the window knows what it wrote itself."""
    return hashlib.blake2b(data, digest_size=16).hexdigest()
