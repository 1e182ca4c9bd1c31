"""Every kind of part and every knob style."""

from __future__ import annotations

from mockup.model.part import Cutout, Kind, Shaft
from mockup.model.shape import Outline


def kinds() -> dict[str, Kind]:
    """Return every kind by its name."""

    def hole(diameter: float) -> tuple[Cutout, ...]:
        return (Cutout(outline=Outline(kind="circle", width_mm=diameter)),)

    slot = (Cutout(outline=Outline(kind="slot", width_mm=12.0, height_mm=4.0), purpose="slot"),)
    shaft = Shaft(diameter_mm=6.0, top_mm=15.0)
    every = (
        Kind(name="pot-9", family="pots", about="", cutouts=hole(7.2), shaft=shaft),
        Kind(name="pot-16", family="pots", about="", cutouts=hole(7.2), shaft=shaft),
        Kind(name="toggle-mini", family="toggles", about="", cutouts=hole(6.5)),
        Kind(name="slide-switch", family="slides", about="", cutouts=slot),
        Kind(name="footswitch", family="footswitches", about="", cutouts=hole(12.2)),
        Kind(name="jack-open", family="jacks", about="", cutouts=hole(9.7)),
        Kind(name="jack-enclosed", family="jacks", about="", cutouts=hole(9.7)),
        Kind(name="dc-socket", family="sockets", about="", cutouts=hole(12.2)),
        Kind(name="lamp-3", family="lamps", about="", cutouts=hole(6.0), lens=(0,)),
        Kind(name="lamp-5", family="lamps", about="", cutouts=hole(8.0), lens=(0,)),
        Kind(name="battery-9v", family="inside", about="", mount="inside"),
    )
    return {kind.name: kind for kind in every}


def knob_styles() -> tuple[str, ...]:
    """Return the names of the knob styles."""
    return ("bar", "barrel", "dome", "fluted", "skirted")
