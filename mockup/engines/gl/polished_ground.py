"""A polished ground: it mirrors the pedal, drawn once for all passes of a picture as the ground blurs it anyway."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from mockup.engines.appearance.samples import Floats, lobe
from mockup.engines.gl.batch import Cast, posed
from mockup.engines.gl.planar_reflection import Eye, PlanarReflection, Shade
from mockup.engines.gl.resources import Programs, Targets

_SHARE = 2  # its mirror pictures are so many times smaller than the picture: it blurs them anyway
_TAPS = {1: 32}  # reads of its mirror picture in a picture of one pass: by eye
_MANY = 10  # and in each pass of several


class PolishedGround:
    """The mirror of a ground at a height (mm), of a roughness (perceptual)."""

    def __init__(self, programs: Programs, targets: Targets, ground_z: float, roughness: float) -> None:
        self._mirror = PlanarReflection(programs, targets, "ground", _SHARE)
        self._plane = np.array((0.0, 0.0, 1.0, -ground_z))
        self._roughness = roughness

    def draw(
        self,
        size: tuple[int, int],
        view: Floats,
        eye: Eye,
        sphere: tuple[Floats, float],
        stands: tuple[Floats, Cast],
        shade: Shade,
    ) -> Iterator[None]:
        """Draw what it mirrors: the pedal's turn and solids, all within a sphere; yields once it is there."""
        model, cast = stands
        solids = [(solid, posed(model, pose)) for solid, pose in cast]
        self._mirror.draw_heights(size, view, self._plane, sphere, solids)
        yield from self._mirror.draw_picture(view, eye, self._plane, sphere, shade, 1)

    def values(self, index: int, passes: int) -> dict[str, Any]:
        """Return the ground shader's uniforms for one pass."""
        spread = lobe(self.taps(passes) * passes)[index::passes]
        return {"uPolish": self._roughness, "uSpread": spread, **self._mirror.values()}

    def taps(self, passes: int) -> int:
        """Return how often one pass reads the mirror picture."""
        return _TAPS.get(passes, _MANY)
