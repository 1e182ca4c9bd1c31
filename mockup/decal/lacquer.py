"""What lacquer over ink sends back into it: light that meets the surface from inside, at every angle.

Ink lies between a diffuse paint and a smooth surface. Of the light that the paint sends up the surface turns
part back, and that part passes the ink twice more, on a slant. Summed over all rounds and angles (Williams and
Clapper, J. Opt. Soc. Am. 43, 1953, 595), with a as the ink looks on lacquered white and p as the paint looks
lacquered, that is exactly R = a p / (1 - q(a) (1 - p)). Only q depends on angles: all of what the surface turns
back where there is no ink to pass (q(0)), none at bare film (q(1) = 0).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mockup.memo import memoize
from mockup.model.finish import LACQUER_INDEX

Floats = NDArray[np.float64]

_LIT_DEG = 45.0  # light from there, seen from above: CIE 15:2018 5.1, geometry 45:0
_ANGLES = 48  # of the quadrature on either side of total reflection; 24 give the same to 1e-6
_PASSES: Floats = np.concatenate([[0.0], np.geomspace(1e-4, 1.0, 200)])  # straight passes to fit to: our choice
_DARK = 1e-4  # reflectance under which a ground tells nothing of the ink on it
_INK = (1e-6, 1.5)  # of ink on white that is sought: a reading a little lighter than its ground is noise
_STEPS = 8  # of Newton; five reach 1e-9
_POWERS: Floats = np.linspace(1.0, 2.5, 1501)  # tried one by one; indices 1.35 to 1.7 need 1.42 to 1.65


@dataclass(frozen=True, kw_only=True)
class TurnedBack:
    """q(a) = most (1 - a^power) / (1 + bend a^power): what the surface turns back, by the look of the ink on white."""

    most: float
    bend: float
    power: float

    def of(self, ink: Floats) -> Floats:
        """Return the share, 0 to `most`, for ink that looks like `ink` (any shape, 0 to 1) on lacquered white."""
        held = ink**self.power
        return np.asarray(self.most * (1.0 - held) / (1.0 + self.bend * held))


@memoize
def turned_back(index: float = LACQUER_INDEX) -> TurnedBack:
    """Return q for a lacquer's refractive index, fitted to the full integral: within 0.0007 for 1.35 to 1.7."""
    ink, share = integral(index)
    most = float(share[0])
    held = ink[None, :] ** _POWERS[:, None]
    # q (1 + c x) = q0 (1 - x) is linear in c: one division for each power
    rest = most * (1.0 - held) - share
    bend = ((rest * held * share).sum(axis=1) / ((held * share) ** 2).sum(axis=1))[:, None]
    miss = np.abs(most * (1.0 - held) / (1.0 + bend * held) - share).max(axis=1)
    best = int(miss.argmin())
    return TurnedBack(most=most, bend=float(bend[best, 0]), power=float(_POWERS[best]))


def laid(ink: Floats, ground: Floats) -> Floats:
    """Return reflectance (..., 3) of ink, as it looks on white, over a ground under one surface of lacquer."""
    return np.asarray(ink * ground / (1.0 - turned_back().of(ink) * (1.0 - ground)))


def lifted(reflectance: Floats, ground: Floats) -> Floats:
    """Return the ink (..., 3), as it looks on white, that gives a reflectance over a ground: the inverse of `laid`."""
    below = np.maximum(ground, _DARK)
    back, found = turned_back(), np.clip(reflectance / below, _INK[0], 1.0)
    for _ in range(_STEPS):
        held = found**back.power
        share = back.most * (1.0 - held) / (1.0 + back.bend * held)
        slope = -back.most * (1.0 + back.bend) * back.power * held / found / (1.0 + back.bend * held) ** 2
        miss = found * below - reflectance * (1.0 - share * (1.0 - below))
        found = np.clip(found - miss / (below + reflectance * slope * (1.0 - below)), *_INK)
    return found


def integral(index: float) -> tuple[Floats, Floats]:
    """Return how inks look on lacquered white (n,), and what the surface turns back of each (n,), by quadrature."""
    cosine, weight = _rounds(index)
    back = (_PASSES[:, None] ** (2.0 / cosine)) @ weight
    most = float(weight.sum())
    slant = 1.0 + 1.0 / np.sqrt(1.0 - (np.sin(np.radians(_LIT_DEG)) / index) ** 2)
    ink = _PASSES**slant * (1.0 - most) / (1.0 - back)
    return ink, (most - back) / (1.0 - back)


def _rounds(index: float) -> tuple[Floats, Floats]:
    """Return cosines of light that meets the surface from inside, and the share of all that is turned back there.

    Fresnel's equations for unpolarised light (Born and Wolf, Principles of Optics, 1.5.2); diffuse light has the
    density 2 cos.
    """
    edge = float(np.sqrt(1.0 - 1.0 / index**2))  # flatter than that, all is turned back
    nodes, weights = np.polynomial.legendre.leggauss(_ANGLES)
    flat, steep = (nodes + 1.0) / 2.0 * edge, edge + (nodes + 1.0) / 2.0 * (1.0 - edge)
    out = np.sqrt(np.maximum(1.0 - index**2 * (1.0 - steep**2), 0.0))
    across = ((index * steep - out) / (index * steep + out)) ** 2
    along = ((steep - index * out) / (steep + index * out)) ** 2
    return (
        np.concatenate([flat, steep]),
        np.concatenate([weights * edge * flat, weights * (1.0 - edge) * steep * (across + along) / 2.0]),
    )
