"""What holds parts to a panel, as solids: threaded bushings, nuts, washers, screws, solder lugs.

Every function works in the part frame in millimetres with z = 0 on the panel's outer surface.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from mockup.model.material import NICKEL, SOLDER, STEEL, Material, plastic
from mockup.model.part import MEMORY, PRACTICE, TRAVEL_DEG, Cutout, Shaft, Thread
from mockup.model.shape import Extruded, Outline, Point, Solid, Turned
from mockup.model.units import MM_PER_INCH

THREAD_DEPTH = 0.61343  # of the pitch, external thread, 17/24 H of a 60 degree triangle: ISO 68-1, from memory
INTO_HOLE_MM = -1.5  # how far a bushing is drawn into its hole; panels are thicker: common practice, no source
FIT_MM = 0.05  # radial gap between a bushing and its nut, so that the eye sees two parts: common practice, no source
PANEL_MM = 2.0  # panel that the heights above it are stated for: common practice, no source
THROAT = plastic((0.004, 0.004, 0.004), "throat", roughness=0.9)  # no light comes back: common practice, no source

_METRIC = f"ISO 261 fine pitch, {MEMORY}; basic major diameter is the designation's"
_INCH = f"ASME B1.1, {MEMORY}; basic major diameter is the designation's, exact at 25.4 mm to the inch"


@dataclass(frozen=True, kw_only=True)
class Fixing:
    """One panel thread with the hole, nut and washer that go with it; `flats_mm` across the nut."""

    thread: Thread
    drill_mm: float
    flats_mm: float
    nut_mm: float
    washer_mm: float
    thread_source: str
    washer_thickness_mm: float = 0.5  # common practice, no source

    @property
    def sources(self) -> dict[str, str]:
        """Where the hole, the thread, the nut and the washer come from."""
        return {"drill": PRACTICE, "thread": self.thread_source, "nut": PRACTICE, "washer": PRACTICE}

    @property
    def cutout(self) -> Cutout:
        """The round hole for the bushing."""
        return Cutout(outline=Outline(kind="circle", width_mm=self.drill_mm))

    @property
    def nut_top_mm(self) -> float:
        """Height of the nut's upper face above the panel."""
        return self.washer_thickness_mm + self.nut_mm


def _inch(text: str, inches: float, per_inch: int) -> Thread:
    return Thread(designation=text, major_mm=inches * MM_PER_INCH, pitch_mm=MM_PER_INCH / per_inch)


# Drills, nuts and washers below: common practice, no source. Majors and pitches: see each row's thread_source.
M7 = Fixing(
    thread=Thread(designation="M7x0.75", major_mm=7.0, pitch_mm=0.75),
    drill_mm=7.5,
    flats_mm=10.0,
    nut_mm=2.0,
    washer_mm=12.0,
    thread_source=_METRIC,
)
M9 = Fixing(
    thread=Thread(designation="M9x0.75", major_mm=9.0, pitch_mm=0.75),
    drill_mm=9.5,
    flats_mm=12.0,
    nut_mm=2.0,
    washer_mm=14.0,
    thread_source=_METRIC,
)
M12 = Fixing(
    thread=Thread(designation="M12x0.75", major_mm=12.0, pitch_mm=0.75),
    drill_mm=12.5,
    flats_mm=14.0,
    nut_mm=2.2,
    washer_mm=17.0,
    thread_source=f"{PRACTICE}: a fine pitch that ISO 261 does not list; the major diameter is the designation's",
)
QUARTER = Fixing(
    thread=_inch("1/4-40 UNS", 1 / 4, 40),
    drill_mm=6.5,
    flats_mm=5 / 16 * MM_PER_INCH,
    nut_mm=2.0,
    washer_mm=10.0,
    thread_source=_INCH,
)
THREE_EIGHTHS = Fixing(
    thread=_inch("3/8-32 UNEF", 3 / 8, 32),
    drill_mm=10.0,
    flats_mm=1 / 2 * MM_PER_INCH,
    nut_mm=2.4,
    washer_mm=15.5,
    thread_source=_INCH,
)
FIFTEEN_32NDS = Fixing(
    thread=_inch("15/32-32 UNS", 15 / 32, 32),
    drill_mm=12.5,
    flats_mm=9 / 16 * MM_PER_INCH,
    nut_mm=2.4,
    washer_mm=17.5,
    thread_source=_INCH,
)


def stack(fixing: Fixing, top_mm: float, *, bore_mm: float = 0.0, bushing: Material = NICKEL) -> tuple[Solid, ...]:
    """Return washer, nut and bushing as they stand on the panel; the bushing ends at `top_mm`.

    `bore_mm` is the diameter of the hole that one looks into, 0 for a bushing that is filled.
    """
    return (
        washer(fixing.washer_mm, fixing.thread.major_mm, fixing.washer_thickness_mm),
        nut(fixing.flats_mm, fixing.thread.major_mm, fixing.washer_thickness_mm, fixing.nut_mm),
        threaded(fixing.thread, top_mm, bore_mm=bore_mm, material=bushing),
    )


def knob_shaft(fixing: Fixing, diameter_mm: float, top_mm: float, travel_deg: float = TRAVEL_DEG) -> Shaft:
    """Return a shaft that stands in a fixing, so that a knob knows the nut it has to clear."""
    return Shaft(
        diameter_mm=diameter_mm,
        top_mm=top_mm,
        nut_mm=fixing.flats_mm / math.cos(math.radians(30)),
        nut_top_mm=fixing.washer_thickness_mm + fixing.nut_mm,
        travel_deg=travel_deg,
    )


def threaded(thread: Thread, top_mm: float, *, bore_mm: float = 0.0, material: Material = NICKEL) -> Turned:
    """Return a bushing with its thread's crests as rings (no helix) and a plain lead at the top."""
    crest = thread.major_mm / 2
    pitch = thread.pitch_mm
    root = crest - THREAD_DEPTH * pitch
    bore = bore_mm / 2
    outside: list[Point] = [(root, INTO_HOLE_MM)]
    turns = int((top_mm - 0.1) / pitch)  # whole turns only, so that the end is a plain lead
    for turn in range(turns):
        # crest flat P/8, root flat P/4, flanks 5/16 P each: the basic profile of ISO 68-1, from memory
        at = turn * pitch
        outside += [
            (root, at + pitch / 8),
            (crest, at + pitch * 7 / 16),
            (crest, at + pitch * 9 / 16),
            (root, at + pitch * 7 / 8),
        ]
    lead = min(0.25, (top_mm - turns * pitch) / 2)
    outside += [(root, top_mm - lead), (root - lead, top_mm)]
    if bore == 0.0:
        return Turned(profile=((0.0, INTO_HOLE_MM), *outside, (0.0, top_mm)), material=material)
    mouth = min(0.3, (root - lead - bore) / 2)
    inside = ((bore + mouth, top_mm), (bore, top_mm - mouth), (bore, INTO_HOLE_MM))
    return Turned(profile=(*outside, *inside), material=material)


def nut(
    flats_mm: float, bore_mm: float, bottom_mm: float, thickness_mm: float, material: Material = NICKEL
) -> Extruded:
    """Return a hexagon nut with its upper edge broken."""
    return Extruded(
        outline=Outline(kind="hexagon", width_mm=flats_mm),
        bottom_mm=bottom_mm,
        top_mm=bottom_mm + thickness_mm,
        bevel_mm=0.35,
        bore_mm=bore_mm + 2 * FIT_MM,
        material=material,
    )


def washer(outer_mm: float, bore_mm: float, thickness_mm: float, material: Material = NICKEL) -> Turned:
    """Return a flat washer that lies on the panel, its upper edges rolled as stamping leaves them."""
    outer, bore, roll = outer_mm / 2, bore_mm / 2 + FIT_MM, min(0.15, thickness_mm / 3)
    return Turned(
        profile=(
            (bore, 0.0),
            (outer, 0.0),
            (outer, thickness_mm - roll),
            (outer - 0.3 * roll, thickness_mm - 0.3 * roll),
            (outer - roll, thickness_mm),
            (bore, thickness_mm),
        ),
        material=material,
    )


def slotted_screw(
    at: Point, *, head_mm: float, height_mm: float, slot_mm: float, turn_deg: float, seat_mm: float = 0.0
) -> tuple[Solid, ...]:
    """Return a pan head screw at `at`, its underside at `seat_mm`: a disc and two halves beside the slot."""
    halfway, top = seat_mm + height_mm * 0.45, seat_mm + height_mm  # slot depth: ISO 1580, from memory
    leaf = Outline(kind="d", width_mm=head_mm, height_mm=(head_mm - slot_mm) / 2)
    disc = Turned(
        profile=((0.0, seat_mm), (head_mm / 2, seat_mm), (head_mm / 2, halfway), (0.0, halfway)), material=STEEL, at=at
    )
    leaves = (
        Extruded(
            outline=leaf,
            bottom_mm=halfway,
            top_mm=top,
            material=STEEL,
            at=at,
            rotation_deg=turn_deg + half,
            bevel_mm=height_mm * 0.3,
        )
        for half in (0.0, 180.0)
    )
    return (disc, *leaves)


def blade(at: Point, *, width_mm: float, thickness_mm: float, top_mm: float, length_mm: float) -> Extruded:
    """Return a terminal that points straight down into the box from `top_mm`; wide along x."""
    return Extruded(
        outline=Outline(kind="rectangle", width_mm=width_mm, height_mm=thickness_mm),
        bottom_mm=top_mm - length_mm,
        top_mm=top_mm,
        material=SOLDER,
        at=at,
    )


def lug(at: Point, *, width_mm: float, length_mm: float, eye_mm: float, middle_mm: float) -> tuple[Solid, ...]:
    """Return a flat solder lug that lies parallel to the panel and points to -y, its eye at `at`.

    `length_mm` runs from the eye's centre back to the body; `middle_mm` is the height it lies at.
    """
    half = 0.25  # half of a 0.5 mm sheet: common practice, no source
    return (
        Extruded(
            outline=Outline(kind="circle", width_mm=width_mm),
            bottom_mm=middle_mm - half,
            top_mm=middle_mm + half,
            material=SOLDER,
            at=at,
            bore_mm=eye_mm,
        ),
        Extruded(
            outline=Outline(kind="rectangle", width_mm=width_mm * 0.7, height_mm=length_mm - eye_mm / 2),
            bottom_mm=middle_mm - half + 0.02,  # not in one plane with the eye's ring
            top_mm=middle_mm + half - 0.02,
            material=SOLDER,
            at=(at[0], at[1] + (length_mm + eye_mm / 2) / 2),
        ),
    )
