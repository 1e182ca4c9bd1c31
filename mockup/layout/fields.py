"""The kinds of value that a layout file holds: lengths, angles, colours, names.

Each is a plain Python type with a check in front that turns what TOML gives into millimetres,
degrees or encoded sRGB. A check raises `ValueError` with one plain sentence, and after a
semicolon what to do, because the reader builds pedals and does not know the library underneath.
"""

from __future__ import annotations

import datetime
import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import PurePosixPath, PureWindowsPath
from typing import Annotated, Any, NamedTuple, TypeVar, get_args

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    GetCoreSchemaHandler,
    GetJsonSchemaHandler,
    Strict,
    StringConstraints,
    ValidationInfo,
    WithJsonSchema,
)
from pydantic_core import core_schema

from mockup.colour import rgb
from mockup.model.errors import nearest
from mockup.model.material import Colour
from mockup.model.units import Unit, format_length, parse_length
from mockup.options import Corners, parse_corners

LARGEST_MM = 1000.0  # common practice, no source: far beyond any pedal, and keeps meshes small
SMALLEST_MM = 0.01  # common practice, no source: finer than any tool; half the mesh's chord error
LONGEST_NAME = 80  # characters; common practice, no source
LARGEST_DPI = 10_000.0  # common practice, no source: far beyond any printer

_LENGTH_TEXT = r"(\d+\s+\d+/\d+|\d+/\d+|\d+(\.\d*)?|\.\d+)\s*(mm|cm|in|inch|\")?\s*$"


class Table(BaseModel):
    """Base of every table of the file: strict, frozen, no unknown keys.

    An attribute is None where the file does not give the key.
    """

    model_config = ConfigDict(strict=True, frozen=True, extra="forbid", allow_inf_nan=False)


AnyTable = TypeVar("AnyTable", bound=Table)
Several = Annotated[tuple[AnyTable, ...], Strict(False)]
"""A list of tables."""


def table_within(annotation: Any) -> type[Table] | None:
    """Return the sort of table that a key of this type holds, one or several, None where it holds values."""
    if isinstance(annotation, type) and issubclass(annotation, Table):
        return annotation
    return next((table for each in get_args(annotation) if (table := table_within(each))), None)


Loc = tuple[str | int, ...]
"""A place in the file: keys and list indices from the top, such as ``("part", 2, "knob", "diameter")``."""


class Problem(NamedTuple):
    """What is wrong inside one table: the way to the key, one sentence, and what to do."""

    path: Loc
    what: str
    remedy: str = ""


def describe(value: object) -> str:
    """Return what was found in the file, in a few words for an error message."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float):
        return "a huge number" if isinstance(value, int) and abs(value) > 10**15 else str(value)
    if isinstance(value, str):
        return f'"{value}"' if len(value) <= 40 else f'"{value[:40]}..."'
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, list | tuple):
        return "a list"
    return f"the date or time {value}"  # TOML knows nothing else


def unit_of(info: ValidationInfo) -> Unit:
    """Return the unit that plain numbers of the file are counted in."""
    unit: Unit = (info.context or {}).get("units", "mm")
    return unit


def length(value: Any, info: ValidationInfo) -> float:
    """Return a length of either sign in millimetres, or raise `ValueError`."""
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        raise ValueError(f'expected a length such as 19, "19 mm" or "3/4 in", found {describe(value)}')
    mm = parse_length(value, unit_of(info))
    if abs(mm) > LARGEST_MM:
        limit = format_length(LARGEST_MM, unit_of(info))
        raise ValueError(f"expected at most {limit}, found {_seen(value, mm, info)}")
    return mm


def size(value: Any, info: ValidationInfo) -> float:
    """Return a length above zero in millimetres, or raise `ValueError`."""
    mm = length(value, info)
    if mm <= 0:
        raise ValueError(f"expected a size greater than 0, found {_seen(value, mm, info)}")
    if mm < SMALLEST_MM:
        raise ValueError(f"expected at least {SMALLEST_MM} mm, found {describe(value)}")
    return mm


def radius(value: Any, info: ValidationInfo) -> float:
    """Return a length of zero or more in millimetres, or raise `ValueError`."""
    mm = length(value, info)
    if mm < 0:
        raise ValueError(f"expected 0 or more, found {_seen(value, mm, info)}")
    return mm


def _seen(value: Any, mm: float, info: ValidationInfo) -> str:
    is_plain = not isinstance(value, str) and abs(mm) < 1000 * LARGEST_MM
    return format_length(mm, unit_of(info)) if is_plain else describe(value)


def number(value: Any) -> float:
    """Return a finite number, or raise `ValueError`."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise ValueError(f"expected a number, found {describe(value)}")
    try:
        result = float(value)
    except OverflowError:
        result = math.inf
    if not math.isfinite(result):
        raise ValueError("expected a finite number, not NaN or infinity")
    return result


@dataclass(frozen=True)
class Between:
    """A check that takes a number, or with `is_whole` a whole one, from `low` to `high`, both included."""

    low: float
    high: float
    is_whole: bool = False

    def check(self, value: Any) -> float:
        """Return the number, or raise `ValueError`."""
        if self.is_whole:
            if isinstance(value, bool) or not isinstance(value, int) or not self.low <= value <= self.high:
                raise ValueError(f"expected a whole number from {self.low} to {self.high}, found {describe(value)}")
            return value
        result = number(value)
        if not self.low <= result <= self.high:
            raise ValueError(f"expected {self.low:g} to {self.high:g}, found {describe(value)}")
        return result

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:
        return core_schema.no_info_before_validator_function(self.check, handler(source))

    def __get_pydantic_json_schema__(
        self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return {**handler(schema), "minimum": self.low, "maximum": self.high}


def _text(value: Any) -> str:
    if not isinstance(value, str):
        remedy = "; put it in quotes" if isinstance(value, int | float | datetime.date) else ""
        raise ValueError(f"expected text, found {describe(value)}{remedy}")
    text = value.strip()
    if not text:
        raise ValueError("expected text, found nothing between the quotes")
    if not text.isprintable():
        raise ValueError("expected one line of text; take out line breaks and control characters")
    return text


def _name(value: Any) -> str:
    text = _text(value)
    if len(text) > LONGEST_NAME:
        raise ValueError(f"expected at most {LONGEST_NAME} characters, found {len(text)}; shorten it")
    return text


def _truth(value: Any) -> bool:
    if not isinstance(value, bool):
        raise ValueError(f"expected true or false, found {describe(value)}; write it without quotes")
    return value


def _colour(value: Any) -> Colour:
    if not isinstance(value, str):
        raise ValueError(f'expected a colour such as "#2a6f6b" or "teal", found {describe(value)}')
    return rgb.parse(value)


def _file_name(value: Any) -> str:
    text = _text(value)
    windows = PureWindowsPath(text)
    if windows.drive or windows.root or PurePosixPath(text).is_absolute():
        raise ValueError(f"{describe(text)} is an absolute path; copy the file next to the layout and name it alone")
    if ".." in windows.parts:
        raise ValueError(f"{describe(text)} leads out of the layout's folder; copy the file next to the layout")
    if "\\" in text:
        raise ValueError(f'{describe(text)} has a backslash; write "/" between folder and file')
    if not windows.name:
        raise ValueError(f"expected a file's name, found {describe(text)}")
    return text


def is_picture_name(paint: object) -> bool:
    """Return whether what a layout gives as paint is a picture's name: no colour has a dot in it."""
    return isinstance(paint, str) and "." in paint and not paint.strip().startswith("#")


def _paint(value: Any) -> Colour | str:
    return _file_name(value) if is_picture_name(value) else _colour(value)


def _corners(value: Any) -> Corners:
    return parse_corners(_text(value))


def one_of(names: Iterable[str] | str) -> Callable[[Any, ValidationInfo], str]:
    """Return a check that takes one of `names`; text names an entry of the validation context instead."""

    def check(value: Any, info: ValidationInfo) -> str:
        known = tuple((info.context or {}).get(names, ())) if isinstance(names, str) else tuple(names)
        if not isinstance(value, str):
            raise ValueError(f"expected {alternatives(known)}, found {describe(value)}")
        if value not in known:
            raise ValueError(f"unknown name {describe(value)}; {nearest(value, known)}")
        return value

    return check


def alternatives(names: Iterable[str]) -> str:
    """Return names to choose from: ``"a", "b" or "c"``."""
    quoted = [f'"{name}"' for name in names]
    return quoted[0] if len(quoted) == 1 else ", ".join(quoted[:-1]) + f" or {quoted[-1]}"


def _length_schema(sign: str, **bounds: float) -> dict[str, Any]:
    """Return the JSON Schema of a length: a number, which `bounds` may limit, or text with its own unit."""
    return {"anyOf": [{"type": "number", **bounds}, {"type": "string", "pattern": rf"^\s*{sign}{_LENGTH_TEXT}"}]}


LENGTH_SCHEMAS: dict[str, dict[str, Any]] = {
    "Length": {"description": "A length of either sign.", **_length_schema("[+-]?")},
    "Size": {"description": "A length above zero.", **_length_schema(r"\+?", exclusiveMinimum=0)},
    "Radius": {"description": "A length of zero or more.", **_length_schema(r"\+?", minimum=0)},
}
"""JSON Schemas of the three sorts of length, by name."""

Length = Annotated[float, BeforeValidator(length), WithJsonSchema(LENGTH_SCHEMAS["Length"])]
"""A length of either sign, in millimetres."""
Size = Annotated[float, BeforeValidator(size), WithJsonSchema(LENGTH_SCHEMAS["Size"])]
"""A length above zero, in millimetres."""
Radius = Annotated[float, BeforeValidator(radius), WithJsonSchema(LENGTH_SCHEMAS["Radius"])]
"""A length of zero or more, in millimetres."""
Angle = Annotated[float, Between(-360, 360)]
"""Degrees, clockwise as seen from outside."""
Fraction = Annotated[float, Between(0, 1)]
Truth = Annotated[bool, BeforeValidator(_truth)]
Text = Annotated[str, BeforeValidator(_text)]
Name = Annotated[str, BeforeValidator(_name), StringConstraints(min_length=1, max_length=LONGEST_NAME)]
FileName = Annotated[str, BeforeValidator(_file_name)]
EncodedColour = Annotated[
    Colour,
    BeforeValidator(_colour),
    WithJsonSchema({"type": "string", "format": "color", "examples": ["#2a6f6b", "teal"]}),
]
"""A colour as three encoded sRGB values, 0 to 1."""
PaintField = Annotated[
    Colour | str,
    BeforeValidator(_paint),
    WithJsonSchema({"type": "string", "examples": ["#2a6f6b", "teal", "photo.jpg"]}),
]
"""A colour, or the name of a picture file that is the paint."""
CornersField = Annotated[Corners, BeforeValidator(_corners), WithJsonSchema({"type": "string"})]
"""Four places in a picture, in pixels."""
