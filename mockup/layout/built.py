"""The file of holes as built, beside the layout: what was measured and by what, what was answered about pictures."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Annotated, Literal, get_args

from pydantic import BeforeValidator, Field, Strict

from mockup.enclosure.bores import bores
from mockup.layout import rules
from mockup.layout.edit.literals import literal
from mockup.layout.fields import Length, Name, Problem, Several, Size, Table, Text, one_of
from mockup.layout.parse import sorted_faults, validated
from mockup.layout.places import table_lines
from mockup.layout.ruler import centre, reach
from mockup.layout.schema import UnitsField
from mockup.layout.toml import read_toml
from mockup.model.bore import Bore
from mockup.model.built import BuiltBox, BuiltHole, BuiltPictures, read_answer
from mockup.model.design import Design
from mockup.model.enclosure import FACE_WORDS, FACES, Face, FaceName, faces
from mockup.model.errors import InputError, nearest
from mockup.model.shape import Point

To = Literal["centre", "rim"]
CALIPERS_MM = 0.1  # what calipers held from an edge to a rim by hand are good for: common practice, no source
_SIDES = (("left", "right"), ("top", "bottom"))


class BuiltTable(Table):
    """One hole as it was measured from two edges of its face, a ruler held as for the layout."""

    hole: Name = Field(description="The hole's name, as on the drill plan")
    left: Length | None = Field(None, description="From the face's left edge")
    right: Length | None = Field(None, description="From the face's right edge")
    top: Length | None = Field(None, description="From the face's top edge (on the top: the far edge)")
    bottom: Length | None = Field(None, description="From the face's bottom edge (of a side: the open rim)")
    to: Annotated[To, BeforeValidator(one_of(get_args(To)))] = Field(
        "centre", description="What was measured to: the hole's centre, or its rim on that side"
    )
    diameter: Size | None = Field(None, description="The hole's diameter as it is")
    doubt: Size | None = Field(None, description="How far the figures may be off")
    by: Name | None = Field(None, description="What it was measured by")


class PictureTable(Table):
    """The pictures that a face was read off last, and what was answered about holes in them."""

    face: Annotated[FaceName, BeforeValidator(one_of(FACES))] = Field(description="The face that they show")
    names: Text = Field(description="Their files' names")
    digest: Name = Field(description="Of what is in them: another picture asks again")
    answers: dict[Name, Text] = Field(
        default_factory=dict, description="By the hole's name: found, rival, ?, or one of both with a nudge"
    )


class BuiltFile(Table):
    """The holes of one box as they were drilled."""

    units: UnitsField = Field("mm", description="What plain numbers are counted in: mm or in")
    hole: Several[BuiltTable] = Field((), description="One hole each")
    picture: Several[PictureTable] = Field((), description="The pictures of one face each")
    drawn: dict[Name, Annotated[tuple[Length, Length], Strict(False)]] = Field(
        default_factory=dict,
        description="By the hole's name, where the layout had it when it was measured: left, and top or bottom",
    )


def parse_built(text: str, source: str, design: Design) -> BuiltBox:
    """Return what a file says was measured on a design's box; raises `InputError` with every mistake."""
    raw = read_toml(text, source)
    file, found = validated(BuiltFile, raw)
    named = hole_names(design)
    if file is not None and design.variant is not None:  # it may have left the part out
        file = file.model_copy(update={"hole": tuple(each for each in file.hole if each.hole in named)})
    if file is not None:
        for index, table in enumerate(file.hole):
            found += [(("hole", index), each) for each in _problems(table, named)]
        for index, first in rules.repeated(named[each.hole].name for each in file.hole if each.hole in named):
            found.append((("hole", index, "hole"), Problem((), f"the hole stands here twice, see hole {first + 1}")))
        for index, picture in enumerate(file.picture):
            found += [(("picture", index), each) for each in _answer_problems(picture)]
    if file is None or found:
        raise InputError(sorted_faults(found, source, raw, table_lines(text)))
    drawn = {named[name].name: at for name, at in file.drawn.items() if name in named}
    return BuiltBox(
        holes=tuple(_built(each, named[each.hole], drawn.get(named[each.hole].name), design) for each in file.hole),
        pictures=tuple(
            BuiltPictures(
                face=each.face,
                names=each.names,
                digest=each.digest,
                answers={named[name].name: read_answer(said) for name, said in each.answers.items() if name in named},
            )
            for each in file.picture
        ),
    )


def hole_names(design: Design) -> dict[str, Bore]:
    """Return every bore of a design by all that it is called on pages."""
    every = bores(design)
    alone = {bore.part: bore for bore in every if sum(each.part == bore.part for each in every) == 1}
    return {**alone, **{bore.words: bore for bore in every}, **{bore.name: bore for bore in every}}


def built_text(design: Design, known: BuiltBox, asked: Mapping[str, str] | None = None) -> str:
    """Return the file of holes as built: those known as tables, all others as lines to fill in.

    `asked` says of a hole why it is not known. Where the layout has a hole today is kept of each for which nothing
    else is.
    """
    sides = faces(design.enclosure)
    held = {each.bore: each for each in known.holes}
    rows = [
        f"# The holes of {design.name} as they were drilled; the layout stays as it is.",
        "# Measure with a ruler or calipers as for the layout, looking straight at the face: left or right, and top or",
        '# bottom, to the hole\'s centre. With to = "rim" they run to the rim on that side, and diameter is needed.',
        "# See what follows with: mockup built layout.toml",
        'units = "mm"',
    ]
    for bore in bores(design):
        face, seen = sides[bore.face], held.get(bore.name)
        edge = "top" if bore.face == "top" else "bottom"
        left, down = _ruler(face, (bore.u_mm, bore.v_mm) if seen is None else (seen.u_mm, seen.v_mm))
        rows.append("")
        if seen is None:
            why = (asked or {}).get(bore.name)
            rows += [f"# {bore.words}, {FACE_WORDS[bore.face]}: designed at left = {left:.2f}, {edge} = {down:.2f}"]
            rows += [f"# not taken over: {why}"] if why else []
            rows += ["# [[hole]]", f"# hole = {literal(bore.name)}", "# left = ", f"# {edge} = ", '# by = "calipers"']
            continue
        rows += ["[[hole]]", f"hole = {literal(bore.name)}", f"left = {left:.3f}", f"{edge} = {down:.3f}"]
        rows += [f"diameter = {seen.diameter_mm:.3f}"] if seen.diameter_mm is not None else []
        rows += [f"doubt = {seen.doubt_mm:.3f}", *([f"by = {literal(seen.by)}"] if seen.by else [])]
    for picture in known.pictures:
        rows += ["", "# What you answered about holes in these pictures, so that nothing is asked twice."]
        rows += ["[[picture]]", f'face = "{picture.face}"', f"names = {literal(picture.names)}"]
        rows += [f'digest = "{picture.digest}"', "", "[picture.answers]"]
        rows += [f'{literal(name)} = "{each.words}"' for name, each in picture.answers.items()]
    rows += ["", "# Where the layout had the holes when they were measured: leave this to the program.", "[drawn]"]
    for bore in bores(design):
        before = held[bore.name].drawn_mm if bore.name in held else None
        left, down = _ruler(sides[bore.face], before or (bore.u_mm, bore.v_mm))
        rows.append(f"{literal(bore.name)} = [{left:.3f}, {down:.3f}]")
    return "\n".join(rows) + "\n"


def _ruler(face: Face, at: Point) -> Point:
    """Return what a ruler reads of a place on a face: from the left edge, and from the top, of a side its open rim."""
    u, v = at
    return u - face.left_edge(v), v if face.name == "top" else face.height_mm - v


def _problems(table: BuiltTable, named: Mapping[str, Bore]) -> Iterator[Problem]:
    if table.hole not in named:
        yield Problem(("hole",), "the design has no hole of this name", nearest(table.hole, tuple(named)))
        return
    for pair in _SIDES:
        given = [side for side in pair if getattr(table, side) is not None]
        if len(given) != 1:
            what = f"expected {pair[0]} or {pair[1]}, found {'both' if given else 'neither'}"
            yield Problem((), what, "measure from one of the two edges")
    if table.to == "rim" and table.diameter is None:
        yield Problem(("diameter",), "missing", "to reach the centre from the rim, the hole's diameter is needed")


def _answer_problems(table: PictureTable) -> Iterator[Problem]:
    for name, said in table.answers.items():
        try:
            read_answer(said)
        except ValueError as error:
            yield Problem(("answers", name), *str(error).split("; ", 1))


def _built(table: BuiltTable, bore: Bore, drawn: Point | None, design: Design) -> BuiltHole:
    """Return a hole as measured; `drawn` is what a ruler reads of where the layout had it."""
    face = faces(design.enclosure)[bore.face]
    extent = None
    if table.to == "rim" and table.diameter is not None:
        extent = (
            (table.diameter, table.diameter)
            if bore.outline.kind == "circle"
            else reach(bore.outline, bore.rotation_deg)
        )
    u, v = centre(face, extent, left=table.left, right=table.right, top=table.top, bottom=table.bottom)
    return BuiltHole(
        bore=bore.name,
        u_mm=u,
        v_mm=v,
        doubt_mm=table.doubt if table.doubt is not None else CALIPERS_MM,
        diameter_mm=table.diameter,
        by=table.by or "",
        drawn_mm=None if drawn is None else _place(face, drawn),
    )


def _place(face: Face, ruler: Point) -> Point:
    left, down = ruler
    return centre(face, left=left, top=down) if face.name == "top" else centre(face, left=left, bottom=down)
