"""Solids of hardware as triangles: one door for turned and extruded ones."""

from __future__ import annotations

from mockup.geometry.extrude import extruded
from mockup.geometry.planar import FINE_CHORD_MM
from mockup.geometry.revolve import revolved
from mockup.model.mesh import Mesh
from mockup.model.shape import Solid, Turned


def tessellate(solid: Solid, chord_mm: float = FINE_CHORD_MM) -> Mesh:
    """Return a closed mesh of a solid in its part frame, millimetres.

    Triangles face outward; vertex normals are the true surface's own, smooth where it is round and
    crisp at edges. Points lie on the true surface; between them it is off by at most `chord_mm`.
    Raises `ValueError` where the solid is impossible.
    """
    return revolved(solid, chord_mm) if isinstance(solid, Turned) else extruded(solid, chord_mm)
