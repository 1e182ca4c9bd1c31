"""The drilled face in a straight picture: where its holes lie among themselves, and what else looks like one.

The holes' own pattern says where the face lies in the picture and how it is turned.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from mockup.geometry.rigid import RigidMove, best_move
from mockup.measure.holes import Floats, SeenHole, Slant, candidates, find_hole

DIFFER_MM = 0.15  # of one hole in two pictures, each good for 0.1: our choice
LEAST_HOLES = 3  # two would lie either way round: by arithmetic
_COARSE_PER_MM = 5.0  # pixels in a millimetre of the picture in which the pattern is sought: by trial
_MATCH_MM = 2.2  # how far a hole may be off its place in the pattern: by trial
_LEAST_SHARE = 0.6  # of the holes that the pattern must be known by: our choice
_HINT_DEG, _OTHERWISE_DEG = 45.0, 20.0  # of a turn that was told, and of one that is another: our choice
_SAMPLE_MM = 3.0  # two holes nearer than that turn the pattern too loosely: our choice
_STRAY_MM = 15.0  # how far a hole is sought that is not at its place: our choice
_LIGHT_MM = 0.3  # half the side of the square that a place's light is taken from: our choice
_ALIKE = 1.3  # times as bright as the brightest sure hole, what looks like another may be inside: our choice


@dataclass(frozen=True, kw_only=True, eq=False)
class SeenFace:
    """The holes of a face as a picture shows them: places (n, 2) in its millimetres, x right, y down, nan where unseen.

    `seen` says of each how it looks, None where nothing shows. `move` takes designed places to the picture's
    millimetres. `strays` are round holes (x, y, diameter) where the design has none. `grey` is the picture, linear
    light (h, w) with `per_mm` pixels in a millimetre.
    """

    places_mm: Floats
    seen: tuple[SeenHole | None, ...]
    move: RigidMove
    strays: tuple[tuple[float, float, float], ...]
    grey: Floats
    per_mm: float

    @property
    def is_sure(self) -> NDArray[np.bool_]:
        """Which of them are sure."""
        return np.array([each is not None and not each.unsure for each in self.seen])


def seen_face(
    grey: Floats,
    per_mm: float,
    designed_mm: Floats,
    diameters_mm: Sequence[float],
    *,
    turn_deg: float | None = None,
    slant: Slant | None = None,
) -> SeenFace:
    """Return the round holes of a face, designed at places (n, 2), in a straight picture of linear light (h, w).

    The face may lie turned any way, unless `turn_deg` says which (clockwise, to within 45 degrees). `slant` says from
    where the picture was taken, None for a scan. Raises `ValueError` with one plain sentence, and after a semicolon
    what to do, where the pattern does not show.
    """
    if len(designed_mm) < LEAST_HOLES:
        raise ValueError(f"the face has fewer than {LEAST_HOLES} round holes; type them from the edges with calipers")
    step = max(1, round(per_mm / _COARSE_PER_MM))
    height, width = (side // step * step for side in grey.shape)
    small = grey[:height, :width].reshape(height // step, step, width // step, step).mean(axis=(1, 3))
    coarse = per_mm / step
    found = {wide: at / coarse for wide, at in candidates(small, diameters_mm, coarse).items()}
    move = _laid(found, designed_mm, diameters_mm, turn_deg)
    straight = _Straight(grey=grey, per_mm=per_mm, slant=slant)
    seen: list[SeenHole | None] = []
    for _ in range(2):  # the second time from where the surest ones lie
        seen = [straight.hole(at, wide) for at, wide in zip(move.of(designed_mm), diameters_mm, strict=True)]
        places = _places(seen, per_mm)
        is_sure = np.array([each is not None and not each.unsure for each in seen])
        if is_sure.sum() < LEAST_HOLES:
            break
        move = best_move(designed_mm[is_sure], places[is_sure])
    seen, strays = _elsewhere(straight, move.of(designed_mm), diameters_mm, found, seen)
    return SeenFace(
        places_mm=_places(seen, per_mm), seen=tuple(seen), move=move, strays=strays, grey=grey, per_mm=per_mm
    )


def _places(seen: Sequence[SeenHole | None], per_mm: float) -> Floats:
    return np.array([(each.x_px / per_mm, each.y_px / per_mm) if each else (np.nan, np.nan) for each in seen])


@dataclass(frozen=True, kw_only=True, eq=False)
class _Straight:
    """A face seen straight, linear light (h, w) with `per_mm` pixels in a millimetre, and from where it was taken."""

    grey: Floats
    per_mm: float
    slant: Slant | None

    def hole(self, at_mm: Floats, wide_mm: float) -> SeenHole | None:
        """Return the hole of a drill about a place, None where none shows."""
        return find_hole(self.grey, at_mm, wide_mm, self.per_mm, self.slant)

    def light(self, at_mm: Floats) -> float:
        """Return the median light of a small square about a place."""
        low, high = ((at_mm + reach) * self.per_mm for reach in (-_LIGHT_MM, _LIGHT_MM))
        left, top = (max(0, int(value)) for value in low)
        part = self.grey[top : int(high[1]) + 1, left : int(high[0]) + 1]
        return float(np.median(part)) if part.size else np.inf


def _elsewhere(
    straight: _Straight,
    aim_mm: Floats,
    diameters_mm: Sequence[float],
    found: dict[float, Floats],
    seen: Sequence[SeenHole | None],
) -> tuple[list[SeenHole | None], tuple[tuple[float, float, float], ...]]:
    """Return what is seen of each hole, one that is not at its place where it is, and holes that no bore has."""
    sure = [each for each in seen if each is not None and not each.unsure]
    told, strays = list(seen), []
    if not sure:
        return told, ()
    per_mm = straight.per_mm
    darkest = _ALIKE * max(each.inside for each in sure)
    taken = [(each.x_px / per_mm, each.y_px / per_mm, each.diameter_mm) for each in sure]
    for wide in sorted(found, reverse=True):
        for at in found[wide]:
            if any(np.hypot(at[0] - x, at[1] - y) < (other + wide) / 2 for x, y, other in taken):
                continue
            if straight.light(at) > darkest:
                continue
            hole = straight.hole(at, wide)
            if hole is None or hole.unsure or hole.inside > darkest:
                continue
            place = np.array([hole.x_px, hole.y_px]) / per_mm
            if any(np.hypot(*(place - each[:2])) < (each[2] + wide) / 2 for each in taken):
                continue
            taken.append((float(place[0]), float(place[1]), hole.diameter_mm))
            missed = [
                (float(np.hypot(*(aim_mm[index] - place))), index)
                for index, each in enumerate(told)
                if diameters_mm[index] == wide and (each is None or each.unsure)
            ]
            away, index = min(missed, default=(np.inf, -1))
            if away < _STRAY_MM:
                told[index] = replace(hole, unsure=f"a hole of its size is {away:.1f} mm from its place")
            else:
                strays.append(taken[-1])
    return told, tuple(strays)


def _laid(
    found: dict[float, Floats], designed_mm: Floats, diameters_mm: Sequence[float], turn_deg: float | None
) -> RigidMove:
    """Return the move that takes designed places to the picture's millimetres: the one that most holes agree on.

    `found` are places that look like holes, by diameter.
    """
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
            "the pattern of the holes does not show; is it this face (--face)? Scan it flat on the glass, scanner's "
            "lid open, room dark, at 300 dpi, or photograph it in even light"
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


def joined(faces: Sequence[SeenFace]) -> tuple[Floats, list[str]]:
    """Return places (n, 2) by one or more pictures of a face, in the first one's millimetres, and why each is unsure.

    What a scanner draws out of shape along its way shows as a difference between scans of a face that was turned: they
    are averaged, and a hole in which they differ by more than `DIFFER_MM` is unsure.
    """
    first, *others = faces
    places, unsure = [first.places_mm], [_why(each) for each in first.seen]
    for other in others:
        both = first.is_sure & other.is_sure
        if both.sum() < LEAST_HOLES:
            raise ValueError("the pictures show too few of the same holes; take them again")
        places.append(best_move(other.places_mm[both], first.places_mm[both]).of(other.places_mm))
        for index, seen in enumerate(other.seen):
            gap = float(np.hypot(*(places[-1][index] - places[0][index])))
            unsure[index] = (
                unsure[index] or _why(seen) or (f"the pictures differ by {gap:.2f} mm" if gap > DIFFER_MM else "")
            )
    return np.asarray(np.mean(places, axis=0)), unsure


def _why(seen: SeenHole | None) -> str:
    return "no round hole is seen there" if seen is None else seen.unsure
