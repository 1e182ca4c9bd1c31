"""A part as it would stand on a face, in outlines: its knob, its nut, its hole, and its body inside."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from mockup.clearance.figures import Figure, behind, of_bore, stack
from mockup.clearance.placed import knob_figure
from mockup.enclosure.bores import bores_of
from mockup.model.design import Placement

Uv = tuple[float, float]
Layer = Literal["body", "knob", "nut", "hole"]
_AROUND = 48  # corners of a round outline: by eye


@dataclass(frozen=True, kw_only=True)
class GhostLine:
    """One closed outline (u, v) of a ghost, and what of the part it is."""

    layer: Layer
    points: tuple[Uv, ...]


def ghost(part: Placement) -> tuple[GhostLine, ...]:
    """Return a part's outlines on its face, what is undermost first."""
    knob = knob_figure(part)
    layers: tuple[tuple[Layer, list[Figure]], ...] = (
        ("body", list(behind(part))),
        ("knob", [knob] if knob is not None else []),
        ("nut", list(stack(part))),
        ("hole", [of_bore(bore) for bore in bores_of(part)]),
    )
    return tuple(GhostLine(layer=layer, points=outline(figure)) for layer, figures in layers for figure in figures)


def outline(figure: Figure) -> tuple[Uv, ...]:
    """Return the outline of a figure: at each direction the farthest corner of its core, a radius farther out."""
    angles = np.linspace(0.0, 2 * math.pi, _AROUND, endpoint=False)
    ways = np.stack([np.cos(angles), np.sin(angles)], axis=1)
    farthest = figure.core[np.argmax(figure.core @ ways.T, axis=0)]
    return tuple((float(u), float(v)) for u, v in farthest + figure.radius_mm * ways)
