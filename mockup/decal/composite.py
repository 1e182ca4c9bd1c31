"""Decals as the eye will see them: art over paint, laid on a face at true size."""

from __future__ import annotations

import math
import os
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from itertools import repeat

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from mockup.colour import rgb
from mockup.decal import ink_over_paint
from mockup.decal.cut import film_share, with_margin
from mockup.decal.painting import under
from mockup.decal.pictures.formats import MAX_PIXELS
from mockup.decal.silvering import air_share, air_under
from mockup.decal.white_under import Grounds, grounds, reflected, white_share
from mockup.geometry.planar import axes, box_on_face
from mockup.memo import memoize
from mockup.model.enclosure import FaceName
from mockup.model.finish import Artwork, Decal, Film, Finish
from mockup.model.material import Texture
from mockup.model.paint_picture import PaintPicture
from mockup.model.scene import Look
from mockup.model.shape import turned

Pixels = NDArray[np.uint8]

PADDING_PX = 16  # bare paint round a texture: one texel is left of it at a sixteenth of the size; our choice
_MAX_SIDE_PX = 16384  # the largest texture that every OpenGL 4.1 driver takes: OpenGL 4.1 core, table 6.46, from memory
_SAME_PX = 0.25  # a decal and the grid it is set in differ by less over its whole length: our choice
_BAND = 64  # rows of art that are looked up and remembered together: by trial
_MOST_THREADS = 4  # more only fight for memory: common practice, no source
_THREAD_PIXELS = 500_000  # fewer are done before a thread has begun: by trial
_ROWS = 128  # rows at a time, so that a large canvas needs little memory beside itself


@dataclass(frozen=True, kw_only=True)
class _Canvas:
    """A pixel grid on a face: its top-left corner in face millimetres and its pixels per millimetre."""

    u_mm: float
    v_mm: float
    per_mm: float
    width_px: int
    height_px: int

    def places(self, start: int, stop: int) -> NDArray[np.float64]:
        """Return the places (rows, columns, 2) of the pixels in some rows, in face millimetres."""
        u = self.u_mm + (np.arange(self.width_px) + 0.5) / self.per_mm
        return np.stack(np.meshgrid(u, self.v_mm + (np.arange(start, stop) + 0.5) / self.per_mm), axis=-1)

    def is_in_step(self, decal: Decal) -> bool:
        """Return whether a decal that is turned by whole quarters has a pixel of art for each of the grid's."""
        sides = (decal.width_mm, decal.art.width_px), (decal.height_mm, decal.art.height_px)
        return all(abs(mm * self.per_mm - px) < _SAME_PX for mm, px in sides)


def composite(decal: Decal, finish: Finish, look: Look = "proof") -> Pixels:
    """Return a decal's art printed on its film over the finish, (h, w, 3) uint8 encoded sRGB, a pixel for a pixel.

    In a photo the veil is left to the renderer, which makes its own highlights. On bare metal the
    ground is the metal's colour: approximate, as `ink_over_paint.limits` says.
    """
    beside, on_white = grounds(finish, decal, look)
    art, paint = decal.art.pixels, paint_under(decal, finish)
    share, air = white_share(decal), air_share(decal, finish)
    if share is not None and share.min() == 255:
        return printed(art, on_white, paint)
    pixels = printed(art, beside, paint)
    if air is not None:
        pixels = _mixed(pixels, printed(art, replace(beside, air=air_under(look)), paint), air)
    if share is None or not share.any():
        return pixels
    return _mixed(pixels, printed(art, on_white, paint), share)


def paint_under(decal: Decal, finish: Finish) -> Pixels | None:
    """Return the picture that is the paint under each pixel of a decal's art, None where there is none."""
    size = decal.art.width_px, decal.art.height_px
    return under(finish.picture, decal, size) if finish.picture is not None else None


def _mixed(beside: Pixels, over: Pixels, share: Pixels) -> Pixels:
    """Return what is seen where part of each pixel, `share` of 255, has white or film: in linear light."""
    pixels = np.where((share == 255)[..., None], over, beside)
    rows, columns = np.nonzero((share > 0) & (share < 255))
    part = share[rows, columns, None] / 255.0
    first, second = (rgb.decode(each[rows, columns] / 255.0) for each in (beside, over))
    pixels[rows, columns] = rgb.to_8bit(rgb.encode(first + part * (second - first)))
    return pixels


def printed(art: Pixels, on: ink_over_paint.Ground, paint: Pixels | None = None) -> Pixels:
    """Return what is seen (h, w, 3) of art (h, w, 3 or 4) on a ground, or on a picture (h, w, 3) that is the paint.

    Where art was touched up, most of its rows are as they were and are not looked up again.
    """
    starts = range(0, len(art), _BAND)
    bands = [art[top : top + _BAND] for top in starts]
    paints = [paint[top : top + _BAND] if paint is not None else None for top in starts]
    threads = min(os.cpu_count() or 1, _MOST_THREADS, art.shape[0] * art.shape[1] // _THREAD_PIXELS)
    if threads < 2:
        return np.concatenate(list(map(_band, bands, repeat(on), paints)))
    with ThreadPoolExecutor(threads) as pool:  # Pillow lets go of the interpreter while it looks up
        return np.concatenate(list(pool.map(_band, bands, repeat(on), paints)))


@memoize
def _band(art: Pixels, on: ink_over_paint.Ground, paint: Pixels | None) -> Pixels:
    if paint is None:
        return ink_over_paint.lookup(on).apply(art)
    return rgb.to_8bit(
        ink_over_paint.seen(ink_over_paint.overprint(ink_over_paint.flatten(art), on.bare(paint), on), on)
    )


def face_texture(
    decals: Sequence[Decal], finish: Finish, look: Look = "proof", face: FaceName | None = None
) -> Texture | None:
    """Return one texture with all decals of one face, later ones over earlier, or None without decals.

    Where a picture is the paint, it covers the whole `face`, with decals or without, and each of its pixels is the
    ground of the ink over it.

    A single decal that lies straight keeps its own pixels, one for one; round it lies a border of
    bare paint, `PADDING_PX` wide, which the texture's size and place include. Turned or several
    decals share a canvas as fine as the finest of them; where clear films overlap, both inks filter.
    """
    face = decals[0].face if decals else face
    if face is None or not (decals or finish.picture is not None):
        return None
    decals = [with_margin(decal) for decal in decals]
    grid = _grid(decals, finish.picture, face)
    if len(decals) == 1 and decals[0].rotation_deg % 90.0 == 0.0 and _fits(decals[0].art):
        if finish.picture is None:
            return _straight(decals[0], finish, look)
        if grid.is_in_step(decals[0]):
            return _set_in(decals[0], finish, look, grid)
    return _composed(decals, finish, look, face, grid)


def _fits(art: Artwork) -> bool:
    return max(art.width_px, art.height_px) + 2 * PADDING_PX <= _MAX_SIDE_PX


def _straight(decal: Decal, finish: Finish, look: Look) -> Texture:
    """Return the texture of one decal that is turned by whole quarters: no pixel is resampled."""
    pixels = _cut_print(decal, finish, look)
    rows, columns = pixels.shape[:2]
    padded = np.empty((rows + 2 * PADDING_PX, columns + 2 * PADDING_PX, 3), np.uint8)
    edge = rgb.to_8bit(ink_over_paint.unprinted(ink_over_paint.ground(finish, look=look)))
    for border in (padded[:PADDING_PX], padded[-PADDING_PX:], padded[:, :PADDING_PX], padded[:, -PADDING_PX:]):
        border[:] = edge
    padded[PADDING_PX:-PADDING_PX, PADDING_PX:-PADDING_PX] = pixels
    width_mm, height_mm = turned(decal.width_mm, decal.height_mm, decal.rotation_deg)
    pixel_u, pixel_v = width_mm / columns, height_mm / rows
    return Texture(
        pixels=padded,
        u_mm=decal.u_mm - width_mm / 2 - PADDING_PX * pixel_u,
        v_mm=decal.v_mm - height_mm / 2 - PADDING_PX * pixel_v,
        width_mm=padded.shape[1] * pixel_u,
        height_mm=padded.shape[0] * pixel_v,
    )


def _set_in(decal: Decal, finish: Finish, look: Look, grid: _Canvas) -> Texture:
    """Return the texture of one decal on a picture that is the paint, whose grid is in step with its pixels."""
    bare = _bare([], finish, look, decal.face, grid)
    pixels = _cut_print(decal, finish, look)
    column, row = np.rint((_corners(decal).min(axis=0) - (grid.u_mm, grid.v_mm)) * grid.per_mm).astype(int)
    laid = bare.pixels.copy()
    laid[row : row + pixels.shape[0], column : column + pixels.shape[1]] = pixels
    return replace(bare, pixels=laid)


def _cut_print(decal: Decal, finish: Finish, look: Look) -> Pixels:
    """Return a decal as it is seen, bare paint where its film is cut away, turned by whole quarters."""
    pixels, film = composite(decal, finish, look), film_share(decal)
    if film is not None:
        on = ink_over_paint.ground(finish, look=look)
        bare = rgb.to_8bit(ink_over_paint.seen(on.bare(paint_under(decal, finish)), on))
        pixels = _mixed(np.broadcast_to(bare, pixels.shape), pixels, film)
    return np.rot90(pixels, -round(decal.rotation_deg / 90.0))


def _composed(decals: Sequence[Decal], finish: Finish, look: Look, face: FaceName, grid: _Canvas) -> Texture:
    """Return the texture of decals laid one over another, in reflectance, by the exact model."""
    below = ink_over_paint.ground(finish, look=look)
    canvas = np.empty((grid.height_px, grid.width_px, 3), np.float32)
    pixels = np.empty(canvas.shape, np.uint8)

    def paint(start: int, stop: int) -> None:
        canvas[start:stop] = ink_over_paint.paint_at(finish, below, face, grid.places(start, stop))

    def see(start: int, stop: int) -> None:
        pixels[start:stop] = rgb.to_8bit(ink_over_paint.seen(canvas[start:stop].astype(np.float64), below))

    _by_rows(paint, 0, grid.height_px)
    for decal in decals:
        _lay(canvas, grid, decal, grounds(finish, decal, look), (air_share(decal, finish), air_under(look)))
    _by_rows(see, 0, grid.height_px)
    return Texture(
        pixels=pixels,
        u_mm=grid.u_mm,
        v_mm=grid.v_mm,
        width_mm=grid.width_px / grid.per_mm,
        height_mm=grid.height_px / grid.per_mm,
    )


_bare = memoize(_composed)  # of a picture that is the paint, without decals


def _grid(decals: Sequence[Decal], picture: PaintPicture | None, face: FaceName) -> _Canvas:
    """Return a grid that holds all decals and their border, in step with the finest one's own pixels.

    Where a picture is the paint, it holds all of the face and is as fine as that at least.
    """
    outlines = [_corners(decal) for decal in decals] + ([picture.corners(face)] if picture is not None else [])
    corners = np.concatenate(outlines)
    low, high = corners.min(axis=0), corners.max(axis=0)
    finest = max(decals, key=_per_mm, default=None)
    per_mm = max(_per_mm(finest) if finest is not None else 0.0, picture.per_mm if picture is not None else 0.0)
    size = high - low
    room = _MAX_SIDE_PX - 2 * PADDING_PX - 2
    per_mm = min(per_mm, room / float(size.max()), math.sqrt(0.9 * MAX_PIXELS / float(size.prod())))
    anchor = low if finest is None else _corners(finest).min(axis=0)
    u, v = anchor - (np.ceil((anchor - low) * per_mm - 1e-6) + PADDING_PX) / per_mm
    width, height = np.ceil((high - (u, v)) * per_mm - 1e-6).astype(int) + PADDING_PX
    return _Canvas(u_mm=float(u), v_mm=float(v), per_mm=per_mm, width_px=int(width), height_px=int(height))


def _per_mm(decal: Decal) -> float:
    return max(decal.art.width_px / decal.width_mm, decal.art.height_px / decal.height_mm)


def _corners(decal: Decal) -> NDArray[np.float64]:
    """Return the (4, 2) corners of a decal in face millimetres."""
    return box_on_face((decal.width_mm, decal.height_mm), (decal.u_mm, decal.v_mm), decal.rotation_deg)


def _lay(
    canvas: NDArray[np.float32], grid: _Canvas, decal: Decal, on: Grounds, under: tuple[Pixels | None, Film]
) -> None:
    """Print one decal over what the canvas shows already (reflectance, in place); air may lie under it."""
    air = under[0]
    art, share, film = ink_over_paint.flatten(decal.art.pixels), white_share(decal), film_share(decal)
    wanted = [max(1, round(mm * grid.per_mm)) for mm in (decal.width_mm, decal.height_mm)]
    smaller = (min(wanted[0], art.shape[1]), min(wanted[1], art.shape[0]))
    pictures = [Image.fromarray(each) for each in (art, share, air, film) if each is not None]
    if smaller != pictures[0].size:  # finer than the canvas: filter first, or thin lines break up
        pictures = [each.resize(smaller, Image.Resampling.LANCZOS) for each in pictures]
    edge = 2  # repeated pixels, so that the filter sees no black beyond the film
    layers = np.dstack([np.asarray(each, np.float32) for each in pictures])
    padded = np.pad(layers, ((edge, edge), (edge, edge), (0, 0)), mode="edge")
    bands = [Image.fromarray(padded[..., band]) for band in range(layers.shape[2])]  # floats: 8 bits would be cut

    corner = (_corners(decal) - (grid.u_mm, grid.v_mm)) * grid.per_mm
    left, top = np.clip(np.floor(corner.min(axis=0)) - 1, 0, None).astype(int)
    right, bottom = np.minimum(np.ceil(corner.max(axis=0)) + 1, (grid.width_px, grid.height_px)).astype(int)
    turn = axes(decal.rotation_deg)
    scale = np.array([smaller[0] / decal.width_mm, smaller[1] / decal.height_mm])
    half = np.array([decal.width_mm, decal.height_mm]) / 2.0

    def lay(start: int, stop: int) -> None:
        origin = np.array([grid.u_mm, grid.v_mm]) + np.array([left, start]) / grid.per_mm - (decal.u_mm, decal.v_mm)
        step = turn * scale[:, None] / grid.per_mm  # art pixels per canvas pixel, rows x and y
        offset = (turn @ origin + half) * scale + edge
        size, affine = (int(right - left), int(stop - start)), (*step[0], offset[0], *step[1], offset[1])
        sampled = (band.transform(size, Image.Transform.AFFINE, affine, Image.Resampling.BICUBIC) for band in bands)
        window = np.stack([np.asarray(band) for band in sampled], axis=-1)
        pixels = np.rint(np.clip(window, 0.0, 255.0)).astype(np.uint8)
        white = pixels[..., 3] / 255.0 if share is not None else None
        there = pixels[..., -1] / 255.0 if film is not None else 1.0
        x, y = np.arange(right - left) + 0.5, np.arange(stop - start) + 0.5
        along = [
            turn[i, 0] * x / grid.per_mm + (turn[i, 1] * y / grid.per_mm)[:, None] + turn[i] @ origin for i in (0, 1)
        ]
        cover = [np.clip((half[i] - np.abs(along[i])) * grid.per_mm + 0.5, 0.0, 1.0) for i in (0, 1)]
        part = canvas[start:stop, left:right]
        below = part.astype(np.float64)
        if air is not None:
            here = pixels[..., 3 if share is None else 4, None] / 255.0
            below += here * (ink_over_paint.over(np.ones(3), below, under[1]) - below)
        printed = reflected(pixels[..., :3], white, below, on)
        part += ((cover[0] * cover[1] * there)[..., None] * (printed - part)).astype(np.float32)

    _by_rows(lay, int(top), int(bottom))


def _by_rows(work: Callable[[int, int], None], top: int, bottom: int) -> None:
    """Do some work for all rows from one to before another, a few of them at a time in each of several threads."""
    with ThreadPoolExecutor(min(os.cpu_count() or 1, _MOST_THREADS)) as pool:  # numpy lets go of the interpreter
        list(pool.map(lambda start: work(start, min(start + _ROWS, bottom)), range(top, bottom, _ROWS)))
