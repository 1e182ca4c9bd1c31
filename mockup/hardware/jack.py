"""Jacks for 6.35 mm plugs: open-frame with leaf contacts, and enclosed in a plastic case."""

from __future__ import annotations

from mockup.hardware._fixings import INTO_HOLE_MM, M9, THREE_EIGHTHS, Fixing, hung, lug, stack
from mockup.model.material import BLACK_PLASTIC, BRASS, NICKEL, PHENOLIC, THROAT, Material
from mockup.model.part import PRACTICE, Kind, Mounting
from mockup.model.shape import Solid, block, rod

PLUG_MM = 6.35  # sleeve diameter: IEC 60603-11, as Wikipedia quotes it
CLEARANCE_MM = 0.25  # of the throat round the plug: common practice, no source
OPEN_BUSHING_MM = 4.8  # top above the panel: common practice, no source
ENCLOSED_BUSHING_MM = 4.2  # top above the panel: common practice, no source
OPEN_DEPTH_MM = 26.0  # to the leaf's bend behind the panel: common practice, no source
ENCLOSED_BODY_MM = (15.6, 19.6, 22.0)  # across, along the terminals, depth: common practice, no source

_PLUG_SOURCE = "plug's sleeve 6.35 mm: IEC 60603-11, as Wikipedia quotes it; clearance: " + PRACTICE


def kinds() -> tuple[Kind, ...]:
    """Return the jacks; their terminals lie towards 6 o'clock."""
    return (
        _kind(
            "jack-open",
            "Open-frame jack, 3/8 in bushing",
            THREE_EIGHTHS,
            THREE_EIGHTHS.mounting(OPEN_BUSHING_MM),
            NICKEL,
            _open_body(),
        ),
        _kind(  # its plastic case lies flat on the panel: common practice, no source
            "jack-enclosed",
            "Enclosed jack, plastic M9 bushing",
            M9,
            M9.mounting(ENCLOSED_BUSHING_MM, inner=""),
            BLACK_PLASTIC,
            _closed_body(),
        ),
    )


def _kind(
    name: str, about: str, fixing: Fixing, mounting: Mounting, bushing: Material, body: tuple[Solid, ...]
) -> Kind:
    bore = PLUG_MM + CLEARANCE_MM
    floor = rod(bore / 2 + 0.2, (INTO_HOLE_MM - 0.2, INTO_HOLE_MM + 0.1), THROAT)
    return Kind(
        name=name,
        family="jack",
        about=about,
        cutouts=(fixing.cutout,),
        above=(*stack(fixing, mounting.out_mm, bore_mm=bore, bushing=bushing), floor),
        below=hung(body, mounting, fixing.thread.major_mm),
        thread=fixing.thread,
        mounting=mounting,
        sources={**fixing.sources, "throat": _PLUG_SOURCE, "body": PRACTICE, "terminals": PRACTICE},
    )


def _open_body() -> tuple[Solid, ...]:
    """Return frame, pile of leaves and wafers at one side, and the leaf that meets the plug's tip."""
    frame = rod(8.2, (-1.2, 0.0), NICKEL)
    sleeve = rod(4.6, (-7.0, -1.2), NICKEL, bore_radius_mm=3.5)
    pile = tuple(
        block((11.0 - inset, 8.0), (top - thickness, top), material, at=(0.0, -10.0), corner_mm=0.8)
        for top, thickness, inset, material in (
            (-1.0, 1.2, 0.0, NICKEL),
            (-2.2, 1.6, 0.6, PHENOLIC),
            (-3.8, 0.5, 1.6, BRASS),
            (-4.3, 1.6, 0.6, PHENOLIC),
        )
    )
    leaf = block((5.0, 0.5), (-OPEN_DEPTH_MM + 1.0, -3.8), BRASS, at=(0.0, -6.0))
    bend = block((5.0, 4.5), (-OPEN_DEPTH_MM, -OPEN_DEPTH_MM + 1.0), BRASS, at=(0.0, -4.0), bevel_mm=0.4)
    lugs = (
        *lug((-2.6, -18.0), width_mm=3.0, length_mm=5.0, eye_mm=1.4, middle_mm=-1.6),
        *lug((2.6, -18.0), width_mm=3.0, length_mm=5.0, eye_mm=1.4, middle_mm=-4.05),
    )
    return (frame, sleeve, *pile, leaf, bend, *lugs)


def _closed_body() -> tuple[Solid, ...]:
    width, height, depth = ENCLOSED_BODY_MM
    case = block((width, height), (-depth, 0.0), BLACK_PLASTIC, at=(0.0, -1.5), corner_mm=0.8)
    lid = block((width - 2.0, height - 2.0), (-depth - 0.6, -depth), BLACK_PLASTIC, at=(0.0, -1.5), corner_mm=0.6)
    lugs = (
        block((1.8, 4.5), (-back - 0.2, -back + 0.2), NICKEL, at=(x, -1.5 - height / 2 - 2.2), bore_mm=1.0)
        for back in (6.0, 17.0)
        for x in (-5.0, 5.0)
    )
    return (case, lid, *lugs)
