"""Parts and pedals made in one line."""

from __future__ import annotations

from collections.abc import Iterable

from mockup import hardware, knobs
from mockup.arrange.names import suggested
from mockup.enclosure.sizes import SIZES
from mockup.finishes import sheens
from mockup.model.design import Design, Placement
from mockup.model.enclosure import FaceName
from mockup.model.finish import Finish

KINDS = hardware.kinds()
FITS = (
    "bodies", "webs", "seats", "knob-gaps", "knob-overlaps", "hole-edges", "plug-bodies", "plug-tips", "shoe-room",
)  # fmt: skip
"""The checks of where parts stand."""


def pedal(size: str, parts: Iterable[Placement] = ()) -> Design:
    """A white box of the table with parts in it."""
    finish = Finish(paint=(1.0, 1.0, 1.0), sheen=sheens()["gloss"])
    return Design(name="T", source="t", enclosure=SIZES[size], finish=finish, parts=tuple(parts))


def new(
    kind: str, parts: Iterable[Placement] = (), *, face: FaceName = "top", at: tuple[float, float] = (0, 0)
) -> Placement:
    """A new part of a kind, under its suggested name."""
    of = KINDS[kind]
    knob = knobs.default("barrel") if of.shaft else None
    name = suggested(of, [part.name for part in parts])
    return Placement(name=name, kind=of, face=face, u_mm=0.0, v_mm=0.0, knob=knob)
