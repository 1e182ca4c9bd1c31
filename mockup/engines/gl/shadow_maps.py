"""The shadow pass: depth maps from every light sample, kept while what they show stays."""

from __future__ import annotations

from collections.abc import Iterator

from OpenGL import GL

from mockup.engines.appearance.samples import Floats
from mockup.engines.gl.batch import Cast, posed
from mockup.engines.gl.frame_light import LightPass
from mockup.engines.gl.resources import Programs, ShadowMapLayers
from mockup.engines.gl.settings import Effort

_AT_ONCE = 2  # depth maps drawn in one piece: by eye


class ShadowMaps:
    """Depth maps by their size and number; each set holds those of the pass that was drawn last."""

    def __init__(self, programs: Programs) -> None:
        self._programs = programs
        self._maps: dict[tuple[int, int], ShadowMapLayers] = {}
        self._drawn: dict[Effort, tuple[object, int]] = {}

    def of(self, effort: Effort, layers: int) -> ShadowMapLayers:
        """Return the maps of an effort, made the first time."""
        size = (effort.map_px, max(layers, 1))
        if size not in self._maps:
            self._maps[size] = ShadowMapLayers(*size)
        return self._maps[size]

    def draw(self, effort: Effort, light: LightPass, model: Floats, cast: Cast, key: object) -> Iterator[None]:
        """Draw the maps of one pass unless they are there already for this `key`; yields between its pieces."""
        if self._drawn.get(effort) == (key, light.index):
            return
        self._drawn.pop(effort, None)
        maps = self.of(effort, len(light.matrices))
        for start in range(0, len(light.matrices), _AT_ONCE):
            if start:
                yield
            self._draw(maps, start, light.matrices[start : start + _AT_ONCE], model, cast)
        self._drawn[effort] = key, light.index

    def _draw(self, maps: ShadowMapLayers, first: int, matrices: tuple[Floats, ...], model: Floats, cast: Cast) -> None:
        GL.glEnable(GL.GL_DEPTH_TEST)
        GL.glEnable(GL.GL_POLYGON_OFFSET_FILL)
        GL.glPolygonOffset(1.5, 3.0)
        GL.glDepthFunc(GL.GL_LESS)
        GL.glEnable(GL.GL_CULL_FACE)
        program = self._programs.use("surface.vert", "depth.frag")
        for layer, matrix in enumerate(matrices, first):
            maps.begin(layer)
            for solid, pose in cast:
                program.set(uModel=posed(model, pose), uViewProj=matrix)
                solid.draw()
        GL.glDisable(GL.GL_CULL_FACE)
        GL.glDisable(GL.GL_POLYGON_OFFSET_FILL)

    def delete(self) -> None:
        """Free the maps; the next picture makes them again."""
        for maps in self._maps.values():
            maps.delete()
        self._maps, self._drawn = {}, {}
