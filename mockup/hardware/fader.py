"""Slide faders: a flat track behind a long slot, held by two short screws, with a cap on its lever."""

from __future__ import annotations

from dataclasses import dataclass

from mockup.hardware._fixings import blade, slotted_screw
from mockup.model.material import BLACK_PLASTIC, PHENOLIC, STEEL, plastic
from mockup.model.part import MEMORY, PRACTICE, Cutout, Fitting, Kind, Mounting
from mockup.model.shape import Outline, Solid, block

SLOT_MM = 3.0  # width: that of the drill which makes its chain of holes: common practice, no source
SLOT_SPARE_MM = 2.0  # slot longer than the lever's way: common practice, no source
LEVER_MM = (4.0, 1.2)  # along the slot, across it: from memory
CAP_MM = (5.0, 10.5)  # along the slot, across it: from memory
CAP_AT_MM = (1.5, 11.0)  # underside and top above the panel: from memory
LINE_MM = 0.8  # width of the line across the cap: our choice
WIDTH_MM, DEPTH_MM = 9.0, 7.0  # of the track's case: from memory
TERMINAL_MM = (1.2, 3.5)  # width, length: from memory
SCREW_HOLE_MM = 3.2  # ISO 273 fine series, M3
HEAD_MM = (5.6, 1.8, 0.8)  # diameter, height, slot: ISO 1580 M3, from memory
LINE = plastic((0.8, 0.8, 0.78), name="fader-line", roughness=0.5)  # our choice


@dataclass(frozen=True, kw_only=True)
class _Fader:
    travel_mm: float
    screws_mm: float  # apart
    length_mm: float  # of the case

    @property
    def slot_mm(self) -> float:
        return self.travel_mm + LEVER_MM[0] + SLOT_SPARE_MM


# Travels of the trade; screws and lengths from memory.
_FADERS = (
    _Fader(travel_mm=30.0, screws_mm=44.0, length_mm=53.0),
    _Fader(travel_mm=60.0, screws_mm=80.0, length_mm=88.0),
)


def kinds() -> tuple[Kind, ...]:
    """Return the faders; they slide along x and stand in the middle of their travel."""
    return tuple(_kind(each) for each in _FADERS)


def _kind(each: _Fader) -> Kind:
    screws = ((-each.screws_mm / 2, 0.0), (each.screws_mm / 2, 0.0))
    head, height, slot = HEAD_MM
    held = tuple(
        solid
        for at, turn in zip(screws, (15.0, 100.0), strict=True)  # as a screwdriver happens to leave them
        for solid in slotted_screw(at, head_mm=head, height_mm=height, slot_mm=slot, turn_deg=turn)
    )
    return Kind(
        name=f"fader-{each.travel_mm:g}",
        family="fader",
        about=f"Slide fader, {each.travel_mm:g} mm travel, slot {each.slot_mm:g} x {SLOT_MM:g} mm, two M3 screws "
        f"{each.screws_mm:g} mm apart",
        cutouts=(
            Cutout(outline=Outline(kind="slot", width_mm=each.slot_mm, height_mm=SLOT_MM), purpose="slot"),
            *(Cutout(outline=Outline(kind="circle", width_mm=SCREW_HOLE_MM), at=at, purpose="screw") for at in screws),
        ),
        above=(*_lever(), *held),
        below=_body(each),
        mounting=Mounting(outside=(Fitting(name="short M3 screw", across_mm=head, thickness_mm=height, count=2),)),
        used=(block((each.travel_mm + CAP_MM[0], CAP_MM[1]), CAP_AT_MM, BLACK_PLASTIC), *held),
        sources={
            "drill": f"slot: {PRACTICE}; distance of the screws: {MEMORY}; screw holes: ISO 273:1979, fine series, M3",
            "screw": f"ISO 1580 M3, {MEMORY}",
            "lever": MEMORY,
            "body": MEMORY,
            "terminals": MEMORY,
        },
    )


def _lever() -> tuple[Solid, ...]:
    """Return the lever through the slot, and the cap on it: a foot, a waist to grip, a line across."""
    long, wide = CAP_MM
    low, high = CAP_AT_MM
    lever = block(LEVER_MM, (-1.5, high - 3.0), STEEL)
    foot = block(CAP_MM, (low, low + 4.0), BLACK_PLASTIC, corner_mm=0.6, bevel_mm=0.5)
    grip = block((long - 1.2, wide - 0.8), (low + 3.6, high), BLACK_PLASTIC, corner_mm=0.5, bevel_mm=0.7)
    line = block((LINE_MM, wide - 2.6), (high - 0.3, high + 0.03), LINE)
    return (lever, foot, grip, line)


def _body(each: _Fader) -> tuple[Solid, ...]:
    track = block((each.slot_mm - 0.2, SLOT_MM - 0.2), (-0.3, 0.05), PHENOLIC)  # what the eye meets through the slot
    cover = block((each.length_mm, WIDTH_MM), (-1.0, 0.0), STEEL, corner_mm=1.0)
    case = block((each.length_mm - 3.0, WIDTH_MM), (-DEPTH_MM, -1.0), STEEL, corner_mm=0.5)
    wide, length = TERMINAL_MM
    end = each.length_mm / 2 - 4.0
    pins = (
        blade((x, y), width_mm=wide, thickness_mm=0.5, top_mm=-DEPTH_MM, length_mm=length)
        for x, y in ((-end, 0.0), (end, -2.0), (end, 2.0))
    )
    return (cover, track, case, *pins)
