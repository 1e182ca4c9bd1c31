"""Decals as the eye will see them: art over paint, laid on a face at true size."""

from __future__ import annotations

import math
import os
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from itertools import repeat

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from mockup.colour import rgb
from mockup.decal import ink_over_paint
from mockup.decal.cut import film_share, with_margin
from mockup.decal.formats import MAX_PIXELS
from mockup.decal.silvering import air_share, air_under
from mockup.decal.white_under import Grounds, grounds, reflected, white_share
from mockup.geometry.planar import axes, box_on_face
from mockup.memo import memoize
from mockup.model.finish import Artwork, Decal, Film, Finish
from mockup.model.material import Texture
from mockup.model.scene import Look

Pixels = NDArray[np.uint8]

PADDING_PX = 16  # bare paint round a texture: one texel is left of it at a sixteenth of the size; our choice
_MAX_SIDE_PX = 16384  # the largest texture that every OpenGL 4.1 driver takes: OpenGL 4.1 core, table 6.46, from memory
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


def composite(decal: Decal, finish: Finish, look: Look = "proof") -> Pixels:
    """Return a decal's art printed on its film over the finish, (h, w, 3) uint8 encoded sRGB, a pixel for a pixel.

    In a photo the veil is left to the renderer, which makes its own highlights. On bare metal the
    ground is the metal's colour: approximate, as `ink_over_paint.limits` says.
    """
    beside, on_white = grounds(finish, decal, look)
    share, air = white_share(decal), air_share(decal, finish)
    if share is not None and share.min() == 255:
        return printed(decal.art.pixels, on_white)
    pixels = printed(decal.art.pixels, beside)
    if air is not None:
        pixels = _mixed(pixels, printed(decal.art.pixels, replace(beside, air=air_under(look))), air)
    if share is None or not share.any():
        return pixels
    return _mixed(pixels, printed(decal.art.pixels, on_white), share)


def _mixed(beside: Pixels, over: Pixels, share: Pixels) -> Pixels:
    """Return what is seen where part of each pixel, `share` of 255, has white or film: in linear light."""
    pixels = np.where((share == 255)[..., None], over, beside)
    rows, columns = np.nonzero((share > 0) & (share < 255))
    part = share[rows, columns, None] / 255.0
    first, second = (rgb.decode(each[rows, columns] / 255.0) for each in (beside, over))
    pixels[rows, columns] = rgb.to_8bit(rgb.encode(first + part * (second - first)))
    return pixels


def printed(art: Pixels, on: ink_over_paint.Ground) -> Pixels:
    """Return what is seen (h, w, 3) of art (h, w, 3 or 4) on a ground.

    Where art was touched up, most of its rows are as they were and are not looked up again.
    """
    bands = [art[top : top + _BAND] for top in range(0, len(art), _BAND)]
    threads = min(os.cpu_count() or 1, _MOST_THREADS, art.shape[0] * art.shape[1] // _THREAD_PIXELS)
    if threads < 2:
        return np.concatenate([_band(band, on) for band in bands])
    with ThreadPoolExecutor(threads) as pool:  # Pillow lets go of the interpreter while it looks up
        return np.concatenate(list(pool.map(_band, bands, repeat(on))))


@memoize
def _band(art: Pixels, on: ink_over_paint.Ground) -> Pixels:
    return ink_over_paint.lookup(on).apply(art)


def face_texture(decals: Sequence[Decal], finish: Finish, look: Look = "proof") -> Texture | None:
    """Return one texture with all decals of one face, later ones over earlier, or None without decals.

    A single decal that lies straight keeps its own pixels, one for one; round it lies a border of
    bare paint, `PADDING_PX` wide, which the texture's size and place include. Turned or several
    decals share a canvas as fine as the finest of them; where clear films overlap, both inks filter.
    """
    if not decals:
        return None
    if len(decals) == 1 and decals[0].rotation_deg % 90.0 == 0.0 and _fits(decals[0].art):
        return _straight(decals[0], finish, look)
    return _composed(decals, finish, look)


def _fits(art: Artwork) -> bool:
    return max(art.width_px, art.height_px) + 2 * PADDING_PX <= _MAX_SIDE_PX


def _straight(decal: Decal, finish: Finish, look: Look) -> Texture:
    """Return the texture of one decal that is turned by whole quarters: no pixel is resampled."""
    decal = with_margin(decal)
    pixels = composite(decal, finish, look)
    edge = rgb.to_8bit(ink_over_paint.unprinted(ink_over_paint.ground(finish, look=look)))
    film = film_share(decal)
    if film is not None:
        pixels = _mixed(np.broadcast_to(edge, pixels.shape), pixels, film)
    quarters = round(decal.rotation_deg / 90.0) % 4
    width_mm, height_mm = decal.width_mm, decal.height_mm
    if quarters % 2:
        width_mm, height_mm = height_mm, width_mm
    pixels = np.rot90(pixels, -quarters)
    rows, columns = pixels.shape[:2]
    padded = np.empty((rows + 2 * PADDING_PX, columns + 2 * PADDING_PX, 3), np.uint8)
    for border in (padded[:PADDING_PX], padded[-PADDING_PX:], padded[:, :PADDING_PX], padded[:, -PADDING_PX:]):
        border[:] = edge
    padded[PADDING_PX:-PADDING_PX, PADDING_PX:-PADDING_PX] = pixels
    pixel_u, pixel_v = width_mm / columns, height_mm / rows
    return Texture(
        pixels=padded,
        u_mm=decal.u_mm - width_mm / 2 - PADDING_PX * pixel_u,
        v_mm=decal.v_mm - height_mm / 2 - PADDING_PX * pixel_v,
        width_mm=padded.shape[1] * pixel_u,
        height_mm=padded.shape[0] * pixel_v,
    )


def _composed(decals: Sequence[Decal], finish: Finish, look: Look) -> Texture:
    """Return the texture of decals laid one over another, in reflectance, by the exact model."""
    decals = [with_margin(decal) for decal in decals]
    grid = _grid(decals)
    below = ink_over_paint.ground(finish, look=look)
    canvas = np.empty((grid.height_px, grid.width_px, 3), np.float32)
    canvas[:] = below.bare()
    for decal in decals:
        _lay(canvas, grid, decal, grounds(finish, decal, look), (air_share(decal, finish), air_under(look)))
    pixels = np.empty(canvas.shape, np.uint8)
    for top in range(0, grid.height_px, _ROWS):
        rows = slice(top, top + _ROWS)
        pixels[rows] = rgb.to_8bit(ink_over_paint.seen(canvas[rows].astype(np.float64), below))
    return Texture(
        pixels=pixels,
        u_mm=grid.u_mm,
        v_mm=grid.v_mm,
        width_mm=grid.width_px / grid.per_mm,
        height_mm=grid.height_px / grid.per_mm,
    )


def _grid(decals: Sequence[Decal]) -> _Canvas:
    """Return a grid that holds all decals and their border, in step with the finest one's own pixels."""
    corners = np.concatenate([_corners(decal) for decal in decals])
    low, high = corners.min(axis=0), corners.max(axis=0)
    finest = max(decals, key=_per_mm)
    per_mm = _per_mm(finest)
    size = high - low
    room = _MAX_SIDE_PX - 2 * PADDING_PX - 2
    per_mm = min(per_mm, room / float(size.max()), math.sqrt(0.9 * MAX_PIXELS / float(size.prod())))
    anchor = _corners(finest).min(axis=0)
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
    for start in range(top, bottom, _ROWS):
        stop = min(start + _ROWS, bottom)
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
