"""Where the light of each pass comes from: points of the soft boxes, directions of the room."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from mockup.engines.appearance.content import Extent
from mockup.engines.appearance.samples import Floats, cells, disc, lobe, pixel_filter, square, upper_half
from mockup.engines.gl import projections
from mockup.engines.gl.settings import Effort

_GOLDEN = 0.6180339887498949  # the golden ratio's fraction: evenly spread phases


@dataclass(frozen=True, kw_only=True, eq=False)
class LightPass:
    """The light of one pass: world to clip (n, 4, 4) for each of its depth maps, and what the shaders read of it."""

    index: int
    matrices: tuple[Floats, ...]
    uniforms: dict[str, Any]


@dataclass(frozen=True, kw_only=True, eq=False)
class FrameLight:
    """What all passes of one picture share: light samples, the body's turn, world to clip of the view from above.

    `points` (boxes, passes, 3) on the soft boxes that throw shadows on the pedal, mm; `skies` (skies, passes, 3)
    directions of the room and `below` (passes, 3) from under it, unit; `lobes` (passes, 2) places in a mirror lobe.
    `walls` are the shaders' uniforms of the box's walls. `key` tells everything that ground and view from above depend
    on besides the effort: while it stays, they do.
    """

    effort: Effort
    extent: Extent
    points: Floats
    skies: Floats
    below: Floats
    lobes: Floats
    model: Floats
    above: Floats
    walls: dict[str, Any]
    key: object

    @property
    def layers(self) -> int:
        """How many depth maps a pass has: of soft boxes, of the room, and one from below with any of the room."""
        return len(self.points) + len(self.skies) + (1 if len(self.skies) else 0)

    def of_pass(self, index: int) -> LightPass:
        """Return the light of one pass."""
        effort, middle, radius = self.effort, self.extent.centre, self.extent.radius
        below = self.below[index : index + 1] if effort.skies else self.below[:0]
        ways = np.concatenate([self.skies[:, index], below])
        matrices = [projections.lamp(point, middle, radius) for point in self.points[:, index]]
        matrices += [projections.sky(way, middle, radius) for way in ways]
        uniforms: dict[str, Any] = {
            "uSkyShare": 2.0 / max(effort.skies, 1),
            "uTap": disc(effort.taps, turn=2.4 * index),
            "uTapRadius": effort.tap_mm,
            "uLobe": self.lobes[index],
            # each look moves the picture: back, and on to one of the pixel's cells, so that its flakes are read evenly
            "uFlakeShift": cells(effort.passes)[index] + pixel_filter(effort.passes)[index],
            "uPhase": (index * _GOLDEN) % 1.0 if effort.passes > 1 else 0.0,
        }
        if matrices:
            uniforms["uShadowMat"] = np.array([projections.UNIT @ matrix for matrix in matrices])
        if len(ways):
            uniforms |= {"uSkyWay": ways[:-1], "uDeepWay": ways[-1]}
        return LightPass(index=index, matrices=tuple(matrices), uniforms=uniforms)


def frame_light(
    effort: Effort,
    boxes: Floats,
    extent: Extent,
    model: Floats,
    above: Floats,
    walls: dict[str, Any],
    key: object,
) -> FrameLight:
    """Return the light of a picture; `boxes` (n, 3, 3) are the soft boxes' centre, right and up, strongest first."""
    count = effort.passes
    spread = 2.0 * square(count) - 1.0 if count > 1 else np.zeros((1, 2))
    points = boxes[:, None, 0] + np.einsum("pk,bkc->bpc", spread, boxes[:, 1:])
    return FrameLight(
        effort=effort,
        extent=extent,
        points=points[: effort.shaded],
        skies=upper_half(count * effort.skies).reshape(effort.skies, count, 3),
        below=upper_half(count, start=5) * (1.0, 1.0, -1.0),
        lobes=lobe(count),
        model=model,
        above=above,
        walls=walls,
        key=key,
    )
