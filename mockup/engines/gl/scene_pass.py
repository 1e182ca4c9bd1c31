"""The lit scene on the GPU: shadows from every lamp, the ground, the pedal in its own mirrors."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

import numpy as np
from OpenGL import GL

from mockup.engines.appearance.content import FADE, extent, glows, mean_colour, panel
from mockup.engines.appearance.samples import Floats, disc, lobe, square, upper_half
from mockup.engines.gl import projections as views
from mockup.engines.gl.batch import Batch, Cast, Casters, lay_depth, posed, set_film, set_paint
from mockup.engines.gl.holes import Hollows
from mockup.engines.gl.lamps import Rig, square_at
from mockup.engines.gl.planar_mirror import Polish
from mockup.engines.gl.resources import DepthLayers, Programs, Solid, Target, bind
from mockup.engines.gl.settings import Effort
from mockup.model.scene import Scene, Shot

_SHADOW, _FLOOR, _ABOVE, _REACH = 1, 2, 3, 4  # texture units; 0 is the surface's own picture
_GOLDEN = 0.6180339887498949  # the golden ratio's fraction: evenly spread phases
_CAST_CELL = (1.5, 0.75)  # of one pixel of a shadow map, of the ground's picture: by eye, no difference seen
_AT_ONCE = 2  # depth maps drawn in one piece: by eye
_COPIES = 32  # light samples thrown in one call: their matrices fit the uniforms of every OpenGL 3.3 driver
_MARKS, _FEW_MARKS = {1: 10}, 4  # reads across a turned surface's marks in a picture of one pass, each of many: by eye
_WIDEST_METAL, _WIDEST_PAINT = 0.7, 0.2  # widest mirror lobe (slope) whose rays are followed: by eye


class Studio:
    """Lights, ground and reflections of one scene."""

    def __init__(self, scene: Scene, programs: Programs) -> None:
        self._programs = programs
        self._empty = int(GL.glGenVertexArrays(1))
        self._ground: Solid | None = None
        self._depths: dict[tuple[int, int], DepthLayers] = {}
        self._made: dict[tuple[str, int], Target] = {}
        self._laid: dict[Effort, object] = {}
        self._shone: dict[Effort, object] = {}
        self._polish: Polish | None = None
        self._pass = 0
        self.lifted: str | None = None
        self.update(scene)

    def update(self, scene: Scene) -> None:
        """Light another scene from now on."""
        self._light = scene.lighting
        self._bodies = scene.bodies
        self._hollows = Hollows(scene.throats)
        self._extent = extent(scene)
        self._half = FADE[1] * self._extent.reach
        self.far_reach = 1.6 * self._half + self._extent.radius
        if self._ground is not None:
            self._ground.delete()
        self._ground = Solid(square_at(self._half, self._extent.low - 0.02))
        if self._polish is not None:
            self._polish.delete()
        rough = self._light.ground_roughness if self._light.ground is not None else None
        self._polish = Polish(self._programs, self._extent.low, rough) if rough is not None else None
        self._rig = Rig(self._light, self._extent, self._half)
        # what takes light from the panel is the hardware on it; what takes it from the ground, the whole pedal
        parts = tuple(body for body in scene.bodies if body.group == "hardware") or scene.bodies
        self._bounce, self._ground_bounce = (
            0.6 * mean_colour(bodies) / self._light.exposure for bodies in (parts, scene.bodies)
        )
        top, own = panel(scene, self._extent.low)
        self._panel_z, self._panel_light = top - 0.5, own * self._rig.level_light()
        backdrop = self._light.backdrop
        self.background = (*backdrop, 1.0) if self._light.ground is not None else (0.0, 0.0, 0.0, 0.0)

    @property
    def centre(self) -> Floats:
        """Middle of all bodies, mm."""
        return self._extent.centre

    def cells_mm(self, effort: Effort) -> tuple[float, float]:
        """Return how coarse what casts on shadow maps and on the ground may be: a share of one of their pixels."""
        return (
            _CAST_CELL[0] * 2.0 * self._extent.radius / effort.map_px,
            _CAST_CELL[1] * 2.0 * self._half / effort.floor_px,
        )

    def prepare(
        self, effort: Effort, model: Floats, shot: Shot, view: Floats, cast: Casters, visible: list[Batch], key: object
    ) -> Iterator[None]:
        """Make what all passes of one picture share: light samples, the ground, the view from above and from below.

        Yields between its pieces. `key` tells everything that these depend on besides the effort and, for the
        view from below, the camera: while it stays, they do.
        """
        self._effort, self._model = effort, model
        count, boxes = effort.passes, len(self._rig.boxes)
        spread = 2.0 * square(count) - 1.0 if count > 1 else np.zeros((1, 2))
        self._points = self._rig.boxes[:, None, 0] + np.einsum("pk,bkc->bpc", spread, self._rig.boxes[:, 1:])
        self._skies = upper_half(count * effort.skies).reshape(effort.skies, count, 3)
        self._deep = upper_half(count, start=5) * (1.0, 1.0, -1.0)
        self._lobes = lobe(count)
        self._shaded = min(boxes, effort.shaded)
        self._layers = self._shaded + effort.skies + (1 if effort.skies else 0)
        size = (effort.map_px, max(self._layers, 1))
        if size not in self._depths:
            self._depths[size] = DepthLayers(*size)
        self._maps = self._depths[size]
        self._above_mat = views.UNIT @ self._from_above(shot.turn_deg) if effort.steps else np.eye(4)
        self._key = key
        if self._laid.get(effort) != key:
            self._laid.pop(effort, None)
            yield from self._lay(shot.turn_deg, cast, visible)
            self._laid[effort] = key
        if self._polish is not None:
            yield from self.shine(0, cast)
            self._draw_polish(self._polish, shot, view, cast.whole, visible)
            yield

    def _lay(self, turn_deg: float, cast: Casters, visible: list[Batch]) -> Iterator[None]:
        """Draw what does not depend on the camera; yields between its pieces."""
        self._draw_floor(cast.ground)
        yield
        if self._effort.steps:
            yield from self.shine(0, cast)
            self._draw_above(turn_deg, cast.whole, visible)
            yield

    def shine(self, index: int, cast: Casters) -> Iterator[None]:
        """Draw the depth maps of one pass; yields between its pieces."""
        self._pass = index
        size, middle = self._extent.radius, self._extent.centre
        deep = self._deep[index : index + 1] if self._effort.skies else self._deep[:0]
        ways = np.concatenate([self._skies[:, index], deep])
        matrices = [views.lamp(point, middle, size) for point in self._points[: self._shaded, index]]
        matrices += [views.sky(way, middle, size) for way in ways]
        if self._shone.get(self._effort) != (self._key, index):
            self._shone.pop(self._effort, None)
            for start in range(0, len(matrices), _AT_ONCE):
                if start:
                    yield
                self._draw_maps(start, matrices[start : start + _AT_ONCE], cast.shadow)
            self._shone[self._effort] = self._key, index
        self._shine: dict[str, Any] = {
            "uSkyShare": 2.0 / max(self._effort.skies, 1),
            "uTap": disc(self._effort.taps, turn=2.4 * index),
            "uTapRadius": self._effort.tap_mm,
            "uLobe": self._lobes[index],
            "uPhase": (index * _GOLDEN) % 1.0 if self._effort.passes > 1 else 0.0,
        }
        if matrices:
            self._shine["uShadowMat"] = np.array([views.UNIT @ matrix for matrix in matrices])
        if len(ways):
            self._shine |= {"uSkyWay": ways[:-1], "uDeepWay": ways[-1]}

    def _draw_maps(self, first: int, matrices: list[Floats], cast: Cast) -> None:
        GL.glEnable(GL.GL_DEPTH_TEST)
        GL.glEnable(GL.GL_POLYGON_OFFSET_FILL)
        GL.glPolygonOffset(1.5, 3.0)
        GL.glDepthFunc(GL.GL_LESS)
        GL.glEnable(GL.GL_CULL_FACE)
        program = self._programs.use("surface.vert", "depth.frag")
        for layer, matrix in enumerate(matrices, first):
            self._maps.begin(layer)
            for solid, pose in cast:
                program.set(uModel=posed(self._model, pose), uViewProj=matrix)
                solid.draw()
        GL.glDisable(GL.GL_CULL_FACE)
        GL.glDisable(GL.GL_POLYGON_OFFSET_FILL)

    def draw(
        self,
        shot: Shot,
        matrix: Floats,
        model: Floats,
        visible: list[Batch],
        pose: Floats | None = None,
        has_ground: bool = True,
    ) -> None:
        """Shade every visible surface over its depth, then the ground; `pose` is the lifted part's."""
        assert self._ground is not None
        eye, pixel_mm = views.eye(shot)
        self._draw_surfaces(matrix, model, eye, visible, pixel_mm, self._effort.steps, pose)
        if not has_ground:
            return
        passes = self._effort.passes
        spread = self._polish.taps(passes) if self._polish is not None else 0
        program = self._programs.use("surface.vert", "ground.frag", BOXES=len(self._rig.boxes), SPREAD=spread)
        program.set(uModel=np.eye(4), uViewProj=matrix, **self._common())
        if self._polish is not None:
            program.set(uEye=eye, uScreen=(shot.width_px, shot.height_px), **self._polish.values(self._pass, passes))
        GL.glDepthFunc(GL.GL_LESS)
        self._ground.draw()

    def cover(self) -> None:
        """Draw one triangle over the whole target with the bound program."""
        GL.glBindVertexArray(self._empty)
        GL.glDrawArrays(GL.GL_TRIANGLES, 0, 3)
        GL.glBindVertexArray(0)

    def rest(self) -> None:
        """Free what a picture is made with; the next one makes it again."""
        for maps in self._depths.values():
            maps.delete()
        if self._polish is not None:
            self._polish.delete()
        for target in self._made.values():
            target.delete()
        self._depths, self._made, self._laid, self._shone = {}, {}, {}, {}

    def delete(self) -> None:
        """Free everything."""
        if self._ground is not None:
            self._ground.delete()
        GL.glDeleteVertexArrays(1, [self._empty])
        self.rest()

    def _draw_surfaces(
        self,
        matrix: Floats,
        model: Floats,
        eye: Any,
        visible: list[Batch],
        pixel_mm: float,
        steps: int,
        pose: Floats | None = None,
        from_above: bool = False,
    ) -> None:
        lamps = glows(tuple(b for b in self._bodies if b.group in {batch.group for batch in visible}))
        common = self._common() | self._shine
        common |= {
            "uViewProj": matrix, "uEye": eye, "uBounce": self._bounce, "uPanelLight": self._panel_light,
            "uAboveMat": self._above_mat, "uAboveSize": self._above_size(), "uPanelZ": self._panel_z,
        }  # fmt: skip
        if lamps:
            at = np.array([model[:3, :3] @ lamp.centre for lamp in lamps])
            common["uLamp"] = np.column_stack([at, [lamp.radius for lamp in lamps]])
            common["uLampLight"] = np.array([lamp.radiance for lamp in lamps])
        common |= self._hollows.values(model, pose, self.lifted)
        GL.glDepthFunc(GL.GL_LEQUAL)
        pixel_mm /= min(math.sqrt(self._effort.passes), 3.0)  # the passes look between the pixels
        ready: set[int] = set()
        shared = {"SKIES": self._effort.skies, "SHADED": self._shaded, "LAYERS": self._layers}
        for batch in visible:
            m, place = batch.material, posed(model, pose if batch.is_lifted else None)
            is_part = int(batch.group == "hardware")
            is_turned = batch.centre is not None and m.turned > 0.0 and not from_above
            film = m.texture.film if m.texture is not None else None
            program = self._programs.use(
                "surface.vert", "surface.frag",
                HAS_PICTURE=int(batch.picture is not None), GRAINED=int(m.flake > 0 or m.hammer > 0),
                BOXES=len(self._rig.boxes), TAPS=self._effort.taps, STEPS=steps, **shared,
                LAMPS=len(lamps), CLEAR=int(m.transmission > 0.0), FROM_ABOVE=int(from_above),
                COATED=int(m.coat > 0.0 or film is not None), BARE=int(m.metallic > 0.0 or m.coat < 1.0),
                OVER_PANEL=is_part, THROATS=self._hollows.room * is_part,
                MARKS=_MARKS.get(self._effort.passes, _FEW_MARKS) if is_turned else 0,
                FILMS=len(film.patches) if film is not None else 0,
            )  # fmt: skip
            if id(program) not in ready:
                program.set(**common)
                ready.add(id(program))
            program.set(
                uModel=place,
                uKind=(m.metallic, m.roughness, m.coat, m.coat_roughness),
                uGrain=(m.transmission, m.flake, m.hammer, pixel_mm),
                uEmission=m.emission,
                uAxis=place[:3, :3] @ batch.axis,
                uWidest=_WIDEST_METAL if m.metallic > 0 else _WIDEST_PAINT,
            )
            if batch.centre is not None and is_turned:
                along, across = m.alphas
                program.set(uSpindle=(place @ (*batch.centre, 1.0))[:3], uAcross=math.sqrt(across**2 - along**2))
            if film is not None:
                set_film(program, film)
            set_paint(program, batch, 1 if from_above else self._effort.passes)
            batch.solid.draw()

    def _common(self) -> dict[str, Any]:
        light = self._light
        bind(_SHADOW, self._maps.texture, GL.GL_TEXTURE_2D_ARRAY)
        bind(_FLOOR, self._made["floor", self._effort.floor_px].texture)
        if ("above", self._effort.above_px) in self._made:
            bind(_ABOVE, self._made["above", self._effort.above_px].texture)
        values: dict[str, Any] = {
            "uSurround": light.surround, "uHorizon": light.horizon, "uHasGround": float(light.ground is not None),
            "uGroundZ": self._extent.low, "uBackdrop": np.array(light.backdrop) / light.exposure,
            "uFade": (FADE[0] * self._extent.reach, self._half), "uFloorHalf": self._half,
            "uFloorTexel": 2 * self._half / self._effort.floor_px, "uExposure": light.exposure,
            "uFloor": _FLOOR, "uShadow": _SHADOW, "uAbove": _ABOVE,
        }  # fmt: skip
        values |= self._rig.values()
        return values

    def _draw_floor(self, cast: Cast) -> None:
        """Throw the pedal flat on the ground once per light sample, then light the ground."""
        size, each = self._effort.floor_px, self._effort.floor_samples
        reach = self._target("reach", size, depth=True)
        reach.begin(0.0, 0.0, 0.0, 0.0)
        if cast:
            GL.glEnable(GL.GL_BLEND)
            GL.glBlendFunc(GL.GL_ONE, GL.GL_ONE)
            GL.glDepthFunc(GL.GL_LESS)
            GL.glEnable(GL.GL_CULL_FACE)  # what faces the light casts the whole shadow
            matrices, weights = self._rig.thrown(each)
            step = -1.0 / (len(matrices) + 1)
            for start in range(0, len(matrices), _COPIES):
                some = slice(start, start + _COPIES)
                program = self._programs.use("thrown.vert", "thrown.frag", COPIES=len(matrices[some]))
                order = (1.0 + step * (start + 1), step)
                program.set(uThrow=matrices[some], uWeight=weights[some], uOrder=order)
                for solid, pose in cast:
                    program.set(uModel=posed(self._model, pose))
                    solid.draw(len(matrices[some]))
            GL.glDisable(GL.GL_CULL_FACE)
            GL.glDisable(GL.GL_BLEND)
        floor = self._target("floor", size, depth=False, mips=True)
        floor.begin(0.0, 0.0, 0.0, 0.0)
        GL.glDisable(GL.GL_DEPTH_TEST)
        program = self._programs.use("screen.vert", "floor.frag", BOXES=len(self._rig.boxes))
        bind(_REACH, reach.texture)
        ground = self._light.ground or (0.0, 0.0, 0.0)
        program.set(**self._common(), uReach=_REACH, uGround=ground, uBounce=self._ground_bounce)
        self.cover()
        GL.glEnable(GL.GL_DEPTH_TEST)
        floor.refresh_mips()

    def _from_above(self, turn_deg: float) -> Floats:
        return views.above(turn_deg, self._extent.reach + 2.0, self._extent.low, self._extent.high)

    def _draw_above(self, turn_deg: float, cast: Cast, visible: list[Batch]) -> None:
        """Draw the pedal from straight above in its own frame, heights beside colours."""
        above = self._target("above", self._effort.above_px, depth=True, mips=True)
        above.begin(0.0, 0.0, 0.0, -1000.0)
        matrix = self._from_above(turn_deg)
        GL.glDepthFunc(GL.GL_LESS)
        lay_depth(self._programs, matrix, self._model, cast)
        texel = self._above_size()[1]
        self._draw_surfaces(matrix, self._model, (0.0, 0.0, 1.0, 0.0), visible, texel, 0, from_above=True)
        above.refresh_mips()

    def _draw_polish(self, polish: Polish, shot: Shot, view: Floats, cast: Cast, visible: list[Batch]) -> None:
        """Draw the pedal as a perfect floor would mirror it."""
        eye, pixel_mm = views.eye(shot)
        below = (*polish.flipped(eye[:3], eye[3] == 1.0), eye[3])

        def shade(matrix: Floats) -> None:
            lay_depth(self._programs, matrix, self._model, cast)
            self._draw_surfaces(matrix, self._model, below, visible, 2.0 * pixel_mm, 0)

        polish.draw((shot.width_px, shot.height_px), view, self._model, cast, shade)

    def _above_size(self) -> tuple[float, float, float]:
        width = 2 * (self._extent.reach + 2.0)
        return width, width / max(self._effort.above_px, 1), self._extent.high

    def _target(self, name: str, size: int, *, depth: bool, mips: bool = False) -> Target:
        if (name, size) not in self._made:
            self._made[name, size] = Target(size, size, depth=depth, mips=mips)
        return self._made[name, size]
