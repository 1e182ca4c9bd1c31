"""A picture as paint: a photograph straightened on the face, and the picture's main colours."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from mockup.colour import rgb
from mockup.colour.difference import ciede2000, encoded_to_lab
from mockup.decal.ink_over_paint import flatten
from mockup.geometry.planar import axes
from mockup.geometry.rectify import cornered, straightened
from mockup.memo import memoize
from mockup.model.enclosure import FaceName
from mockup.model.finish import Artwork, Decal, Finish
from mockup.model.label import Label
from mockup.model.material import Colour
from mockup.model.mesh import Floats
from mockup.model.paint_picture import PaintPicture

Pixels = NDArray[np.uint8]
Corners = Sequence[tuple[float, float]]

FINEST_PER_MM = 12.0  # 300 dpi: a photograph of paint shows no more; our choice
_LEAST_PER_MM = 1.0  # of a photograph's corners; less is a slip: our choice
_LONG_PX = 96  # longer side that main colours are looked for at
_MOST = 8  # main colours: our choice
_TOLD = 4  # of them where the paint is put in words: our choice
_ALIKE_DE = 5.0  # CIEDE2000 up to which two of them are one: our choice
_LEAST_SHARE = 0.03  # of the picture, or of what lies under a decal: less is a border between two tones; our choice
_ROUNDS = 30  # of the search for the middles of clusters: by trial, it stands still before


@memoize
def face_pixels(art: Artwork, size_mm: tuple[float, float], corners: Corners = ()) -> Pixels:
    """Return a picture (h, w, 3), as it lies on a face so large: all of it, or what lies between four corners.

    Those are pixels of a photograph, clockwise from the face's top left one. What is transparent is white.
    Raises `ValueError` where they do not run clockwise, leave the picture or are no face.
    """
    flat = flatten(art.pixels)
    if not corners:
        most = [max(1, round(side * FINEST_PER_MM)) for side in size_mm]
        size = (min(art.width_px, most[0]), min(art.height_px, most[1]))
        whole = size == (art.width_px, art.height_px)
        return flat if whole else np.asarray(Image.fromarray(flat).resize(size, Image.Resampling.BOX))
    on = cornered(corners, size_mm)
    per_mm = on.per_mm(np.array(size_mm) / 2)
    if per_mm < _LEAST_PER_MM:
        raise ValueError(f"the face is too small between the corners ({per_mm:.1f} pixels a mm); check them")
    light, _ = straightened(flat, rgb.decode_8bit, on.pixels, size_mm, per_mm, FINEST_PER_MM)
    return rgb.to_8bit(rgb.encode(light))


@memoize
def mean_colour(pixels: Pixels) -> Colour:
    """Return the mean of a picture (h, w, 3) in light, as encoded sRGB."""
    return rgb.colour(rgb.encode(rgb.decode_8bit(pixels.reshape(-1, 3)).mean(axis=0)))


@memoize
def main_colours(picture: PaintPicture) -> tuple[Colour, ...]:
    """Return the main colours of a picture, encoded sRGB, the largest first; a fade gives several steps."""
    from scipy.cluster.vq import kmeans2  # here: a design in one colour does without it

    height, width = picture.pixels.shape[:2]
    scale = min(1.0, _LONG_PX / max(height, width))
    size = max(1, round(width * scale)), max(1, round(height * scale))
    seen = np.asarray(Image.fromarray(picture.pixels).resize(size, Image.Resampling.BOX)).reshape(-1, 3) / 255.0
    lab = encoded_to_lab(seen)
    distinct = np.unique(np.round(lab), axis=0)
    _, number = kmeans2(lab, distinct[np.linspace(0, len(distinct) - 1, min(_MOST, len(distinct))).astype(int)],
                        _ROUNDS, minit="matrix", missing="warn")  # fmt: skip
    counts = np.bincount(number)
    found: list[Colour] = []
    for each in np.argsort(-counts, kind="stable"):
        if counts[each] < _LEAST_SHARE * len(lab) and found:
            break
        colour = np.median(seen[number == each], axis=0)
        apart = [float(ciede2000(encoded_to_lab(colour), encoded_to_lab(np.array(one)))) for one in found]
        if min(apart, default=np.inf) > _ALIKE_DE:
            found.append(rgb.colour(colour))
    return tuple(found)


def main_at(picture: PaintPicture, pixels: Pixels) -> NDArray[np.intp]:
    """Return which of a picture's main colours each of its pixels (..., 3) is nearest to (...)."""
    return np.asarray(np.argmin(_apart(pixels, main_colours(picture)), axis=0))


def plain_finishes(finish: Finish) -> tuple[Finish, ...]:
    """Return the finish in one colour for each main colour of the picture that is its paint; itself without one."""
    if finish.picture is None:
        return (finish,)
    return tuple(finish.in_colour(each) for each in main_colours(finish.picture))


def finishes_under(finish: Finish, what: Decal | Label) -> tuple[Finish, ...]:
    """Return those of the plain finishes that lie under a good part of a decal or a word's box, the largest first."""
    if finish.picture is None:
        return (finish,)
    plain = plain_finishes(finish)
    number = main_at(finish.picture, under(finish.picture, what, (_LONG_PX, _LONG_PX)))
    counts = np.bincount(number.ravel(), minlength=len(plain))
    first = np.argsort(-counts, kind="stable")
    return tuple(plain[each] for each in first if counts[each] >= _LEAST_SHARE * number.size)


def shares_under(picture: PaintPicture, decal: Decal, colours: Sequence[Colour]) -> list[NDArray[np.float32]]:
    """Return how much of each colour (h, w), 0 to 1, stands for the paint under every pixel of a decal's art.

    They sum to 1; between two main colours both count, the nearer one more, so that a fade gives no steps.
    """
    away = _apart(under(picture, decal, (decal.art.width_px, decal.art.height_px)), colours)
    near = [(1.0 / (1.0 + each) ** 2).astype(np.float32) for each in away]
    return [each / sum(near) for each in near]


def _apart(pixels: Pixels, colours: Sequence[Colour]) -> list[Floats]:
    """Return for each colour how far every pixel (..., 3) is from it (...), squared, in CIELAB."""
    lab = encoded_to_lab(pixels / 255.0)
    return [np.square(lab - encoded_to_lab(np.array(each))).sum(axis=-1) for each in colours]


def under(picture: PaintPicture, what: Decal | Label, size: tuple[int, int]) -> Pixels:
    """Return the paint's pixels (rows, columns, 3) under a decal or in a word's box, at (columns, rows) even steps."""
    place = (what.u_mm, what.v_mm), (what.width_mm, what.height_mm), what.rotation_deg
    return _within(picture, what.face, *place, size)


@memoize
def _within(
    picture: PaintPicture,
    face: FaceName,
    middle_mm: tuple[float, float],
    size_mm: tuple[float, float],
    rotation_deg: float,
    size: tuple[int, int],
) -> Pixels:
    across, down = (((np.arange(count) + 0.5) / count - 0.5) * mm for count, mm in zip(size, size_mm, strict=True))
    return picture.at(face, np.stack(np.meshgrid(across, down), axis=-1) @ axes(rotation_deg) + middle_mm)


def paint_words(finish: Finish) -> str:
    """Return a finish's paint in a few words: its code, or the picture that it is and its main colours."""
    if finish.picture is None:
        return rgb.to_hex(finish.paint)
    codes = ", ".join(map(rgb.to_hex, main_colours(finish.picture)[:_TOLD]))
    return f"picture {finish.picture.name} ({codes})"
