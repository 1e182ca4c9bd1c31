"""What of a design lies flat on its faces and can be picked: words before pictures, the uppermost first."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from mockup.model.design import Design
from mockup.model.enclosure import FaceName
from mockup.window.pointer.lying import Lying, Neighbour
from mockup.window.pointer.snapping import Uv

WORD_SLACK_MM = 0.8  # round a word, whose letters are small: by eye


@dataclass(frozen=True, kw_only=True)
class FaceThing:
    """A decal or a word: the steps to its table, as the shown variant counts, its name, its face and where it lies.

    `part` is the part that a word belongs to and stands by, None where it lies by itself.
    """

    way: tuple[str | int, ...]
    name: str
    face: FaceName
    lying: Lying
    part: str | None = None

    @property
    def is_word(self) -> bool:
        """Whether it is lettering."""
        return self.way[0] == "label"


def face_things(design: Design) -> Iterator[FaceThing]:
    """Yield what lies on the faces of a design, the uppermost first."""
    for label in reversed(design.labels):
        if label.number is not None:
            lying = Lying(
                u_mm=label.u_mm, v_mm=label.v_mm, width_mm=label.width_mm, height_mm=label.height_mm,
                rotation_deg=label.rotation_deg,
            )  # fmt: skip
            way = ("label", label.number)
            yield FaceThing(way=way, name=label.text, face=label.face, lying=lying, part=label.part)
    for number, decal in reversed(list(enumerate(design.decals))):
        if decal.art.file is not None:
            lying = Lying(
                u_mm=decal.u_mm, v_mm=decal.v_mm, width_mm=decal.width_mm, height_mm=decal.height_mm,
                rotation_deg=decal.rotation_deg,
            )  # fmt: skip
            yield FaceThing(way=("decal", number), name=decal.art.name, face=decal.face, lying=lying)


def thing_of(design: Design, way: tuple[str | int, ...]) -> FaceThing | None:
    """Return the thing whose table the steps lead to."""
    return next((each for each in face_things(design) if each.way == way), None)


def thing_at(design: Design, face: FaceName, at: Uv) -> FaceThing | None:
    """Return the uppermost thing that lies at a place of a face."""
    return next(
        (
            each
            for each in face_things(design)
            if each.face == face and each.lying.holds(at, WORD_SLACK_MM if each.is_word else 0.0)
        ),
        None,
    )


def beside(design: Design, thing: FaceThing) -> Iterator[Neighbour]:
    """Yield what a dragged thing may be in line with: parts, words and pictures on its face."""
    for part in design.parts:
        if part.face == thing.face:
            yield Neighbour(name=part.name, at=(part.u_mm, part.v_mm))
    for other in face_things(design):
        if other.face == thing.face and other.way != thing.way and other.part is None:
            yield Neighbour(name=other.name, at=(other.lying.u_mm, other.lying.v_mm))
