"""A polished ground's mirror picture: the pedal upside down, drawn once for all passes of a picture."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
from OpenGL import GL

from mockup.engines.appearance.samples import Floats, lobe
from mockup.engines.gl.batch import Cast, posed
from mockup.engines.gl.resources import Programs, RenderTarget, Targets, bind

_MIRROR, _HEIGHT = 5, 6  # texture units, after the studio's
_SHARE = 2  # it is drawn so many times smaller than the picture: the floor blurs it anyway
_TAPS = {1: 32}  # reads of it in a picture of one pass: by eye
_MANY = 10  # and in each pass of several


class PlanarReflection:
    """Keeps the mirror picture and the heights that go with it."""

    def __init__(self, programs: Programs, targets: Targets, ground_z: float, roughness: float) -> None:
        self._programs, self._targets = programs, targets
        self._ground_z, self._roughness = ground_z, roughness
        self._size = (0, 0)

    def flipped(self, point: Any, is_place: bool) -> tuple[float, float, float]:
        """Return a place, or a way, as the floor mirrors it."""
        x, y, z = (float(v) for v in point)
        return x, y, (2.0 * self._ground_z if is_place else 0.0) - z

    def draw(
        self, size: tuple[int, int], view: Floats, model: Floats, cast: Cast, shade: Callable[[Floats], None]
    ) -> None:
        """Draw what lies below the mirror: `shade` draws the lit surfaces for a camera matrix, over their depth."""
        self._size = (max(size[0] // _SHARE, 1), max(size[1] // _SHARE, 1))
        picture, height = self._mirrored()
        flip = np.diag([1.0, 1.0, -1.0, 1.0])
        flip[2, 3] = 2.0 * self._ground_z
        matrix = np.asarray(view @ flip)
        GL.glDepthFunc(GL.GL_LESS)
        height.begin(0.0, 0.0, 0.0, 0.0)
        program = self._programs.use("surface.vert", "height.frag")
        for solid, pose in cast:
            program.set(uModel=posed(model, pose), uViewProj=matrix, uGroundZ=self._ground_z)
            solid.draw()
        height.refresh_mips()
        picture.begin(0.0, 0.0, 0.0, 0.0)
        shade(matrix)
        picture.refresh_mips()

    def values(self, index: int, passes: int) -> dict[str, Any]:
        """Return the ground shader's uniforms for one pass."""
        picture, height = self._mirrored()
        bind(_MIRROR, picture.texture)
        bind(_HEIGHT, height.texture)
        spread = lobe(self.taps(passes) * passes)[index::passes]
        return {"uMirror": _MIRROR, "uMirrorHeight": _HEIGHT, "uPolish": self._roughness, "uSpread": spread}

    def taps(self, passes: int) -> int:
        """Return how often one pass reads the mirror picture."""
        return _TAPS.get(passes, _MANY)

    def _mirrored(self) -> tuple[RenderTarget, RenderTarget]:
        """Return the picture and the heights."""
        picture, height = (
            self._targets.of(name, *self._size, depth=True, mips=True) for name in ("mirror", "mirror heights")
        )
        return picture, height
