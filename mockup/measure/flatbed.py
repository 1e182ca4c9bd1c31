"""The drilled face on a flatbed scanner: where its holes lie among themselves, in millimetres.

The scanner's resolution gives the scale. The holes' own pattern says where the face lies and how it is turned; a scan
shows no edges that could be trusted (a lamp at one side moves them by up to a millimetre), so that it says nothing of
the pattern's place on the box.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

from mockup.colour import rgb
from mockup.geometry.rigid import RigidMove, best_move
from mockup.measure.holes import Floats, SeenHole, candidates, find_hole
from mockup.model.units import MM_PER_INCH

DIFFER_MM = 0.15  # of one hole in two scans, each good for 0.1: our choice
DOUBT_MM, MEASURED_DOUBT_MM = 0.1, 0.05
"""How far a hole's middle may be off among the others, the scanner's scale as it says and measured: traced scans gave
0.10 and 0.04 at most; Divis, Mair and Corney, Strathclyde, reached 0.05 with a desktop scanner."""
LEAST_HOLES = 3  # two would lie either way round: by arithmetic
_COARSE_PER_MM = 5.0  # pixels in a millimetre of the picture in which the pattern is sought: by trial
_LEAST_PER_MM = 5.5  # about 140 dpi; coarser, a rim is a few pixels: by trial
_MATCH_MM = 2.2  # how far a hole may be off its place in the pattern: by trial
_LEAST_SHARE = 0.6  # of the holes that the pattern must be known by: our choice
_HINT_DEG, _OTHERWISE_DEG = 45.0, 20.0  # of a turn that was told, and of one that is another: our choice
_SAMPLE_MM = 3.0  # two holes nearer than that turn the pattern too loosely: our choice


@dataclass(frozen=True, kw_only=True, eq=False)
class ScannedFace:
    """The holes of a face as scanned: places (n, 2) in the scan's millimetres, x right and y down, nan where unseen.

    `seen` says of each how it looks; None where nothing shows.
    """

    places_mm: Floats
    seen: tuple[SeenHole | None, ...]

    @property
    def is_sure(self) -> NDArray[np.bool_]:
        """Which of them are sure."""
        return np.array([each is not None and not each.unsure for each in self.seen])


def scanned(
    picture: NDArray[np.uint8],
    dpi: tuple[float, float],
    designed_mm: Floats,
    diameters_mm: Sequence[float],
    true_mm: tuple[float, float] = (1.0, 1.0),
    turn_deg: float | None = None,
) -> ScannedFace:
    """Return the round holes of a face, designed at places (n, 2), in a scan (h, w, 3 or 4), 8-bit encoded sRGB.

    The face may lie turned any way, unless `turn_deg` says which (clockwise, to within 45 degrees). `true_mm` are how
    many millimetres the scanner's millimetre is, across and down. Raises `ValueError` with one plain sentence, and
    after a semicolon what to do, where the pattern does not show.
    """
    if len(designed_mm) < LEAST_HOLES:
        raise ValueError(f"the face has fewer than {LEAST_HOLES} round holes; type them from the edges with calipers")
    scale = np.array(true_mm) * MM_PER_INCH / np.array(dpi)  # millimetres in a pixel
    per_mm = float(1.0 / scale.mean())
    if per_mm < _LEAST_PER_MM:
        raise ValueError("the scan is too coarse; scan the face at 300 dpi")
    grey = rgb.decode_8bit(picture[..., :3]).mean(axis=-1)
    if abs(scale[0] / scale[1] - 1.0) > 1e-6:  # square pixels, so that a round hole is round
        grey = ndimage.zoom(grey, (scale[1] / scale.mean(), scale[0] / scale.mean()), order=1)
    move = _laid(grey, per_mm, designed_mm, diameters_mm, turn_deg)
    seen = []
    for _ in range(2):  # the second time from where the surest ones lie
        seen = [
            find_hole(grey, (at[0] * per_mm, at[1] * per_mm), wide, per_mm)
            for at, wide in zip(move.of(designed_mm), diameters_mm, strict=True)
        ]
        places = _places(seen, per_mm)
        is_sure = np.array([each is not None and not each.unsure for each in seen])
        if is_sure.sum() < LEAST_HOLES:
            break
        move = best_move(designed_mm[is_sure], places[is_sure])
    return ScannedFace(places_mm=_places(seen, per_mm), seen=tuple(seen))


def _places(seen: Sequence[SeenHole | None], per_mm: float) -> Floats:
    return np.array([(each.x_px / per_mm, each.y_px / per_mm) if each else (np.nan, np.nan) for each in seen])


def _laid(
    grey: Floats, per_mm: float, designed_mm: Floats, diameters_mm: Sequence[float], turn_deg: float | None
) -> RigidMove:
    """Return the move that takes designed places to the scan's millimetres: the one that most holes agree on."""
    step = max(1, round(per_mm / _COARSE_PER_MM))
    height, width = (side // step * step for side in grey.shape)
    small = grey[:height, :width].reshape(height // step, step, width // step, step).mean(axis=(1, 3))
    coarse = per_mm / step
    found = {wide: at / coarse for wide, at in candidates(small, diameters_mm, coarse).items()}
    tried: list[tuple[float, float, list[tuple[int, Floats]]]] = []
    for i, j in itertools.combinations(range(len(designed_mm)), 2):
        apart = float(np.hypot(*(designed_mm[j] - designed_mm[i])))
        if apart < _SAMPLE_MM:
            continue
        for one, other in itertools.product(found[diameters_mm[i]], found[diameters_mm[j]]):
            if abs(float(np.hypot(*(other - one))) - apart) > 0.6 * _MATCH_MM:
                continue
            move = best_move(designed_mm[[i, j]], np.array([one, other]))
            if turn_deg is None or _between(move.turn_deg, turn_deg) <= _HINT_DEG:
                score, pairs = _agreed(move.of(designed_mm), diameters_mm, found)
                tried.append((score, move.turn_deg, pairs))
    _, turn, best = max(tried, key=lambda each: each[0], default=(0.0, 0.0, []))
    if len(best) < max(LEAST_HOLES, _LEAST_SHARE * len(designed_mm)):
        raise ValueError(
            "the pattern of the holes does not show in the scan; lay the drilled face flat on the glass, lid of the "
            "scanner open, room dark, at 300 dpi"
        )
    if any(len(pairs) == len(best) and _between(other, turn) > _OTHERWISE_DEG for _, other, pairs in tried):
        raise ValueError(
            "the pattern of the holes looks alike turned otherwise; say how the face lay: --turn 0, 90 ..."
        )
    own, seen = zip(*best, strict=True)
    return best_move(designed_mm[list(own)], np.array(seen))


def _between(one_deg: float, other_deg: float) -> float:
    """Return the angle between two directions, 0 to 180."""
    return abs((one_deg - other_deg + 180.0) % 360.0 - 180.0)


def _agreed(
    placed_mm: Floats, diameters_mm: Sequence[float], found: dict[float, Floats]
) -> tuple[float, list[tuple[int, Floats]]]:
    """Return how well a move fits what was found, and the pairs of (hole, place) that agree."""
    score, pairs = 0.0, []
    for index, (at, wide) in enumerate(zip(placed_mm, diameters_mm, strict=True)):
        if len(found[wide]) == 0:
            continue
        away = np.hypot(*(found[wide] - at).T)
        nearest = int(away.argmin())
        if away[nearest] < _MATCH_MM:
            score += 1.0 - 0.5 * float(away[nearest]) / _MATCH_MM
            pairs.append((index, found[wide][nearest]))
    return score, pairs


def joined(faces: Sequence[ScannedFace]) -> tuple[Floats, list[str]]:
    """Return places (n, 2) by one or more scans of a face, in the first one's millimetres, and why each is unsure.

    What a scanner draws out of shape along its way shows as a difference between scans of a face that was turned: they
    are averaged, and a hole in which they differ by more than `DIFFER_MM` is unsure.
    """
    first, *others = faces
    places, unsure = [first.places_mm], [_why(each) for each in first.seen]
    for other in others:
        both = first.is_sure & other.is_sure
        if both.sum() < LEAST_HOLES:
            raise ValueError("the scans show too few of the same holes; scan the face again")
        places.append(best_move(other.places_mm[both], first.places_mm[both]).of(other.places_mm))
        for index, seen in enumerate(other.seen):
            gap = float(np.hypot(*(places[-1][index] - places[0][index])))
            unsure[index] = (
                unsure[index] or _why(seen) or (f"the scans differ by {gap:.2f} mm" if gap > DIFFER_MM else "")
            )
    return np.asarray(np.mean(places, axis=0)), unsure


def _why(seen: SeenHole | None) -> str:
    return "no round hole is seen there" if seen is None else seen.unsure
