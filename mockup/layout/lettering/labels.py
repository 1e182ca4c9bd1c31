"""Lettering in its place: labels for the checks, and what is drawn of them into the decals."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from mockup.decal.processes import PROCESSES
from mockup.decal.typeface import Typeface
from mockup.layout.fields import Loc, Problem
from mockup.layout.lettering import beside, rules
from mockup.layout.lettering.borders import mark_border
from mockup.layout.lettering.decal_choice import onto_decals
from mockup.layout.lettering.scales import knob_of_each, scaled
from mockup.layout.lettering.style import LetteringContext, Written, height_of, line_of, written
from mockup.layout.lettering.tables import LabelTable, LetterSize, SharedLetteringTable
from mockup.layout.pedal_tables import PedalTables
from mockup.layout.ruler import centre
from mockup.layout.series import filled
from mockup.model.design import Placement
from mockup.model.enclosure import Face, FaceName
from mockup.model.finish import INKJET, Decal
from mockup.model.label import Label, Lettering, LostInk
from mockup.model.material import Colour
from mockup.model.shape import Point, turned
from mockup.model.units import Unit

# Defaults: our taste, common practice, no source.
GAP_MM = 1.2
CAPITALS = LetterSize(cap_mm=3.0)
OUTLINE: Colour = (1.0, 1.0, 1.0)
SHADOW: Colour = (0.6, 0.6, 0.6)
WIDTH_PER_CAP = 0.9  # of a letter, in heights of a capital: mean of the capitals of plain sans faces is 0.84 to 0.92


@dataclass(frozen=True, kw_only=True)
class PlacedLabels:
    """The lettering: every label, the decals with it drawn in, what is lost of it, every mistake with its place."""

    labels: tuple[Label, ...]
    decals: tuple[Decal, ...]
    lost: tuple[LostInk, ...]
    found: tuple[tuple[Loc, Problem], ...]


def fonts(chosen: PedalTables) -> tuple[tuple[Loc, str], ...]:
    """Return every font file that a pedal names, with the table that names it."""
    where, shared = chosen.lettering
    named = [(where, shared.font)] if shared is not None else []
    named += [(loc, label.font) for loc, label in chosen.labels]
    named += [(loc, scale.font) for loc, scale in chosen.scales]
    return tuple((loc, name) for loc, name in named if name is not None)


def place_labels(
    chosen: PedalTables,
    parts: Sequence[Placement],
    sides: Mapping[FaceName, Face],
    decals: Sequence[Decal],
    typefaces: Mapping[str, Typeface],
    units: Unit,
    *,
    fields: Mapping[str, str],
) -> PlacedLabels:
    """Return the labels of a pedal in their places, and its decals with what is drawn.

    Borders are drawn first, then scales, then labels, which keep clear of their own part's scale. The
    box of a label that is not drawn and has no width is estimated: `WIDTH_PER_CAP` heights of a
    capital for every character.
    """
    shared = chosen.lettering[1] or SharedLetteringTable.model_construct()
    context = LetteringContext(
        shared=shared,
        parts={part.name: part for part in parts},
        sides=sides,
        typefaces=typefaces,
        units=units,
        fields=fields,
    )
    done = Written()
    for loc, frame in chosen.borders:
        done += mark_border(context, loc, frame)
    for loc, table, part in knob_of_each(chosen.scales, parts):
        done += scaled(context, loc, table, part)
    context = replace(context, around=done.around)
    for number, (loc, label) in enumerate(chosen.labels):
        is_drawn = rules.is_drawn(label, shared)
        made = _drawn(context, loc, label) if is_drawn else _declared(context, label)
        done += replace(made, labels=tuple(replace(each, number=number) for each in made.labels))
    laid, lost = onto_decals(done.marks, decals, sides, PROCESSES[shared.process or INKJET.name])
    found = dict.fromkeys((*_absent(chosen, typefaces), *done.found))  # each once
    return PlacedLabels(labels=done.labels, decals=laid, lost=lost, found=tuple(found))


def _absent(chosen: PedalTables, typefaces: Mapping[str, Typeface]) -> Iterator[tuple[Loc, Problem]]:
    for loc, name in fonts(chosen):
        if name not in typefaces:
            yield loc, Problem(("font",), f'there is no font "{name}"', "put it next to the layout or correct the name")


def _declared(context: LetteringContext, table: LabelTable) -> Written:
    """Return a label that the art holds already."""
    text, turn, face = filled(_text(table), context.fields), table.rotation or 0.0, _face(context, table)
    height = table.height or (table.size or context.shared.size or CAPITALS).cap_mm or 0.0
    width = table.width or WIDTH_PER_CAP * height * len(text)
    u, v = _place(context, table, face, turned(width, height, turn))
    label = Label(
        text=text,
        face=face.name,
        u_mm=u,
        v_mm=v,
        width_mm=width,
        height_mm=height,
        rotation_deg=turn,
        part=table.part,
    )
    return Written(labels=(label,))


def _drawn(context: LetteringContext, loc: Loc, table: LabelTable) -> Written:
    """Return a label that the tool draws."""
    typeface = context.typeface(table)
    if typeface is None:
        return Written()
    text, turn, face = filled(_text(table), context.fields), table.rotation or 0.0, _face(context, table)
    style = _style(context, table, typeface)
    drawn = line_of(typeface, text, style)
    if isinstance(drawn, Problem):
        key = "text" if table.text is not None else "part"
        return Written(found=((loc, drawn._replace(path=(key,))),))
    at = _place(context, table, face, turned(drawn.width_mm, drawn.height_mm, turn))
    return written(text, drawn, face.name, at, turn, style, part=table.part, mover=_mover(table))


def _mover(table: LabelTable) -> tuple[str, ...]:
    """Return what moves a label: its part where it stands by one, itself where edges say its place, else nothing."""
    is_across, is_down = (table.left, table.right) != (None, None), (table.top, table.bottom) != (None, None)
    if table.part is not None and is_across != is_down:
        return ()
    return ("part", table.part) if table.part is not None and not is_across else ("label", _text(table))


def _text(table: LabelTable) -> str:
    return table.text or table.part or ""


def _face(context: LetteringContext, table: LabelTable) -> Face:
    return context.sides[context.parts[table.part].face if table.part is not None else table.face or "top"]


def _place(context: LetteringContext, table: LabelTable, face: Face, lying: Point) -> Point:
    """Return the middle of a label that is `lying` wide and high as it lies: by its part, where no edge is given."""
    on_face = centre(face, lying, left=table.left, right=table.right, top=table.top, bottom=table.bottom)
    if table.part is None:
        return on_face
    part, side = context.parts[table.part], table.side or "below"
    reach = beside.reach(part, side, [box for name, box in context.around if name == part.name])
    u, v = beside.centre(part, side, reach + _first(table.gap, context.shared.gap, GAP_MM), lying)
    is_across, is_down = (table.left, table.right) != (None, None), (table.top, table.bottom) != (None, None)
    return on_face[0] if is_across else u, on_face[1] if is_down else v


def _style(context: LetteringContext, table: LabelTable, typeface: Typeface) -> Lettering:
    shared = context.shared
    shift = table.shadow if table.shadow is not None else shared.shadow
    return Lettering(
        font=typeface.name,
        size_mm=height_of(table.size or shared.size or CAPITALS, typeface),
        colour=context.ink(table.colour),
        outline_mm=_first(table.outline, shared.outline, 0.0),
        outline_colour=table.outline_colour or shared.outline_colour or OUTLINE,
        shadow_mm=shift if shift is not None and any(shift) else None,
        shadow_colour=table.shadow_colour or shared.shadow_colour or SHADOW,
        spacing_mm=_first(table.spacing, shared.spacing, 0.0),
    )


def _first(own: float | None, shared: float | None, usual: float) -> float:
    return own if own is not None else shared if shared is not None else usual
