"""Where a part, label or decal is to stand, in the keys by which the file measures its place."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from pydantic import ValidationError

from mockup.layout import resolve
from mockup.layout.edit.lengths import like
from mockup.layout.edit.tables import MISSING, units_of
from mockup.layout.edit.variants import home, number_of, shown, value_of
from mockup.layout.lettering.beside import TOWARDS
from mockup.layout.lettering.labels import GAP_MM
from mockup.layout.ruler import centre
from mockup.layout.schema import BoxKeys, context
from mockup.model.edit import Address, Edit, Move, PutLength, PutValue
from mockup.model.enclosure import Face, faces
from mockup.model.errors import Fault, InputError
from mockup.model.shape import turned
from mockup.model.units import Unit, parse_length

CLOSE_MM = 5e-4  # half a thousandth: below what the file's own rounding can hold
_ACROSS, _DOWN = ("left", "right"), ("top", "bottom")
_SIDES = (*_ACROSS, *_DOWN)


def moved(raw: Mapping[str, Any], move: Move, source: str) -> list[Edit]:
    """Return the edits that move something; raises `InputError` where its place cannot be told from the layout."""
    address, array = Address(way=move.address.way[:2], variant=move.address.variant), str(move.address.way[0])
    number = number_of(raw, address)
    assert number is not None, "the plan has found it"
    table = shown(raw, address.variant)[array][number]
    units = units_of(raw)
    try:
        is_by_part = array == "label" and "part" in table
        if is_by_part and not any(key in table for key in _SIDES):
            return _by_its_part(raw, address, table, move, units)
        face = _face(raw, address, table, units)
        if is_by_part and any(
            mm and not any(key in table for key in keys)
            for mm, keys in ((move.right_mm, _ACROSS), (move.down_mm, _DOWN))
        ):
            raise ValueError("it stands by its part that way; give it left or right, or top or bottom, first")
        sides = {key: parse_length(table[key], units) for key in _SIDES if key in table}
        if array == "part":
            u, v = centre(face, None, **sides)
            return list(placed(raw, address, face, u + move.right_mm, v + move.down_mm, is_own=True))
        if array in ("label", "decal"):
            return list(_edges(address, face, table, sides, move, units))
    except (ValueError, ValidationError) as error:
        what = str(error).partition("\n")[0] if not isinstance(error, ValidationError) else "the box is not sound"
        raise InputError(Fault(file=source, what=f"{address} cannot be moved: {what}")) from None
    raise InputError(Fault(file=source, what=f"a {array} has no place that could be moved"))


def placed(
    raw: Mapping[str, Any], address: Address, face: Face, u_mm: float, v_mm: float, *, is_own: bool = False
) -> Iterator[PutValue]:
    """Yield the edits that put a part's centre at (u, v) of its face.

    In a variant, a value that the layout gives is changed there, for all variants; with `is_own` in the variant alone.
    """
    units = units_of(raw)
    down = _axis(raw, address, _DOWN)
    across = _axis(raw, address, _ACROSS)
    wanted = {
        down: (v_mm if down == "top" else face.height_mm - v_mm, v_mm - face.height_mm / 2),
        across: (
            u_mm - face.left_edge(v_mm) if across == "left" else face.right_edge(v_mm) - u_mm,
            u_mm - face.width_mm / 2,
        ),
    }
    for key, (mm, off_centre) in wanted.items():
        there = address.inside(key)
        before = value_of(raw, there)
        if before is MISSING and abs(off_centre) < CLOSE_MM:
            continue  # half-way without saying so, and so it stays
        if before is MISSING or abs(parse_length(before, units) - mm) >= CLOSE_MM:
            value = like(before if before is not MISSING else 0.0, mm, units)
            yield PutValue(address=home(raw, there, is_own=is_own), value=value)


def upright(degrees: float) -> float:
    """Return a turn as it is written: above -180 degrees, up to 180."""
    turn = round((degrees + 180.0) % 360.0 - 180.0, 2) + 0.0
    return 180.0 if turn == -180.0 else turn


def from_edge(raw: Mapping[str, Any], address: Address, edge: str, mm: float, *, is_own: bool = False) -> PutLength:
    """Return the edit that keeps something so far from one edge, in the table that measures it along this axis now."""
    keys = _ACROSS if edge in _ACROSS else _DOWN
    where = address.inside(_axis(raw, address, keys))
    where = home(raw, where, is_own=is_own)
    return PutLength(address=Address(way=(*where.way[:-1], edge), variant=where.variant), mm=mm)


def kept_edges(raw: Mapping[str, Any], address: Address) -> tuple[str, ...]:
    """Return the edges of its face that a part, label or decal is measured from."""
    return tuple(key for key in _SIDES if value_of(raw, address.inside(key)) is not MISSING)


def _axis(raw: Mapping[str, Any], address: Address, keys: tuple[str, str]) -> str:
    """Return the key that a part is measured by along one axis."""
    return next((key for key in keys if value_of(raw, address.inside(key)) is not MISSING), keys[0])


def _face(raw: Mapping[str, Any], address: Address, table: Mapping[str, Any], units: Unit) -> Face:
    box = shown(raw, address.variant).get("box", {})
    sides = faces(resolve.enclosure_of(BoxKeys.model_validate(box, context=context(units))))
    name = table.get("face", "top")
    if "part" in table:  # a label lies on its part's face
        parts = shown(raw, address.variant).get("part", [])
        name = next((part.get("face", "top") for part in parts if part.get("name") == table["part"]), name)
    if name not in sides:
        raise ValueError(f"there is no face {name!r}")
    return sides[name]


def _by_its_part(
    raw: Mapping[str, Any], address: Address, table: Mapping[str, Any], move: Move, units: Unit
) -> list[Edit]:
    """Return the edit of a label that stands by its part: only the gap between them is its own."""
    side = table.get("side", "below")
    across, down = TOWARDS[side]
    if abs(move.right_mm * down) + abs(move.down_mm * across) >= CLOSE_MM:
        raise ValueError(
            f"it stands {side} its part, and only its gap can change; move the part, or give it another side"
        )
    before = table.get("gap", value_of(raw, Address(way=("lettering", "gap"), variant=address.variant)))
    gap = GAP_MM if before is MISSING else parse_length(before, units)
    wanted = gap + move.right_mm * across + move.down_mm * down
    return [PutValue(address=address.inside("gap"), value=like(0.0 if before is MISSING else before, wanted, units))]


def _edges(
    address: Address, face: Face, table: Mapping[str, Any], sides: Mapping[str, float], move: Move, units: Unit
) -> Iterator[PutLength]:
    """Yield the edits of something whose edges are measured: a decal, or a label that belongs to no part."""
    shift = face.taper * move.down_mm  # a drafted face's edges lean: what is measured from them follows
    for key in ("left", "right"):
        if key in sides and (wanted := (move.right_mm if key == "left" else -move.right_mm) + shift):
            yield PutLength(address=address.inside(key), mm=sides[key] + wanted)
    for key in ("top", "bottom"):
        if key in sides and move.down_mm:
            yield PutLength(
                address=address.inside(key), mm=sides[key] + (move.down_mm if key == "top" else -move.down_mm)
            )
    is_across = bool(move.right_mm) and not {"left", "right"} & set(sides)
    is_down = bool(move.down_mm) and not {"top", "bottom"} & set(sides)
    if not (is_across or is_down):
        return
    size = move.size_mm or tuple(parse_length(table[key], units) for key in ("width", "height") if key in table)
    if len(size) != 2:
        raise ValueError("it is centred and nothing says how large it is; give it left or right, top or bottom first")
    across, down = turned(size[0], size[1], float(table.get("rotation", 0.0)))
    u, v = centre(face, (across, down), **sides)
    u, v = u + move.right_mm, v + move.down_mm
    if is_across:
        yield PutLength(address=address.inside("left"), mm=u - across / 2 - face.left_edge(v))
    if is_down:
        yield PutLength(address=address.inside("top"), mm=v - down / 2)
