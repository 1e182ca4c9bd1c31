"""Materials as Mitsuba's: rough metal, paint, lacquer over paint, dents and flakes, tinted glass."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from mockup.engines.appearance.film import AIR_ROUGHNESS, cover, is_hiding, opacity, relief, shine
from mockup.engines.appearance.grain import Side, dents, flakes
from mockup.engines.appearance.waviness import TILE_MM, normals
from mockup.engines.tracing.shapes import bitmap, framed, library, own_colour
from mockup.model.material import Material, Texture
from mockup.model.mesh import Mesh

_LEAST_ALPHA: Final = 0.004  # GGX alpha below which a sampled lobe turns to fireflies: by eye
_F0: Final = 0.04  # mirrored by the interface, so not left for the paint: index 1.5, glTF 2.0 3.9.2
_STEP: Final = 0.02  # a coat or metal share weaker or stronger by this is taken as none or whole: by eye
_COAT_LOSS: Final = 0.08  # of light that goes in and out of lacquer: twice the interface's 0.04
_FLAKE_SPREAD: Final = 1.3  # tilt of the flakes, in widths of the paint's lobe: by eye, as in `surface.frag`
_FLAKE_ROUGHNESS: Final = 0.5  # of a single flake, as a share of the paint's roughness: the same


def finish(material: Material, side: Side | None = None, mesh: Mesh | None = None) -> dict[str, Any]:
    """Return how a material scatters; `side` is the piece of surface that its grain is drawn for, `mesh` the one whose
    face coordinates its waves are laid on by, if any."""
    if material.transmission > 0.0:
        return _paint(material)
    inner = _surface(material, side)
    picture = material.texture
    film = picture.film if picture is not None else None
    if picture is not None and film is not None and material.coat < 1.0 - _STEP:
        sealed = replace(material, coat=1.0, coat_roughness=film.roughness)
        share = bitmap(cover(picture), to_uv=_onto_picture(picture))
        inner = {"type": "blendbsdf", "weight": share, "bare": inner, "film": _surface(sealed, side)}
    if picture is not None and film is not None and any(patch.shine.any() for patch in film.patches):
        silver = _metal(Material(name="air", base_color=(1.0, 1.0, 1.0)), AIR_ROUGHNESS)
        inner = {
            "type": "blendbsdf", "weight": bitmap(shine(picture), to_uv=_onto_picture(picture)),
            "film": inner, "silver": silver,
        }  # fmt: skip
    if side is not None and material.hammer > 0.0:
        height = bitmap(dents(side, material.dent_mm), to_uv=_onto_grain(material, side))
        inner = {"type": "bumpmap", "height": height, "scale": float(material.hammer), "inner": inner}
    if mesh is not None and mesh.uv is not None and material.waves:
        way = _affine(coordinates(material, mesh, side), mesh.uv / TILE_MM)
        waves = bitmap(normals(material.waves), wrap_mode="repeat", to_uv=way)
        inner = {"type": "normalmap", "normalmap": waves, "bsdf": inner}
    if picture is not None and film is not None and film.step_mm > 0.0:
        height = bitmap(relief(picture), to_uv=_onto_picture(picture))
        inner = {"type": "bumpmap", "height": height, "scale": 1.0, "inner": inner}
    return {"type": "twosided", "inner": inner}


def _surface(material: Material, side: Side | None) -> dict[str, Any]:
    if material.metallic < _STEP:
        return _painted(material)
    metal, picture = _metallic(material, side), material.texture
    if picture is None or not is_hiding(picture):
        return metal
    # no metal and no flake shows through white
    share = bitmap(opacity(picture), to_uv=_onto_picture(picture))
    plain = _painted(replace(material, metallic=0.0))
    return {"type": "blendbsdf", "weight": share, "metal": metal, "plain": plain}


def coordinates(material: Material, mesh: Mesh, side: Side | None) -> NDArray[np.float64]:
    """Return the picture coordinates (n, 2) of a mesh: the art's where there is art, else those of the grain of the
    side that it is, else its own on the face, 0 without any."""
    if material.texture is not None and mesh.uv is not None:
        return framed(material.texture.normalised(mesh.uv), material.texture)
    if side is not None:
        return side.at()
    return mesh.uv if mesh.uv is not None else np.zeros((len(mesh.vertices), 2))


def has_picture(mesh: Mesh, material: Material) -> bool:
    """Return whether a mesh shows its material's picture."""
    return material.texture is not None and mesh.uv is not None


def _onto_picture(picture: Texture) -> Any:
    """Return the way from a picture's coordinates, which count its one-pixel rim, to those without it."""
    height, width = picture.pixels.shape[:2]
    pose = np.diag([(width + 2.0) / width, (height + 2.0) / height, 1.0, 1.0])
    pose[:2, 3] = -1.0 / width, -1.0 / height
    return library().ScalarTransform4f(pose)


def _onto_grain(material: Material, side: Side) -> Any:
    """Return the way from a piece's picture coordinates to its grain's."""
    return _affine(coordinates(material, side.mesh, side), side.at())


def _affine(source: NDArray[np.float64], target: NDArray[np.float64]) -> Any:
    """Return the affine way from coordinates (n, 2) to others."""
    affine = np.linalg.lstsq(np.column_stack([source, np.ones(len(source))]), target, rcond=None)[0].T
    pose = np.eye(4)  # a (3, 3) matrix loses its shift on the way in (3.7.1)
    pose[:2, :2], pose[:2, 3] = affine[:, :2], affine[:, 2]
    return library().ScalarTransform4f(pose)


def _metallic(material: Material, side: Side | None) -> dict[str, Any]:
    """Return metal, or metal in paint: a share of it under the lacquer beside the rest."""
    metal: dict[str, Any] = _metal(material, material.roughness)
    if side is not None and material.flake > 0.0:
        normals = flakes(side, _FLAKE_SPREAD * 2.0 * material.roughness**2 * material.flake, material.flake_mm)
        picture = bitmap(normals, filter_type="nearest", to_uv=_onto_grain(material, side))
        each = _metal(material, material.roughness * _FLAKE_ROUGHNESS)
        metal = {"type": "normalmap", "normalmap": picture, "bsdf": each}
    share = float(material.metallic)
    if share > 1.0 - _STEP:
        if material.coat < _STEP:
            return metal
        # lacquer over plain metal: light lost on its way in and out, and what the lacquer mirrors itself
        mirrored = _lacquered(replace(material, texture=None, base_color=(0.0, 0.0, 0.0)), gloss=1.0 / _COAT_LOSS)
        return {"type": "blendbsdf", "weight": _COAT_LOSS * float(material.coat), "metal": metal, "coat": mirrored}
    # the lacquer covers the metal's share too: it mirrors as much as if it were over all of it
    rest = _lacquered(material, gloss=1.0 / (1.0 - share)) if material.coat > _STEP else _paint(material)
    return {"type": "blendbsdf", "weight": share, "rest": rest, "metal": metal}


def _metal(material: Material, roughness: float) -> dict[str, Any]:
    along, across = _alpha(roughness), max(material.alphas[1], _LEAST_ALPHA)
    shape = {"alpha_u": along, "alpha_v": across} if material.anisotropy > 0.0 else {"alpha": along}
    return {
        "type": "roughconductor", "material": "none", "distribution": "ggx",
        "specular_reflectance": own_colour(material), **shape,
    }  # fmt: skip


def _painted(material: Material) -> dict[str, Any]:
    if material.coat < _STEP:
        return _paint(material)
    if material.coat > 1.0 - _STEP:
        return _lacquered(material)
    return {
        "type": "blendbsdf", "weight": float(material.coat), "bare": _paint(material), "coated": _lacquered(material)
    }  # fmt: skip


def _lacquered(material: Material, gloss: float | None = None) -> dict[str, Any]:
    """Return paint under lacquer; `gloss` says how much the lacquer mirrors where it covers more than this paint."""
    if gloss is None:
        return _paint(replace(material, roughness=material.coat_roughness))
    return {
        "type": "roughplastic", "distribution": "ggx", "alpha": _alpha(material.coat_roughness), "int_ior": 1.5,
        "diffuse_reflectance": own_colour(material), "nonlinear": False, "specular_reflectance": gloss,
    }  # fmt: skip


def _paint(material: Material) -> dict[str, Any]:
    # not roughplastic: its rough interface swallows light, a quarter at roughness 0.5, half at 0.9
    whole = {
        "type": "principled", "base_color": own_colour(material, 1.0 - _F0),
        "roughness": max(float(material.roughness), 0.05),
        "eta": 1.5, "spec_trans": float(material.transmission),
    }  # fmt: skip
    if material.gloss > 1.0 - _STEP:
        return whole
    dull = {"type": "diffuse", "reflectance": own_colour(material, 1.0 - _F0)}
    return {"type": "blendbsdf", "weight": float(material.gloss), "dull": dull, "whole": whole}


def _alpha(roughness: float) -> float:
    return max(float(roughness) ** 2, _LEAST_ALPHA)
