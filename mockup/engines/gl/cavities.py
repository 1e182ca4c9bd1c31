"""Holes that one looks into, as the shaders read them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import numpy as np

from mockup.engines.appearance.samples import Floats
from mockup.engines.gl.batch import posed
from mockup.geometry.poses import axis_under
from mockup.model.scene import Cavity

_MOST = 24  # holes in one scene, the wider first: their uniforms fit every OpenGL 3.3 driver


class CavityUniforms:
    """The holes of one scene; `room` is how many the shaders make room for, the same for every scene with any."""

    def __init__(self, cavities: Iterable[Cavity]) -> None:
        self._cavities = sorted(cavities, key=lambda each: -each.radius_mm)[:_MOST]
        self.room = _MOST if self._cavities else 0

    def values(self, model: Floats, pose: Floats | None, lifted: str | None) -> dict[str, Any]:
        """Return the uniforms for a turn of the pedal; the `lifted` part's holes stand where its `pose` says."""
        if not self._cavities:
            return {}
        places, ways = [], []
        for each in self._cavities:
            at = posed(model, pose if each.part is not None and each.part == lifted else None)
            mouth, way_out = axis_under(at, (each.mouth, each.way_out))
            places.append((*mouth, each.radius_mm))
            ways.append((*way_out, each.depth_mm))
        return {"uCavities": len(places), "uCavity": np.array(places), "uCavityWay": np.array(ways)}
