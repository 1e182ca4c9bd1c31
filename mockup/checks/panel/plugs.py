"""Plugs as solids: the body that stands out of a socket, and what of it goes inside."""

from __future__ import annotations

from dataclasses import dataclass

from mockup.checks.panel.built import Built
from mockup.geometry.solids import Solid
from mockup.model.design import Placement
from mockup.model.material import BLACK_PLASTIC, NICKEL
from mockup.model.part import Kind
from mockup.model.shape import Extruded, Turned, rod
from mockup.model.shape import Solid as Shape

SLEEVE_MM = 6.35  # diameter of a jack plug: IEC 60603-11, as Wikipedia quotes it
FAMILIES = {"jack": "jack_plug", "dc-socket": "dc_plug", "din-socket": "din_plug"}
"""Families of sockets, and how the names of their plugs' limits begin."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Plug:
    """The plug in one socket: its body outside, and for a jack the part that goes inside (`tip`).

    `shoulder_mm` is the height above the panel at which the body's end rests.
    """

    part: Placement
    body: Solid
    tip: Solid | None
    shoulder_mm: float


def plugs(built: Built) -> tuple[Plug, ...]:
    """Return the plugs of all sockets of a design, straight ones."""
    return tuple(plug_in(built, part) for part in built.design.parts if part.kind.family in FAMILIES)


def plug_in(built: Built, part: Placement) -> Plug:
    """Return the plug of a socket, wherever it is placed; `KeyError` where the part is no socket."""
    name = FAMILIES[part.kind.family]
    wide, long = built.limits[f"{name}_mm"].value, built.limits[f"{name}_length_mm"].value
    rest = shoulder_mm(part.kind)
    body = built.in_place(part, (_rod(wide / 2, rest, rest + long),))
    tip = None
    if part.kind.family == "jack":
        tip = built.in_place(part, (_rod(SLEEVE_MM / 2, rest - built.limits["jack_plug_tip_mm"].value, rest),))
    return Plug(part=part, body=body, tip=tip, shoulder_mm=rest)


def shoulder_mm(kind: Kind) -> float:
    """Return how high a socket stands above its panel: there the shoulder of the plug rests."""
    return max((_top(solid) for solid in kind.above), default=0.0)


def _top(solid: Shape) -> float:
    return solid.top_mm if isinstance(solid, Extruded) else max(z for _, z in solid.profile)


def _rod(radius: float, low: float, high: float) -> Turned:
    material = NICKEL if radius == SLEEVE_MM / 2 else BLACK_PLASTIC
    return rod(radius, (low, high), material)
