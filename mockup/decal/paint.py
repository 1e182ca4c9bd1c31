"""Finish and film as materials: how they answer light."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray
from PIL import Image
from scipy import ndimage

from mockup.colour import rgb
from mockup.decal import ink_over_paint
from mockup.decal.bands import bands
from mockup.decal.cut import DEPTH_PITCH_MM, film_depth
from mockup.decal.silvering import AIR_MIRRORS, air_share
from mockup.decal.white_under import white_share
from mockup.memo import memoize
from mockup.model.finish import Decal, Finish
from mockup.model.material import FilmLayer, FilmPatch, Material, Texture, Waviness
from mockup.model.scene import Look

Pixels = NDArray[np.float32]

_FILM_STEP_MM = 0.015  # waterslide film is 10 to 20 um thick: common practice, no source
_FILM_ROUGHNESS = 0.30  # film under the thin sealer that keeps its ink: between gloss and satin: practice
_FILM_RUN_MM = 0.06  # width of a cut edge with its bead of sealer: practice
_BURIED = 0.15  # share of the step that a few coats of lacquer leave: practice
_BURIED_RUN_MM = 0.5  # and how wide they draw it out: practice
_CASTING_UNDER_PAINT = Waviness(shortest_mm=0.7, longest_mm=2.5, slope=0.001)  # what thin paint does not fill: by eye


def film_on(finish: Finish, decals: Sequence[Decal]) -> FilmLayer:
    """Return the film of a face's decals as it shows: bare with a gloss and an edge of its own, or lacquered over.

    Lacquer gives film and paint one sheen and fills the step between them.
    """
    coat = finish.coat if finish.has_clear_coat else None
    return FilmLayer(
        patches=tuple(_patch(each, finish) for each in decals),
        roughness=coat.coat_roughness if coat is not None else _FILM_ROUGHNESS,
        step_mm=_FILM_STEP_MM * (_BURIED if coat is not None else 1.0),
        run_mm=_BURIED_RUN_MM if coat is not None else _FILM_RUN_MM,
    )


def _patch(decal: Decal, finish: Finish) -> FilmPatch:
    still = replace(decal, u_mm=0.0, v_mm=0.0, rotation_deg=0.0)
    inside, hides = _pictures(still)
    air = air_share(still, finish)
    rows, columns = inside.shape
    return FilmPatch(
        u_mm=decal.u_mm,
        v_mm=decal.v_mm,
        width_mm=columns * DEPTH_PITCH_MM,
        height_mm=rows * DEPTH_PITCH_MM,
        rotation_deg=decal.rotation_deg,
        inside_mm=inside,
        hides=hides,
        shine=np.zeros_like(hides) if air is None else _shine(still, air, hides),
    )


@memoize
def _pictures(decal: Decal) -> tuple[Pixels, Pixels]:
    """Return how far places lie within a decal's film, and how much film and white there hide of what is below."""
    inside = film_depth(decal)
    through = np.full(inside.shape, decal.film.transmittance, np.float32)
    white, process = white_share(decal), decal.process.white
    if white is not None and process is not None:
        through *= 1.0 - (1.0 - np.float32(process.transmittance)) * _round_middle(white / 255.0, decal, inside.shape)
    return inside, np.asarray(1.0 - through, np.float32)


@memoize
def _shine(decal: Decal, air: NDArray[np.uint8], hides: Pixels) -> Pixels:
    """Return what air under a decal mirrors through its ink, on the grid of `film_depth`."""
    ink = bands(ink_over_paint.flatten(decal.art.pixels)).mean(axis=-1)
    return np.asarray(AIR_MIRRORS * _round_middle(ink * (air / 255.0), decal, hides.shape) * (1.0 - hides), np.float32)


def _round_middle(pixels: NDArray[np.float64], decal: Decal, size: tuple[int, ...]) -> Pixels:
    """Return a picture of a decal's art, (h, w), on the grid of `film_depth`, 0 beyond the art."""
    columns, rows = (max(1, round(mm / DEPTH_PITCH_MM)) for mm in (decal.width_mm, decal.height_mm))
    small = np.asarray(Image.fromarray(pixels.astype(np.float32)).resize((columns, rows), Image.Resampling.BOX))
    scale = np.array([rows * DEPTH_PITCH_MM / decal.height_mm, columns * DEPTH_PITCH_MM / decal.width_mm])
    offset = (np.array([rows, columns]) - 1) / 2.0 - scale * (np.array(size) - 1) / 2.0
    return np.asarray(ndimage.affine_transform(small, scale, offset, size, order=1))


def paint_material(finish: Finish, look: Look = "photo", texture: Texture | None = None) -> Material:
    """Return the material of the painted box, or of a face of it that carries a texture.

    The base colour (linear sRGB) is that of the ground where no film lies, so a texture made for
    the same finish and look meets it without a seam. In a photo the lacquer is a coat of its own.
    """
    sheen, coat = finish.sheen, finish.coat
    return Material(
        name=sheen.metal.name if sheen.metal is not None else f"{sheen.name}-paint",
        base_color=rgb.linear_colour(ink_over_paint.unprinted(ink_over_paint.ground(finish, look=look))),
        metallic=sheen.metallic,
        roughness=sheen.roughness if coat is not None else sheen.bare_roughness,
        coat=1.0 if coat is not None else 0.0,
        coat_roughness=(coat or sheen).coat_roughness,
        gloss=ink_over_paint.gloss(finish) if look == "photo" else 1.0,
        flake=sheen.flake,
        hammer=sheen.hammer,
        flake_mm=sheen.flake_mm,
        dent_mm=sheen.dent_mm,
        waves=tuple(_waves(finish)) if look == "photo" else (),
        texture=texture,
    )


def _waves(finish: Finish) -> Iterator[Waviness]:
    """Yield what is uneven in the surface: the casting itself, or what paint leaves of it, and how the paint dried."""
    surface = finish.coat or finish.sheen
    casting = surface.waves if not surface.is_painted else (_CASTING_UNDER_PAINT,)
    dried = surface.waves if surface.is_painted else ()
    for share, waves in ((finish.casting_texture, casting), (finish.orange_peel, dried)):
        yield from (replace(each, slope=share * each.slope) for each in waves if share > 0.0)
