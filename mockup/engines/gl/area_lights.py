"""The soft boxes of a lighting, strongest first, and where their light throws the pedal's shadow."""

from __future__ import annotations

import numpy as np

from mockup.engines.appearance.content import Extent
from mockup.engines.appearance.samples import Floats, square, upper_half
from mockup.engines.gl import projections
from mockup.geometry.irradiance import form_factor
from mockup.model.mesh import Mesh
from mockup.model.scene import Lighting, SoftBox


class AreaLights:
    """What the shaders read of the soft boxes: (n, 3, 3) of centre, right and up; radiance and facing (n, 3)."""

    def __init__(self, light: Lighting, extent: Extent, half: float) -> None:
        self._light, self._extent, self._half = light, extent, half
        found = sorted(light.boxes, key=self._strength, reverse=True)
        self.boxes = np.array([(b.centre, b.right, b.up) for b in found]).reshape(-1, 3, 3)
        self.radiance = np.array([b.mean for b in found])
        self.fade = np.array([(b.fade,) for b in found])
        facing = np.cross(self.boxes[:, 2], self.boxes[:, 1])
        self.facing = facing / np.linalg.norm(facing, axis=1, keepdims=True)
        self._weights = [max(self._strength(box), 1e-6) for box in found]
        self._thrown: dict[int, tuple[Floats, Floats]] = {}

    def _strength(self, box: SoftBox) -> float:
        """Return a soft box's light on a level surface in the middle, for ordering."""
        return form_factor(box, self._extent.centre, np.array((0.0, 0.0, 1.0))) * sum(box.mean)

    def values(self) -> dict[str, Floats]:
        """Return the shaders' uniforms of the soft boxes; none where there are none."""
        if not len(self.boxes):
            return {}
        names = ("uBoxCentre", "uBoxRight", "uBoxUp")
        places = {name: self.boxes[:, column] for column, name in enumerate(names)}
        return {**places, "uBoxFacing": self.facing, "uBoxLight": self.radiance, "uBoxFade": self.fade}

    def thrown(self, each: int) -> tuple[Floats, Floats]:
        """Return matrices (n, 4, 4) that throw the pedal on the ground, one a light sample, and weights (n, 4)."""
        if each in self._thrown:
            return self._thrown[each]
        lights: list[Floats] = []
        weights: list[tuple[float, ...]] = []
        for index, (centre, right, up) in enumerate(self.boxes):
            channel = min(index, 2)
            count = max(each // 3, round(each * self._weights[index] / self._weights[0]))
            share = 1.0 / (count * (1 if index < 2 else len(self.boxes) - 2))
            for a, b in 2.0 * square(count, start=7 * index) - 1.0:
                lights.append(np.append(centre + a * right + b * up, 1.0))
                weights.append(tuple(share if k == channel else 0.0 for k in range(4)))
        ways = upper_half(2 * each)
        low, high = np.mean(self._light.horizon), np.mean(self._light.surround)
        sky = ways[:, 2] * (low + (high - low) * ways[:, 2])
        lights += [np.append(way, 0.0) for way in ways]
        weights += [(0.0, 0.0, 0.0, float(w)) for w in sky / max(sky.sum(), 1e-9)]
        matrices = np.array([projections.flattened(light, self._extent.low - 0.02, self._half) for light in lights])
        self._thrown[each] = matrices, np.array(weights)
        return self._thrown[each]


def square_at(half: float, z: float) -> Mesh:
    """Return a level square of +-`half` mm at a height."""
    corners = np.array([(-half, -half, z), (half, -half, z), (half, half, z), (-half, half, z)])
    return Mesh(vertices=corners, normals=np.tile((0.0, 0.0, 1.0), (4, 1)), faces=np.array([(0, 1, 2), (0, 2, 3)]))
