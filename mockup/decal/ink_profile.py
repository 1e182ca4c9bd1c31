"""What one printer really puts on film: a Gaussian process on how its strip differs from the prediction.

Every patch of the strip gives a CIELAB residual: what was read less what the model predicts of an sRGB printer over
the same ground. Between patches the residual is that of a Gaussian process over encoded sRGB (Rasmussen and
Williams, Gaussian Processes for Machine Learning, 2006, 2.2 and 5.4.2) with a fixed kernel, so there is nothing to
fit. Bare film has none. What is predicted over the strip's own ground is turned back into ink, so it serves other
paints too.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from mockup.colour.difference import ciede2000
from mockup.decal.bands import Floats, bands, from_lab, to_lab
from mockup.decal.lacquer import laid, lifted
from mockup.memo import memoize
from mockup.model.finish import InkProfile

# CIELAB units and shares of encoded sRGB; by trial on simulated printers, before those that the tests judge by.
_TOGETHER_SD, _ALONE_SD, _TREND_SD, _NOISE_SD = 12.0, 6.0, 13.0, 1.4
_REACH = 0.6
_BARE_SD = 1e-3  # how surely bare film has no ink
_PALE = 0.35  # reflectance in every band from which a ground serves other paints as well: by trial
_SAME_DE = 12.0  # CIEDE2000 within which a paint counts as the strip's own, read and given: our choice
_AT_ONCE = 65536  # colours at a time, so that memory stays small
FORECAST = 1.2  # times the process's own deviation is what comes true; measured on simulated printers


@dataclass(frozen=True, kw_only=True, eq=False)
class _Solved:
    """Patches (n, 3), what weighs their residuals (n, 3), the inverse of their covariance (n, n), and the ground in
    bands."""

    printed: Floats
    weights: Floats
    inverse: Floats
    ground: Floats


@memoize
def _solved(profile: InkProfile) -> _Solved:
    ground = bands(np.array(profile.ground))
    printed = np.array([(1.0, 1.0, 1.0), *profile.printed])
    residuals = np.array([to_lab(ground), *profile.read]) - to_lab(laid(bands(printed), ground))
    noise = np.full(len(printed), _NOISE_SD**2)
    noise[0] = _BARE_SD**2
    inverse = np.linalg.inv(_kernel(printed, printed) + np.diag(noise)).astype(np.float64)
    return _Solved(printed=printed, weights=inverse @ residuals, inverse=inverse, ground=ground)


def serves(profile: InkProfile, paint: Floats) -> bool:
    """Whether a profile tells of ink on a paint (3,), in bands: one printed on the paint itself, or on a pale one."""
    return bool(bands(np.array(profile.ground)).min() >= _PALE or is_own(profile, paint))


def is_own(profile: InkProfile, paint: Floats) -> bool:
    """Whether a profile was printed on a paint (3,), in bands, or on one that looks nearly like it."""
    return bool(ciede2000(to_lab(bands(np.array(profile.ground))), to_lab(paint)) <= _SAME_DE)


def ink(art: Floats, profile: InkProfile) -> Floats:
    """Return what printed art (..., 3), encoded sRGB, looks like on white by a profile, in bands."""
    flat = art.reshape(-1, 3)
    found = np.concatenate([_ink(flat[low : low + _AT_ONCE], profile) for low in range(0, len(flat), _AT_ONCE)])
    return found.reshape(art.shape)


def _ink(art: Floats, profile: InkProfile) -> Floats:
    known = _solved(profile)
    drawn = laid(bands(art), known.ground)
    lab = to_lab(drawn) + _kernel(art, known.printed) @ known.weights
    found = lifted(from_lab(lab), known.ground)
    found[(art >= 1.0).all(axis=1)] = 1.0
    return found


def deviation(art: Floats, profile: InkProfile) -> Floats:
    """Return the standard deviation (...), CIELAB units a coordinate, of a profile's own forecast for art (..., 3)."""
    flat = art.reshape(-1, 3)
    known = _solved(profile)
    across = _kernel(flat, known.printed)
    left = _own(flat) - np.einsum("ij,jk,ik->i", across, known.inverse, across)
    return np.asarray(FORECAST * np.sqrt(np.maximum(left, 0.0)).reshape(art.shape[:-1]))


def left_out(profile: InkProfile) -> Floats:
    """Return CIELAB (n, 3) forecast for each patch by all the others (Rasmussen and Williams, eq. 5.12)."""
    known = _solved(profile)
    miss = known.weights / np.diag(known.inverse)[:, None]
    return np.asarray(np.array(profile.read).reshape(-1, 3) - miss[1:])


def drawn(profile: InkProfile) -> Floats:
    """Return CIELAB (n, 3) of a profile's patches as an sRGB printer would have printed them."""
    return to_lab(laid(bands(np.array(profile.printed)), bands(np.array(profile.ground))))


def _kernel(first: Floats, second: Floats) -> Floats:
    """Return covariances (n, m) of residuals at encoded colours (n, 3) and (m, 3)."""
    squares = (first[:, None, :] - second[None]) ** 2 / (2.0 * _REACH**2)
    together = _TOGETHER_SD**2 * np.exp(-squares.sum(axis=-1))
    alone = _ALONE_SD**2 * np.exp(-squares).sum(axis=-1)
    return np.asarray(together + alone + _TREND_SD**2 * (1.0 - first) @ (1.0 - second).T)


def _own(art: Floats) -> Floats:
    """Return the variance (n,) of the residual at encoded colours (n, 3) before anything was read."""
    return np.asarray(_TOGETHER_SD**2 + 3.0 * _ALONE_SD**2 + _TREND_SD**2 * ((1.0 - art) ** 2).sum(axis=-1))
