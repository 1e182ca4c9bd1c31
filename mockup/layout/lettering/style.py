"""What lettering is written with and what comes of it: shared by labels, scales and borders."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from mockup.decal.curves import Box
from mockup.decal.label_ink import lettered
from mockup.decal.typeface import TextLine, Typeface, cap_mm, line, missing
from mockup.layout.fields import Loc, Problem, describe
from mockup.layout.lettering import rules
from mockup.layout.lettering.decal_choice import FaceMark
from mockup.layout.lettering.tables import LabelTable, LetteringTable, LetterSize, ScaleTable
from mockup.model.design import Placement
from mockup.model.enclosure import Face, FaceName
from mockup.model.label import Label, Lettering
from mockup.model.material import Colour
from mockup.model.shape import Point
from mockup.model.units import Unit

INK: Colour = (0.0, 0.0, 0.0)  # our taste, common practice, no source


@dataclass(frozen=True, kw_only=True, eq=False)
class LetteringContext:
    """All that a pedal is lettered with; `around` are boxes that stand round parts already.

    `fields` is what stands in texts for a name in braces.
    """

    shared: LetteringTable
    parts: Mapping[str, Placement]
    sides: Mapping[FaceName, Face]
    typefaces: Mapping[str, Typeface]
    units: Unit
    around: tuple[tuple[str, Box], ...] = ()
    fields: Mapping[str, str] = field(default_factory=dict)

    def ink(self, own: Colour | None) -> Colour:
        """Return a colour of its own, or the shared one."""
        return own if own is not None else self.shared.colour if self.shared.colour is not None else INK

    def typeface(self, table: LabelTable | ScaleTable) -> Typeface | None:
        """Return the font of a table, None where there is none (which is told once, with all fonts)."""
        return self.typefaces.get(rules.font_of(table, self.shared) or "")


@dataclass(frozen=True, kw_only=True, eq=False)
class Written:
    """What came of one table or many: labels, marks to print, mistakes, and boxes round parts."""

    labels: tuple[Label, ...] = ()
    marks: tuple[FaceMark, ...] = ()
    found: tuple[tuple[Loc, Problem], ...] = ()
    around: tuple[tuple[str, Box], ...] = ()

    def __add__(self, other: Written) -> Written:
        """Return both, this first."""
        return Written(
            labels=self.labels + other.labels,
            marks=self.marks + other.marks,
            found=self.found + other.found,
            around=self.around + other.around,
        )


def height_of(size: LetterSize, typeface: Typeface) -> float:
    """Return the height of a capital in a font, millimetres."""
    return size.cap_mm if size.cap_mm is not None else cap_mm(typeface, size.points or 0.0)


def line_of(typeface: Typeface, text: str, style: Lettering) -> TextLine | Problem:
    """Return a text as outlines, or why the font cannot draw it."""
    lacking = missing(typeface, text)
    if lacking:
        listed = ", ".join(f'"{each}" (U+{ord(each):04X})' for each in lacking)
        what = f"the font {typeface.name} has no {listed}"
        return Problem((), what, "write it another way or choose another font")
    drawn = line(typeface, text, style.size_mm, style.spacing_mm)
    if drawn.curves.is_empty:
        return Problem((), f"the font {typeface.name} draws nothing for {describe(text)}", "choose another font")
    return drawn


def written(
    text: str,
    drawn: TextLine,
    face: FaceName,
    at: Point,
    rotation_deg: float,
    style: Lettering,
    *,
    part: str | None,
    of_scale: str = "",
    mover: tuple[str, ...] = (),
) -> Written:
    """Return a drawn text in its place, as label and as mark; `of_scale` names the part of the scale it numbers."""
    label = Label(
        text=text,
        face=face,
        u_mm=at[0],
        v_mm=at[1],
        width_mm=drawn.width_mm,
        height_mm=drawn.height_mm,
        rotation_deg=rotation_deg,
        part=part,
        lettering=style,
    )
    ink = lettered(drawn, *at, rotation_deg, style)
    mark = FaceMark(kind="scale" if of_scale else "label", name=of_scale or text, face=face, ink=ink, mover=mover)
    return Written(labels=(label,), marks=(mark,))
