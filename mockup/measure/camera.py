"""A camera solved from points that are known: where it stands, how it is turned, its focal length and its lens.

A pinhole with two terms of radial distortion, its middle in the picture's (Brown, Photogrammetric Engineering 37,
1971). The start comes from the points' plane (Zhang, IEEE Transactions on Pattern Analysis 22, 2000) or, where they
lie in none, from trial poses; all is then fitted at once by least squares in the picture, stray points counting less.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.optimize import least_squares
from scipy.spatial.transform import Rotation

from mockup.geometry.rectify import plane

Floats = NDArray[np.float64]

LEAST_POINTS, LEAST_LINES = 6, 4
"""Pose and focal length are seven unknowns, each point or line gives two: by arithmetic. Points alone are to say how
well they fit, too; four lines do where a builder sees the picture beside and nudges them."""
_FOCAL, _FOCAL_SPREAD = 1.0, 0.7  # of the picture's longer side, and its natural logarithm's: phones and most lenses
_LENS_SPREAD = (0.15, 0.15)  # of the two terms, at a radius of one focal length: our choice
_MOST_STEPS = 40  # of one fit: what takes more fits nothing; by trial
_SOFT_PX = 1.0  # from where a stray point counts less: our choice
_FOCALS = (0.7, 1.1, 2.0)  # tried where the points lie in no plane: by trial
_TILTS_DEG, _TURNS = (0.0, 30.0, 60.0, 90.0), 8


@dataclass(frozen=True, kw_only=True, eq=False)
class Camera:
    """What takes points in millimetres to pixels (x right, y down, from the picture's corner).

    `turn` (3, 3) and `shift` (3,) take a point to the camera's own axes: x right, y down, z ahead. `focal` is in
    pixels, `lens` holds both terms of distortion. `left_px` (n, 2) is what the fit leaves of each point.
    """

    size_px: tuple[int, int]
    focal: float
    lens: tuple[float, float]
    turn: Floats
    shift: Floats
    left_px: Floats

    @property
    def fov_deg(self) -> float:
        """The field of view across the picture's height, its lens undistorted."""
        return float(np.degrees(2.0 * np.arctan(self.size_px[1] / 2.0 / self.focal)))

    @property
    def eye(self) -> Floats:
        """Where the camera stands (3,), in the points' millimetres."""
        return np.asarray(-self.turn.T @ self.shift)

    @property
    def rms_px(self) -> float:
        """How far the points lie off where the camera sees them, root mean square along one axis."""
        return float(np.sqrt((self.left_px**2).mean()))

    def pixels(self, points: ArrayLike) -> Floats:
        """Return pixels (..., 2) of points (..., 3), or of (..., 2) in the plane z = 0."""
        return _seen(_deep(points), self.turn, self.shift, self.focal, self.lens, self.size_px)

    def rays(self, pixels: ArrayLike) -> Floats:
        """Return the directions (..., 3) in which pixels (..., 2) look, in the points' axes, not of unit length."""
        straight = _straight((np.asarray(pixels, np.float64) - _middle(self.size_px)) / self.focal, self.lens)
        return np.asarray(np.concatenate([straight, np.ones((*straight.shape[:-1], 1))], axis=-1) @ self.turn)

    def places(self, pixels: ArrayLike, z_mm: float = 0.0) -> Floats:
        """Return places (..., 2) at which pixels (..., 2) see the plane z = `z_mm`."""
        way = self.rays(pixels)
        far = (z_mm - self.eye[2]) / way[..., 2]
        return np.asarray(self.eye[:2] + way[..., :2] * far[..., None])

    def per_mm(self, point: ArrayLike) -> float:
        """Return pixels in a millimetre at a point (2,) or (3,), the lesser of both directions of its plane."""
        at = _deep(point)
        steps = self.pixels(at + np.array([[0.5, 0, 0], [0, 0.5, 0]])) - self.pixels(
            at - np.array([[0.5, 0, 0], [0, 0.5, 0]])
        )
        return float(np.hypot(steps[:, 0], steps[:, 1]).min())


@dataclass(frozen=True, kw_only=True, eq=False)
class Lines:
    """Straight edges: two points of each (n, 2, 3), and two pixels (n, 2, 2) anywhere along where it is seen."""

    points: Floats
    pixels: Floats


NO_LINES = Lines(points=np.zeros((0, 2, 3)), pixels=np.zeros((0, 2, 2)))


def solved(
    points: ArrayLike,
    pixels: ArrayLike,
    size_px: tuple[int, int],
    *,
    lines: Lines = NO_LINES,
    has_lens: bool = True,
    near: Camera | None = None,
) -> Camera:
    """Return the camera that sees points (n, 3), or (n, 2) in the plane z = 0, at pixels (n, 2) of a picture.

    It sees `lines` along their pixels too. Without `has_lens` the lens is taken as free of distortion, which few or
    rough points ask for. A camera `near` it is where to start from, which is quick. The points'
    axes are right-handed, as the world's are and a face's with z into the box. Raises `ValueError`
    in one plain sentence.
    """
    known, seen = _deep(points), np.asarray(pixels, np.float64)
    if len(known) < LEAST_POINTS and len(lines.points) < LEAST_LINES:
        raise ValueError(f"a camera needs {LEAST_POINTS} points, found {len(known)}")
    centre, reach = known.mean(axis=0), float(np.ptp(known, axis=0).max())
    own, edges = (known - centre) / reach, Lines(points=(lines.points - centre) / reach, pixels=lines.pixels)
    starts = _starts(own, seen, size_px)
    if near is not None:
        starts = iter([(near.focal, near.turn, (near.shift + near.turn @ centre) / reach)])
    best: tuple[float, Floats] | None = None
    for focal, turn, shift in starts:
        start = np.concatenate([[np.log(focal)], Rotation.from_matrix(turn).as_rotvec(), shift, [0.0, 0.0]])
        given = (own, seen, edges, size_px, has_lens)
        fit = least_squares(_off, start, args=given, loss="soft_l1", f_scale=_SOFT_PX, max_nfev=_MOST_STEPS)
        if best is None or fit.cost < best[0]:
            best = float(fit.cost), fit.x
    if best is None:
        raise ValueError("the points lie in a line")
    focal, turn, shift, lens = _unpacked(best[1], has_lens)
    moved = shift * reach - turn @ centre
    return Camera(
        size_px=size_px,
        focal=focal,
        lens=lens,
        turn=turn,
        shift=moved,
        left_px=seen - _seen(known, turn, moved, focal, lens, size_px),
    )


def _unpacked(values: Floats, has_lens: bool) -> tuple[float, Floats, Floats, tuple[float, float]]:
    lens = (float(values[7]), float(values[8])) if has_lens else (0.0, 0.0)
    return float(np.exp(values[0])), Rotation.from_rotvec(values[1:4]).as_matrix(), values[4:7], lens


def _off(
    values: Floats, points: Floats, pixels: Floats, lines: Lines, size_px: tuple[int, int], has_lens: bool
) -> Floats:
    """Return how far each point is seen off its pixel, and how far the camera is off usual ones, as residuals."""
    focal, turn, shift, lens = _unpacked(values, has_lens)
    away = (_seen(points, turn, shift, focal, lens, size_px) - pixels).ravel()
    if len(lines.points):
        first, second = np.moveaxis(_seen(lines.points, turn, shift, focal, lens, size_px), 1, 0)
        way = (second - first) / np.maximum(np.hypot(*(second - first).T), 1e-9)[:, None]
        beside = lines.pixels - first[:, None]
        across = beside[..., 1] * way[:, None, 0] - beside[..., 0] * way[:, None, 1]
        away = np.concatenate([away, across.ravel()])
    usual = np.log(_FOCAL * max(size_px))
    prior = [(np.log(focal) - usual) / _FOCAL_SPREAD, values[7] / _LENS_SPREAD[0], values[8] / _LENS_SPREAD[1]]
    return np.concatenate([away, 0.3 * np.array(prior)])  # as a third of a pixel: only what the points leave open


def _starts(points: Floats, pixels: Floats, size_px: tuple[int, int]) -> Iterator[tuple[float, Floats, Floats]]:
    """Yield focal length, turn and shift to start from."""
    flatness = np.ptp(points[:, 2])
    if flatness < 1e-6:
        yield from _plane_starts(points[:, :2], points[0, 2], pixels, size_px)
        return
    usual, away = _FOCAL * max(size_px), pixels - _middle(size_px)
    wide = float(np.ptp(pixels, axis=0).max())
    trials = []
    for factor in _FOCALS:
        for tilt in _TILTS_DEG:
            for step in range(_TURNS):
                for roll in range(0, 360, 90):
                    turn = Rotation.from_euler("zxz", [step * 360 / _TURNS, tilt, roll], degrees=True).as_matrix()
                    focal = factor * usual
                    far = focal / wide
                    mean = away.mean(axis=0) / focal * far
                    shift = np.array([mean[0], mean[1], far])
                    seen = _seen(points, turn, shift, focal, (0.0, 0.0), size_px)
                    trials.append((float(((seen - pixels) ** 2).sum()), focal, turn, shift))
    trials.sort(key=lambda each: each[0])
    for _, focal, turn, shift in trials[:6]:
        yield focal, turn, shift


def _plane_starts(
    points: Floats, z: float, pixels: Floats, size_px: tuple[int, int]
) -> Iterator[tuple[float, Floats, Floats]]:
    away = pixels - _middle(size_px)
    matrix = plane(points, away).matrix
    usual = _FOCAL * max(size_px)
    for focal in (usual, 0.5 * usual, 2.0 * usual):
        across, down, place = (np.diag([1 / focal, 1 / focal, 1.0]) @ matrix).T
        size = float(np.sqrt(np.linalg.norm(across) * np.linalg.norm(down))) * float(np.sign(place[2]) or 1.0)
        axes = np.stack([across, down, np.cross(across, down) / size], axis=1) / size
        left, _, right = np.linalg.svd(axes)
        turn = left @ np.diag([1.0, 1.0, np.linalg.det(left @ right)]) @ right
        yield focal, turn, place / size - turn[:, 2] * z


def _seen(
    points: Floats, turn: Floats, shift: Floats, focal: float, lens: tuple[float, float], size_px: tuple[int, int]
) -> Floats:
    own = points @ turn.T + shift
    flat = own[..., :2] / np.maximum(own[..., 2:], 1e-6)
    return np.asarray(_bent(flat, lens) * focal + _middle(size_px))


def _bent(flat: Floats, lens: tuple[float, float]) -> Floats:
    reach = np.minimum((flat**2).sum(axis=-1, keepdims=True), 4.0)
    return np.asarray(flat * (1.0 + lens[0] * reach + lens[1] * reach**2))


def _straight(bent: Floats, lens: tuple[float, float]) -> Floats:
    """Return what `_bent` bends to these places, by repeated correction."""
    flat = bent
    for _ in range(20):
        reach = np.minimum((flat**2).sum(axis=-1, keepdims=True), 4.0)
        flat = bent / (1.0 + lens[0] * reach + lens[1] * reach**2)
    return np.asarray(flat)


def _middle(size_px: tuple[int, int]) -> Floats:
    return np.array(size_px, np.float64) / 2.0


def _deep(points: ArrayLike) -> Floats:
    """Return points (..., 3), those of (..., 2) in the plane z = 0."""
    at = np.asarray(points, np.float64)
    return at if at.shape[-1] == 3 else np.concatenate([at, np.zeros((*at.shape[:-1], 1))], axis=-1)
