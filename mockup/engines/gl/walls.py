"""The walls of the box as lamps of the ground: what light falls on them colours it, and where it is not seen at all."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from mockup.engines.appearance.content import own_mean
from mockup.engines.appearance.samples import Floats
from mockup.geometry.irradiance import form_factor, sky_irradiance
from mockup.model.scene import Body, Lighting, Scene, SoftBox

_ONE_WAY = 0.5  # length of the mean of a wall's normals, at least; a bore's or the inside's come to none: by eye
_PAINT_MIRRORS = 0.04  # seen straight: index 1.5, glTF 2.0 3.9.2
_STANDS_MM = 1.0  # a box further over the ground shows what is below it: by eye


@dataclass(frozen=True, kw_only=True, eq=False)
class Walls:
    """The walls of a box in its own frame: `place` (n, 3, 3) of middle, right and up (half-extents, mm), `out` (n, 3)
    unit normals; `colour` (n, 3) what they scatter, `shine` (n, 4) what they mirror, seen straight, and the slope width
    of that; `foot` (4,) the least and the greatest x and y of a box on the ground, which hides that from sight; all 0
    where it stands on something else."""

    place: Floats
    out: Floats
    colour: Floats
    shine: Floats
    foot: Floats

    def values(self, lighting: Lighting, ground_z: float, model: Floats) -> dict[str, Any]:
        """Return the shaders' uniforms for a turn of the pedal; none without walls."""
        if not len(self.out):
            return {}
        turn = model[:3, :3]
        middle, right, up = (self.place[:, column] @ turn.T for column in range(3))
        out = self.out @ turn.T
        light = [_light(lighting, at, n, ground_z) for at, n in zip(middle, out, strict=True)]
        return {
            "uWallCentre": middle, "uWallRight": right, "uWallUp": up, "uWallOut": out,
            "uWallLight": self.colour * np.array(light), "uWallShine": self.shine,
        }  # fmt: skip

    def foot_values(self, model: Floats) -> dict[str, Any]:
        """Return the ground shader's uniforms for what the box stands on."""
        return {"uFoot": self.foot, "uFootTurn": model[0, :2]}


def walls(scene: Scene, ground_z: float) -> Walls:
    """Return the walls of a scene's box; none without a box."""
    shell = [body.mesh for body in scene.bodies if body.group in ("box", "lid") and len(body.mesh.vertices)]
    ways = [(_way(body.mesh.normals), body) for body in scene.bodies if body.group == "box"]
    found = [(way, body) for way, body in ways if way is not None]
    if not found:
        none = np.zeros((0, 3))
        return Walls(place=none, out=none, colour=none, shine=none, foot=np.zeros(4))
    low = np.min([mesh.bounds()[0] for mesh in shell], axis=0)
    high = np.max([mesh.bounds()[1] for mesh in shell], axis=0)
    middle, half = 0.5 * (low + high), 0.5 * (high - low)
    places = [(middle + out * half, (out[1] * half[0], out[0] * half[1], 0.0), (0.0, 0.0, half[2])) for out, _ in found]
    stands = low[2] - ground_z < _STANDS_MM
    return Walls(
        place=np.array(places),
        out=np.array([out for out, _ in found]),
        colour=np.array([(1.0 - body.material.metallic) * own_mean(body) for _, body in found]),
        shine=np.array([_shine(body) for _, body in found]),
        foot=np.array((low[0], low[1], high[0], high[1])) if stands else np.zeros(4),
    )


def _shine(body: Body) -> Floats:
    m = body.material
    mirrored = m.metallic * own_mean(body) + (1.0 - m.metallic) * m.gloss * _PAINT_MIRRORS
    roughness = m.coat_roughness if m.coat > 0.5 else m.roughness
    return np.append(mirrored, 2.0 * roughness**2)


def _way(normals: Floats) -> Floats | None:
    """Return which way a surface of the box faces if it is a wall: along x or y."""
    mean = normals[:, :2].mean(axis=0) if len(normals) else np.zeros(2)
    if np.linalg.norm(mean) < _ONE_WAY:
        return None
    axis = int(np.argmax(np.abs(mean)))
    way = np.zeros(3)
    way[axis] = np.sign(mean[axis])
    return way


def _light(lighting: Lighting, at: Floats, out: Floats, ground_z: float) -> Floats:
    """Return the light on a wall from lamps, room and ground, as irradiance over pi; its own shade lies on that."""
    up = np.array((0.0, 0.0, 1.0))
    light = np.array(sky_irradiance(lighting, 0.0)) / np.pi
    below = np.array(sky_irradiance(lighting, 1.0)) / np.pi
    foot = np.array((*(at + (at[2] - ground_z) * out)[:2], ground_z))
    for box in lighting.boxes:
        light += form_factor(box, at, out) * np.array(box.mean)
        below += form_factor(box, foot, up) * _before(box, at, out) * np.array(box.mean)
    return light if lighting.ground is None else light + 0.5 * np.array(lighting.ground) * below


def _before(box: SoftBox, at: Floats, out: Floats) -> float:
    """Return the share of a soft box that lies before a wall, which hides the rest from the ground at its foot."""
    half = max(float(abs(out @ np.array(box.right)) + abs(out @ np.array(box.up))), 1e-6)
    return float(np.clip(0.5 + 0.5 * float(out @ (np.array(box.centre) - at)) / half, 0.0, 1.0))
