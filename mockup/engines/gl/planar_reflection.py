"""What a flat mirror shows: what stands before it, drawn once more as its image behind it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Any

import numpy as np
from OpenGL import GL

from mockup.engines.appearance.samples import Floats
from mockup.engines.gl import projections
from mockup.engines.gl.resources import GpuMesh, Programs, RenderTarget, Targets, bind

_MIRROR, _HEIGHT = 5, 6  # texture units, after the studio's

Eye = tuple[float, float, float, float]
"""A place and 1, or the way to an orthographic camera and 0."""
Shade = Callable[[Floats, Eye, int], None]
"""Draws lit surfaces for world to clip and an eye, so many times smaller than the picture."""


class PlanarReflection:
    """The picture in one mirror and the heights that go with it; `name` tells its targets from others'.

    Both are `share` times smaller than the picture that they are for.
    A plane is (4,): unit normal and offset, so that its product with (x, y, z, 1) is the height before it in mm.
    """

    def __init__(self, programs: Programs, targets: Targets, name: str, share: int) -> None:
        self._programs, self._targets, self._name, self._share = programs, targets, name, share
        self._size, self._view = (1, 1), np.eye(4)

    def draw_heights(
        self,
        size: tuple[int, int],
        view: Floats,
        plane: Floats,
        sphere: tuple[Floats, float],
        solids: Iterable[tuple[GpuMesh, Floats]],
    ) -> None:
        """Draw how high before the mirror is what it shows: solids and where they stand, all within a sphere."""
        self._size = (max(size[0] // self._share, 1), max(size[1] // self._share, 1))
        height = self._mirrored()[1]
        height.begin(0.0, 0.0, 0.0, 0.0)
        GL.glDepthFunc(GL.GL_LESS)
        program = self._programs.use("surface.vert", "height.frag")
        program.set(uViewProj=projections.mirrored(view, plane, *sphere), uPlane=plane)
        for solid, place in solids:
            program.set(uModel=place)
            solid.draw()
        height.refresh_mips()

    def draw_picture(
        self, view: Floats, eye: Eye, plane: Floats, sphere: tuple[Floats, float], shade: Shade, bands: int
    ) -> Iterator[None]:
        """Draw what it shows in so many strips, and yield after each; the heights come first."""
        self._view = view
        picture = self._mirrored()[0]
        picture.begin(0.0, 0.0, 0.0, 0.0)
        x, y, z, w = (float(value) for value in projections.mirror(plane) @ eye)
        matrix = projections.mirrored(view, plane, *sphere)
        for band in range(bands):
            picture.resume()
            picture.strip(band, bands)
            shade(matrix, (x, y, z, w), self._share)
            GL.glDisable(GL.GL_SCISSOR_TEST)
            if band == bands - 1:
                picture.refresh_mips()
            yield

    def values(self) -> dict[str, Any]:
        """Bind both pictures, and return the uniforms that name them."""
        for unit, target in zip((_MIRROR, _HEIGHT), self._mirrored(), strict=True):
            bind(unit, target.texture)
        return {"uMirror": _MIRROR, "uMirrorHeight": _HEIGHT, "uMirrorView": self._view}

    def _mirrored(self) -> tuple[RenderTarget, RenderTarget]:
        """Return the picture and the heights."""
        picture, height = (
            self._targets.of(f"{name} in {self._name}", *self._size, depth=True, mips=True)
            for name in ("picture", "heights")
        )
        return picture, height
