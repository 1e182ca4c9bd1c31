"""Plugs as shapes in their socket's frame: the body that stands out of it, and what of it goes inside."""

from __future__ import annotations

from dataclasses import dataclass, replace

from mockup.limits import Limits, limits
from mockup.memo import memoize
from mockup.model.design import Design
from mockup.model.material import BLACK_PLASTIC, NICKEL
from mockup.model.part import Kind
from mockup.model.shape import Turned, rod

SLEEVE_MM = 6.35  # diameter of a jack plug: IEC 60603-11, as Wikipedia quotes it
CABLE_MM = 24.0  # of its cable that a picture shows: our choice
JACKS = "jack"
FAMILIES = {JACKS: "jack_plug", "dc-socket": "dc_plug", "din-socket": "din_plug"}
"""Families of sockets, and how the names of their plugs' limits begin."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Plug:
    """A straight plug in a socket: its body outside, and for a jack the part that goes inside (`tip`).

    `shoulder_mm` is the height above the panel at which the body's end rests.
    """

    body: Turned
    tip: Turned | None
    shoulder_mm: float


def plug_of(kind: Kind, limits: Limits) -> Plug:
    """Return the plug that goes into a kind of socket; `KeyError` where it is no socket."""
    name = FAMILIES[kind.family]
    wide, long = limits[f"{name}_mm"].value, limits[f"{name}_length_mm"].value
    tip = limits["jack_plug_tip_mm"].value if kind.family == JACKS else None
    return _plug(kind, wide, long, tip)


@memoize
def _plug(kind: Kind, wide_mm: float, long_mm: float, tip_mm: float | None) -> Plug:
    rest = max((solid.top_mm for solid in kind.above), default=0.0)
    return Plug(
        body=rod(wide_mm / 2, (rest, rest + long_mm), BLACK_PLASTIC),
        tip=None if tip_mm is None else rod(SLEEVE_MM / 2, (rest - tip_mm, rest), NICKEL),
        shoulder_mm=rest,
    )


def with_plugs(design: Design) -> Design:
    """Return a design with a plug in each of its sockets."""
    own = limits(design.limits)
    return replace(design, parts=tuple(replace(each, kind=plugged(each.kind, own)) for each in design.parts))


def plugged(kind: Kind, limits: Limits) -> Kind:
    """Return a kind with its plug in it, as it looks: barrel, strain relief and the beginning of its cable."""
    if kind.family not in FAMILIES:
        return kind
    plug = plug_of(kind, limits)
    inside = () if plug.tip is None else (plug.tip,)
    return replace(kind, above=(*kind.above, _barrel(plug.body), *inside))


def _barrel(room: Turned) -> Turned:
    """Return what fills a plug's room, two grips and a ring turned in, and a cable out of its end: our choice."""
    (_, low), _, (wide, high), _ = room.profile
    cable, relief = 0.2 * wide + 1.2, 0.5 * wide
    neck = low + 0.16 * (high - low)
    rings = [
        (r, z)
        for at in (neck, neck + 3.0)
        for r, z in ((wide, at), (wide - 0.5, at + 0.3), (wide - 0.5, at + 1.1), (wide, at + 1.4))
    ]
    return Turned(
        profile=(
            (0.0, low),
            (wide - 0.6, low),
            (wide, low + 0.6),
            *rings,
            (wide, high - 6.0),
            (0.8 * wide, high - 1.0),
            (relief, high),
            (cable + 0.4, high + 9.0),
            (cable, high + 9.4),
            (cable, high + CABLE_MM),
            (0.0, high + CABLE_MM),
        ),
        material=BLACK_PLASTIC,
    )
