"""Plug-ins: one file per light preset, and every preset by its name, its exposure set.

A preset is a studio round the origin for things of about 150 mm: soft boxes, the room's own light, the ground. A
plug-in is a module with the names of `LightFile`; the first line of its docstring is its help text.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Final, Protocol, cast

from mockup.memo import memoize
from mockup.model.scene import Lighting, Point3
from mockup.plugins import Folder

LIGHTS = Folder("mockup.lights")

_TOP: Final[Point3] = (0.0, 0.0, 35.0)  # mm; the usual height of a panel over the ground: common practice


class LightFile(Protocol):
    """A plug-in module of this folder."""

    PREFERENCE: int
    """Where it stands in a list; the lowest number first."""

    def lighting(self) -> Lighting:
        """Return the preset, its exposure left at 1; the file gives it its name."""
        ...


@memoize
def presets() -> dict[str, Lighting]:
    """Return every preset by name, in order of preference."""
    found = [(name, cast(LightFile, module)) for name, module in LIGHTS.all()]
    found.sort(key=lambda each: each[1].PREFERENCE)
    return {name: _exposed(replace(file.lighting(), name=name)) for name, file in found}


def _exposed(lighting: Lighting) -> Lighting:
    """Return a preset with its exposure set: white paint, level on the box, gives luminance 1."""
    from mockup.colour.rgb import LUMINANCE  # here, so that lights can be listed without numpy
    from mockup.geometry.irradiance import irradiance

    light = irradiance(lighting, _TOP, (0.0, 0.0, 1.0))
    return replace(lighting, exposure=math.pi / float(light @ LUMINANCE))
