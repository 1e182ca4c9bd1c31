"""Plugs as shapes in their socket's frame: the body that stands out of it, and what of it goes inside."""

from __future__ import annotations

from dataclasses import dataclass

from mockup.limits import Limits
from mockup.memo import memoize
from mockup.model.material import BLACK_PLASTIC, NICKEL
from mockup.model.part import Kind
from mockup.model.shape import Extruded, Solid, Turned, rod

SLEEVE_MM = 6.35  # diameter of a jack plug: IEC 60603-11, as Wikipedia quotes it
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
    rest = max((_top(solid) for solid in kind.above), default=0.0)
    return Plug(
        body=rod(wide_mm / 2, (rest, rest + long_mm), BLACK_PLASTIC),
        tip=None if tip_mm is None else rod(SLEEVE_MM / 2, (rest - tip_mm, rest), NICKEL),
        shoulder_mm=rest,
    )


def _top(solid: Solid) -> float:
    return solid.top_mm if isinstance(solid, Extruded) else max(z for _, z in solid.profile)
