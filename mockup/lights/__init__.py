"""Plug-ins: one file per light preset, and every preset by its name, its exposure set.

A preset is a studio round the origin for things of about 150 mm: soft boxes, the room's own light, the ground. A
plug-in is a module with the names of `LightFile`; the first line of its docstring is its help text.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Protocol, cast

from mockup.lights._rigs import HERO_AZIMUTH, card
from mockup.memo import memoize
from mockup.model.material import Colour
from mockup.model.scene import Lighting, Rig, Surface
from mockup.plugins import Folder

LIGHTS = Folder("mockup.lights")


class LightFile(Protocol):
    """A plug-in module of this folder."""

    PREFERENCE: int
    """Where it stands in a list; the lowest number first."""

    def lighting(self, rig: Rig) -> Lighting:
        """Return the preset with its lamps where a rig has them; the file gives it its name."""
        ...


def presets(rig: Rig = "three-quarter") -> dict[str, Lighting]:
    """Return every preset by name, in order of preference, its lamps set for what is seen."""
    return _presets(rig)


@memoize
def _presets(rig: Rig) -> dict[str, Lighting]:
    found = [(name, cast(LightFile, module)) for name, module in LIGHTS.all()]
    found.sort(key=lambda each: each[1].PREFERENCE)
    return {
        name: _exposed(replace(file.lighting(rig), name=name, rig=rig, sweep=HERO_AZIMUTH if rig == "hero" else None))
        for name, file in found
    }


@memoize
def suited(lighting: Lighting, surface: Surface) -> Lighting:
    """Return a preset with the lamps that suit a surface alone, exposed anew."""
    boxes = tuple(box for box in lighting.boxes if surface in box.surfaces)
    return lighting if boxes == lighting.boxes else _exposed(replace(lighting, boxes=boxes))


def _exposed(lighting: Lighting) -> Lighting:
    """Return a preset set to a white card as a camera is: laid on the face that is seen it comes out neutral, at 1."""
    from mockup.geometry.irradiance import irradiance  # here, so that lights can be listed without numpy

    at, normal = card(lighting.rig)
    light = list(irradiance(lighting, at, normal))
    if lighting.ground is not None:  # an upright card has half of its view full of ground
        below = irradiance(lighting, (2.0 * at[0], 2.0 * at[1], 0.0), (0.0, 0.0, 1.0))
        seen = 0.5 * (1.0 - normal[2])
        light = [here + seen * own * there for here, own, there in zip(light, lighting.ground, below, strict=True)]
    balance = tuple(math.pi / part for part in light)

    def set_to(colour: Colour) -> Colour:
        red, green, blue = (part * share for part, share in zip(colour, balance, strict=True))
        return red, green, blue

    return replace(
        lighting,
        boxes=tuple(replace(box, radiance=set_to(box.radiance)) for box in lighting.boxes),
        surround=set_to(lighting.surround),
        horizon=set_to(lighting.horizon),
    )
