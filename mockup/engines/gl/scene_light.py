"""What lights one scene: its extent, soft boxes, holes, and the light that its own colours send back."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from mockup.engines.appearance.content import FADE, Extent, extent, mean_colour, own_mean, panel
from mockup.engines.appearance.samples import Floats
from mockup.engines.gl.area_lights import AreaLights
from mockup.engines.gl.cavities import CavityUniforms
from mockup.engines.gl.settings import Effort
from mockup.engines.gl.walls import Walls, walls
from mockup.geometry.irradiance import irradiance
from mockup.model.scene import Body, Lighting, Scene

_CAST_CELL = (1.5, 0.75)  # of one pixel of a shadow map, of the ground's picture: by eye, no difference seen


@dataclass(frozen=True, kw_only=True, eq=False)
class SceneLight:
    """The light of one scene, whatever the camera, the turn and what is hidden.

    `half_mm` is half the ground's width. `bounce` and `ground_bounce` (3,) are the radiance that blocked light
    of the room is replaced by, on the panel and on the ground; `panel_z` (mm) and `panel_light` (3,) are the
    height of the panel and its mean radiance, `panel_metal` its share of metal and the slope width of that as a mirror.
    """

    lighting: Lighting
    bodies: tuple[Body, ...]
    extent: Extent
    area_lights: AreaLights
    cavities: CavityUniforms
    half_mm: float
    bounce: Floats
    ground_bounce: Floats
    panel_z: float
    panel_light: Floats
    panel_metal: tuple[float, float]
    walls: Walls

    @property
    def far_reach(self) -> float:
        """Radius (mm) of a sphere about the middle that holds all that is drawn."""
        return 1.6 * self.half_mm + self.extent.radius

    @property
    def ground_z(self) -> float:
        """Height of the ground, mm: a hair under the pedal."""
        return self.extent.low - 0.02

    @property
    def background(self) -> tuple[float, float, float, float]:
        """Linear colour and alpha where nothing is drawn."""
        return (*self.lighting.backdrop, 1.0) if self.lighting.ground is not None else (0.0, 0.0, 0.0, 0.0)

    def cells_mm(self, effort: Effort) -> tuple[float, float]:
        """Return how coarse what casts on shadow maps and on the ground may be: a share of one of their pixels."""
        return (
            _CAST_CELL[0] * 2.0 * self.extent.radius / effort.map_px,
            _CAST_CELL[1] * 2.0 * self.half_mm / effort.floor_px,
        )

    def uniforms(self, effort: Effort) -> dict[str, Any]:
        """Return what `area_lights.glsl` reads, but for the ground's picture."""
        light = self.lighting
        values: dict[str, Any] = {
            "uSurround": light.surround, "uHorizon": light.horizon, "uHasGround": float(light.ground is not None),
            "uGroundZ": self.extent.low, "uBackdrop": np.array(light.backdrop) / light.exposure,
            "uFade": (FADE[0] * self.extent.reach, self.half_mm), "uFloorHalf": self.half_mm,
            "uFloorTexel": 2 * self.half_mm / effort.floor_px,
        }  # fmt: skip
        return values | self.area_lights.values() | _card(light)


def _card(light: Lighting) -> dict[str, Any]:
    laid, ground = light.dark_card, light.ground
    if laid is None or ground is None:
        return {"uCard": np.zeros(4), "uCardShare": np.zeros(3)}
    middle, half = np.array(laid.middle), np.array(laid.half)
    return {"uCard": np.concatenate([middle - half, middle + half]), "uCardShare": laid.reflectance / np.array(ground)}


def scene_light(scene: Scene) -> SceneLight:
    """Return what lights a scene."""
    found, light = extent(scene), scene.lighting
    half = FADE[1] * found.reach
    area_lights = AreaLights(light, found, half)
    # what takes light from the panel is the hardware on it; what takes it from the ground, the whole pedal
    parts = tuple(body for body in scene.bodies if body.group == "hardware") or scene.bodies
    top = panel(scene)
    own = own_mean(top) if top is not None else np.zeros(3)
    return SceneLight(
        lighting=light,
        bodies=scene.bodies,
        extent=found,
        area_lights=area_lights,
        cavities=CavityUniforms(scene.cavities),
        half_mm=half,
        bounce=0.6 * mean_colour(parts) / light.exposure,
        ground_bounce=0.6 * mean_colour(scene.bodies) / light.exposure,
        panel_z=(float(top.mesh.vertices[:, 2].max()) if top is not None else found.low) - 0.5,
        panel_metal=(top.material.metallic, 2.0 * top.material.roughness**2) if top is not None else (0.0, 0.0),
        panel_light=own * np.array(irradiance(light, (0.0, 0.0, float(found.centre[2])), (0.0, 0.0, 1.0))) / np.pi,
        walls=walls(scene, found.low),
    )
