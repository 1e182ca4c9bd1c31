"""The tables of lettering: `[lettering]`, `[[label]]`, `[[scale]]` and `[[border]]`.

Lettering is drawn where a font is at hand, the label's own or that of `[lettering]`; without one, or
with ``drawn = false``, a label only says what the art itself holds and where.
"""

from __future__ import annotations

import re
from typing import Annotated, Any, Literal, NamedTuple, get_args

from pydantic import (
    BeforeValidator,
    ConfigDict,
    Field,
    InstanceOf,
    ValidationInfo,
    WithJsonSchema,
)

from mockup.decal.processes import PROCESSES
from mockup.layout.fields import (
    LENGTH_SCHEMAS,
    Angle,
    Between,
    EncodedColour,
    FileName,
    Length,
    Name,
    Radius,
    Size,
    Table,
    Truth,
    describe,
    length,
    one_of,
    radius,
    size,
)
from mockup.model.enclosure import DECAL_FACES, FACES, FaceName

Side = Literal["below", "above", "left", "right"]
"""Where a label stands, seen from its part."""

FaceField = Annotated[FaceName, BeforeValidator(one_of(DECAL_FACES))]
DrilledFaceField = Annotated[
    FaceName, BeforeValidator(one_of(FACES)), WithJsonSchema({"enum": list(FACES), "type": "string"})
]
ProcessField = Annotated[str, BeforeValidator(one_of(PROCESSES))]
SideField = Annotated[Side, BeforeValidator(one_of(get_args(Side)))]
Travel = Annotated[float, Between(1, 360)]

_POINTS = re.compile(r"\s*\+?(\d+(?:\.\d*)?|\.\d+)\s*pt\s*")
_SHARE = re.compile(r"\s*\+?(\d+(?:\.\d*)?|\.\d+)\s*%\s*")
_LARGEST_PT = 1000.0  # common practice, no source: far beyond any pedal
_LARGEST_SHARE = 50.0  # a half: the border's ends are then half circles


class LetterSize(NamedTuple):
    """The size of lettering: the height of a capital in millimetres, or of the em in points."""

    cap_mm: float | None = None
    points: float | None = None


class Corner(NamedTuple):
    """The rounding of a border: a radius in millimetres, or a share (0 to 0.5) of its shorter side."""

    radius_mm: float | None = None
    share: float | None = None


def _letter_size(value: Any, info: ValidationInfo) -> LetterSize:
    match = _POINTS.fullmatch(value) if isinstance(value, str) and len(value) <= 40 else None
    if match is None:
        return LetterSize(cap_mm=size(value, info))
    points = float(match[1])
    if not 0 < points <= _LARGEST_PT:
        raise ValueError(f"expected more than 0 and at most {_LARGEST_PT:g} pt, found {describe(value)}")
    return LetterSize(points=points)


def _corner(value: Any, info: ValidationInfo) -> Corner:
    match = _SHARE.fullmatch(value) if isinstance(value, str) and len(value) <= 40 else None
    if match is None:
        return Corner(radius_mm=radius(value, info))
    if float(match[1]) > _LARGEST_SHARE:
        raise ValueError(f"expected at most {_LARGEST_SHARE:g} %, found {describe(value)}")
    return Corner(share=float(match[1]) / 100)


def _shift(value: Any, info: ValidationInfo) -> tuple[float, float]:
    if not isinstance(value, list) or len(value) != 2:
        raise ValueError(f"expected two lengths, right and down, such as [0.2, 0.2], found {_listed(value)}")
    right, down = (length(each, info) for each in value)
    return right, down


def _listed(value: Any) -> str:
    return f"a list of {len(value)}" if isinstance(value, list) else describe(value)


SizeText = Annotated[
    InstanceOf[LetterSize],
    BeforeValidator(_letter_size),
    WithJsonSchema({"anyOf": [LENGTH_SCHEMAS["Size"], {"type": "string", "pattern": rf"^{_POINTS.pattern}$"}]}),
]
CornerText = Annotated[
    InstanceOf[Corner],
    BeforeValidator(_corner),
    WithJsonSchema({"anyOf": [LENGTH_SCHEMAS["Radius"], {"type": "string", "pattern": rf"^{_SHARE.pattern}$"}]}),
]
Shift = Annotated[
    tuple[float, float],
    BeforeValidator(_shift),
    WithJsonSchema({"type": "array", "items": LENGTH_SCHEMAS["Length"], "minItems": 2, "maxItems": 2}),
]


class LetteringTable(Table):
    """How lettering looks, for all labels, scales and borders at once; each may say otherwise for itself."""

    font: FileName | None = Field(None, description="Font file (.ttf or .otf) in the layout's folder: draws the label")
    size: SizeText | None = Field(
        None, description='Height of a capital letter, or "8 pt" for the font\'s size in points; 3 mm if not given'
    )
    colour: EncodedColour | None = Field(None, description="Colour of the ink; black if not given")
    outline: Radius | None = Field(None, description="How far an outline stands out round the letters; 0 for none")
    outline_colour: EncodedColour | None = Field(None, description="Colour of the outline; white if not given")
    shadow: Shift | None = Field(None, description="Shadow of the letters: right and down; [0, 0] for none")
    shadow_colour: EncodedColour | None = Field(None, description="Colour of the shadow; grey if not given")
    spacing: Length | None = Field(None, description="Extra room between letters")
    gap: Length | None = Field(None, description="Between a part's label and the part; 1.2 mm if not given")


class SharedLetteringTable(LetteringTable):
    """The look of all lettering that sets no look of its own, and how what is drawn on film of its own is printed."""

    process: ProcessField | None = Field(
        None, description="How lettering is printed that no decal of its face takes; inkjet if not given"
    )


class LabelTable(LetteringTable):
    """One piece of lettering, on the art already or to be drawn."""

    model_config = ConfigDict(
        json_schema_extra={
            "not": {"anyOf": [{"required": ["left", "right"]}, {"required": ["top", "bottom"]}]},
            "anyOf": [{"required": ["text"]}, {"required": ["part"]}],
        }
    )

    text: Name | None = Field(None, description="What it reads; the part's name if not given")
    part: Name | None = Field(
        None, description="The part that it belongs to and stands by, unless left, right, top or bottom place it"
    )
    side: SideField | None = Field(
        None, description="Where it stands, seen from its part: below, above, left or right; below if not given"
    )
    face: FaceField | None = Field(None, description="The face it lies on, where it belongs to no part; else top")
    left: Length | None = Field(None, description="From the face's left edge to the label's left edge")
    right: Length | None = Field(None, description="From the face's right edge to the label's right edge")
    top: Length | None = Field(None, description="From the face's top edge to the top of its capitals")
    bottom: Length | None = Field(None, description="From the face's bottom edge to the foot of its capitals")
    width: Size | None = Field(None, description="On the art already: its width; estimated from the text if not given")
    height: Size | None = Field(None, description="On the art already: the height of its capitals")
    rotation: Angle | None = Field(None, description="Turns it clockwise as seen from outside, degrees")
    drawn: Truth | None = Field(None, description="false: the art holds it already, although there is a font")


class ScaleTable(Table):
    """Scale marks round a knob."""

    part: Name | None = Field(None, description="The part; left out: every knob that no other scale names")
    marks: Annotated[int, Between(2, 101, is_whole=True)] = Field(11, description="How many marks")
    travel: Travel | None = Field(None, description="Degrees from first to last mark; the shaft's travel if not given")
    major_every: Annotated[int, Between(1, 100, is_whole=True)] = Field(
        5, description="Every how many marks a longer one, from the first"
    )
    major: Size | None = Field(None, description="Length of the longer marks; 1.6 mm if not given")
    minor: Radius | None = Field(None, description="Length of the other marks, 0 for none; 1 mm if not given")
    gap: Length | None = Field(
        None, description="From the edge of the knob (or nut, washer) to the marks; 1.2 mm if not given"
    )
    line: Size | None = Field(None, description="Width of the marks' line; 0.35 mm if not given")
    colour: EncodedColour | None = Field(None, description="Colour of the marks; that of [lettering], else black")
    numbers: Truth = Field(False, description="true: numbers at the longer marks, counted from 0 at the first mark")
    font: FileName | None = Field(None, description="Font file of the numbers; that of [lettering] if not given")
    size: SizeText | None = Field(None, description='Height of the numbers, or "6 pt"; 1.8 mm if not given')


class BorderTable(Table):
    """A rounded border line round a face."""

    face: FaceField = Field("top", description="The face it goes round")
    inset: Radius | None = Field(
        None, description="From the edge of the face's flat to the line's outer edge; 1.5 mm if not given"
    )
    corner: CornerText | None = Field(
        None, description='Radius of the outer corners, or a share of the shorter side such as "8 %"; 3 mm if not given'
    )
    line: Size | None = Field(None, description="Width of the line; 0.5 mm if not given")
    colour: EncodedColour | None = Field(None, description="Colour of the line; that of [lettering], else black")
