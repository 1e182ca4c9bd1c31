"""Scene terms as Mitsuba's: shapes, materials, lamps, the room. Converts at the door, decides nothing."""

from __future__ import annotations

import math
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from mockup.colour.rgb import decode_8bit
from mockup.engines.appearance.content import FADE, Extent
from mockup.geometry.irradiance import sheet
from mockup.model.material import Colour, Material, Texture
from mockup.model.mesh import Mesh
from mockup.model.scene import Camera, DarkCard, Lighting, SoftBox

_ROOM_ROWS: Final = 256  # rows of the room's picture; its horizon is one row, 0.7 degrees, wide
_WALL_MM, _BEND_MM = 520.0, 170.0  # from the middle to a sweep's wall, radius of its bend: by trial
_SWEEP_MM: Final = 1500.0  # half of its width, and how far it comes forward: beyond any picture
_CARD_UNDER_MM: Final = 0.01  # between the pedal's foot and the ground, 0.02 under it
_FADE_PX: Final = 256  # pixels of the ground's fade, one way

Floats = NDArray[np.float64]


def library() -> Any:
    """Return Mitsuba in its plain CPU variant, quiet; the compiled variants are never touched."""
    if "mitsuba" not in sys.modules:
        with hushed():
            import mitsuba as mi
    else:
        import mitsuba as mi

    if mi.variant() != "scalar_rgb":
        mi.set_variant("scalar_rgb")
    mi.set_log_level(mi.LogLevel.Error)
    return mi


@contextmanager
def hushed() -> Iterator[None]:
    """Keep native code from writing to standard error.

    On import the path tracer complains of a missing LLVM, which the plain variant does without, and
    the denoiser of a system that hides its processors.
    """
    sys.stderr.flush()
    kept = os.dup(2)
    try:
        with Path(os.devnull).open("wb") as nothing:
            os.dup2(nothing.fileno(), 2)
            yield
    finally:
        os.dup2(kept, 2)
        os.close(kept)


def shape(mesh: Mesh, material: Material, extra: dict[str, Any], at: Floats | None = None) -> Any:
    """Return a mesh in memory; `extra` holds its bsdf and emitter, `at` (n, 2) its picture coordinates, if any."""
    mi = library()
    properties = mi.Properties()
    for name, value in extra.items():
        properties[name] = value
    out = mi.Mesh(
        material.name, len(mesh.vertices), len(mesh.faces), props=properties, has_vertex_normals=True,
        has_vertex_texcoords=at is not None,
    )  # fmt: skip
    values = mi.traverse(out)
    values["vertex_positions"] = np.ravel(mesh.vertices).astype(np.float32)
    values["vertex_normals"] = np.ravel(mesh.normals).astype(np.float32)
    values["faces"] = np.ravel(mesh.faces).astype(np.uint32)
    if at is not None:
        values["vertex_texcoords"] = np.ravel(at).astype(np.float32)
    values.update()
    return out


def rgb(colour: Colour | Floats) -> dict[str, Any]:
    """Return a plain linear colour."""
    return {"type": "rgb", "value": [float(v) for v in colour]}


def black() -> Any:
    """Return a surface that sends nothing back."""
    return library().load_dict({"type": "diffuse", "reflectance": rgb((0.0, 0.0, 0.0))})


def own_colour(material: Material, share: float = 1.0) -> dict[str, Any]:
    """Return a surface's own colour times `share`: its picture with a rim of its base colour, or that colour."""
    if material.texture is None:
        return rgb(share * np.array(material.base_color))
    height, width = material.texture.pixels.shape[:2]
    framed = np.empty((height + 2, width + 2, 3), np.float32)
    framed[...] = material.base_color
    framed[1:-1, 1:-1] = decode_8bit(material.texture.pixels)
    return bitmap(framed * np.float32(share))


def bitmap(pixels: NDArray[np.float32], **more: Any) -> dict[str, Any]:
    """Return a picture of linear values, held at its edge; `more` are Mitsuba's own settings."""
    mi = library()
    picture = mi.Bitmap(np.ascontiguousarray(pixels, np.float32))
    return {"type": "bitmap", "bitmap": picture, "raw": True, "wrap_mode": "clamp", **more}


def framed(at: Floats, texture: Texture) -> Floats:
    """Return picture coordinates moved for the one-pixel rim; in-memory pictures keep v down."""
    height, width = texture.pixels.shape[:2]
    u = (at[:, 0] * width + 1.0) / (width + 2.0)
    v = (at[:, 1] * height + 1.0) / (height + 2.0)
    return np.column_stack([u, v])


def soft_box(box: SoftBox, turn: Floats, weight: float = 1.0) -> dict[str, Any]:
    """Return a soft box turned by a (4, 4) pose; it is a light but hides nothing behind it.

    `weight` says how often it is looked at, against 1 for the room.
    """
    return {
        "type": "rectangle", "to_world": _rectangle(box, turn), "bsdf": {"type": "null"},
        "emitter": {"type": "area", "radiance": _radiance(box), "sampling_weight": weight},
    }  # fmt: skip


def dark_card(card: DarkCard, turn: Floats, low: float) -> dict[str, Any]:
    """Return a card that lies on the ground at a height (mm), turned by a (4, 4) pose."""
    return {
        "type": "rectangle", "to_world": _rectangle(sheet(card, low - _CARD_UNDER_MM), turn),
        "bsdf": {"type": "diffuse", "reflectance": rgb((card.reflectance,) * 3)},
    }  # fmt: skip


def _rectangle(box: SoftBox, turn: Floats) -> Any:
    right, up = np.array(box.right), np.array(box.up)
    facing = np.cross(up, right)
    pose = np.eye(4)
    # Mitsuba's rectangle shines along its own +z; x and y are swapped to keep the frame right-handed
    pose[:3, 0], pose[:3, 1] = up, right
    pose[:3, 2], pose[:3, 3] = facing / np.linalg.norm(facing), box.centre
    return library().ScalarTransform4f(turn @ pose)


def _radiance(box: SoftBox) -> dict[str, Any]:
    if box.fade == 0.0:
        return rgb(box.radiance)
    high = (np.arange(_FADE_PX) + 0.5) / _FADE_PX  # the rectangle's own x runs up the box
    share = np.repeat((1.0 - box.fade * high)[None, :, None], 2, axis=0)
    return bitmap(np.asarray(share * np.array(box.radiance), np.float32))


def room(lighting: Lighting) -> dict[str, Any]:
    """Return the room's light from every side: horizon to surround above, backdrop or horizon below."""
    mi = library()
    height = np.cos((np.arange(_ROOM_ROWS) + 0.5) * math.pi / _ROOM_ROWS)[:, None]
    low, high = np.array(lighting.horizon), np.array(lighting.surround)
    rows = low + (high - low) * np.maximum(height, 0.0)
    if lighting.ground is not None:
        rows = np.where(height < 0.0, np.array(lighting.backdrop) / lighting.exposure, rows)
    picture = np.repeat(rows[:, None], 8, axis=1).astype(np.float32)
    upright = mi.ScalarTransform4f().rotate([1, 0, 0], 90)
    return {"type": "envmap", "bitmap": mi.Bitmap(picture), "to_world": upright}


def plain_ground(extent: Extent, reflectance: float) -> dict[str, Any]:
    """Return a matt grey ground that does not thin out, to catch a shadow."""
    half = 2.0 * FADE[1] * extent.reach
    return {
        "type": "rectangle", "to_world": _level(half, extent.low),
        "bsdf": {"type": "diffuse", "reflectance": rgb((reflectance,) * 3)},
    }  # fmt: skip


def ground(lighting: Lighting, extent: Extent) -> Any:
    """Return the ground: it thins out with distance, so that the backdrop shows through it, or curves up to a wall."""
    half = FADE[1] * extent.reach
    axis = (np.arange(_FADE_PX) + 0.5) / _FADE_PX * 2.0 - 1.0
    far = np.clip((np.hypot(axis[:, None], axis[None]) * half / extent.reach - FADE[0]) / (FADE[1] - FADE[0]), 0, 1)
    there = (1.0 - far * far * (3.0 - 2.0 * far)).astype(np.float32)[..., None]
    colour = lighting.ground if lighting.ground is not None else (0.5, 0.5, 0.5)
    inner: dict[str, Any] = {"type": "diffuse", "reflectance": rgb(colour)}
    if lighting.ground_roughness is not None:
        inner = {
            "type": "roughplastic", "distribution": "ggx", "alpha": max(lighting.ground_roughness**2, 0.004),
            "int_ior": 1.5, "diffuse_reflectance": rgb(colour), "nonlinear": False,
        }  # fmt: skip
    if lighting.sweep is not None:
        mi = library()
        matt = Material(name="sweep", base_color=colour)
        return shape(sweep(lighting.sweep, extent.low - 0.02), matt, {"mesh_bsdf": mi.load_dict(inner)})
    return library().load_dict({
        "type": "rectangle", "to_world": _level(half, extent.low),
        "bsdf": {"type": "mask", "opacity": bitmap(there), "inner": inner},
    })  # fmt: skip


def sweep(azimuth_deg: float, low_mm: float) -> Mesh:
    """Return ground that curves up to a wall behind the pedal, which stands no higher than its bend."""
    steps = np.linspace(0.0, 0.5 * math.pi, 25)
    away = np.concatenate([[-_SWEEP_MM], _WALL_MM - _BEND_MM * (1.0 - np.sin(steps))])
    high = np.concatenate([[0.0], _BEND_MM * (1.0 - np.cos(steps))]) + low_mm
    lean = np.concatenate([[0.0], steps])
    a = math.radians(azimuth_deg)
    ahead, right, up = (
        np.array([math.sin(a), math.cos(a), 0.0]),
        np.array([math.cos(a), -math.sin(a), 0.0]),
        np.eye(3)[2],
    )
    line = away[:, None] * ahead + high[:, None] * up
    facing = np.cos(lean)[:, None] * up - np.sin(lean)[:, None] * ahead
    count = len(line)
    rows = np.arange(count - 1)
    faces = np.concatenate([
        np.column_stack([rows, rows + count, rows + count + 1]), np.column_stack([rows, rows + count + 1, rows + 1])
    ])  # fmt: skip
    sides = [line - _SWEEP_MM * right, line + _SWEEP_MM * right]
    return Mesh(vertices=np.concatenate(sides), normals=np.concatenate([facing, facing]), faces=faces)


def _level(half: float, low: float) -> Any:
    pose = np.diag([half, half, 1.0, 1.0])
    pose[2, 3] = low - 0.02
    return library().ScalarTransform4f(pose)


def sensor(camera: Camera, width: int, height: int, turn: Floats, reach: float) -> Any:
    """Return a camera, turned by a (4, 4) pose, with a box pixel filter."""
    mi = library()
    pose = turn @ camera.basis()
    pose = pose @ np.diag([-1.0, 1.0, -1.0, 1.0])  # Mitsuba looks along +z with x to the left
    kind: dict[str, Any] = {"type": "perspective", "fov": float(camera.fov_deg), "fov_axis": "y"}
    if camera.ortho_mm is not None:
        half = camera.ortho_mm / 2.0 * width / height
        pose = pose @ np.diag([half, half, 1.0, 1.0])
        kind = {"type": "orthographic"}
    elif camera.aperture_mm > 0.0:
        kind |= {"type": "thinlens", "aperture_radius": camera.aperture_mm, "focus_distance": camera.focus_mm}
    distance = float(np.linalg.norm(np.subtract(camera.eye, camera.target)))
    return mi.load_dict(
        kind | {
            "to_world": mi.ScalarTransform4f(pose), "near_clip": 1.0, "far_clip": 2.0 * distance + 4.0 * reach,
            "film": {"type": "hdrfilm", "width": width, "height": height, "pixel_format": "rgba",
                     "component_format": "float32", "rfilter": {"type": "box"}},
            "sampler": {"type": "multijitter"},  # half the noise of independent samples: measured
        }
    )  # fmt: skip
