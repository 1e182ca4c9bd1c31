"""The ink that comes closest, over this paint, to the art as drawn; and what no ink can reach there.

Over a clear film ink only takes light away, so most colours that are lighter than the paint in any band
cannot be had. For every colour of the art the ink is sought whose predicted result differs least from the
drawn colour by CIEDE2000. Flat art has few colours and each is sought by itself; a picture with very many
is led by a lattice of colours, which keeps its gradients smooth.

Black stays black: what is drawn nearly black is printed as drawn, for mixed dots of several inks blur lettering and
show a colour of their own. Lettering and lines are a reserve: their ink may get darker, never lighter.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage, spatial

from mockup.colour import rgb
from mockup.colour.difference import ciede2000, encoded_to_lab
from mockup.decal import ink_over_paint
from mockup.decal.ink_over_paint import Floats, Ground, Pixels
from mockup.decal.painting import finishes_under, shares_under
from mockup.geometry.planar import axes
from mockup.memo import memoize
from mockup.model.finish import Decal, Finish

SEEN_DE = 2.0  # CIEDE2000 that shows side by side: common practice, no source
BLACK_L, BLACK_CHROMA = 18.0, 10.0  # CIELAB up to which a drawn colour counts as black: our choice
LINE_MM = 1.2  # strokes no wider are lettering and lines; letters of 8 mm have such strokes: common practice, no source
ALONE = 3000  # colours that are sought one by one; more are led by the lattice: about three seconds
_LATTICE = 17  # points per axis: common practice for print profiles
_REACH = 25  # points per axis of what a printer reaches: by trial
_STEPS = (0.25, 0.12, 0.06, 0.03, 0.015, 0.007, 1.0 / 255.0)  # of encoded art; each tried until nothing is gained
_TRIES = 6  # rounds at one step
_WAYS: Floats = np.array([way for way in itertools.product((-1.0, 0.0, 1.0), repeat=3) if any(way)])
_PIXELS_AT_ONCE = 200_000
_EDGE_DEG = 1.0  # hues that are opposite but for less count as opposite: our choice
_AT_ONCE = 4096  # colours at a time, so that memory stays small


@dataclass(frozen=True, kw_only=True, eq=False)
class Match:
    """Ink to print, and how far its result is from the art as drawn.

    `pixels` (h, w, 3) is encoded sRGB ink; `before` and `after` (h, w) are CIEDE2000 between the drawn
    colour and what is seen of the art as it is and of the matched ink. `is_wished` (h, w) says where
    the art asks for a colour: not where it is transparent, nor, in art without any transparency,
    where it is paper white. `is_kept` (h, w) says where black, lettering and lines keep at least the ink that was
    drawn.
    """

    pixels: Pixels
    before: NDArray[np.float32]
    after: NDArray[np.float32]
    is_wished: NDArray[np.bool_]
    is_kept: NDArray[np.bool_]

    @property
    def is_beyond(self) -> NDArray[np.bool_]:
        """Where (h, w) even the best ink leaves a difference that shows."""
        return np.asarray(self.is_wished & (self.after > SEEN_DE))


def match(art: Pixels, on: Ground, line_px: float = 0.0) -> Match:
    """Return the best ink for art (h, w, 4), 8-bit with straight alpha, over a ground; never worse than the art itself.

    Strokes no wider than `line_px` pixels are lettering and lines. What is transparent stays without ink; where art is
    half transparent, at its soft edges, the wish is its colour mixed with the paint as it is seen.
    """
    flat, colours = ink_over_paint.flatten(art), art[..., :3]
    alpha = art[..., 3] if art.shape[2] == 4 else np.full(flat.shape[:2], 255, np.uint8)
    codes, where = _palette(colours)
    best = closest(codes, on)
    wish = encoded_to_lab(codes / 255.0)
    before = _differences(codes, on, wish).astype(np.float32)[where]
    after = _differences(best, on, wish).astype(np.float32)[where]
    pixels = best[where]
    pixels[alpha == 0] = 255
    before[alpha == 0] = after[alpha == 0] = 0.0
    rows, columns = np.nonzero((alpha > 0) & (alpha < 255))
    for low in range(0, len(rows), _PIXELS_AT_ONCE):
        at = rows[low : low + _PIXELS_AT_ONCE], columns[low : low + _PIXELS_AT_ONCE]
        pixels[at], before[at], after[at] = _soft(colours[at], pixels[at], flat[at], alpha[at], on)
    is_wished = alpha > 0 if (alpha < 255).any() else rgb.most(flat != 255)
    is_thin = _thin(flat, line_px)
    rows, columns = np.nonzero(is_thin & rgb.most(pixels > flat))
    for low in range(0, len(rows), _PIXELS_AT_ONCE):
        at = rows[low : low + _PIXELS_AT_ONCE], columns[low : low + _PIXELS_AT_ONCE]
        pixels[at], after[at] = _no_lighter(pixels[at], flat[at], art[at], before[at], on)
    is_kept = is_wished & (is_thin | _is_black(codes)[where])
    return Match(pixels=pixels, before=before, after=after, is_wished=is_wished, is_kept=is_kept)


def match_on(finish: Finish, decal: Decal, line_px: float = 0.0) -> Match:
    """Return the best ink for a decal over a finish, as `match` does.

    Where a picture is the paint, each of its main colours has its own, mixed by how near the paint is to it.
    """
    plain = finishes_under(finish, decal)
    found = [match(decal.art.pixels, ink_over_paint.ground(each, decal.ink_film), line_px) for each in plain]
    if finish.picture is None or len(found) == 1:
        return found[0]
    shares = shares_under(finish.picture, decal, [each.paint for each in plain])

    def mixed(name: str) -> Floats:  # turned over, so that a share goes with all channels of its pixel
        pictures = (np.asarray(getattr(each, name)).T for each in found)
        return sum((share.T * each for share, each in zip(shares, pictures, strict=True)), np.zeros(())).T

    before, after = (mixed(name).astype(np.float32) for name in ("before", "after"))
    return replace(found[0], pixels=np.rint(mixed("pixels")).astype(np.uint8), before=before, after=after)


def _thin(flat: Pixels, line_px: float) -> NDArray[np.bool_]:
    """Return where art (h, w, 3) over white has strokes no wider than so many pixels, which an opening takes away."""
    side = round(line_px)
    if side < 2:
        return np.zeros(flat.shape[:2], bool)
    ink = ink_over_paint.ink_of(flat) >= ink_over_paint.FAINT
    held = ndimage.minimum_filter(ink, side + 1, mode="nearest")
    return np.asarray(ink & ~ndimage.maximum_filter(held, side + 1, origin=-((side + 1) % 2 == 0), mode="nearest"))


def _no_lighter(
    best: Pixels, drawn: Pixels, art: Pixels, before: NDArray[np.float32], on: Ground
) -> tuple[Pixels, NDArray[np.float32]]:
    """Return (ink, difference after) of a reserve's pixels (n, 3): no band lighter than drawn, nothing worse."""
    ink = np.minimum(best, drawn)
    cover = art[:, 3:] / 255.0 if art.shape[1] == 4 else np.ones((len(art), 1))
    paint = ink_over_paint.predict(np.ones(3), on)
    wish = encoded_to_lab(cover * art[:, :3] / 255.0 + (1.0 - cover) * paint)
    after = _differences(ink, on, wish).astype(np.float32)
    is_better = after < before
    return np.where(is_better[:, None], ink, drawn), np.where(is_better, after, before)


def _is_black(colours: Pixels) -> NDArray[np.bool_]:
    """Return which drawn colours (n, 3) count as black."""
    light, a, b = encoded_to_lab(colours / 255.0).T
    return np.asarray((light <= BLACK_L) & (np.hypot(a, b) <= BLACK_CHROMA))


def _palette(colours: Pixels) -> tuple[Pixels, NDArray[np.uint32]]:
    """Return the different colours (n, 3) of a picture, and for each pixel (h, w) the number of its own."""
    packed = colours[..., 0].astype(np.uint32) << 16 | colours[..., 1].astype(np.uint32) << 8 | colours[..., 2]
    number = np.zeros(1 << 24, np.uint32)  # by colour: far quicker than sorting the pixels
    number[packed.ravel()] = 1
    codes = np.flatnonzero(number)
    number[codes] = np.arange(len(codes), dtype=np.uint32)
    return np.stack([codes >> 16, codes >> 8 & 255, codes & 255], axis=1).astype(np.uint8), number[packed]


def _soft(colours: Pixels, best: Pixels, flat: Pixels, alpha: Pixels, on: Ground) -> tuple[Pixels, Floats, Floats]:
    """Return (ink, difference before, after) of half transparent pixels (n, 3), given their colours' best ink."""
    cover = alpha[:, None] / 255.0
    paint = ink_over_paint.predict(np.ones(3), on)  # with its film
    wish = encoded_to_lab(cover * colours / 255.0 + (1.0 - cover) * paint)
    thinned = np.rint(cover * best + (1.0 - cover) * 255.0).astype(np.uint8)
    before, after = _differences(flat, on, wish), _differences(thinned, on, wish)
    is_better = after < before
    return np.where(is_better[:, None], thinned, flat), before, np.where(is_better, after, before)


def closest(colours: Pixels, on: Ground) -> Pixels:
    """Return for each drawn colour (n, 3), 8-bit, the 8-bit ink whose result is nearest to it by CIEDE2000.

    White, where the art prints nothing, stays white: paint is what is wanted there. Black stays as it was drawn.
    """
    wish = encoded_to_lab(colours / 255.0)
    offers = [colours]
    if len(colours) <= ALONE:
        offers.append(rgb.to_8bit(_sought(_start(wish, on), wish, on)))
    else:
        offers.append(_led(colours, on))
    misses = np.stack([_differences(each, on, wish) for each in offers])
    best = np.stack(offers)[misses.argmin(axis=0), np.arange(len(colours))]
    best[(colours == 255).all(axis=1)] = 255
    is_black = _is_black(colours)
    best[is_black] = colours[is_black]
    return np.asarray(best)


def _led(colours: Pixels, on: Ground) -> Pixels:
    """Return inks read from a lattice of colours that were sought one by one, by trilinear interpolation."""
    steps = np.linspace(0.0, 1.0, _LATTICE)
    points = np.stack(np.meshgrid(steps, steps, steps, indexing="ij"), axis=-1).reshape(-1, 3)
    wish = encoded_to_lab(points)
    found = _sought(_start(wish, on), wish, on).reshape(_LATTICE, _LATTICE, _LATTICE, 3)
    at = colours.T / 255.0 * (_LATTICE - 1)
    bands = [ndimage.map_coordinates(found[..., band], at, order=1) for band in range(3)]
    return rgb.to_8bit(np.stack(bands, axis=1))


def _start(wish: Floats, on: Ground) -> Floats:
    """Return encoded inks (n, 3) to begin with: for each wished CIELAB colour the nearest of the printer's lattice."""
    inks, tree = _reach(on)
    return np.asarray(inks[tree.query(wish)[1]])


@memoize
def _reach(on: Ground) -> tuple[Floats, Any]:
    """Return a lattice of encoded inks (n, 3), and a tree of the CIELAB colours that they become on a ground."""
    steps = np.linspace(0.0, 1.0, _REACH)
    inks = np.stack(np.meshgrid(steps, steps, steps, indexing="ij"), axis=-1).reshape(-1, 3)
    return inks, spatial.cKDTree(encoded_to_lab(ink_over_paint.predict(inks, on)))


def _sought(start: Floats, wish: Floats, on: Ground) -> Floats:
    """Return encoded inks (n, 3) no farther from the wished CIELAB colours than `start`, by pattern search."""
    found = start.copy()
    for low in range(0, len(start), _AT_ONCE):
        part = slice(low, low + _AT_ONCE)
        here, goal = found[part], wish[part]
        miss = _differences(here, on, goal)
        for step in _STEPS:
            active = np.flatnonzero(miss > 0.0)
            for _ in range(_TRIES):
                if not len(active):
                    break
                tried = np.clip(here[active, None, :] + step * _WAYS, 0.0, 1.0)
                misses = _differences(tried, on, goal[active, None, :])
                pick = misses.argmin(axis=1)
                least = misses[np.arange(len(active)), pick]
                gains = least < miss[active] - 1e-6
                moved = active[gains]
                here[moved], miss[moved] = tried[gains, pick[gains]], least[gains]
                active = moved
    return found


def _differences(inks: Pixels | Floats, on: Ground, wish: Floats) -> Floats:
    """Return CIEDE2000 (...) between what is seen of inks (..., 3) and the wished CIELAB colours, which broadcast.

    Where two hues lie opposite the formula jumps (Sharma, Wu, Dalal and Celik, Mathematical Discontinuities in
    CIEDE2000, 12th Color Imaging Conference, 2004): the greater value counts there, or a search would cross the edge
    to a colour that looks no nearer.
    """
    seen = encoded_to_lab(ink_over_paint.predict(inks, on))
    found, wish = ciede2000(seen, wish), np.broadcast_to(wish, seen.shape)
    along = (seen[..., 1:] * wish[..., 1:]).sum(axis=-1)
    across = seen[..., 1] * wish[..., 2] - seen[..., 2] * wish[..., 1]
    is_opposite = np.abs(across) < -along * np.tan(np.radians(_EDGE_DEG))
    for turn in (-_EDGE_DEG, _EDGE_DEG) if is_opposite.any() else ():
        turned = seen[is_opposite]
        turned[:, 1:] = turned[:, 1:] @ axes(turn)
        found[is_opposite] = np.maximum(found[is_opposite], ciede2000(turned, wish[is_opposite]))
    return found
