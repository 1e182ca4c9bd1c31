"""Slide switches: a ribbed actuator in a slot between two screws."""

from __future__ import annotations

from mockup.hardware._fixings import INTO_HOLE_MM, blade, slotted_screw
from mockup.model.material import BLACK_PLASTIC, PHENOLIC, STEEL
from mockup.model.part import MEMORY, PRACTICE, Cutout, Fitting, Kind, Mounting
from mockup.model.shape import Extruded, Outline, Solid, block

SLOT_MM = (15.0, 6.6)  # length, width: common practice, no source
SCREWS_MM = 28.0  # apart: common practice, no source
SCREW_HOLE_MM = 3.2  # ISO 273 fine series, M3
HEAD_MM = (5.6, 1.8, 0.8)  # diameter, height, slot: ISO 1580 M3, from memory
ACTUATOR_MM = (6.4, 5.4)  # along the slot, across it: common practice, no source
ACTUATOR_TOP_MM = 2.6  # above the panel: common practice, no source
TRAVEL_MM = 6.0  # common practice, no source
FRAME_MM = (35.0, 12.6, 0.8)  # length, width, thickness: common practice, no source
BODY_MM = (23.0, 11.6, 9.0)  # length, width, depth: common practice, no source
TERMINAL_MM = (1.6, 4.2)  # width, length: common practice, no source


def kinds() -> tuple[Kind, ...]:
    """Return the slide switch; it slides along x and stands at its left end."""
    screws = ((-SCREWS_MM / 2, 0.0), (SCREWS_MM / 2, 0.0))
    head, height, slot = HEAD_MM
    slot_outline = Outline(kind="slot", width_mm=SLOT_MM[0], height_mm=SLOT_MM[1])
    screw_outline = Outline(kind="circle", width_mm=SCREW_HOLE_MM)
    return (
        Kind(
            name="slide-switch",
            family="slide-switch",
            about="Slide switch in a slot, two M3 screws 28 mm apart",
            cutouts=(
                Cutout(outline=slot_outline, purpose="slot"),
                *(Cutout(outline=screw_outline, at=at, purpose="screw") for at in screws),
            ),
            above=(
                *_actuator(),
                *(
                    each
                    for at, turn in zip(screws, (35.0, 80.0), strict=True)  # as a screwdriver happens to leave them
                    for each in slotted_screw(at, head_mm=head, height_mm=height, slot_mm=slot, turn_deg=turn)
                ),
            ),
            below=_body(),
            mounting=Mounting(outside=(Fitting(name="M3 screw", across_mm=head, thickness_mm=height, count=2),)),
            sources={
                "drill": f"slot and distance of the screws: {PRACTICE}; screw holes: ISO 273:1979, fine series, M3",
                "screw": f"ISO 1580 M3, {MEMORY}",
                "actuator": PRACTICE,
                "body": PRACTICE,
                "terminals": PRACTICE,
            },
        ),
    )


def _actuator() -> tuple[Solid, ...]:
    """Return the block and three grip ribs across its top."""
    length, width = ACTUATOR_MM
    x = -TRAVEL_MM / 2
    body = block(
        (length, width), (INTO_HOLE_MM, ACTUATOR_TOP_MM - 0.5), BLACK_PLASTIC, at=(x, 0.0), corner_mm=0.3, bevel_mm=0.2
    )
    ribs = (
        block(
            (1.1, width - 0.5),
            (ACTUATOR_TOP_MM - 0.6, ACTUATOR_TOP_MM),
            BLACK_PLASTIC,
            at=(x + shift, 0.0),
            bevel_mm=0.3,
        )
        for shift in (-2.2, 0.0, 2.2)
    )
    return (body, *ribs)


def _body() -> tuple[Solid, ...]:
    length, width, thickness = FRAME_MM
    long, wide, depth = BODY_MM
    frame = block((length, width), (-thickness, 0.0), STEEL, corner_mm=2.0)
    well = Extruded(  # what the eye meets through the slot beside the actuator
        outline=Outline(kind="slot", width_mm=SLOT_MM[0] - 0.2, height_mm=SLOT_MM[1] - 0.2),
        bottom_mm=-0.3,
        top_mm=0.05,
        material=PHENOLIC,
    )
    case = block((long, wide), (-depth, -thickness), STEEL, corner_mm=0.5)
    base = block((long - 0.6, wide - 0.6), (-depth - 0.6, -depth), PHENOLIC)
    terminals = (
        blade(
            (x * 5.6, y * 3.0), width_mm=TERMINAL_MM[0], thickness_mm=0.5, top_mm=-depth - 0.6, length_mm=TERMINAL_MM[1]
        )
        for x in (-1, 0, 1)
        for y in (-1, 1)
    )
    return (frame, well, case, base, *terminals)
