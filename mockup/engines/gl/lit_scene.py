"""The lit scene: shadow pass, ground, the pedal seen from above for its own mirrors, then every visible surface."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
from OpenGL import GL

from mockup.engines.appearance.content import Glow, glows
from mockup.engines.appearance.samples import Floats
from mockup.engines.appearance.waviness import TILE_MM, slopes
from mockup.engines.gl import projections
from mockup.engines.gl.area_lights import square_at
from mockup.engines.gl.batch import Batch, Cast, Casters, depth_prepass, posed, set_film, set_flakes, set_paint
from mockup.engines.gl.face_mirrors import WIDEST, FaceMirrors
from mockup.engines.gl.frame_light import FrameLight, LightPass, frame_light
from mockup.engines.gl.planar_reflection import Eye, Shade
from mockup.engines.gl.planar_shadow import PlanarShadow
from mockup.engines.gl.polished_ground import PolishedGround
from mockup.engines.gl.resources import (
    FullScreen,
    GpuMesh,
    ImageTexture,
    Program,
    Programs,
    RenderTarget,
    Targets,
    bind,
)
from mockup.engines.gl.scene_light import SceneLight, scene_light
from mockup.engines.gl.settings import Effort
from mockup.engines.gl.shadow_maps import ShadowMaps
from mockup.model.material import Waviness
from mockup.model.scene import Scene, Shot

_SHADOW, _FLOOR, _ABOVE, _FILM, _WAVES = 1, 2, 3, 7, 8  # texture units; 0 is the surface's own picture
_MARKS, _FEW_MARKS = {1: 10}, 4  # reads across a turned surface's marks in a picture of one pass, each of many: by eye
_WIDEST_METAL = 0.7  # widest mirror lobe (slope) whose rays are followed: by eye


@dataclass(frozen=True, kw_only=True, eq=False)
class _Look:
    """From where surfaces are drawn: world to clip, the eye, a pixel's size (mm), steps of a mirror ray, whether the
    box's faces mirror what stands on them."""

    matrix: Floats
    eye: Eye
    pixel_mm: float
    steps: int
    pose: Floats | None = None
    is_from_above: bool = False
    has_mirrors: bool = False


class LitScene:
    """One scene, lit; `lifted` names the part that is being moved."""

    def __init__(self, scene: Scene, programs: Programs, targets: Targets) -> None:
        self._programs, self._targets = programs, targets
        self._triangle = FullScreen()
        self._shadow_maps = ShadowMaps(programs)
        self._planar_shadow = PlanarShadow(programs, self._triangle, targets)
        self._laid: dict[Effort, object] = {}
        self._waves: dict[tuple[Waviness, ...], ImageTexture] = {}
        self.light = scene_light(scene)
        self._ground = _ground(self.light)
        self._polished = _polished(self.light, programs, targets)
        self._mirrors = FaceMirrors(programs, targets)
        self.lifted: str | None = None

    def update(self, scene: Scene) -> None:
        """Light another scene from now on."""
        self._ground.delete()
        self.light = scene_light(scene)
        self._ground = _ground(self.light)
        self._polished = _polished(self.light, self._programs, self._targets)

    def frame(self, effort: Effort, model: Floats, turn_deg: float, key: object) -> FrameLight:
        """Return what all passes of one picture share."""
        light = self.light
        walls = light.walls.values(light.lighting, light.extent.low, model)
        return frame_light(effort, light.area_lights.boxes, light.extent, model, self._from_above(turn_deg), walls, key)

    def prepare(
        self, frame: FrameLight, shot: Shot, view: Floats, cast: Casters, visible: list[Batch], pose: Floats | None
    ) -> Iterator[None]:
        """Draw what all passes share: the ground, the view from above, what mirrors show; yields between its pieces."""
        effort, first = frame.effort, frame.of_pass(0)
        size, (eye, pixel_mm) = (shot.width_px, shot.height_px), projections.eye(shot)
        if self._laid.get(effort) != frame.key:
            self._laid.pop(effort, None)
            self._draw_ground_light(frame, cast.ground, visible)
            yield
            if effort.steps:
                yield from self._draw_shadow_maps(frame, first, cast)
                self._draw_above(frame, first, cast.whole, visible)
                yield
            self._laid[effort] = frame.key
        self._mirrors.choose(visible if effort.steps else (), frame.model, eye)
        self._mirrors.draw_heights(size, view, frame.model, pose, self._sphere)
        if self._polished is not None:
            yield from self._draw_shadow_maps(frame, first, cast)

            def shade(matrix: Floats, from_below: Eye, share: int) -> None:
                depth_prepass(self._programs, matrix, frame.model, cast.whole)
                look = _Look(matrix=matrix, eye=from_below, pixel_mm=share * pixel_mm, steps=0)
                self._draw_surfaces(frame, first, look, visible)

            yield from self._polished.draw(size, view, eye, self._sphere, (frame.model, cast.whole), shade)

    def prepare_pass(
        self,
        frame: FrameLight,
        light: LightPass,
        shot: Shot,
        matrix: Floats,
        cast: Casters,
        pose: Floats | None,
        bands: int,
    ) -> Iterator[None]:
        """Draw what one pass reads: its depth maps, and in so many strips what faces mirror; yields between them."""
        yield from self._draw_shadow_maps(frame, light, cast)
        eye, pixel_mm = projections.eye(shot)

        def shade(parts: list[Batch]) -> Shade:
            def draw(mirrored: Floats, behind: Eye, share: int) -> None:
                cast = tuple((part.solid, pose if part.is_lifted else None) for part in parts)
                GL.glDepthFunc(GL.GL_LESS)
                depth_prepass(self._programs, mirrored, frame.model, cast)
                steps = frame.effort.steps
                look = _Look(matrix=mirrored, eye=behind, pixel_mm=share * pixel_mm, steps=steps, pose=pose)
                self._draw_surfaces(frame, light, look, parts)

            return draw

        yield from self._mirrors.draw_pictures(light.index, matrix, eye, self._sphere, shade, bands)

    def _draw_shadow_maps(self, frame: FrameLight, light: LightPass, cast: Casters) -> Iterator[None]:
        yield from self._shadow_maps.draw(frame.effort, light, frame.model, cast.shadow, frame.key)

    def draw(
        self,
        frame: FrameLight,
        light: LightPass,
        shot: Shot,
        matrix: Floats,
        visible: list[Batch],
        pose: Floats | None = None,
        has_ground: bool = True,
    ) -> None:
        """Shade every visible surface over its depth, then the ground; `pose` is the lifted part's."""
        eye, pixel_mm = projections.eye(shot)
        look = _Look(
            matrix=matrix, eye=eye, pixel_mm=pixel_mm, steps=frame.effort.steps, pose=pose, has_mirrors=True
        )  # fmt: skip
        self._draw_surfaces(frame, light, look, visible)
        if not has_ground:
            return
        passes = frame.effort.passes
        spread = self._polished.taps(passes) if self._polished is not None else 0
        boxes = len(self.light.area_lights.boxes)
        program = self._programs.use("surface.vert", "ground.frag", BOXES=boxes, SPREAD=spread)
        bind(_FLOOR, self._planar_shadow.of(frame.effort).texture)
        program.set(
            uModel=np.eye(4), uViewProj=matrix, uFloor=_FLOOR, uExposure=self.light.lighting.exposure,
            **self.light.uniforms(frame.effort),
        )  # fmt: skip
        if self._polished is not None:
            program.set(uEye=eye, uScreen=(shot.width_px, shot.height_px), **self._polished.values(light.index, passes))
        GL.glDepthFunc(GL.GL_LESS)
        self._ground.draw()

    def combine(self, source: RenderTarget, mean: RenderTarget, fragment: str, share: float | None) -> None:
        """Put one pass through a full-screen shader: added to the mean with a share, or in its place."""
        mean.resume()
        program = self._programs.use("full_screen.vert", fragment)
        bind(0, source.texture)
        program.set(uPass=0)
        if share is not None:
            GL.glEnable(GL.GL_BLEND)
            GL.glBlendFunc(GL.GL_ONE, GL.GL_ONE)
            program.set(uShare=share)
        self._triangle.draw()
        GL.glDisable(GL.GL_BLEND)

    def rest(self) -> None:
        """Free what a picture is made with, but for the targets; the next one makes it again."""
        self._shadow_maps.delete()
        self._laid = {}

    def delete(self) -> None:
        """Free everything but the targets."""
        self._ground.delete()
        self._triangle.delete()
        for picture in self._waves.values():
            picture.delete()
        self.rest()

    def _draw_surfaces(self, frame: FrameLight, light: LightPass, look: _Look, visible: list[Batch]) -> None:
        groups = {batch.group for batch in visible}
        lamps = glows(tuple(body for body in self.light.bodies if body.group in groups))
        common = self._common(frame, light, look, lamps)
        GL.glDepthFunc(GL.GL_LEQUAL)
        pixel_mm = look.pixel_mm / min(math.sqrt(frame.effort.passes), 3.0)  # the passes look between the pixels
        ready: set[int] = set()
        for batch in visible:
            program = self._program(frame, look, batch, len(lamps))
            if id(program) not in ready:
                program.set(**common)
                ready.add(id(program))
            m, place = batch.material, posed(frame.model, look.pose if batch.is_lifted else None)
            program.set(
                uModel=place,
                uKind=(m.metallic, m.roughness, m.coat, m.coat_roughness),
                uGrain=(m.transmission, m.flake, m.hammer, pixel_mm),
                uGrainSize=(m.dent_mm, m.flake_mm),
                uEmission=m.emission,
                uGloss=m.gloss,
                uAxis=place[:3, :3] @ batch.axis,
                uWidest=_WIDEST_METAL if m.metallic > 0 else WIDEST,
            )
            if batch.centre is not None and _has_marks(batch, look):
                along, across = m.alphas
                program.set(uSpindle=(place @ (*batch.centre, 1.0))[:3], uAcross=math.sqrt(across**2 - along**2))
            set_film(program, batch, _FILM)
            if _has_waves(batch, look):
                bind(_WAVES, self._wave_picture(m.waves).id)
                program.set(uWaves=_WAVES, uWavesMm=TILE_MM)
            if _has_mirror(self._mirrors, batch, look):
                program.set(**self._mirrors.values(batch))
            set_flakes(program, batch)
            set_paint(program, batch, 1 if look.is_from_above else frame.effort.passes)
            batch.solid.draw()

    def _wave_picture(self, waves: tuple[Waviness, ...]) -> ImageTexture:
        if waves not in self._waves:
            self._waves[waves] = ImageTexture(slopes(waves), repeats=True)
        return self._waves[waves]

    def _program(self, frame: FrameLight, look: _Look, batch: Batch, lamps: int) -> Program:
        m, effort = batch.material, frame.effort
        film = m.texture.film if m.texture is not None else None
        is_part = int(batch.group == "hardware")
        return self._programs.use(
            "surface.vert", "surface.frag",
            HAS_PICTURE=int(batch.picture is not None), GRAINED=int(m.flake > 0 or m.hammer > 0),
            BOXES=len(self.light.area_lights.boxes), TAPS=effort.taps, STEPS=look.steps,
            SKIES=effort.skies, SHADED=len(frame.points), LAYERS=frame.layers,
            LAMPS=lamps, CLEAR=int(m.transmission > 0.0), FROM_ABOVE=int(look.is_from_above),
            COATED=int(m.coat > 0.0 or film is not None), BARE=int(m.metallic > 0.0 or m.coat < 1.0),
            OVER_PANEL=is_part, CAVITIES=self.light.cavities.room * is_part,
            MARKS=_MARKS.get(effort.passes, _FEW_MARKS) if _has_marks(batch, look) else 0,
            SPUN=int(effort.passes > 1 and not look.is_from_above), SINGLE=int(effort.passes == 1),
            FILMED=int(batch.film is not None), WAVED=int(_has_waves(batch, look)),
            PAINTED=int(m.metallic < 1.0 or batch.film is not None), FLAKED=int(0.0 < m.metallic < 1.0),
            WALLS=len(self.light.walls.out) if is_part and look.steps else 0,
            MIRROR=int(_has_mirror(self._mirrors, batch, look)),
        )  # fmt: skip

    def _common(self, frame: FrameLight, light: LightPass, look: _Look, lamps: list[Glow]) -> dict[str, Any]:
        """Bind the textures that all surfaces read, and return the uniforms that they share."""
        effort, model = frame.effort, frame.model
        bind(_SHADOW, self._shadow_maps.of(effort, frame.layers).texture, GL.GL_TEXTURE_2D_ARRAY)
        bind(_FLOOR, self._planar_shadow.of(effort).texture)
        above = self._targets.get(f"above {effort.above_px}")
        if above is not None:
            bind(_ABOVE, above.texture)
        common = self.light.uniforms(effort) | light.uniforms
        common |= {
            "uFloor": _FLOOR, "uShadow": _SHADOW, "uAbove": _ABOVE, "uExposure": self.light.lighting.exposure,
            "uViewProj": look.matrix, "uEye": look.eye, "uBounce": self.light.bounce,
            "uPanelLight": self.light.panel_light, "uPanelZ": self.light.panel_z, "uPanelMetal": self.light.panel_metal,
            "uAboveMat": projections.UNIT @ frame.above if effort.steps else np.eye(4),
            "uAboveSize": self._above_size(effort),
        }  # fmt: skip
        if look.steps:
            common |= frame.walls
        if lamps:
            at = np.array([model[:3, :3] @ lamp.centre for lamp in lamps])
            common["uLamp"] = np.column_stack([at, [lamp.radius for lamp in lamps]])
            common["uLampLight"] = np.array([lamp.radiance for lamp in lamps])
            common["uLampAxis"] = np.array([model[:3, :3] @ lamp.axis for lamp in lamps])
            common["uLampRim"] = np.array([(*lamp.rim, lamp.crown) for lamp in lamps])
        return common | self.light.cavities.values(model, look.pose, self.lifted)

    def _draw_ground_light(self, frame: FrameLight, cast: Cast, visible: list[Batch]) -> None:
        effort, lighting = frame.effort, self.light.lighting
        values = self.light.uniforms(effort)
        values |= {"uGround": lighting.ground or (0.0, 0.0, 0.0), "uBounce": self.light.ground_bounce}
        if any(batch.group == "box" for batch in visible):
            values |= frame.walls | self.light.walls.foot_values(frame.model)
        thrown = self.light.area_lights.thrown(effort.floor_samples)
        self._planar_shadow.draw(effort, thrown, frame.model, cast, values)

    def _from_above(self, turn_deg: float) -> Floats:
        size = self.light.extent
        return projections.above(turn_deg, size.reach + 2.0, size.low, size.high)

    def _draw_above(self, frame: FrameLight, light: LightPass, cast: Cast, visible: list[Batch]) -> None:
        """Draw the pedal from straight above in its own frame, heights beside colours."""
        size = frame.effort.above_px
        above = self._targets.of(f"above {size}", size, size, depth=True, mips=True)
        above.begin(0.0, 0.0, 0.0, -1000.0)
        GL.glDepthFunc(GL.GL_LESS)
        depth_prepass(self._programs, frame.above, frame.model, cast)
        texel = self._above_size(frame.effort)[1]
        down = (0.0, 0.0, 1.0, 0.0)
        look = _Look(matrix=frame.above, eye=down, pixel_mm=texel, steps=0, is_from_above=True)
        self._draw_surfaces(frame, light, look, visible)
        above.refresh_mips()

    @property
    def _sphere(self) -> tuple[Floats, float]:
        """Middle and radius (mm) of what holds the pedal."""
        return self.light.extent.centre, self.light.extent.radius

    def _above_size(self, effort: Effort) -> tuple[float, float, float]:
        width = 2 * (self.light.extent.reach + 2.0)
        return width, width / max(effort.above_px, 1), self.light.extent.high


def _has_marks(batch: Batch, look: _Look) -> bool:
    return batch.centre is not None and batch.material.anisotropy > 0.0 and not look.is_from_above


def _has_waves(batch: Batch, look: _Look) -> bool:
    return bool(batch.material.waves) and batch.solid.is_mapped and not look.is_from_above


def _has_mirror(mirrors: FaceMirrors, batch: Batch, look: _Look) -> bool:
    return look.has_mirrors and mirrors.shows(batch)


def _ground(light: SceneLight) -> GpuMesh:
    return GpuMesh(square_at(light.half_mm, light.ground_z))


def _polished(light: SceneLight, programs: Programs, targets: Targets) -> PolishedGround | None:
    roughness = light.lighting.ground_roughness if light.lighting.ground is not None else None
    return PolishedGround(programs, targets, light.extent.low, roughness) if roughness is not None else None
