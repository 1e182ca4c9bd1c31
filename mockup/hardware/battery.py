"""Batteries that lie inside the box: the 9 V block, terminals towards the far side."""

from __future__ import annotations

from mockup.model.material import BLACK_PLASTIC, BRASS, NICKEL, Material
from mockup.model.part import MEMORY, PRACTICE, Kind
from mockup.model.shape import Solid, Turned, block

LENGTH_MM = 48.5  # overall, terminals included, largest: IEC 60086-2:2011 7.6.1.12 (6LR61), by liquisearch.com
WIDTH_MM = 26.5  # largest: as LENGTH_MM
THICKNESS_MM = 17.5  # largest: as LENGTH_MM
APART_MM = 12.7  # terminals, centre to centre: as LENGTH_MM
STUD_MM = 2.7  # how far the terminals stand out: from memory
CAN_SHARE = 0.68  # share of the length in the sleeve's darker colour: common practice, no source
SLEEVE = Material(name="sleeve", base_color=(0.025, 0.028, 0.035), metallic=0.4, roughness=0.35)  # practice
BAND = Material(name="band", base_color=(0.55, 0.24, 0.10), metallic=0.8, roughness=0.35)  # common practice, no source


def kinds() -> tuple[Kind, ...]:
    """Return the 9 V block lying flat, its length along y."""
    return (
        Kind(
            name="battery-9v",
            family="battery",
            about="9 V block, lying flat in the box (allow 8 mm more for its clip)",
            below=_body(),
            mount="inside",
            sources={
                "body": "IEC 60086-2:2011 7.6.1.12, largest sizes, as liquisearch.com/nine-volt_battery quotes it",
                "terminals": f"distance: IEC 60086-2:2011 7.6.1.12; height: {MEMORY}; diameters: {PRACTICE}",
            },
        ),
    )


def _body() -> tuple[Solid, ...]:
    back, front = -LENGTH_MM / 2, LENGTH_MM / 2 - STUD_MM
    cut = back + (front - back) * CAN_SHARE
    can = (
        block((WIDTH_MM, high - low), (-THICKNESS_MM, 0.0), material, at=(0.0, (low + high) / 2))
        for low, high, material in ((back, cut, SLEEVE), (cut, front - 0.8, BAND), (front - 0.8, front, BLACK_PLASTIC))
    )
    return (*can, _stud(-APART_MM / 2, front), _snap(APART_MM / 2, front))


def _stud(x: float, y: float) -> Turned:
    """Return the smaller terminal, a button with a waist."""
    z = -THICKNESS_MM / 2
    profile = ((0.0, z - 0.2), (2.6, z - 0.2), (2.6, z + 0.9), (2.9, z + 1.6), (2.6, z + STUD_MM), (0.0, z + STUD_MM))
    return Turned(profile=profile, material=NICKEL, at=(x, y), tilt_deg=90.0, pivot_z_mm=z)


def _snap(x: float, y: float) -> Turned:
    """Return the larger terminal, a cup that grips the other one's kind."""
    z = -THICKNESS_MM / 2
    cup = (
        (0.0, z - 0.2),
        (4.0, z - 0.2),
        (4.2, z + STUD_MM * 0.6),
        (3.9, z + STUD_MM),
        (3.2, z + STUD_MM),
        (3.3, z + 0.5),
        (0.0, z + 0.5),
    )
    return Turned(profile=cup, material=BRASS, at=(x, y), tilt_deg=90.0, pivot_z_mm=z)
