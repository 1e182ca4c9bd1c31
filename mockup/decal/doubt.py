"""How far a prediction may be off, by cause: standard deviations of its CIELAB values, and what they come to.

Causes are independent, so their squares add. The figures come from simulated printers other than those that the
tests judge by, drawn by dice: inks of several dyes, dots that grow, gamuts smaller than sRGB (tests/calibration). They
hold 91 % of those printers' colours and 89 % of the tests'. Where a strip was read, the profile's own deviation takes
the place of the printer's.
"""

from __future__ import annotations

from typing import Literal

import numpy as np

from mockup.colour.difference import ciede2000
from mockup.decal.bands import Floats, from_lab, to_lab

Cause = Literal["printer", "strip", "form", "haze"]
CAUSES: dict[Cause, str] = {
    "printer": "the printer is not measured",
    "strip": "the strip has few patches near it",
    "form": "strong ink on strong paint",
    "haze": "haze of the film",
}

NINE_IN_TEN = 1.645  # standard deviations to either side that hold 90 %: normal distribution, any table
_PRINTER: Floats = np.array([[3.6, 6.3, 3.9], [12.0, 20.7, 35.0]])  # of L*, a*, b*: of grey ink, and more by saturation
_FORM_AT: Floats = np.array([0.01, 0.28, 0.68])  # saturation of ink times that of paint
_FORM: Floats = np.array([[0.3, 1.0, 0.5], [0.6, 1.9, 1.0], [2.4, 3.6, 2.7]])
_HAZE, _HAZE_READ = 0.006, 0.0016  # of light: of films that were not measured, and of a reading
_DRAWS = 256  # of the normal distribution, the same each time: the radius is within 5 %

Deviations = dict[Cause, Floats]


def deviations(
    art: Floats, ink: Floats, reflectance: Floats, ground: Floats, strip: Floats | None, *, is_own: bool, is_hazy: bool
) -> Deviations:
    """Return standard deviations (..., 3) of L*, a* and b* by cause.

    `art` (..., 3) is encoded sRGB, `ink` how it looks on white and `reflectance` what is seen over `ground` (3,), all
    in bands. `strip` (...) is the deviation of a profile, None without one; `is_own` says that it was printed on this
    very paint, `is_hazy` that the film's haze is known.
    """
    full = 1.0 - ink.min(axis=-1, keepdims=True).clip(0.0, 1.0)
    found: Deviations = {}
    if strip is None:
        vivid = art.max(axis=-1, keepdims=True) - art.min(axis=-1, keepdims=True)
        found["printer"] = full * (_PRINTER[0] + vivid * _PRINTER[1])
    else:
        found["strip"] = np.broadcast_to(strip[..., None], art.shape)
    if not is_own:
        product = _saturation(ink) * float(_saturation(ground))
        found["form"] = full * np.stack([np.interp(product, _FORM_AT, _FORM[:, each]) for each in range(3)], axis=-1)
    haze = _HAZE_READ if is_hazy else _HAZE
    found["haze"] = np.abs(to_lab(haze + (1.0 - haze) ** 2 * reflectance) - to_lab(reflectance))
    return found


def _saturation(bands: Floats) -> Floats:
    most = np.maximum(bands.max(axis=-1), 1e-3)
    return np.asarray((most - bands.min(axis=-1).clip(0.0)) / most)


def together(by_cause: Deviations) -> Floats:
    """Return standard deviations (..., 3) of all causes together."""
    return np.sqrt(sum((each**2 for each in by_cause.values()), np.zeros(3)))


def chief(by_cause: Deviations) -> Cause:
    """Return the cause that adds most for one colour."""
    return max(by_cause, key=lambda each: float((by_cause[each] ** 2).sum()))


def radius(reflectance: Floats, deviation: Floats) -> float:
    """Return the CIEDE2000 within which nine prints in ten of one colour (3,) lie of what is likely."""
    lab = to_lab(reflectance)
    draws = np.random.default_rng(0).standard_normal((_DRAWS, 3))
    return float(np.percentile(ciede2000(lab + draws * deviation, lab), 90.0))


def shifted(reflectance: Floats, deviation: Floats, end: float) -> Floats:
    """Return reflectance (..., 3) in bands at the darkest (`end` -1) or lightest (1) that nine prints in ten reach."""
    lab = to_lab(reflectance)
    lab[..., 0] = np.clip(lab[..., 0] + end * NINE_IN_TEN * deviation[..., 0], 0.0, 100.0)
    return from_lab(lab)
