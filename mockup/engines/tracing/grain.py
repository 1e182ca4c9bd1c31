"""What is finer than the noise of a few samples, as one picture that the denoiser is led by.

Dents and flakes are in it as normals, 0 to 1 for -1 to 1, fine waves as slopes round one half with a mark of their own
in blue; all else is black.
"""

from __future__ import annotations

from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from mockup.engines.appearance import waviness
from mockup.engines.appearance.film import is_hiding, opacity
from mockup.engines.appearance.grain import Side, dent_normals, flakes, sides
from mockup.engines.tracing import shapes
from mockup.engines.tracing.materials import has_picture
from mockup.model.material import Material, Waviness
from mockup.model.mesh import Mesh

_WAVES: Final = 0.25  # blue of waves; a normal's is 0.5 and more
_STEEPEST: Final = 0.49  # that a slope is told as: a dozen times what castings have
_LONGEST_MM: Final = 2.0  # of waves that noise hides; longer ones the denoiser keeps by itself: by eye

Pixels = NDArray[np.float32]


def has_grain(material: Material) -> bool:
    """Return whether a material is uneven in a way that noise hides."""
    return material.flake > 0.0 or material.hammer > 0.0 or bool(_waves(material))


def tilted(mesh: Mesh, material: Material) -> list[Any]:
    """Return a mesh that shines with its grain, in as many pieces as that takes, black where it has none."""
    if material.flake > 0.0 or material.hammer > 0.0:
        return [
            _shining(side.mesh, material, shapes.bitmap(
                seen_flakes(side, material) if material.flake > 0.0 else dent_normals(side, material.dent_mm)
            ), side.at())
            for side in sides(mesh, is_one=has_picture(mesh, material))
        ]  # fmt: skip
    if mesh.uv is not None and _waves(material):
        picture = shapes.bitmap(_slope_picture(_waves(material)), wrap_mode="repeat")
        return [_shining(mesh, material, picture, mesh.uv / waviness.TILE_MM)]
    return [shapes.shape(mesh, material, {"mesh_bsdf": shapes.black()})]


def seen_flakes(side: Side, material: Material) -> Pixels:
    """Return the flakes of a piece as normals, level where a film hides them: none glitters through white."""
    leaning, picture = flakes(side, 1.0, material.flake_mm), material.texture
    if picture is None or not is_hiding(picture) or not has_picture(side.mesh, material):
        return leaning
    hidden, way = opacity(picture), side.on_face()
    place = side.points(material.flake_mm)[:, :, side.along] - way[:, 2]
    at = picture.normalised(place.reshape(-1, 2) @ np.linalg.inv(way[:, :2]).T)
    column, row = np.clip(at * hidden.shape[1::-1], 0, np.subtract(hidden.shape[1::-1], 1)).astype(int).T
    share = hidden[row, column].reshape(*leaning.shape[:2], 1)
    return np.asarray(leaning + share * (np.array((0.5, 0.5, 1.0)) - leaning), np.float32)


def normals(picture: Pixels) -> Pixels:
    """Return the normals (h, w, 3) of dents and flakes, 0 where there are none."""
    return np.asarray(np.where(picture[..., 2:] > 0.49, 2.0 * picture - 1.0, 0.0), np.float32)


def slopes(picture: Pixels) -> Pixels:
    """Return the slopes (h, w, 2) of waves along their face, 0 where there are none or a pixel is not all of them."""
    is_waved = np.abs(picture[..., 2:] - _WAVES) < 1e-4
    return np.asarray(np.where(is_waved, picture[..., :2] - 0.5, 0.0), np.float32)


def _waves(material: Material) -> tuple[Waviness, ...]:
    return material.waves if any(each.longest_mm <= _LONGEST_MM for each in material.waves) else ()


def _slope_picture(waves: tuple[Waviness, ...]) -> Pixels:
    along = np.clip(waviness.slopes(waves)[..., :2], -_STEEPEST, _STEEPEST) + 0.5
    return np.concatenate([along, np.full_like(along[..., :1], _WAVES)], axis=-1)


def _shining(mesh: Mesh, material: Material, picture: dict[str, Any], at: NDArray[np.float64]) -> Any:
    light = shapes.library().load_dict({"type": "area", "radiance": picture})
    return shapes.shape(mesh, material, {"mesh_bsdf": shapes.black(), "mesh_emitter": light}, at)
