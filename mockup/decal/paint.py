"""Paint as a material: how each sheen answers light. All figures are common practice, no source."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from mockup.colour import rgb
from mockup.decal import ink
from mockup.model.finish import Decal, Finish, Sheen
from mockup.model.material import CAST_ALUMINIUM, Film, Material, Patch, Texture
from mockup.model.scene import Look


@dataclass(frozen=True, kw_only=True)
class _Skin:
    """A sheen's roughness bare and under lacquer, the lacquer's own, and what the paint has in it."""

    bare_roughness: float
    roughness: float
    coat_roughness: float
    metallic: float = 0.0
    flake: float = 0.0
    hammer: float = 0.0


_SKINS: Mapping[Sheen, _Skin] = {
    "gloss": _Skin(bare_roughness=0.15, roughness=0.5, coat_roughness=0.04),  # practice
    "satin": _Skin(bare_roughness=0.42, roughness=0.55, coat_roughness=0.28),  # practice
    "matte": _Skin(bare_roughness=0.80, roughness=0.80, coat_roughness=0.60),  # practice
    "hammered": _Skin(bare_roughness=0.22, roughness=0.45, coat_roughness=0.06, hammer=1.0),  # practice
    "flake": _Skin(bare_roughness=0.40, roughness=0.40, coat_roughness=0.04, metallic=0.5, flake=1.0),  # practice
    "bare": _Skin(bare_roughness=0.50, roughness=0.50, coat_roughness=0.05, metallic=1.0),  # practice
}

_FILM_STEP_MM = 0.015  # waterslide film is 10 to 20 um thick: common practice, no source
_FILM_ROUGHNESS = 0.30  # film under the thin sealer that keeps its ink: between gloss and satin: practice
_FILM_RUN_MM = 0.06  # width of a cut edge with its bead of sealer: practice
_BURIED = 0.15  # share of the step that a few coats of lacquer leave: practice
_BURIED_RUN_MM = 0.5  # and how wide they draw it out: practice


def film_on(finish: Finish, decals: Sequence[Decal]) -> Film:
    """Return the film of a face's decals as it shows: bare with a gloss and an edge of its own, or lacquered over.

    Lacquer gives film and paint one sheen and fills the step between them.
    """
    is_buried = finish.has_clear_coat
    return Film(
        patches=tuple(
            Patch(
                u_mm=each.u_mm,
                v_mm=each.v_mm,
                width_mm=each.width_mm,
                height_mm=each.height_mm,
                rotation_deg=each.rotation_deg,
            )
            for each in decals
        ),
        roughness=_SKINS[finish.sheen].coat_roughness if is_buried else _FILM_ROUGHNESS,
        step_mm=_FILM_STEP_MM * (_BURIED if is_buried else 1.0),
        run_mm=_BURIED_RUN_MM if is_buried else _FILM_RUN_MM,
    )


def paint_material(finish: Finish, look: Look = "photo", texture: Texture | None = None) -> Material:
    """Return the material of the painted box, or of a face of it that carries a texture.

    The base colour (linear sRGB) is that of the ground where no film lies, so a texture made for
    the same finish and look meets it without a seam. In a photo the lacquer is a coat of its own;
    "bare" is cast aluminium, which `CAST_ALUMINIUM` describes.
    """
    skin = _SKINS[finish.sheen]
    if finish.sheen == "bare":
        skin = replace(skin, bare_roughness=CAST_ALUMINIUM.roughness, roughness=CAST_ALUMINIUM.roughness)
    return Material(
        name=f"{finish.sheen}-paint" if finish.sheen != "bare" else CAST_ALUMINIUM.name,
        base_color=rgb.linear_colour(ink.unprinted(ink.ground(finish, "clear", look))),
        metallic=skin.metallic,
        roughness=skin.roughness if finish.has_clear_coat else skin.bare_roughness,
        coat=1.0 if finish.has_clear_coat else 0.0,
        coat_roughness=skin.coat_roughness,
        flake=skin.flake,
        hammer=skin.hammer,
        texture=texture,
    )
