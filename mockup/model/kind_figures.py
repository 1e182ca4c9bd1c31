"""The three figures that a caliper reads off a part, and a kind like another with figures of its own."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from mockup.model.part import Cutout, Kind
from mockup.model.shape import Extruded, Solid, lowered, turned


@dataclass(frozen=True, kw_only=True)
class KindFigures:
    """Millimetres: across the first hole (0 for none), across the body at its widest, and how deep it goes."""

    hole_mm: float
    body_mm: float
    depth_mm: float


def kind_figures(kind: Kind) -> KindFigures:
    """Return the three figures of a kind; terminals count for the depth."""
    return KindFigures(
        hole_mm=kind.cutouts[0].outline.width_mm if kind.cutouts else 0.0,
        body_mm=max((_across(solid) for solid in kind.below), default=0.0),
        depth_mm=kind.depth_mm,
    )


def kind_like(
    kind: Kind, name: str, *, hole_mm: float | None = None, body_mm: float | None = None, depth_mm: float | None = None
) -> Kind:
    """Return a kind of another name in the form of one that there is, with the figures that are given.

    What shows above the panel, its thread and its shaft stay as they are; the body keeps its proportions across. Nut
    and washer between its shoulder and the panel keep their thickness, as long as the depth leaves room for them.
    """
    now = kind_figures(kind)
    wide = body_mm / now.body_mm if body_mm is not None and now.body_mm else 1.0
    deep, held = 1.0, kind.mounting.shoulder_mm
    if depth_mm is not None and now.depth_mm:
        held = held if depth_mm > 2.0 * held else 0.0
        deep = (depth_mm - held) / (now.depth_mm - held)
    cutouts = kind.cutouts
    if hole_mm is not None and cutouts:
        cutouts = (_drilled(cutouts[0], hole_mm), *cutouts[1:])
    return replace(kind, name=name, cutouts=cutouts, below=tuple(_hung(each, wide, deep, held) for each in kind.below))


def _hung(solid: Solid, wide: float, deep: float, held_mm: float) -> Solid:
    """Return a solid sized; what lies between shoulder and panel is no thicker for it, the rest hangs below."""
    if held_mm and solid.bottom_mm >= -held_mm - 1e-9:
        return _sized(solid, wide, 1.0)
    (at_shoulder,) = lowered((solid,), -held_mm)
    return lowered((_sized(at_shoulder, wide, deep),), held_mm)[0]


def _drilled(cutout: Cutout, hole_mm: float) -> Cutout:
    outline = cutout.outline
    by = hole_mm / outline.width_mm
    height, corner = outline.height_mm * by, outline.corner_mm * by
    return replace(cutout, outline=replace(outline, width_mm=hole_mm, height_mm=height, corner_mm=corner))


def _across(solid: Solid) -> float:
    """Return how wide a solid is across the panel, along whichever axis is longer."""
    if isinstance(solid, Extruded):
        outline = solid.outline
        if outline.kind == "hexagon":
            return outline.width_mm / math.cos(math.radians(30.0))  # across its corners
        return max(turned(outline.width_mm, outline.height_mm or outline.width_mm, solid.rotation_deg))
    wide, long, lean = 2 * solid.radius_mm, solid.top_mm - solid.bottom_mm, math.radians(solid.tilt_deg)
    return max(wide, abs(long * math.sin(lean)) + wide * abs(math.cos(lean)))


def _sized(solid: Solid, wide: float, deep: float) -> Solid:
    """Return a solid so much wider across the panel and deeper behind it; one that lies is so much longer."""
    at = (solid.at[0] * wide, solid.at[1] * wide)
    if isinstance(solid, Extruded):
        outline = solid.outline
        sized = replace(
            outline, width_mm=outline.width_mm * wide, height_mm=outline.height_mm * wide,
            corner_mm=outline.corner_mm * wide,
        )  # fmt: skip
        return replace(
            solid, outline=sized, bottom_mm=solid.bottom_mm * deep, top_mm=solid.top_mm * deep, at=at,
            bevel_mm=solid.bevel_mm * min(wide, deep), bore_mm=solid.bore_mm * wide,
        )  # fmt: skip
    is_lying = abs(math.sin(math.radians(solid.tilt_deg))) > math.sqrt(0.5)
    thick, long = (deep, wide) if is_lying else (wide, deep)
    pivot = solid.pivot_z_mm
    profile = tuple((r * thick, pivot * deep + (z - pivot) * long) for r, z in solid.profile)
    return replace(
        solid, profile=profile, at=at, pivot_z_mm=pivot * deep, flute_depth_mm=solid.flute_depth_mm * thick,
        flute_from_mm=solid.flute_from_mm * thick,
    )  # fmt: skip
