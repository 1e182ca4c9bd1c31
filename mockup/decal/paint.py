"""Finish and film as materials: how they answer light."""

from __future__ import annotations

from collections.abc import Sequence

from mockup.colour import rgb
from mockup.decal import ink_over_paint
from mockup.decal.cut import film_share, with_margin
from mockup.model.finish import Decal, Finish
from mockup.model.material import FilmLayer, FilmPatch, Material, Texture
from mockup.model.scene import Look

_FILM_STEP_MM = 0.015  # waterslide film is 10 to 20 um thick: common practice, no source
_FILM_ROUGHNESS = 0.30  # film under the thin sealer that keeps its ink: between gloss and satin: practice
_FILM_RUN_MM = 0.06  # width of a cut edge with its bead of sealer: practice
_BURIED = 0.15  # share of the step that a few coats of lacquer leave: practice
_BURIED_RUN_MM = 0.5  # and how wide they draw it out: practice


def film_on(finish: Finish, decals: Sequence[Decal]) -> FilmLayer:
    """Return the film of a face's decals as it shows: bare with a gloss and an edge of its own, or lacquered over.

    Lacquer gives film and paint one sheen and fills the step between them.
    """
    is_buried = finish.has_clear_coat
    return FilmLayer(
        patches=tuple(
            FilmPatch(
                u_mm=each.u_mm,
                v_mm=each.v_mm,
                width_mm=each.width_mm,
                height_mm=each.height_mm,
                rotation_deg=each.rotation_deg,
                opacity=1.0 - each.film.transmittance,
            )
            for each in map(with_margin, decals)
            if film_share(each) is None  # its edge is drawn into the picture
        ),
        roughness=finish.sheen.coat_roughness if is_buried else _FILM_ROUGHNESS,
        step_mm=_FILM_STEP_MM * (_BURIED if is_buried else 1.0),
        run_mm=_BURIED_RUN_MM if is_buried else _FILM_RUN_MM,
    )


def paint_material(finish: Finish, look: Look = "photo", texture: Texture | None = None) -> Material:
    """Return the material of the painted box, or of a face of it that carries a texture.

    The base colour (linear sRGB) is that of the ground where no film lies, so a texture made for
    the same finish and look meets it without a seam. In a photo the lacquer is a coat of its own.
    """
    sheen = finish.sheen
    return Material(
        name=sheen.metal.name if sheen.metal is not None else f"{sheen.name}-paint",
        base_color=rgb.linear_colour(ink_over_paint.unprinted(ink_over_paint.ground(finish, look=look))),
        metallic=sheen.metallic,
        roughness=sheen.roughness if finish.has_clear_coat else sheen.bare_roughness,
        coat=1.0 if finish.has_clear_coat else 0.0,
        coat_roughness=sheen.coat_roughness,
        gloss=ink_over_paint.gloss(finish) if look == "photo" else 1.0,
        flake=sheen.flake,
        hammer=sheen.hammer,
        flake_mm=sheen.flake_mm,
        dent_mm=sheen.dent_mm,
        texture=texture,
    )
