"""What holds parts to a panel, as solids: threaded bushings, nuts, washers, screws, solder lugs.

Every function works in the part frame in millimetres with z = 0 on the panel's outer surface.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

from mockup.model.material import NICKEL, SOLDER, STEEL, TURNED_ALUMINIUM, Material
from mockup.model.part import (
    MEMORY,
    PRACTICE,
    STATED_PANEL_MM,
    TRAVEL_DEG,
    Cutout,
    Fitting,
    Mounting,
    Shaft,
    Thread,
)
from mockup.model.shape import Extruded, Outline, Point, Solid, Turned, block, lowered, rod
from mockup.model.units import MM_PER_INCH

THREAD_DEPTH = 0.61343  # of the pitch, external thread, 17/24 H of a 60 degree triangle: ISO 68-1, from memory
INTO_HOLE_MM = -1.5  # how far a bushing is drawn into its hole; panels are thicker: common practice, no source
FIT_MM = 0.05  # radial gap between a bushing and its nut, so that the eye sees two parts: common practice, no source

_METRIC = f"ISO 261 fine pitch, {MEMORY}; basic major diameter is the designation's"
_INCH = f"ASME B1.1, {MEMORY}; basic major diameter is the designation's, exact at 25.4 mm to the inch"
_UNLISTED = f"{PRACTICE}: a fine pitch that ISO 261 does not list; the major diameter is the designation's"


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
    lock_mm: float = 0.5  # thickness of a toothed lock washer: from memory

    @property
    def sources(self) -> dict[str, str]:
        """Where the hole, the thread, the nut and the washers come from."""
        return {
            "drill": PRACTICE,
            "thread": f"{self.thread_source}; its length: {MEMORY}",
            "nut": PRACTICE,
            "washer": PRACTICE,
            "inside": f"inner nut and lock washer: {MEMORY}",
        }

    def mounting(self, out_mm: float, *, inner: str = "lock washer") -> Mounting:
        """Return washer and nut outside and what lies inside, for a thread that ends `out_mm` above the stated panel.

        `inner`: "nut" for a nut run down to the shoulder with a lock washer on it, "lock washer", or "" for neither.
        """
        inside = (self.lock_washer, self.nut)[: {"nut": 2, "lock washer": 1, "": 0}[inner]]
        shoulder = sum(each.thickness_mm for each in inside)
        return Mounting(
            inside=inside,
            outside=(self.washer, self.nut),
            shoulder_mm=shoulder,
            thread_mm=shoulder + STATED_PANEL_MM + out_mm,
        )

    @property
    def nut(self) -> Fitting:
        """The nut."""
        return Fitting(name="nut", across_mm=self.flats_mm, thickness_mm=self.nut_mm)

    @property
    def washer(self) -> Fitting:
        """The flat washer under the nut outside."""
        return Fitting(name="washer", across_mm=self.washer_mm, thickness_mm=self.washer_thickness_mm)

    @property
    def lock_washer(self) -> Fitting:
        """The toothed washer inside, which keeps the part from turning; a little wider than the nut: from memory."""
        return Fitting(name="lock washer", across_mm=self.flats_mm + 1.0, thickness_mm=self.lock_mm)

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


def _metric(text: str, major_mm: float, pitch_mm: float) -> Thread:
    return Thread(designation=text, major_mm=major_mm, pitch_mm=pitch_mm)


def _fixing(
    thread: Thread, source: str, drill_mm: float, flats_mm: float, nut_mm: float, washer_mm: float,
    *, lock_mm: float = 0.5,
) -> Fixing:  # fmt: skip
    return Fixing(
        thread=thread, thread_source=source, drill_mm=drill_mm, flats_mm=flats_mm, nut_mm=nut_mm,
        washer_mm=washer_mm, lock_mm=lock_mm,
    )  # fmt: skip


# Thread and its source; then drill, also wide enough where paint lies on the hole's wall, nut across its flats,
# nut's thickness, washer: common practice, no source; lock washer's thickness: from memory.
NO_10 = _fixing(_inch("10-48 UNS", 0.19, 48), _INCH, 13 / 64 * MM_PER_INCH, 1 / 4 * MM_PER_INCH, 1.5, 7.5, lock_mm=0.4)
M7 = _fixing(_metric("M7x0.75", 7.0, 0.75), _METRIC, 7.5, 10.0, 2.0, 12.0)
M8 = _fixing(_metric("M8x0.75", 8.0, 0.75), _METRIC, 8.5, 10.0, 2.0, 12.0)
M9 = _fixing(_metric("M9x0.75", 9.0, 0.75), _METRIC, 9.5, 12.0, 2.0, 14.0)
M12 = _fixing(_metric("M12x0.75", 12.0, 0.75), _UNLISTED, 12.5, 14.0, 2.2, 17.0, lock_mm=0.6)
QUARTER = _fixing(_inch("1/4-40 UNS", 1 / 4, 40), _INCH, 6.6, 5 / 16 * MM_PER_INCH, 2.0, 10.0)
THREE_EIGHTHS = _fixing(_inch("3/8-32 UNEF", 3 / 8, 32), _INCH, 10.0, 1 / 2 * MM_PER_INCH, 2.4, 15.5, lock_mm=0.6)
FIFTEEN_32NDS = _fixing(_inch("15/32-32 UNS", 15 / 32, 32), _INCH, 12.5, 9 / 16 * MM_PER_INCH, 2.4, 17.5, lock_mm=0.6)


def hung(body: Iterable[Solid], mounting: Mounting, bore_mm: float) -> tuple[Solid, ...]:
    """Return a part's body with its shoulder where the nut and washer inside leave it, those, and the bushing in them.

    A lock washer is a plain ring, its teeth being in its bore; edges that nobody sees are not broken.
    """
    found, top = [*lowered(body, mounting.shoulder_mm)], 0.0
    for each in mounting.inside:
        bottom = top - each.thickness_mm
        if each.name == "nut":
            found.append(replace(nut(each.across_mm, bore_mm, bottom, each.thickness_mm), bevel_mm=0.0))
        else:
            bore = bore_mm / 2 + FIT_MM
            found.append(rod(each.across_mm / 2, (bottom, top), STEEL, bore_radius_mm=bore))
        top = bottom
    if mounting.shoulder_mm:
        found.append(rod(bore_mm / 2, (-mounting.shoulder_mm, 0.0), STEEL))
    return tuple(found)


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
        nut_top_mm=fixing.nut_top_mm,
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
    disc = rod(head_mm / 2, (seat_mm, halfway), STEEL, at=at)
    return disc, *halves(head_mm, slot_mm, (halfway, top), STEEL, bevel_mm=height_mm * 0.3, turn_deg=turn_deg, at=at)


def halves(
    diameter_mm: float,
    slot_mm: float,
    heights_mm: Point,
    material: Material,
    *,
    bevel_mm: float,
    turn_deg: float = 0.0,
    at: Point = (0.0, 0.0),
) -> tuple[Solid, ...]:
    """Return the two halves of a round end that a slot splits, between two heights."""
    leaf = Outline(kind="d", width_mm=diameter_mm, height_mm=(diameter_mm - slot_mm) / 2)
    bottom, top = heights_mm
    half = Extruded(outline=leaf, bottom_mm=bottom, top_mm=top, material=material, at=at, bevel_mm=bevel_mm)
    return tuple(replace(half, rotation_deg=turn_deg + turn) for turn in (0.0, 180.0))


def flatted(diameter_mm: float, bottom_mm: float, top_mm: float) -> Extruded:
    """Return the end of a shaft with a flat for a knob's screw, between two heights."""
    flat = Outline(kind="d", width_mm=diameter_mm, height_mm=4.5)  # 1.5 mm deep in 6 mm: common practice, no source
    return Extruded(outline=flat, bottom_mm=bottom_mm, top_mm=top_mm, material=TURNED_ALUMINIUM, bevel_mm=0.4)


def blade(at: Point, *, width_mm: float, thickness_mm: float, top_mm: float, length_mm: float) -> Extruded:
    """Return a terminal that points straight down into the box from `top_mm`; wide along x."""
    return block((width_mm, thickness_mm), (top_mm - length_mm, top_mm), SOLDER, at=at)


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
