"""Places on a face that a part cannot have, told for many at once: what is left is worth a close look.

Only what is sure to be a stop is sieved out: holes off the flat, nuts that overlap, a body beyond the walls.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from mockup.checks.panel.built import Built
from mockup.clearance.figures import Figure, of_bore, stack
from mockup.clearance.placed import placed
from mockup.enclosure.bores import bores_of
from mockup.model.design import Placement
from mockup.model.mesh import Floats


def possible(built: Built, part: Placement, places: Floats) -> NDArray[np.bool_]:
    """Return for places (n, 2) on the part's own face whether it may stand there, as far as simple figures say."""
    here = replace(part, u_mm=0.0, v_mm=0.0)
    left = np.ones(len(places), bool)
    if part.kind.mount == "panel":
        left &= _on_flat(built, here, places)
        for other in built.design.parts:
            if other.face == part.face and other.kind.mount == "panel" and other.name != part.name:
                left &= _beside(here, other, places)
    if part.kind.below:
        left &= _within(built, here, places)
    return left


def _on_flat(built: Built, here: Placement, places: Floats) -> NDArray[np.bool_]:
    low_u, low_v, high_u, high_v = built.faces[here.face].flat
    good = np.ones(len(places), bool)
    for bore in bores_of(here):
        hole = of_bore(bore)
        low, high = hole.core.min(axis=0) - hole.radius_mm, hole.core.max(axis=0) + hole.radius_mm
        good &= ((places + low >= (low_u, low_v)) & (places + high <= (high_u, high_v))).all(axis=1)
    return good


def _beside(here: Placement, other: Placement, places: Floats) -> NDArray[np.bool_]:
    good = np.ones(len(places), bool)
    theirs = [(np.array(each.middle), _inscribed_mm(each)) for each in stack(other)]
    for each in stack(here):
        own = _inscribed_mm(each)
        for middle, radius in theirs:
            good &= np.linalg.norm(places + each.middle - middle, axis=1) >= own + radius
    return good


def _within(built: Built, here: Placement, places: Floats) -> NDArray[np.bool_]:
    """Return where the box round a body lies within the box round the hollow, a little slack left."""
    box, face = built.design.enclosure, built.faces[here.face]
    body = placed(box, here, built.design.limits).body
    low, high = (end + body.at for end in body.shape.pieces.bounds)
    shift = places[:, :1] * face.right + places[:, 1:] * face.down
    half = np.array([box.width_mm / 2 - box.wall_mm, box.length_mm / 2 - box.wall_mm])
    floor, ceiling = box.lid_mm - _SLACK_MM, box.height_mm - box.top_mm + _SLACK_MM
    sides = (low[:2] + shift[:, :2] >= -half - _SLACK_MM) & (high[:2] + shift[:, :2] <= half + _SLACK_MM)
    levels = (low[2] + shift[:, 2] >= floor) & (high[2] + shift[:, 2] <= ceiling)
    own = {"left": 0, "right": 0, "near": 1, "far": 1}.get(here.face)
    if here.kind.mount == "panel":  # it hangs from this panel, and may touch it
        if own is not None:
            sides[:, own] = True
        else:
            levels = low[2] + shift[:, 2] >= floor
    kept: NDArray[np.bool_] = sides.all(axis=1) & levels
    return kept


_SLACK_MM = 0.05  # what is sieved out overlaps by more than rounding


def _inscribed_mm(figure: Figure) -> float:
    """Return the radius of a circle about a figure's middle that lies inside it."""
    if len(figure.core) < 3:
        return figure.radius_mm
    along = np.roll(figure.core, -1, axis=0) - figure.core
    away = np.array(figure.middle) - figure.core
    far = np.abs(along[:, 0] * away[:, 1] - along[:, 1] * away[:, 0]) / np.linalg.norm(along, axis=1)
    return float(far.min()) + figure.radius_mm
