"""A builder's own kinds of part: the `[[kind]]` table, and the `Kind` it describes.

The same table may lie in the layout or in a `parts.toml` beside it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from typing import Annotated, Any, Literal, get_args

from pydantic import BeforeValidator, Field, InstanceOf, WithJsonSchema

from mockup.colour import rgb
from mockup.layout.fields import (
    Angle,
    EncodedColour,
    Length,
    Name,
    Problem,
    Radius,
    Several,
    Size,
    Table,
    Text,
    Truth,
    describe,
    one_of,
)
from mockup.model.errors import nearest
from mockup.model.kind_figures import kind_like
from mockup.model.material import NAMED, Material, plastic
from mockup.model.part import Cutout, Kind, Mount, Shaft, Thread
from mockup.model.shape import Extruded, Outline, Point, Solid, Turned
from mockup.model.units import MM_PER_INCH

OWN = "the builder's own measurement"
LENS = Material(
    name="lens", base_color=(0.85, 0.85, 0.85), roughness=0.15, transmission=0.6
)  # common practice, no source

HoleShape = Literal["circle", "slot", "rectangle", "d", "hexagon"]
SolidShape = Literal["round", "hexagon", "rectangle"]
_HOLE_SHAPES: tuple[HoleShape, ...] = get_args(HoleShape)
_SOLID_SHAPES: tuple[SolidShape, ...] = get_args(SolidShape)
_TAKES: dict[str, tuple[str, ...]] = {
    "circle": ("diameter",),
    "round": ("diameter",),
    "hexagon": ("width",),
    "slot": ("width", "height"),
    "rectangle": ("width", "height"),
    "d": ("diameter", "height"),
}
_THREAD = r"^\s*(?:[Mm](\d+(?:\.\d+)?)\s*[xX×]\s*(\d*\.?\d+)|(\d+)/(\d+)\s*-\s*(\d+)(?:\s+[A-Z]+)?)\s*$"


def _thread(value: Any) -> Thread:
    if not isinstance(value, str):
        raise ValueError(f'expected a thread such as "M7x0.75" or "3/8-32", found {describe(value)}')
    match = re.match(_THREAD, value) if len(value) <= 40 else None
    if match is None:
        raise ValueError(f'{describe(value)} is not a thread; write for example "M7x0.75" or "3/8-32"')
    metric, metric_pitch, top, below, per_inch = match.groups()
    if not metric and (int(below) == 0 or int(per_inch) == 0):
        raise ValueError(f"{describe(value)} divides by zero")
    major = float(metric) if metric else int(top) / int(below) * MM_PER_INCH
    pitch = float(metric_pitch) if metric else MM_PER_INCH / int(per_inch)
    if not 1 <= major <= 100 or not 0.1 <= pitch <= major / 2:
        raise ValueError(f"{describe(value)} is not a thread that can be cut")
    return Thread(designation=value.strip(), major_mm=major, pitch_mm=pitch)


ThreadText = Annotated[
    InstanceOf[Thread], BeforeValidator(_thread), WithJsonSchema({"type": "string", "pattern": _THREAD})
]


class HoleTable(Table):
    """One hole through the panel, seen from outside."""

    shape: Annotated[HoleShape, BeforeValidator(one_of(_HOLE_SHAPES))] = Field(
        "circle", description="circle, slot (rounded ends), rectangle, d (a circle with a flat on top) or hexagon"
    )
    diameter: Size | None = Field(None, description="Diameter of a circle or a d")
    width: Size | None = Field(None, description="Slot: overall length; rectangle: width; hexagon: across flats")
    height: Size | None = Field(None, description="Slot: overall width; rectangle: height; d: height over the flat")
    corner: Radius | None = Field(None, description="Corner radius of a rectangle")
    right: Length = Field(0.0, description="How far the hole's centre lies right of the part's centre")
    up: Length = Field(0.0, description="How far the hole's centre lies above the part's centre")
    rotation: Angle = Field(0.0, description="Turns the hole clockwise, degrees")
    purpose: Name = Field("bushing", description="What goes through it: bushing, lens, slot, screw, socket ...")


class SolidTable(Table):
    """One simple solid of a part. `from` and `to` are distances away from the panel."""

    shape: Annotated[SolidShape, BeforeValidator(one_of(_SOLID_SHAPES))] = Field(
        "round", description="round, hexagon or rectangle, seen from above"
    )
    diameter: Size | None = Field(None, description="Diameter of a round")
    width: Size | None = Field(None, description="Rectangle: width; hexagon: across flats")
    height: Size | None = Field(None, description="Height of a rectangle as seen from above")
    corner: Radius | None = Field(None, description="Corner radius of a rectangle as seen from above")
    start: Length = Field(0.0, alias="from", description="Where it begins, counted away from the panel's surface")
    end: Length = Field(alias="to", description="Where it ends, counted away from the panel's surface")
    right: Length = Field(0.0, description="How far its centre lies right of the part's centre")
    up: Length = Field(0.0, description="How far its centre lies above the part's centre, seen from outside")
    rotation: Angle = Field(0.0, description="Turns it clockwise as seen from outside, degrees")
    material: Annotated[
        str, BeforeValidator(one_of(tuple(NAMED))), WithJsonSchema({"type": "string", "enum": sorted(NAMED)})
    ] = Field("black-plastic", description="What it is made of")
    colour: EncodedColour | None = Field(None, description="Plastic of this colour, instead of `material`")


class AboveTable(SolidTable):
    """One solid that shows above the panel; `from` and `to` are heights over the outer surface."""

    bevel: Radius | None = Field(None, description="Breaks the upper edge at 45 degrees by this much")
    lens: Truth = Field(False, description="true: this solid takes the lamp's colour and lights up")


class ShaftTable(Table):
    """A shaft that takes a knob."""

    diameter: Size = Field(description="Diameter of the shaft")
    top: Size = Field(description="Height of the shaft's end above the panel")


class KindTable(Table):
    """A kind of part of your own."""

    name: Name = Field(description="The name that [[part]] tables use as their kind")
    about: Text | None = Field(None, description="One line about it")
    mount: Annotated[Mount, BeforeValidator(one_of(("panel", "inside")))] = Field(
        "panel", description="panel: goes through the panel; inside: sits in the box and touches no panel"
    )
    hole: Size | None = Field(None, description="Diameter of its one round hole (or write `holes`)")
    holes: Several[HoleTable] | None = Field(None, description="All its holes, where one round hole is not enough")
    thread: ThreadText | None = Field(None, description='Thread of its bushing, such as "M7x0.75" or "3/8-32"')
    above: Several[AboveTable] = Field((), description="Solids that show on the outside")
    below: Several[SolidTable] = Field(
        (), description="Solids inside the box; `from` and `to` are depths under the panel's inner surface"
    )
    shaft: ShaftTable | None = Field(None, description="For a part that takes a knob")
    like: Name | None = Field(None, description="A kind whose form it has; `hole`, `body` and `depth` give its figures")
    body: Size | None = Field(None, description="With `like`: across the body at its widest")
    depth: Size | None = Field(
        None, description="With `like`: how deep it goes behind the panel as it is mounted, inner nut and terminals too"
    )
    source: Text | None = Field(None, description="Where the figures come from")


def kind_problems(table: KindTable) -> Iterator[Problem]:
    """Yield what is wrong with the table although every single value in it is fine."""
    form = ("holes", "thread", "above", "below", "shaft")
    for key in form if table.like is not None else ("body", "depth"):
        if getattr(table, key):
            told = "a kind like another has its form" if table.like is not None else "only a kind like another takes it"
            remedy = "leave out one of the two" if table.like is not None else 'add like = "pot-16" or another kind'
            yield Problem((key,), told, remedy)
    if table.hole is not None and table.holes is not None:
        yield Problem(("hole",), "hole and holes are both given", "keep one of the two")
    if table.mount == "inside":
        for key in ("hole", "holes", "above", "shaft", "thread"):
            if getattr(table, key):
                yield Problem(
                    (key,), "a part mounted inside does not go through a panel", 'leave it out or drop "inside"'
                )
    groups: tuple[tuple[str, tuple[HoleTable | SolidTable, ...]], ...] = (
        ("holes", table.holes or ()),
        ("above", table.above),
        ("below", table.below),
    )
    for key, entries in groups:
        for index, entry in enumerate(entries):
            for problem in _shape_problems(entry):
                yield problem._replace(path=(key, index, *problem.path))


def _shape_problems(entry: HoleTable | SolidTable) -> Iterator[Problem]:
    takes = _TAKES[entry.shape]
    for key in ("diameter", "width", "height"):
        if key in takes and getattr(entry, key) is None:
            yield Problem((key,), f"missing; a {entry.shape} needs {' and '.join(takes)}")
        elif key not in takes and getattr(entry, key) is not None:
            yield Problem((key,), f"a {entry.shape} has no {key}", f"it takes {' and '.join(takes)}")
    if entry.corner is not None and entry.shape != "rectangle":
        yield Problem(("corner",), f"a {entry.shape} has no corner radius")
    width, height = entry.diameter or entry.width, entry.height
    if width is not None and height is not None:
        if entry.shape == "d" and height >= width:
            yield Problem(("height",), "the height over the flat must be smaller than the diameter")
        if entry.shape == "slot" and height > width:
            yield Problem(
                ("height",), "a slot is longer than it is wide", "swap width and height and turn it with rotation"
            )
        if entry.shape == "rectangle" and entry.corner is not None and 2 * entry.corner > min(width, height):
            yield Problem(("corner",), "the corner radius is more than half of the shorter side")
    if isinstance(entry, SolidTable) and entry.end <= entry.start:
        yield Problem(("to",), "`to` must be greater than `from`", "count both away from the panel")
    elif isinstance(entry, AboveTable) and entry.bevel:
        room = min([entry.end - entry.start, *(side / 2 for side in (width, height) if side is not None)])
        if entry.bevel >= room:
            yield Problem(("bevel",), "the bevel leaves nothing of the upper edge", "make it smaller")


def like_problems(table: KindTable, known: Mapping[str, Kind]) -> Iterator[Problem]:
    """Yield what is wrong with the kind that a table is like, of those that are known where it stands."""
    if table.like is None:
        return
    if table.like not in known:
        yield Problem(
            ("like",), f'there is no kind "{table.like}" before it', nearest(table.like, tuple(known), "mockup parts")
        )
    elif table.hole is not None and not known[table.like].cutouts:
        yield Problem(("hole",), f'"{table.like}" goes through no hole', "leave it out")


def kinds_of(tables: Iterable[KindTable], known: Mapping[str, Kind]) -> dict[str, Kind]:
    """Return the kinds that tables describe, by name; those with problems are left out."""
    there, found = dict(known), {}
    for table in tables:
        if not any((*kind_problems(table), *like_problems(table, there))):
            there[table.name] = found[table.name] = kind_of(table, there)
    return found


def kind_of(table: KindTable, known: Mapping[str, Kind]) -> Kind:
    """Return the kind that a table without problems describes."""
    if table.like is not None:
        kind = kind_like(known[table.like], table.name, hole_mm=table.hole, body_mm=table.body, depth_mm=table.depth)
        given = ("body", "terminals", "inside") if table.depth is not None else ("body",)
        own = dict.fromkeys((each for each in given if each in kind.sources), table.source or OWN)
        return replace(kind, about=table.about or kind.about, sources={**kind.sources, **own}, is_own=True)
    cutouts: tuple[Cutout, ...] = ()
    if table.hole is not None:
        cutouts = (Cutout(outline=Outline(kind="circle", width_mm=table.hole)),)
    elif table.holes is not None:
        cutouts = tuple(
            Cutout(outline=_outline(hole), at=(hole.right, hole.up), rotation_deg=hole.rotation, purpose=hole.purpose)
            for hole in table.holes
        )
    return Kind(
        name=table.name,
        family="own",
        about=table.about or "a part of your own",
        cutouts=cutouts,
        above=tuple(_solid(entry, entry.start, entry.end) for entry in table.above),
        below=tuple(_solid(entry, -entry.end, -entry.start) for entry in table.below),
        mount=table.mount,
        thread=table.thread,
        shaft=Shaft(diameter_mm=table.shaft.diameter, top_mm=table.shaft.top) if table.shaft else None,
        lens=tuple(index for index, entry in enumerate(table.above) if entry.lens),
        sources={"all": table.source or OWN},
        is_own=True,
    )


def _outline(entry: HoleTable | SolidTable) -> Outline:
    return Outline(
        kind="circle" if entry.shape == "round" else entry.shape,
        width_mm=entry.diameter or entry.width or 0.0,
        height_mm=entry.height or 0.0,
        corner_mm=entry.corner or 0.0,
    )


def _solid(entry: SolidTable, bottom: float, top: float) -> Solid:
    at: Point = (entry.right, entry.up)
    is_lens, bevel = (
        isinstance(entry, AboveTable) and entry.lens,
        (isinstance(entry, AboveTable) and entry.bevel) or 0.0,
    )
    if entry.colour is not None:
        material = plastic(rgb.linear_colour(entry.colour))
    else:
        material = LENS if is_lens and "material" not in entry.model_fields_set else NAMED[entry.material]
    if entry.shape == "round":
        radius = (entry.diameter or 0.0) / 2
        edge = ((radius, top - bevel), (radius - bevel, top)) if bevel else ((radius, top),)
        return Turned(profile=((0.0, bottom), (radius, bottom), *edge, (0.0, top)), material=material, at=at)
    return Extruded(
        outline=_outline(entry),
        bottom_mm=bottom,
        top_mm=top,
        material=material,
        at=at,
        rotation_deg=entry.rotation,
        bevel_mm=bevel,
    )
