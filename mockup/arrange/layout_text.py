"""Parts in their places as the text of a layout, as a builder would write it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, get_args

from mockup.arrange.problem import Places
from mockup.enclosure.sizes import SIZES
from mockup.layout.edit.literals import literal
from mockup.model.design import Placement
from mockup.model.enclosure import Enclosure, Face, faces

MIDDLE_MM = 0.05  # what lies so close to the middle of its face is centred, and says nothing
FONT = "lettering.ttf"
Lettering = Literal["names and scales", "names and small scales", "names", "nothing"]
LETTERINGS: tuple[Lettering, ...] = get_args(Lettering)
"""How much lettering a layout has, most first."""
_SCALES: dict[Lettering, str] = {
    "names and scales": "[[scale]]\n",
    "names and small scales": "[[scale]]\ngap = 0.8\nmajor = 1\nminor = 0.7\n",
}
_FINISH = """
[finish]
paint = "#a5d2c8"
sheen = "gloss"
"""
_LETTERING = f"""
[lettering]
font = "{FONT}"
size = 2.6
colour = "#10283a"
"""


def layout_text(name: str, box: Enclosure, parts: Places, lettering: Lettering) -> str:
    """Return the layout of parts in a box, places to a tenth of a millimetre, with so much lettering."""
    blocks = [f'name = {literal(name)}\nunits = "mm"\n', _box(box), _FINISH.lstrip()]
    frames = faces(box)
    blocks += ["\n".join(_part(part, frames[part.face])) + "\n" for part in parts]
    if lettering != "nothing":
        blocks.append(_LETTERING.lstrip())
        for part in parts:
            if part.face == "top" and part.kind.mount == "panel" and not part.kind.is_lamp:
                blocks.append(f"[[label]]\npart = {literal(part.name)}\n")
        if any(part.knob is not None for part in parts) and lettering != "names":
            blocks.append(_SCALES[lettering])
    return "\n".join(blocks)


def _box(box: Enclosure) -> str:
    size = next((name for name, each in SIZES.items() if each == box), None)
    if size is not None:
        return f'[box]\nsize = "{size}"\n'
    return f"[box]\nwidth = {box.width_mm:g}\nlength = {box.length_mm:g}\nheight = {box.height_mm:g}\n"


def _part(part: Placement, face: Face) -> Iterator[str]:
    yield "[[part]]"
    yield f"name = {literal(part.name)}"
    yield f'kind = "{part.kind.name}"'
    if part.face != "top":
        yield f'face = "{part.face}"'
    top = round(part.v_mm, 1)
    if abs(part.u_mm - face.width_mm / 2) >= MIDDLE_MM:
        is_left = part.u_mm < face.width_mm / 2
        mm = part.u_mm - face.left_edge(top) if is_left else face.right_edge(top) - part.u_mm
        yield f"{'left' if is_left else 'right'} = {round(mm, 1):g}"
    yield f"top = {top:g}"
    if part.rotation_deg:
        yield f"rotation = {part.rotation_deg:g}"
    if part.depth_mm:
        yield f"depth = {round(part.depth_mm, 1):g}"
    if part.knob is not None:
        knob = part.knob
        yield f'knob = {{ style = "{knob.style}", diameter = {knob.diameter_mm:g}, height = {knob.height_mm:g} }}'
