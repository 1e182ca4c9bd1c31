"""The 3D viewer of a page: a library's own script, our lights, our way to turn it.

The script that draws (three.js, MIT, its notice kept) comes out of the installed trimesh package when
a page is made; nothing of it is kept here.
"""

from __future__ import annotations

import io
import math
import zipfile
from importlib import resources
from typing import Any, Final

import numpy as np

from mockup.colour import rgb
from mockup.colour.view import SHOULDER, rolled_off
from mockup.encode.gltf import METRES_PER_MM
from mockup.geometry.irradiance import form_factor, irradiance
from mockup.model.errors import OutputError
from mockup.model.scene import Lighting, Point3, SoftBox

_ARCHIVE, _TEMPLATE = "resources/templates/viewer.zip", "viewer.html.template"  # as trimesh 4.5 to 5.2 pack it
_START, _END = "<script>", "THREE.GLTFLoader=GLTFLoader;})();"
_NEEDED = (
    "SPDX-License-Identifier: MIT",
    "PMREMGenerator",
    "vec3 CustomToneMapping( vec3 color ) { return color; }",
    "return PI * envMapColor.rgb * envMapIntensity;",  # our scripts put these two in the shade inside the box
    "return envMapColor.rgb * envMapIntensity;",
)
_TOP: Final[Point3] = (0.0, 0.0, 35.0)  # mm; the usual height of a panel over the table: common practice, no source
# How much of the key light comes from points that throw shadows; the rest from its soft box: our taste.
_SHARE: Final = 0.6
_POINTS: Final = tuple((a / 1.5, b / 1.5) for a in (-1, 0, 1) for b in (-1, 0, 1))  # middles of its nine equal fields
_VIEW: Final = (-0.52, -0.92, 0.88)  # from the front left, as the pictures stand
_FOV_DEG: Final = 20.0  # as the pictures


def library() -> str:
    """Return the script with THREE and THREE.GLTFLoader, as text for a page.

    Raises `OutputError` where the installed trimesh no longer packs it in the way known here.
    """
    try:
        packed = (resources.files("trimesh") / _ARCHIVE).read_bytes()
        with zipfile.ZipFile(io.BytesIO(packed)) as archive:
            page = archive.read(_TEMPLATE).decode()
        start = page.index(_START) + len(_START)
        script = page[start : page.index(_END, start) + len(_END)]
    except (OSError, KeyError, ValueError, zipfile.BadZipFile):
        script = ""
    if not all(each in script for each in _NEEDED):
        raise OutputError("the installed trimesh has no 3D viewer that is known here; install: trimesh==5.2.0")
    return script


def own_script(name: str = "viewer") -> str:
    """Return our scripts, which load the models, light them and let them be turned: one, or a "lineup"."""
    folder = resources.files("mockup") / "encode" / "page"
    return "".join((folder / f"{each}.js").read_text("utf-8") for each in ("studio", name))


def studio(preset: Lighting) -> dict[str, Any]:
    """Return a light preset in the viewer's terms: metres, y up, linear sRGB, its view transform as GLSL.

    The key light, the brightest box, is split: shadows need points. What it loses in the box it gives
    from the points, so that a surface facing it is as bright as before.
    """
    if preset.ground is None:
        raise ValueError("the viewer's table needs a ground")
    key = max(preset.boxes, key=_strength)
    boxes = [
        {
            "centre": _y_up(box.centre),
            "right": _y_up(box.right),
            "up": _y_up(box.up),
            "radiance": [value * (1.0 - _SHARE if box is key else 1.0) for value in box.mean],
            "isKey": box is key,
        }
        for box in preset.boxes
    ]
    on_table = np.array(irradiance(preset, (0.0, 0.0, 0.0), (0.0, 0.0, 1.0)))
    facing = np.array(_irradiance(key, _towards(key)))
    x, y, z = _y_up(_VIEW)
    return {
        "boxes": boxes,
        "surround": list(preset.surround),
        "horizon": list(preset.horizon),
        "table": (np.array(preset.ground) * on_table / math.pi).tolist(),
        "ground": list(preset.ground),
        "behind": rgb.to_hex(rgb.encode(rolled_off(np.array(preset.backdrop, np.float32)))),
        "exposure": preset.exposure,
        "view_transform": _GLSL.format(s=SHOULDER),
        "key": {
            "points": [
                _y_up(tuple(np.array(key.centre) + a * np.array(key.right) + b * np.array(key.up))) for a, b in _POINTS
            ],
            "irradiance": (_SHARE * facing).tolist(),
            "share": _SHARE,
        },
        "view": {"azimuth": math.atan2(x, z), "polar": math.acos(y / math.hypot(x, y, z)), "fov": _FOV_DEG},
    }


_GLSL: Final = (
    "vec3 CustomToneMapping( vec3 color ) {{ color *= toneMappingExposure; "
    "float peak = max( color.r, max( color.g, color.b ) ); const float s = {s:.6f}; "
    "if ( peak <= s ) return color; "
    "return color * ( ( 1.0 - ( 1.0 - s ) * ( 1.0 - s ) / ( peak + 1.0 - 2.0 * s ) ) / peak ); }}"
)
"""The view transform of the pictures (`colour.view.rolled_off`) for the viewer."""


def _strength(box: SoftBox) -> float:
    return float(sum(_irradiance(box, _towards(box))))


def _irradiance(box: SoftBox, normal: Point3) -> list[float]:
    factor = form_factor(box, np.array(_TOP), np.array(normal))
    return [math.pi * value * factor for value in box.mean]


def _towards(box: SoftBox) -> Point3:
    to = np.subtract(box.centre, _TOP)
    x, y, z = (to / np.linalg.norm(to)).tolist()
    return x, y, z


def _y_up(point: Point3) -> list[float]:
    x, y, z = (float(value) * METRES_PER_MM for value in point)
    return [x, z, -y]
