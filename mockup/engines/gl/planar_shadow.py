"""The ground's light: the pedal's planar shadow, once for each light sample, then what reaches the ground."""

from __future__ import annotations

from typing import Any

from OpenGL import GL

from mockup.engines.appearance.samples import Floats
from mockup.engines.gl.batch import Cast, posed
from mockup.engines.gl.resources import FullScreen, Programs, RenderTarget, Targets, bind
from mockup.engines.gl.settings import Effort

_BLOCKED = 4  # texture unit
_COPIES = 32  # light samples thrown in one call: their matrices fit the uniforms of every OpenGL 3.3 driver


class PlanarShadow:
    """Pictures of the ground by their width: the share of blocked samples, and the light that is left."""

    def __init__(self, programs: Programs, triangle: FullScreen, targets: Targets) -> None:
        self._programs, self._triangle, self._targets = programs, triangle, targets

    def of(self, effort: Effort) -> RenderTarget:
        """Return the ground's picture of an effort, made the first time."""
        size = effort.floor_px
        return self._targets.of(f"ground {size}", size, size, mips=True)

    def draw(
        self, effort: Effort, thrown: tuple[Floats, Floats], model: Floats, cast: Cast, values: dict[str, Any]
    ) -> None:
        """Draw the ground's picture: `thrown` are planar shadow matrices and weights, `values` the light's uniforms."""
        size = effort.floor_px
        ground, blocked = self.of(effort), self._targets.of(f"blocked {size}", size, size, depth=True)
        blocked.begin(0.0, 0.0, 0.0, 0.0)
        if cast:
            self._throw(thrown, model, cast)
        ground.begin(0.0, 0.0, 0.0, 0.0)
        boxes, walls = (len(values.get(name, ())) for name in ("uBoxLight", "uWallLight"))
        program = self._programs.use("full_screen.vert", "ground_light.frag", BOXES=boxes, WALLS=walls)
        bind(_BLOCKED, blocked.texture)
        program.set(**values, uReach=_BLOCKED)
        self._triangle.draw()
        ground.refresh_mips()

    def _throw(self, thrown: tuple[Floats, Floats], model: Floats, cast: Cast) -> None:
        GL.glEnable(GL.GL_BLEND)
        GL.glBlendFunc(GL.GL_ONE, GL.GL_ONE)
        GL.glDepthFunc(GL.GL_LESS)
        GL.glEnable(GL.GL_CULL_FACE)  # what faces the light casts the whole shadow
        matrices, weights = thrown
        step = -1.0 / (len(matrices) + 1)
        for start in range(0, len(matrices), _COPIES):
            some = slice(start, start + _COPIES)
            program = self._programs.use("planar_shadow.vert", "planar_shadow.frag", COPIES=len(matrices[some]))
            program.set(uThrow=matrices[some], uWeight=weights[some], uOrder=(1.0 + step * (start + 1), step))
            for solid, pose in cast:
                program.set(uModel=posed(model, pose))
                solid.draw(len(matrices[some]))
        GL.glDisable(GL.GL_CULL_FACE)
        GL.glDisable(GL.GL_BLEND)
