"""One scene on the GPU, drawn from any camera at any turn."""

from __future__ import annotations

from types import TracebackType
from typing import Self

import numpy as np
from OpenGL import GL

from mockup.engines._content import caster, coarse, extent
from mockup.engines._glow import with_glow
from mockup.engines._lens import axis
from mockup.engines._samples import pixel_filter
from mockup.engines.raster.batch import Batch, Casters, lay_depth, set_paint
from mockup.engines.raster.context import make_current
from mockup.engines.raster.gpu import Picture, Programs, Solid, Target, bind
from mockup.engines.raster.settings import EFFORTS, Effort
from mockup.engines.raster.studio import Studio
from mockup.engines.raster.views import camera, jittered, turn
from mockup.model.errors import EngineError
from mockup.model.mesh import joined
from mockup.model.scene import Body, Frame, Group, Point3, Scene, Shot


class RasterSession:
    """A scene that stays on the GPU; every picture changes only the camera, the turn and what is hidden."""

    def __init__(self, scene: Scene) -> None:
        self._scene = scene
        self._extent = extent(scene)
        self._programs = Programs()
        self._pictures: dict[int, Picture] = {}
        found = _grouped(scene.bodies, self._extent.centre)
        self._batches = [self._batch(bodies, axis) for axis, bodies in found]
        self._solids: dict[tuple[frozenset[Group], float], Solid | None] = {}
        self._targets: dict[str, Target] = {}
        self._studio = Studio(scene, self._programs)
        self._open = True

    def render(self, shot: Shot) -> Frame:
        """Return one picture; `EngineError` once the session is closed."""
        if not self._open:
            raise EngineError("this render session is closed")
        make_current()
        GL.glEnable(GL.GL_DEPTH_TEST)
        GL.glDisable(GL.GL_CULL_FACE)
        GL.glDisable(GL.GL_BLEND)
        effort = EFFORTS[shot.quality]
        visible = [batch for batch in self._batches if batch.group not in shot.hidden]
        pixels = self._many_passes(shot, effort, visible)
        if shot.look == "photo" and shot.quality != "draft":
            pixels = with_glow(pixels)
        return Frame(
            pixels=pixels,
            facts={
                "engine": "raster",
                "look": shot.look,
                "passes": str(effort.passes),
                "gl": GL.glGetString(GL.GL_RENDERER).decode("ascii", "replace"),
            },
        )

    def close(self) -> None:
        """Free everything on the GPU; the context itself is kept for the next session."""
        if not self._open:
            return
        self._open = False
        make_current()
        self._studio.delete()
        for target in self._targets.values():
            target.delete()
        for solid in self._solids.values():
            if solid is not None:
                solid.delete()
        for batch in self._batches:
            batch.solid.delete()
        for picture in self._pictures.values():
            picture.delete()
        GL.glUseProgram(0)  # a program still in use would outlive its deletion
        self._programs.clear()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def _many_passes(self, shot: Shot, effort: Effort, visible: list[Batch]) -> np.ndarray:
        """Draw every pass and return their mean."""
        width, height = shot.width_px, shot.height_px
        view = camera(shot.camera, width, height, tuple(self._extent.centre), self._studio.far_reach)
        model = turn(shot.turn_deg)
        photo = shot.look == "photo"
        solid = self._solid(shot.hidden)
        if photo:
            cast = self._casters(shot.hidden, effort)
            self._studio.prepare(effort, model, shot, view, cast, visible)
        target = self._target("pass", width, height)
        mean = self._target("mean", width, height, depth=False)
        offsets = pixel_filter(effort.passes)
        if effort.passes > 1:
            mean.begin(0.0, 0.0, 0.0, 0.0)
        for index, offset in enumerate(offsets):
            matrix = jittered(view, offset, width, height)
            if photo:
                self._studio.shine(index, cast)
            target.begin(*(self._studio.background if photo else (0.0, 0.0, 0.0, 0.0)))
            GL.glDepthFunc(GL.GL_LESS)
            self._draw_depth(matrix, model, solid)
            if photo:
                self._studio.draw(shot, matrix, model, visible)
            else:
                self._draw_proof(matrix, model, visible, effort)
            if effort.passes > 1:
                self._combine(target, mean, "copy.frag", 1.0 / effort.passes)
        if effort.passes > 1:
            return mean.read()
        if not photo:
            return target.read()
        self._combine(target, mean, "smooth.frag", None)
        return mean.read()

    def _draw_depth(self, matrix: np.ndarray, model: np.ndarray, solid: Solid | None) -> None:
        """Lay down depth first, so that each pixel is shaded once."""
        if solid is not None:
            lay_depth(self._programs, matrix, model, solid)

    def _draw_proof(self, matrix: np.ndarray, model: np.ndarray, visible: list[Batch], effort: Effort) -> None:
        GL.glDepthFunc(GL.GL_LEQUAL)
        for batch in visible:
            program = self._programs.use("surface.vert", "proof.frag", HAS_PICTURE=int(batch.picture is not None))
            program.set(uModel=model, uViewProj=matrix)
            set_paint(program, batch, effort.passes)
            batch.solid.draw()

    def _combine(self, source: Target, mean: Target, fragment: str, share: float | None) -> None:
        """Put one pass through a screen shader: added to the mean with a share, or in its place."""
        GL.glBindFramebuffer(GL.GL_FRAMEBUFFER, mean.fb)
        GL.glDisable(GL.GL_DEPTH_TEST)
        program = self._programs.use("screen.vert", fragment)
        bind(0, source.texture)
        program.set(uPass=0)
        if share is not None:
            GL.glEnable(GL.GL_BLEND)
            GL.glBlendFunc(GL.GL_ONE, GL.GL_ONE)
            program.set(uShare=share)
        self._studio.cover()
        GL.glDisable(GL.GL_BLEND)
        GL.glEnable(GL.GL_DEPTH_TEST)

    def _target(self, name: str, width: int, height: int, depth: bool = True) -> Target:
        target = self._targets.get(name)
        if target is None or (target.width, target.height) != (width, height):
            if target is not None:
                target.delete()
            target = self._targets[name] = Target(width, height, depth=depth)
        return target

    def _casters(self, hidden: frozenset[Group], effort: Effort) -> Casters:
        """Return what is in view as casters; what a closed box holds casts nothing out of it."""
        inside: frozenset[Group] = frozenset({"inside"})
        closed = hidden if hidden & {"box", "lid"} else hidden | inside
        shadow, ground = self._studio.cells_mm(effort)
        return Casters(
            whole=self._solid(hidden), shadow=self._solid(closed, shadow), ground=self._solid(closed, ground)
        )

    def _solid(self, hidden: frozenset[Group], cell_mm: float = 0.0) -> Solid | None:
        key = (hidden, cell_mm)
        if key not in self._solids:
            mesh = caster(tuple(body for body in self._scene.bodies if body.group not in hidden))
            if mesh is not None and cell_mm:
                mesh = coarse(mesh, cell_mm)
            self._solids[key] = Solid(mesh) if mesh is not None else None
        return self._solids[key]

    def _batch(self, bodies: list[Body], axis: Point3) -> Batch:
        material = bodies[0].material
        picture = None
        if material.texture is not None:
            key = id(material.texture.pixels)
            if key not in self._pictures:
                self._pictures[key] = Picture(material.texture.pixels)
            picture = self._pictures[key]
        solid = Solid(joined(body.mesh for body in bodies))
        return Batch(group=bodies[0].group, material=material, solid=solid, picture=picture, axis=axis)


def _grouped(bodies: tuple[Body, ...], centre: np.ndarray) -> list[tuple[Point3, list[Body]]]:
    """Gather bodies that can share one draw call: same group and material, uv on all or none, lit lenses one axis."""
    found: dict[tuple[object, ...], tuple[Point3, list[Body]]] = {}
    for body in bodies:
        if len(body.mesh.faces):
            m = body.material
            look = (m.base_color, m.metallic, m.roughness, m.coat, m.coat_roughness, m.transmission, m.flake, m.hammer)
            x, y, z = (
                (round(float(v), 3) for v in axis(body, centre))
                if max(m.emission) > 0.0 or m.transmission > 0.0
                else (0.0, 0.0, 1.0)
            )
            picture = id(m.texture) if m.texture else None
            key = (body.group, *look, m.emission, (x, y, z), picture, body.mesh.uv is not None)
            found.setdefault(key, ((x, y, z), []))[1].append(body)
    return list(found.values())
