"""The printed frame of marks that is laid on a drilled face, and the same frame found in a photograph.

Twelve register marks stand round a window, unevenly, so that no other way round looks alike. They lie in the face's
plane: the camera that sees them tells where in the face anything lies, whatever its tilt and lens.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

from mockup.measure.camera import Camera, solved
from mockup.measure.marks import marks, refined

Floats = NDArray[np.float64]
Size = tuple[float, float]

OUTSIDE_MM = 5.0
"""How far outside of the face's edges the marks' middles stand; the window may reach as far as those edges."""
BAND_MM = 12.0
"""How far the paper reaches beyond the face's edges."""
_MARK_MM, _MARK_SHARE = 8.0, 0.2  # side of a mark, and of the frame's shorter side at most
_FAR, _NEAR, _LEFT, _RIGHT = 0.62, 0.5, 0.65, (0.25, 0.5, 0.75)  # shares of the sides
_FAR_MM, _LEFT_MM, _SHORT = 22.0, 40.0, 0.36  # the same for every face, by which its size is told; of short sides
_MOST = 32  # marks of a picture that are tried: two frames and some; our choice
_SKEW = 2.2  # times that opposite sides may differ on the slant: by trial
_NEAR_SHARE = 0.022  # of the frame's longer side, within which a mark is the one expected: by trial
LEAST_FOUND = 10  # of the twelve, without which a frame is none: our choice
_LEAST_PER_MM = 5.0  # pixels: coarser, a rim is a few of them: by trial
_BLUR_MM, _BLUR_PX = 0.5, 4.0  # that an edge may be wide, the greater of both: by trial
_OFF_MM = 0.2  # that a mark may lie off: a frame that lies flat gives 0.03; by trial


def mark_mm(face_mm: Size) -> float:
    """Return the side of a mark of a face's frame."""
    return min(_MARK_MM, _MARK_SHARE * (min(face_mm) + 2 * OUTSIDE_MM))


def middles_mm(face_mm: Size) -> Floats:
    """Return the marks' middles (12, 2) in the face's millimetres, the four corners first, clockwise from the top left.

    `face_mm` is the face's width and height.
    """
    left, top, right, bottom = -OUTSIDE_MM, -OUTSIDE_MM, face_mm[0] + OUTSIDE_MM, face_mm[1] + OUTSIDE_MM
    wide, high = right - left, bottom - top
    return np.array(
        [
            (left, top),
            (right, top),
            (right, bottom),
            (left, bottom),
            (left + min(_FAR_MM, _SHORT * wide), top),
            (left + _FAR * wide, top),
            *((right, top + share * high) for share in _RIGHT),
            (left + _NEAR * wide, bottom),
            (left, top + min(_LEFT_MM, _SHORT * high)),
            (left, top + _LEFT * high),
        ]
    )


@dataclass(frozen=True, kw_only=True, eq=False)
class FoundFrame:
    """A frame in a photograph: the camera that sees the face's plane, and how far marks lie off (rms, mm)."""

    camera: Camera
    off_mm: float


def found_frame(picture: NDArray[np.uint8], face_mm: Size, true_mm: tuple[float, float] = (1.0, 1.0)) -> FoundFrame:
    """Return the frame of a face in a photograph (h, w, 3 or 4), 8-bit encoded sRGB.

    `true_mm` are how many millimetres a millimetre came out long when it was printed, across and down.
    Raises `ValueError` with one plain sentence, and after a semicolon what to do, where it is not seen whole, sharp,
    flat and alone.
    """
    seen = np.array([(each.x_px, each.y_px) for each in marks(picture, _MOST)]).reshape(-1, 2)
    own = middles_mm(face_mm) * true_mm
    match = matched(own, seen)
    if match is None:
        if matched(own * (-1.0, 1.0), seen) is not None:
            raise ValueError("the photograph is mirrored; turn mirroring off in the camera")
        what = f"the frame is not seen whole, {len(seen)} marks of {len(own)} are"
        if len(seen) >= LEAST_FOUND:
            what = "the marks are not those of this face's frame (see --face), or some are cut off"
        raise ValueError(
            f"{what}; take all of it into the picture, sharp, from above, or without a frame give the face's corners: "
            "--corners (good to 1 mm)"
        )
    taken = {spot for spot in match if spot is not None}
    others = np.array([at for spot, at in enumerate(seen) if spot not in taken]).reshape(-1, 2)
    if matched(own, others) is not None:
        raise ValueError("two frames are in the picture; photograph one face at a time")
    height, width = picture.shape[:2]
    pairs = [(mark, spot) for mark, spot in enumerate(match) if spot is not None]
    known, rough = own[[mark for mark, _ in pairs]], seen[[spot for _, spot in pairs]]
    camera = solved(known, rough, (width, height))
    per_mm = camera.per_mm(np.array(face_mm) / 2)
    if per_mm < _LEAST_PER_MM:
        raise ValueError(f"the face is too small in the photograph ({per_mm:.1f} pixels a mm); go nearer")
    grey = picture[..., :3].mean(axis=-1, dtype=np.float32)
    sigma = 0.09 * mark_mm(face_mm) * per_mm
    fine = np.array([_fine(grey, at, sigma) for at in rough])
    camera = solved(known, fine, (width, height))
    blur = _edge_mm(grey, camera, known, mark_mm(face_mm))
    if blur > max(_BLUR_MM, _BLUR_PX / per_mm):
        raise ValueError(f"the photograph is blurred: an edge is {blur:.1f} mm wide; hold still, focus on the face")
    worst = float(np.hypot(*camera.left_px.T).max()) / per_mm
    if worst > _OFF_MM:
        raise ValueError(
            f"a mark of the frame lies {worst:.2f} mm off its place; lay this face's own frame flat, glued on card, "
            "printed at 100 %"
        )
    return FoundFrame(camera=camera, off_mm=camera.rms_px / per_mm)


def _fine(grey: NDArray[np.float32], at: Floats, sigma: float) -> tuple[float, float]:
    """Return a mark's middle to a part of a pixel of the whole picture."""
    reach = int(4 * sigma) + 2
    left, top = max(0, int(at[0]) - reach), max(0, int(at[1]) - reach)
    part = grey[top : int(at[1]) + reach, left : int(at[0]) + reach].astype(np.float64)
    soft = ndimage.gaussian_filter(part, max(0.5, sigma / 3))
    row, column = refined(soft, at[1] - 0.5 - top, at[0] - 0.5 - left, sigma)
    return column + 0.5 + left, row + 0.5 + top


def _edge_mm(grey: NDArray[np.float32], camera: Camera, middles: Floats, side_mm: float) -> float:
    """Return how wide the marks' edges are: their step over their slope, the median of all."""
    along = np.arange(-0.4, 0.4001, 0.01) * side_mm
    widths = []
    for x, y in middles:
        for line in (
            np.stack([x + along, np.full_like(along, y - side_mm / 4)], axis=-1),
            np.stack([np.full_like(along, x - side_mm / 4), y + along], axis=-1),
        ):
            at = camera.pixels(line) - 0.5
            values = ndimage.map_coordinates(grey, [at[:, 1], at[:, 0]], order=1, mode="nearest").astype(np.float64)
            slope = float(np.abs(np.gradient(ndimage.gaussian_filter1d(values, 0.6), along)).max())
            widths.append(float(np.ptp(values)) / max(slope, 1e-9))
    return float(np.median(widths))


def matched(own: Floats, seen: Floats) -> tuple[int | None, ...] | None:
    """Return for each mark of a frame which place (n, 2) shows it, None where none does; None where no frame shows.

    Four places are taken for the corners; the plane through them says where the other marks must be.
    """
    if len(seen) < 4:
        return None
    fours = _clockwise(seen, np.array(list(itertools.combinations(range(len(seen)), 4))))
    corners = seen[fours]
    sides = np.hypot(*np.moveaxis(np.roll(corners, -1, axis=1) - corners, -1, 0))
    ratio = np.maximum(sides[:, :2] / sides[:, 2:], sides[:, 2:] / sides[:, :2]).max(axis=1)
    span = own[:4].max(axis=0) - own[:4].min(axis=0)
    best: tuple[int, float, tuple[int | None, ...]] = (LEAST_FOUND - 1, 0.0, ())
    is_mirrored = own[1, 0] < own[0, 0]
    for turn in range(4):
        way = -1 if is_mirrored else 1
        order = np.roll(np.arange(4)[::way], turn)
        turned, own_sides = corners[:, order], np.roll(sides[:, ::way], turn + (1 if is_mirrored else 0), axis=1)
        shape = (own_sides[:, 0] + own_sides[:, 2]) / (own_sides[:, 1] + own_sides[:, 3]) / (span[0] / span[1])
        fits = np.flatnonzero((ratio < _SKEW) & (shape > 1 / _SKEW) & (shape < _SKEW))
        for start in range(0, len(fits), 4000):
            chosen = fits[start : start + 4000]
            wanted = _carried(own, turned[chosen])
            away = np.hypot(*np.moveaxis(wanted[:, :, None, :] - seen[None, None], -1, 0))
            nearest, how_far = away.argmin(axis=2), away.min(axis=2)
            limit = _NEAR_SHARE * sides[chosen].max(axis=1)
            is_seen = how_far < limit[:, None]
            spots = np.sort(np.where(is_seen, nearest, -1), axis=1)  # one place shows one mark
            count = 1 + (np.diff(spots, axis=1) > 0).sum(axis=1) - (spots[:, 0] < 0)
            left = (np.where(is_seen, how_far, 0.0).sum(axis=1) / limit) / np.maximum(count, 1)
            index = int(np.argmax(count - left))
            if (count[index], -left[index]) > best[:2]:
                found = tuple(
                    int(spot) if fit else None for spot, fit in zip(nearest[index], is_seen[index], strict=True)
                )
                best = int(count[index]), -float(left[index]), found
    return best[2] or None


def _clockwise(seen: Floats, fours: NDArray[np.intp]) -> NDArray[np.intp]:
    """Return fours of places, each in order round its middle, clockwise in the picture."""
    way = seen[fours] - seen[fours].mean(axis=1, keepdims=True)
    return np.take_along_axis(fours, np.argsort(np.arctan2(way[..., 1], way[..., 0]), axis=1), axis=1)


def _carried(own: Floats, corners: Floats) -> Floats:
    """Return where planes through corners (n, 4, 2) carry places (m, 2), as (n, m, 2).

    The first four places are the corners of an upright rectangle: its plane has a closed form (Heckbert, Fundamentals
    of Texture Mapping and Image Warping, 1989, section 2.2.3).
    """
    share = (own - own[0]) / (own[2] - own[0])
    p0, p1, p2, p3 = np.moveaxis(corners, 1, 0)
    d1, d2, d3 = p1 - p2, p3 - p2, p0 - p1 + p2 - p3
    size = d1[:, 0] * d2[:, 1] - d2[:, 0] * d1[:, 1]
    size = np.where(np.abs(size) < 1e-9, 1e-9, size)
    g = (d3[:, 0] * d2[:, 1] - d2[:, 0] * d3[:, 1]) / size
    h = (d1[:, 0] * d3[:, 1] - d3[:, 0] * d1[:, 1]) / size
    a, b = p1 - p0 + g[:, None] * p1, p3 - p0 + h[:, None] * p3
    x, y = share[:, 0], share[:, 1]
    deep = 1.0 + g[:, None] * x + h[:, None] * y
    flat = a[:, None] * x[:, None] + b[:, None] * y[:, None] + p0[:, None]
    return np.asarray(flat / np.where(np.abs(deep) < 1e-6, 1e-6, deep)[..., None])
