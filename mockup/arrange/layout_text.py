"""Parts in their places as the text of a layout, as a builder would write it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Literal, get_args

from mockup.arrange.problem import Places
from mockup.enclosure.sizes import SIZES
from mockup.layout.edit.lengths import like
from mockup.layout.edit.literals import literal
from mockup.model.design import Placement
from mockup.model.enclosure import Enclosure, Face, faces
from mockup.model.units import Unit

MIDDLE_MM = 0.05  # what lies so close to the middle of its face is centred, and says nothing
FONT = "lettering.ttf"
Lettering = Literal["names and scales", "names and small scales", "small names and scales", "names", "nothing"]
LETTERINGS: tuple[Lettering, ...] = get_args(Lettering)
"""How much lettering a layout has, most first."""
WHOLE = LETTERINGS[:3]
"""Those in which every part has its name and every knob its scale."""
SIDES = ("below", "above")
"""Where a name may stand, seen from its part, the usual side first; beside it a row has no room."""
_SMALL_SCALES = {"gap": 0.8, "major": 1.0, "minor": 0.7}
_SCALES: dict[Lettering, dict[str, float]] = {
    "names and scales": {},
    "names and small scales": _SMALL_SCALES,
    "small names and scales": _SMALL_SCALES,
}
_CAPITALS_MM, _SMALL_CAPITALS_MM = 2.6, 2.2
_FINISH = """
[finish]
paint = "#a5d2c8"
sheen = "gloss"
"""


def layout_text(
    name: str,
    box: Enclosure,
    parts: Places,
    lettering: Lettering,
    units: Unit = "mm",
    *,
    sides: Mapping[str, str] | None = None,
    undrawn: frozenset[str] = frozenset(),
) -> str:
    """Return the layout of parts in a box, places to a tenth of a millimetre, with so much lettering.

    Lengths are written in `units`. `sides` says on which side of a part its name stands where that is not below it,
    `undrawn` are names that the font has not all the letters of.
    """
    blocks = [f'name = {literal(name)}\nunits = "{units}"\n', _box(box, units), _FINISH.lstrip()]
    frames = faces(box)
    blocks += ["\n".join(_part(part, frames[part.face], units)) + "\n" for part in parts]
    if lettering != "nothing":
        size = _length(_SMALL_CAPITALS_MM if lettering.startswith("small") else _CAPITALS_MM, units)
        blocks.append(f'[lettering]\nfont = "{FONT}"\nsize = {size}\ncolour = "#10283a"\n')
        for part in parts:
            is_named = part.face == "top" and part.kind.mount == "panel" and not part.kind.is_lamp
            if is_named and part.name not in undrawn:
                side = (sides or {}).get(part.name)
                blocks.append(f"[[label]]\npart = {literal(part.name)}\n" + (f'side = "{side}"\n' if side else ""))
        if any(part.knob is not None for part in parts) and lettering in _SCALES:
            lengths = (f"{key} = {_length(mm, units)}\n" for key, mm in _SCALES[lettering].items())
            blocks.append("[[scale]]\n" + "".join(lengths))
    return "\n".join(blocks)


def _length(mm: float, units: Unit) -> str:
    """Return a length as it stands in a file of these units."""
    return f"{mm:g}" if units == "mm" else literal(like(0.0, mm, units))


def _box(box: Enclosure, units: Unit) -> str:
    size = next((name for name, each in SIZES.items() if each == box), None)
    if size is not None:
        return f'[box]\nsize = "{size}"\n'
    sides = {"width": box.width_mm, "length": box.length_mm, "height": box.height_mm}
    return "[box]\n" + "".join(f"{side} = {_length(mm, units)}\n" for side, mm in sides.items())


def written(part: Placement, face: Face) -> Placement:
    """Return a part where the text puts it: a tenth of a millimetre from the upper edge and the nearer side."""
    v, middle = round(part.v_mm, 1), face.width_mm / 2
    if abs(part.u_mm - middle) < MIDDLE_MM:
        u = middle
    elif part.u_mm < middle:
        u = face.left_edge(v) + round(part.u_mm - face.left_edge(v), 1)
    else:
        u = face.right_edge(v) - round(face.right_edge(v) - part.u_mm, 1)
    return replace(part, u_mm=u, v_mm=v, depth_mm=round(part.depth_mm, 1))


def _part(part: Placement, face: Face, units: Unit) -> Iterator[str]:
    yield "[[part]]"
    yield f"name = {literal(part.name)}"
    yield f'kind = "{part.kind.name}"'
    if part.face != "top":
        yield f'face = "{part.face}"'
    part = written(part, face)
    top = part.v_mm
    if part.u_mm != face.width_mm / 2:
        is_left = part.u_mm < face.width_mm / 2
        mm = part.u_mm - face.left_edge(top) if is_left else face.right_edge(top) - part.u_mm
        yield f"{'left' if is_left else 'right'} = {_length(round(mm, 1), units)}"
    yield f"top = {_length(top, units)}"
    if part.rotation_deg:
        yield f"rotation = {part.rotation_deg:g}"
    if part.depth_mm:
        yield f"depth = {_length(part.depth_mm, units)}"
    if part.knob is not None:
        knob = part.knob
        wide, high = (_length(mm, units) for mm in (knob.diameter_mm, knob.height_mm))
        yield f'knob = {{ style = "{knob.style}", diameter = {wide}, height = {high} }}'
