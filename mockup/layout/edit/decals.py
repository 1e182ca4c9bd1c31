"""Edits of decals: a picture laid on a face, made larger, measured from an edge, turned, printed on a film."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any, Literal

from mockup.decal.fitting import fitting_width, pixels_of
from mockup.decal.pictures.layers import is_among
from mockup.decal.processes import PROCESSES
from mockup.layout.edit.lengths import like
from mockup.layout.edit.placing import upright
from mockup.layout.edit.tables import found, units_of
from mockup.layout.edit.variants import home, shown
from mockup.layout.fields import LARGEST_MM
from mockup.model.edit import Address, Edit, InsertTable, PutLength, PutValue, RemoveValue, Value
from mockup.model.enclosure import Face
from mockup.model.finish import Artwork
from mockup.model.units import MM_PER_INCH

PrintKey = Literal["film", "process", "white_under", "cut"]
CutLength = Literal["cut_allowance", "cut_radius"]
_WHITE_UNDER = "white_under"
Side = Literal["left", "right", "top", "bottom"]
AXES: dict[Side, tuple[Side, Side]] = {
    "left": ("left", "right"), "right": ("left", "right"), "top": ("top", "bottom"), "bottom": ("top", "bottom"),
}  # fmt: skip


def laid(
    raw: Mapping[str, Any], art: Artwork, face: Face, variant: str | None = None,
    *, at: tuple[float, float] | None = None,
) -> tuple[Edit, ...]:  # fmt: skip
    """Return the edits that lay a picture on a face: in its own true size, as large as the flat where it says none.

    It lies in the middle of the flat, or with its own middle `at` (u, v) of the face.
    """
    units = units_of(raw)
    own = own_size(art)
    values: dict[str, Any] = {"art": art.name}
    if face.name != "top":
        values["face"] = face.name
    width, height = own if own is not None else (0.0, 0.0)
    if own is None or max(own) > LARGEST_MM:
        size = pixels_of(art)
        width = fitting_width(size, 0.0, face)
        height = width * size[1] / size[0]
        values["width"] = like(0.0, width, units)
    if at is not None:
        v = at[1] - height / 2
        values["left"] = like(0.0, round(at[0] - width / 2 - face.left_edge(at[1]), 1), units)
        values["top"] = like(0.0, round(v, 1), units)
    return (InsertTable(address=Address(way=("decal",), variant=variant), values=values),)


def own_size(art: Artwork) -> tuple[float, float] | None:
    """Return how wide and high a picture file says it is, in millimetres, None where it says nothing."""
    if art.dpi is None:
        return None
    return art.width_px * MM_PER_INCH / art.dpi[0], art.height_px * MM_PER_INCH / art.dpi[1]


def sized(address: Address, width_mm: float) -> tuple[Edit, ...]:
    """Return the edits that give a decal a width; its height follows, so that it is never stretched."""
    return PutLength(address=address.inside("width"), mm=width_mm), RemoveValue(address=address.inside("height"))


def as_drawn(address: Address) -> tuple[Edit, ...]:
    """Return the edits that leave a decal's size to its picture file."""
    return tuple(RemoveValue(address=address.inside(key)) for key in ("width", "height", "dpi"))


def measured(address: Address, side: Side, mm: float) -> tuple[Edit, ...]:
    """Return the edits that measure something from an edge of its face."""
    return (PutLength(address=address.inside(side), mm=mm),)


def centred(address: Address, *sides: Side) -> tuple[Edit, ...]:
    """Return the edits that put something half-way along the axes of these sides."""
    keys = dict.fromkeys(key for side in sides for key in AXES[side])
    return tuple(RemoveValue(address=address.inside(key)) for key in keys)


def turned_to(address: Address, degrees: float) -> tuple[Edit, ...]:
    """Return the edits that turn something clockwise by so many degrees from upright."""
    return (PutValue(address=address.inside("rotation"), value=upright(degrees)),)


def printed(
    raw: Mapping[str, Any], numbers: Iterable[int], key: PrintKey, value: str, variant: str | None = None, *,
    is_own: bool = False,
) -> tuple[Edit, ...]:  # fmt: skip
    """Return the edits that print decals on a film, by a process, or with its white somewhere.

    Decals are counted as the open variant counts them. What is said of white goes with a process that prints none.
    """
    edits: list[Edit] = []
    for number in numbers:
        there = Address(way=("decal", number, key), variant=variant)
        edits.append(PutValue(address=there if is_own else home(raw, there), value=value))
        white = Address(way=("decal", number, _WHITE_UNDER), variant=variant)
        has_white = _WHITE_UNDER in found(shown(raw, variant), white.way[:2])
        if has_white and key == "process" and PROCESSES[value].white is None:
            edits.append(RemoveValue(address=home(raw, white)))
    return tuple(edits)


def cut_by(address: Address, key: CutLength, mm: float) -> tuple[Edit, ...]:
    """Return the edits that cut a decal's film so far from its line, or with corners so round."""
    return (PutLength(address=address.inside(key), mm=mm),)


def with_layer(address: Address, hidden: Sequence[str], layer: str, *, is_printed: bool) -> tuple[Edit, ...]:
    """Return the edits that print a layer of a decal's picture or leave it out; `hidden` are those left out now."""
    others: list[Value] = [each for each in hidden if not is_among(layer, (each,))]
    there = address.inside("hide")
    if not is_printed:
        others.append(layer)
    return (PutValue(address=there, value=others) if others else RemoveValue(address=there),)


def stood(
    raw: Mapping[str, Any], address: Address, face: Face, reach: tuple[float, float], at: tuple[float, float],
    is_centred: tuple[bool, bool],
) -> tuple[Edit, ...]:  # fmt: skip
    """Return the edits that put the middle of a decal or a word at (u, v) of its face, in the keys that measure it.

    `reach` is how far it reaches across and down as it lies. Along an axis in which it `is_centred` nothing is
    measured any more.
    """
    given = found(shown(raw, address.variant), address.way)
    (u, v), (across, down) = at, reach
    ruled: dict[Side, float] = {
        "left": u - across / 2 - face.left_edge(v),
        "right": face.right_edge(v) - u - across / 2,
        "top": v - down / 2,
        "bottom": face.height_mm - v - down / 2,
    }
    edits: list[Edit] = []
    for (first, second), is_middle in zip((AXES["left"], AXES["top"]), is_centred, strict=True):
        if is_middle:
            edits += centred(address, first)
        else:
            side = second if second in given else first
            edits += measured(address, side, round(ruled[side], 2))
    return tuple(edits)
