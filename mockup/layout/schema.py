"""The layout file, one to one: every table and every key, with the help that editors show.

Lengths are millimetres once read, whatever the file's units. An attribute is None where the file
does not give the key; defaults that depend on something else are chosen in `resolve`.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal, get_args

from pydantic import AfterValidator, BeforeValidator, ConfigDict, Field, Strict, ValidationInfo, WithJsonSchema

from mockup import films, finishes, knobs
from mockup.decal import white
from mockup.enclosure.sizes import SIZES
from mockup.layout.accepted import CHECKS, AcceptTable
from mockup.layout.fields import (
    LARGEST_DPI,
    Angle,
    Between,
    CornersField,
    EncodedColour,
    FileName,
    Fraction,
    Length,
    Name,
    PaintField,
    Radius,
    Several,
    Size,
    Table,
    Truth,
    alternatives,
    describe,
    one_of,
)
from mockup.layout.kinds import KindTable
from mockup.layout.lettering.tables import (
    BorderTable,
    DrilledFaceField,
    FaceField,
    LabelTable,
    ProcessField,
    ScaleTable,
    SharedLetteringTable,
)
from mockup.layout.making import CreditTable, MakingTable
from mockup.layout.own_limits import LimitsTable
from mockup.layout.series import CopyTable
from mockup.model.finish import INKJET, CutShape, WhiteUnder
from mockup.model.units import Unit

CUT_MM = 1.0  # beyond the ink, and the radius of inner corners: what a knife follows; common practice, no source
MOST_CUT_MM = 30.0  # beyond that the film is another one: our choice
NO_KNOB = "none"
"""The knob style that leaves a shaft bare."""
Swatch = Literal["coated", "uncoated"]


def _margin(value: float) -> float:
    if value > MOST_CUT_MM:
        raise ValueError(f"expected at most {MOST_CUT_MM:g} mm, found {value:g} mm")
    return value


def _lacquer(value: Any, info: ValidationInfo) -> bool | str:
    known = (info.context or {}).get("lacquers", ())
    if isinstance(value, bool) or value in known:
        return bool(value) if isinstance(value, bool) else str(value)
    raise ValueError(
        f"expected true or false, or {alternatives(known)} where it shines otherwise than the paint, found "
        f"{describe(value)}"
    )


SheenField = Annotated[str, BeforeValidator(one_of("sheens"))]
LacquerField = Annotated[bool | str, BeforeValidator(_lacquer)]
"""Whether all is lacquered, or how that lacquer shines."""
FilmField = Annotated[str, BeforeValidator(one_of("films"))]
CutField = Annotated[CutShape, BeforeValidator(one_of(get_args(CutShape)))]
SwatchField = Annotated[Swatch, BeforeValidator(one_of(get_args(Swatch)))]
UnitsField = Annotated[Unit, BeforeValidator(one_of(get_args(Unit)))]
SizeName = Annotated[str, BeforeValidator(one_of("sizes"))]
StyleName = Annotated[str, BeforeValidator(one_of("styles"))]
Margin = Annotated[Radius, AfterValidator(_margin)]
Dpi = Annotated[float, Between(1, LARGEST_DPI)]
Draft = Annotated[float, Between(0, 15)]  # common practice, no source: castings have 1 to 3
InkStrength = Annotated[float, Between(0.2, 3)]  # common practice, no source
Unevenness = Annotated[float, Between(0, 3)]  # three times as steep is a botched coat: by eye


def _tolerance(value: Any) -> int:
    if value == "near":
        return white.NEAR
    if isinstance(value, bool) or not isinstance(value, int) or not 1 <= value <= white.MOST:
        raise ValueError(f'expected "near", or 1 to {white.MOST} codes of 255 below white, found {describe(value)}')
    return value


WhiteField = Annotated[
    int,
    BeforeValidator(_tolerance),
    WithJsonSchema({"anyOf": [{"const": "near"}, {"type": "integer", "minimum": 1, "maximum": white.MOST}]}),
]
"""How many codes of 255 below white still print nothing."""


def _where(value: Any) -> str:
    if value not in WHITE_UNDER and (not isinstance(value, str) or "." not in value):
        remedy = 'for a shape name a picture file, such as "white.svg"'
        raise ValueError(f"expected {alternatives(WHITE_UNDER)} or a picture's name, found {describe(value)}; {remedy}")
    return str(value)


WHITE_UNDER: tuple[str, ...] = get_args(WhiteUnder)
WhiteUnderField = Annotated[FileName, BeforeValidator(_where)]
"""Where the white of a process goes: in words, or as the name of a picture."""

_ONE_SIDE: dict[str, Any] = {"not": {"anyOf": [{"required": ["left", "right"]}, {"required": ["top", "bottom"]}]}}
_SIZED: dict[str, Any] = {"anyOf": [{"required": ["size"]}, {"required": ["width", "length", "height"]}]}


class BoxKeys(Table):
    """The box; any value overrides that of the named size."""

    size: SizeName | None = Field(None, description="A box from the table, by length x width x height in millimetres")
    width: Size | None = Field(None, description="Outer width, left to right, at the open rim")
    length: Size | None = Field(None, description="Outer length, far to near, at the open rim")
    height: Size | None = Field(None, description="Overall height, lid included")
    wall: Size | None = Field(None, description="Thickness of the side walls")
    top: Size | None = Field(None, description="Thickness of the drilled top")
    draft: Draft | None = Field(None, description="How far the walls lean inward, degrees")
    corner: Radius | None = Field(None, description="Outer radius of the four vertical corners, at the rim")
    edge: Radius | None = Field(None, description="Rounding of the top edge")
    lid: Size | None = Field(None, description="Thickness of the lid")
    post: Size | None = Field(None, description="Diameter of the four posts that the lid's screws go into, at the rim")
    screw: Size | None = Field(None, description="Nominal diameter of the lid's screws")
    seam: Radius | None = Field(None, description="Height of the line between body and lid; 0 for none")
    lip: Radius | None = Field(None, description="Height of the lip on the lid that keys into the box; 0 for none")
    lip_wall: Size | None = Field(None, description="Thickness of that lip")
    feet: Radius | None = Field(None, description="Height of the rubber feet under the lid; 0 if not given: none")


class BoxTable(BoxKeys):
    """The box: a size from the table, or width, length and height as measured."""

    model_config = ConfigDict(json_schema_extra=_SIZED)


class FinishTable(Table):
    """Paint and lacquer."""

    paint: PaintField | None = Field(
        None, description='Colour of the paint: "#rrggbb" or a CSS colour name; or a picture file that is the paint'
    )
    paint_corners: CornersField | None = Field(
        None,
        description="Where a photograph shows the corners of the drilled face, in pixels, clockwise from its top left "
        'one: "90,80 610,84 606,420 88,415"; all of the picture if not given',
    )
    sheen: SheenField | None = Field(None, description=f"How the paint shines; {finishes.USUAL} if not given")
    clear_coat: LacquerField | None = Field(
        None,
        description="Clear lacquer over everything: true, with the paint's own sheen, if not given; false, as on bare "
        "metal if not given; or a sheen of its own",
    )
    gloss_under_film: Truth | None = Field(
        None, description="A gloss coat over the paint before the film is laid, so that a rough paint traps no air"
    )
    swatch: SwatchField | None = Field(
        None, description="Was the paint colour picked from a lacquered swatch (coated) or a plain one (uncoated)?"
    )
    ink_strength: InkStrength | None = Field(None, description="Scales the printer's ink; 1 as on white paper")
    orange_peel: Unevenness | None = Field(
        None,
        description="How uneven the paint dried, in photos: 1, as from a spray can, if not given; 0, flat as glass",
    )
    casting_texture: Unevenness | None = Field(
        None,
        description="How much of the casting's own texture is left, in photos: 1, as cast, if not given; 0, sanded "
        "smooth",
    )
    edge_wear: Unevenness | None = Field(
        None,
        description="How much bare metal shows along the edges of the painted box, in photos; 0, as new, if not given",
    )
    printer: Name | None = Field(None, description="A printer of yours, by the name that you calibrated it under")


class DecalTable(Table):
    """One piece of printed film."""

    model_config = ConfigDict(json_schema_extra=_ONE_SIDE)

    art: FileName = Field(description="Picture file, in the layout's folder")
    face: FaceField = Field("top", description="The face it lies on, seen from outside; lid: from below")
    film: FilmField = Field(films.USUAL, description="What the art is printed on")
    process: ProcessField = Field(INKJET.name, description="How it is printed")
    white_under: WhiteUnderField | None = Field(
        None,
        description='Where the white of the process goes: "drawn", under what is drawn, if not given; "everything"; '
        "or a picture file of the same shape as the art: under what is drawn there",
    )
    cut: CutField | None = Field(
        None,
        description="How the film is cut: rectangle, round the picture; ink, round what is drawn; border, along the "
        "border that is drawn on it",
    )
    cut_allowance: Margin | None = Field(
        None, description=f"How far the film reaches beyond that; {CUT_MM} mm if not given, 0 for a rectangle"
    )
    cut_radius: Margin | None = Field(
        None,
        description="Radius of a rectangle's corners, 0 if not given; else of the corners that run inward, "
        f"{CUT_MM} mm if not given",
    )
    width: Size | None = Field(None, description="Printed width; alone, the height follows from the picture")
    height: Size | None = Field(None, description="Printed height; alone, the width follows from the picture")
    dpi: Dpi | None = Field(None, description="Dots per inch of the print, instead of what the file says")
    left: Length | None = Field(None, description="From the face's left edge to the decal's left edge")
    right: Length | None = Field(None, description="From the face's right edge to the decal's right edge")
    top: Length | None = Field(None, description="From the face's top edge to the decal's top edge")
    bottom: Length | None = Field(None, description="From the face's bottom edge to the decal's bottom edge")
    rotation: Angle = Field(0.0, description="Turns it clockwise as seen from outside, degrees")
    hide: Annotated[tuple[Name, ...], Strict(False)] = Field(
        (), description="Layers of an OpenRaster picture or groups of an SVG, by name, that never print"
    )
    white: WhiteField | None = Field(
        None,
        description=f'"near": what is within {white.NEAR} codes of 255 below white prints nothing; or so many codes',
    )


class KnobTable(Table):
    """The knob on a shaft."""

    style: StyleName | None = Field(None, description=f'Shape of the knob; "{NO_KNOB}" leaves the shaft bare')
    diameter: Size | None = Field(None, description="Largest diameter")
    height: Size | None = Field(None, description="Height of the knob itself")
    colour: EncodedColour | None = Field(None, description="Colour of the knob")
    pointer_colour: EncodedColour | None = Field(None, description="Colour of its pointer line")
    pointer: Fraction | None = Field(
        None, description="Where it points: 0 fully anticlockwise, 0.5 twelve o'clock, 1 fully clockwise"
    )


class PartKeys(Table):
    """Everything that a part may be given besides its kind."""

    name: Name = Field(description="What you call it, for example VOLUME; no two parts share a name")
    face: DrilledFaceField | None = Field(None, description="The face it sits on; top if not given")
    left: Length | None = Field(None, description="From the face's left edge to the part's centre, by ruler")
    right: Length | None = Field(None, description="From the face's right edge to the part's centre, by ruler")
    top: Length | None = Field(None, description="From the face's top edge to the part's centre, by ruler")
    bottom: Length | None = Field(None, description="From the face's bottom edge (lid off) to the part's centre")
    rotation: Angle | None = Field(None, description="Turns it clockwise as seen from outside, degrees")
    depth: Radius | None = Field(None, description="Parts inside: from the panel's inner surface down to the part")
    knob: KnobTable | None = Field(None, description="The knob, where the part has a shaft")
    colour: EncodedColour | None = Field(None, description="Colour of a lamp")
    lit: Truth | None = Field(None, description="Whether a lamp is lit; true if not given")


class PartTable(PartKeys):
    """One part in its place; an axis that is not given is centred."""

    model_config = ConfigDict(json_schema_extra=_ONE_SIDE)

    kind: Name = Field(description="A kind from the parts table or one of your own")


class PartChange(PartKeys):
    """A change to the part of this name, or a part that only this variant has."""

    model_config = ConfigDict(json_schema_extra=_ONE_SIDE)

    kind: Name | None = Field(None, description="A kind from the parts table or one of your own")
    remove: Truth = Field(False, description="true: this variant leaves the part out")


class BenchTable(Table):
    """What stands on your bench."""

    drills: Annotated[tuple[Size, ...], Strict(False)] = Field(
        (), description="Diameters of the drills that you have, twist and step drills alike"
    )


class VariantTable(Table):
    """What one variant changes; everything else stays as in the file."""

    name: Name | None = Field(None, description="Another name for the pedal")
    box: BoxKeys | None = Field(None, description="Keys of the box that change")
    finish: FinishTable | None = Field(None, description="Keys of the finish that change")
    decal: Several[DecalTable] | None = Field(
        None, description="Decals that replace all those on the same faces; an empty list removes all decals"
    )
    part: Several[PartChange] = Field((), description="Changes to parts, found by name")
    lettering: SharedLetteringTable | None = Field(None, description="Keys of the lettering that change")
    label: Several[LabelTable] | None = Field(
        None, description="Labels that replace all labels; an empty list removes them"
    )
    scale: Several[ScaleTable] | None = Field(
        None, description="Scales that replace all scales; an empty list removes them"
    )
    border: Several[BorderTable] | None = Field(
        None, description="Borders that replace all borders; an empty list removes them"
    )
    limits: LimitsTable | None = Field(None, description="Limits of the checks that change")


class LayoutFile(Table):
    """One pedal: box, finish, decals, parts, lettering and variants."""

    name: Name | None = Field(None, description="What the pedal is called")
    units: UnitsField = Field("mm", description="What plain numbers are counted in: mm or in")
    box: BoxTable = Field(description="The box: a size from the table, or your own measures")
    finish: FinishTable | None = Field(None, description="Paint and lacquer; bare metal if not given")
    decal: Several[DecalTable] = Field((), description="Printed film, in order of laying")
    part: Several[PartTable] = Field((), description="Controls, sockets, lamps, switches")
    lettering: SharedLetteringTable | None = Field(
        None, description="The look of all lettering that sets no look of its own"
    )
    label: Several[LabelTable] = Field(
        (), description="Lettering: what it reads and where; drawn where there is a font"
    )
    scale: Several[ScaleTable] = Field((), description="Scale marks round knobs")
    border: Several[BorderTable] = Field((), description="Border lines")
    limits: LimitsTable | None = Field(None, description="Own values for limits of the checks")
    accept: Several[AcceptTable] = Field((), description="Findings of the checks that are accepted")
    bench: BenchTable | None = Field(None, description="The tools that you have")
    making: MakingTable | None = Field(None, description="How it was made, in your words, for the next one")
    credit: Several[CreditTable] = Field((), description="Where pictures, fonts and further files come from")
    copies: Several[CopyTable] = Field((), alias="copy", description="The pedals of a small series")
    kind: Several[KindTable] = Field((), description="Kinds of part of your own")
    variants: dict[Name, VariantTable] = Field(default_factory=dict, description="Variants of the same pedal")


class PartsFile(Table):
    """A file of kinds beside the layout."""

    units: UnitsField = Field("mm", description="What plain numbers are counted in: mm or in")
    kind: Several[KindTable] = Field((), description="Kinds of part of your own")


def context(units: Unit) -> dict[str, Any]:
    """Return what the checks of single values need to know: the file's units and the names there are."""
    return {
        "units": units,
        "sizes": tuple(SIZES),
        "styles": (*knobs.styles(), NO_KNOB),
        "sheens": tuple(finishes.sheens()),
        "lacquers": finishes.lacquers(),
        "films": tuple(films.films()),
        "checks": CHECKS.names(),
    }
