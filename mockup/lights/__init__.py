"""Plug-ins: one file per light preset, and every preset by its name, its exposure set.

A preset is a studio round the origin for things of about 150 mm: soft boxes, the room's own light, the ground. A
plug-in is a module with the names of `LightFile`; the first line of its docstring is its help text.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Protocol, cast

from mockup.lights._rigs import HERO_AZIMUTH, card, dark_card, seen_from
from mockup.memo import memoize
from mockup.model.ground import Ground
from mockup.model.material import Colour
from mockup.model.scene import Lighting, Rig, Surface
from mockup.plugins import Folder

LIGHTS = Folder("mockup.lights")
_SAME = 1e-9  # no share of light that differs from 1 by less is seen
_FLAKE_SHARE = 0.5  # of metal in flake paint, as that sheen has it
_FLAKE_TILT = 0.42  # largest lean of a flake, as a slope: 1.3 widths of that sheen's lobe, as the engines have it
_FLAKES = 40  # that are tried, each way


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
def standing_on(lighting: Lighting, ground: Ground) -> Lighting:
    """Return a preset with another ground in place of its own, exposed anew."""
    laid = replace(lighting, ground=ground.colour, backdrop=ground.behind, ground_roughness=ground.roughness)
    return _exposed(laid)


@memoize
def suited(lighting: Lighting, surface: Surface) -> Lighting:
    """Return a preset with the lamps that suit a surface alone, exposed anew.

    Flakes send the light of the lamps elsewhere than to the camera, more or less by rig: what they lack is made up.
    """
    boxes = tuple(box for box in lighting.boxes if surface in box.surfaces)
    if surface != "flake":
        return lighting if boxes == lighting.boxes else _exposed(replace(lighting, boxes=boxes))
    found = _exposed(replace(lighting, boxes=boxes))
    share = 1.0 / (1.0 - _FLAKE_SHARE + _FLAKE_SHARE * flaked(found))
    return _scaled(found, (share, share, share))


@memoize
def with_dark_card(lighting: Lighting, surface: Surface) -> Lighting:
    """Return a preset with its rig's dark card, where a surface would mirror paler ground below it, exposed anew.

    Dents turn half of what is seen in them to the ground. The card is for a camera that looks level, which sees the
    ground from its edge.
    """
    laid = dark_card(lighting.rig)
    if laid is None or surface != "dented" or lighting.ground is None or min(lighting.ground) <= laid.reflectance:
        return lighting
    return _exposed(replace(lighting, dark_card=laid))


def told(lighting: Lighting) -> str:
    """Return a preset by its name, with what it is exposed for and the card that lies in it."""
    face = "top" if card(lighting.rig)[1][2] > 0.5 else f"the {lighting.rig} side"
    laid = ", a dark card on the ground before it" if lighting.dark_card is not None else ""
    return f"{lighting.name}, set to a white card on {face}{laid}"


def flaked(lighting: Lighting) -> float:
    """Return how bright a level bed of metal flakes is to the camera of a rig, where matt white is 1."""
    import numpy as np

    from mockup.geometry.irradiance import radiance

    place, normal = (np.array(each) for each in card(lighting.rig))
    back = np.array(seen_from(lighting.rig))
    back = back / np.linalg.norm(back)
    side = np.cross(normal, np.roll(normal, 1))
    tilt = _FLAKE_TILT * ((np.arange(_FLAKES) + 0.5) / _FLAKES * 2.0 - 1.0)
    a, b = (each.reshape(-1, 1) for each in np.meshgrid(tilt, tilt))
    facing = normal + a * side + b * np.cross(normal, side)
    facing /= np.linalg.norm(facing, axis=1, keepdims=True)
    ways = 2.0 * (facing @ back)[:, None] * facing - back
    seen = radiance(lighting, place, ways) * (ways @ normal > 0.0)[:, None]
    return float(seen.mean())


def _exposed(lighting: Lighting) -> Lighting:
    """Return a preset set to a white card as a camera is: laid on the face that is seen it comes out neutral, at 1."""
    from mockup.geometry.irradiance import from_ground, irradiance  # here, so that lights can be listed without numpy

    at = card(lighting.rig)
    light = (here + below for here, below in zip(irradiance(lighting, *at), from_ground(lighting, *at), strict=True))
    red, green, blue = (math.pi / part for part in light)
    return _scaled(lighting, (red, green, blue))


def _scaled(lighting: Lighting, shares: Colour) -> Lighting:
    """Return a preset with all of its light times a share for each channel; as it is where that is 1."""
    if max(abs(share - 1.0) for share in shares) < _SAME:
        return lighting

    def set_to(colour: Colour) -> Colour:
        red, green, blue = (part * share for part, share in zip(colour, shares, strict=True))
        return red, green, blue

    return replace(
        lighting,
        boxes=tuple(replace(box, radiance=set_to(box.radiance)) for box in lighting.boxes),
        surround=set_to(lighting.surround),
        horizon=set_to(lighting.horizon),
    )
