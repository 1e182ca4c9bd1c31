"""From readings of a test strip to ink strength, internal reflection and film, by least squares in CIELAB.

A printer's own colours differ from sRGB, so what a patch really holds is not assumed but fitted with
the rest: one ink per patch (three bands), seen once over white card and once over each scrap. What the
same ink does between card and scrap tells the internal reflection k and the film; those do not
depend on how well the printer hits its colours. The paint of each scrap is fitted too, since its reading
is no better than the others. Ink strength is then the one power that brings the printed colours
nearest to those inks as seen over the card.

Standard errors are those of linearised least squares: s^2 (J^T J)^-1 with s^2 = residual sum of squares /
(readings - figures); Draper and Smith, Applied Regression Analysis, chapter 24, from memory.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from mockup.colour import difference, rgb
from mockup.decal import ink_over_paint
from mockup.model.errors import Fault, InputError
from mockup.model.finish import INTERNAL_REFLECTION, Film
from mockup.model.printer import Printer

Floats = NDArray[np.float64]

FEWEST = 6  # patches over both card and scrap: fewer cannot show an odd one; our choice
STRENGTHS = (0.2, 3.0)  # as a layout may write them
K_LIMITS = (0.0, 0.95)  # 1 would divide by zero on black paint
FILM_LIMITS = (0.0, 0.98)  # of a film's reflectance, which stays below a perfect white
_UNSURE = {"internal_reflection": 0.15, "reflectance": 0.1, "transmittance": 0.1}  # larger errors tell nothing: choice
_ALIKE = 5.0  # CIEDE2000; a strip whose patches all lie so close holds no ink: our choice
_ABSURD = 12.0  # CIELAB units, root mean square, left over: no ink over no paint does that; our choice
_AT_LIMIT = 0.01  # how near to an end of its range k is said to lie at it: our choice
_CLOSE = 1e-6  # relative; where the search ends, far below the readings' own noise
_INK_LIMITS = (0.0, 1.2)  # of a patch's ink, encoded; noise lifts white a little over 1


@dataclass(frozen=True, kw_only=True, eq=False)
class Scrap:
    """A strip over paint: the paint's own colour (3,) and what each patch looks like (n, 3), encoded sRGB.

    A row of NaN is a patch that was not read.
    """

    paint: Floats
    seen: Floats


@dataclass(frozen=True, kw_only=True, eq=False)
class Readings:
    """What was read off test strips, all encoded sRGB relative to the white card.

    `names` of n patches, what was `printed` (n, 3), what is seen over the `card` (n, 3), and the scraps.
    `source` names the readings in messages; `notes` say what is odd about them.
    """

    source: str
    film: Film
    names: tuple[str, ...]
    printed: Floats
    card: Floats
    scraps: tuple[Scrap, ...]
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Fit:
    """A fitted printer, how far off the usual figures were before, and what a user should know.

    `before_mean` and `before_worst` are CIEDE2000 over the scraps; `worst_patch` names the patch that
    is still furthest off.
    """

    printer: Printer
    before_mean: float
    before_worst: float
    worst_patch: str
    notes: tuple[str, ...] = ()


def fit(readings: Readings, name: str) -> Fit:
    """Return the printer that explains the readings best.

    Raises `InputError` for readings that cannot be those of a test strip: too few, all of one colour,
    or far from any ink over any paint.
    """
    _refuse_nonsense(readings)
    unknown = ["internal_reflection", *([] if readings.film.is_clear else ["reflectance", "transmittance"])]
    notes: list[str] = list(readings.notes)
    while True:
        found = _solve(readings, unknown)
        unsure = [each for each in unknown if not found.errors[each] <= _UNSURE[each]]
        if not unsure:
            break
        worst = max(unsure, key=lambda each: found.errors[each] / _UNSURE[each])
        unknown.remove(worst)
        notes.append(_unsure_note(worst, readings.film))
    if found.spread > _ABSURD:
        raise _refused(
            readings,
            f"these do not look like one ink over card and over paint (they differ by {found.spread:.0f} CIELAB units)",
            "check that card and scrap, and the patches, are not mixed up",
        )
    if not K_LIMITS[0] + _AT_LIMIT < found.k < K_LIMITS[1] - _AT_LIMIT:
        notes.append(
            f"k ran to the end of its range, {found.k:.2f}: the readings show something besides ink and paint."
        )
    strength, strength_error, is_at_limit = _strength(readings, found)
    if is_at_limit:
        raise _refused(
            readings,
            f"over the card the patches are far from what was printed (ink strength outside {STRENGTHS[0]:g} to "
            f"{STRENGTHS[1]:g})",
            "check the order of the patches and the white of the card",
        )
    printer = Printer(
        name=name,
        film=found.film,
        ink_strength=strength,
        internal_reflection=found.k,
        errors={"ink_strength": strength_error, **{each: found.errors[each] for each in unknown}},
    )
    before = over_scraps(
        readings, Printer(name="", film=readings.film, ink_strength=1.0, internal_reflection=INTERNAL_REFLECTION)
    )
    after = over_scraps(readings, printer)
    worst_patch = readings.names[int(np.nanargmax(after)) % len(readings.names)]
    return Fit(
        printer=replace(printer, mean_difference=float(np.nanmean(after)), worst_difference=float(np.nanmax(after))),
        before_mean=float(np.nanmean(before)),
        before_worst=float(np.nanmax(before)),
        worst_patch=worst_patch,
        notes=tuple(notes),
    )


def over_scraps(readings: Readings, printer: Printer) -> Floats:
    """Return CIEDE2000 (scraps, n) between each patch over paint as predicted and as read; NaN where unread."""
    rows = []
    for scrap in readings.scraps:
        red, green, blue = scrap.paint.tolist()
        on = ink_over_paint.Ground(
            paint=(red, green, blue),
            film=printer.film,
            ink_strength=printer.ink_strength,
            k=printer.internal_reflection,
        )
        rows.append(difference.difference(ink_over_paint.predict(readings.printed, on), scrap.seen))
    return np.array(rows)


@dataclass(frozen=True, kw_only=True, eq=False)
class _Found:
    """k, film and their standard errors; `spread` is the root mean square of what is left, in CIELAB units."""

    k: float
    film: Film
    errors: dict[str, float]
    spread: float


def _solve(readings: Readings, unknown: Sequence[str]) -> _Found:
    """Fit the `unknown` figures, each patch's ink and each scrap's paint; the other figures keep their defaults."""
    is_bare = np.all(readings.printed == 1.0, axis=-1)
    count, inked = len(unknown), int((~is_bare).sum())
    card = difference.encoded_to_lab(readings.card)
    scraps = [(difference.encoded_to_lab(each.paint), difference.encoded_to_lab(each.seen)) for each in readings.scraps]
    white, usual = np.ones(3), _usual(readings.film)

    def figures(point: Floats) -> tuple[float, Film]:
        given = usual | dict(zip(unknown, point[:count].tolist(), strict=True))
        return given["internal_reflection"], readings.film.measured(given["reflectance"], given["transmittance"])

    def gaps(point: Floats) -> Floats:
        k, film = figures(point)
        bands = np.ones((len(is_bare), 3))  # a bare patch holds no ink: that is known
        bands[~is_bare] = rgb.decode(point[count : count + 3 * inked].reshape(-1, 3))
        paints = point[count + 3 * inked :].reshape(-1, 3)
        rows = [_lab(ink_over_paint.over(bands, white, film, 1.0, k)) - card]
        for paint, (paint_read, seen) in zip(rgb.decode(paints), scraps, strict=True):
            rows.append(_lab(paint)[None] - paint_read)
            rows.append(_lab(ink_over_paint.over(bands, paint, film, 1.0, k)) - seen)
        flat = np.concatenate(rows).ravel()
        return flat[np.isfinite(flat)]

    limits = {"internal_reflection": K_LIMITS, "reflectance": FILM_LIMITS, "transmittance": (0.0, 1.0)}
    hidden = np.concatenate([_ink_of(readings.card[~is_bare]), _ink_of([each.paint for each in readings.scraps])])
    start = np.concatenate([[usual[each] for each in unknown], np.clip(hidden, *_INK_LIMITS).ravel()])
    low = np.array([*(limits[each][0] for each in unknown), *np.full(hidden.size, _INK_LIMITS[0])])
    high = np.array([*(limits[each][1] for each in unknown), *np.full(hidden.size, _INK_LIMITS[1])])
    point, errors, spread = _least_squares(gaps, start, low, high)
    k, film = figures(point)
    return _Found(k=k, film=film, errors=dict(zip(unknown, errors[:count].tolist(), strict=True)), spread=spread)


def _strength(readings: Readings, found: _Found) -> tuple[float, float, bool]:
    """Return ink strength, its standard error, and whether it ran against its limits."""
    bands = np.maximum(rgb.decode(readings.printed) @ rgb.SRGB_TO_BT2020.T, 0.0)
    card = difference.encoded_to_lab(readings.card)

    def gaps(point: Floats) -> Floats:
        seen = ink_over_paint.over(bands, np.ones(3), found.film, float(point[0]), found.k)
        return (_lab(seen) - card).ravel()

    low, high = np.array([STRENGTHS[0]]), np.array([STRENGTHS[1]])
    point, errors, _ = _least_squares(gaps, np.array([1.0]), low, high)
    strength = float(point[0])
    return strength, float(errors[0]), not STRENGTHS[0] * 1.01 < strength < STRENGTHS[1] * 0.99


def _least_squares(
    gaps: Callable[[Floats], Floats], start: Floats, low: Floats, high: Floats
) -> tuple[Floats, Floats, float]:
    """Return the point of least squares, each figure's standard error, and the root mean square left over.

    The error of a figure that the readings do not tell at all is infinite.
    """
    from scipy.optimize import least_squares

    room = 1e-6 * (high - low)
    inside = np.clip(start, low + room, high - room)
    done = least_squares(gaps, inside, bounds=(low, high), x_scale=0.1, ftol=_CLOSE, xtol=_CLOSE)
    freedom = max(len(done.fun) - len(start), 1)
    variance = float(done.fun @ done.fun) / freedom
    values, turn = np.linalg.eigh(done.jac.T @ done.jac)
    is_told = values > 1e-9 * values[-1]
    inverse = np.where(is_told, 1.0 / np.where(is_told, values, 1.0), 0.0)
    errors = np.sqrt(variance * (turn**2 @ inverse))
    is_lost = (turn[:, ~is_told] ** 2).sum(axis=1) > 1e-6
    return done.x, np.where(is_lost, math.inf, errors), math.sqrt(variance)


def _lab(bands: Floats) -> Floats:
    """Return CIELAB of BT.2020 bands, cut to sRGB as whatever read them cut them too."""
    return difference.linear_to_lab(np.clip(bands @ rgb.BT2020_TO_SRGB.T, 0.0, 1.0))


def _ink_of(encoded: Sequence[Floats] | Floats) -> Floats:
    """Return BT.2020 bands, written on the sRGB curve so that a step looks alike from dark to light."""
    return rgb.encode(np.maximum(rgb.decode(np.asarray(encoded)) @ rgb.SRGB_TO_BT2020.T, 0.0))


def _refuse_nonsense(readings: Readings) -> None:
    if not readings.scraps:
        raise _refused(readings, "no painted scrap was read", "add the strip over paint: k cannot be found without it")
    for number, scrap in enumerate(readings.scraps, 1):
        count = int(np.isfinite(scrap.seen).all(axis=-1).sum())
        if count < FEWEST:
            found = f"only {count} patch{'' if count == 1 else 'es'} read over card and scrap {number}"
            raise _refused(readings, f"{found}, expected at least {FEWEST}", "read more of the strip")
    for place, colours in (("card", readings.card), *(("scrap", each.seen) for each in readings.scraps)):
        lab = difference.encoded_to_lab(colours[np.isfinite(colours).all(axis=-1)])
        if difference.ciede2000(lab, lab[:1]).max() < _ALIKE:
            raise _refused(readings, f"all patches over the {place} have one colour", "read each patch by itself")


def _usual(film: Film) -> dict[str, float]:
    """Return the figures that stand where the readings do not tell them."""
    figures = {"reflectance": film.reflectance, "transmittance": film.transmittance}
    return {"internal_reflection": INTERNAL_REFLECTION, **figures}


def _unsure_note(figure: str, film: Film) -> str:
    if figure == "internal_reflection":
        usual = f"it stays at {INTERNAL_REFLECTION:g}"
        return f"The readings do not show k, so {usual}; a strip over a darker or stronger paint would show it."
    value = _usual(film)[figure]
    return f"The readings do not show the film's {figure}, which stays at {value:g}; read the bare patch too."


def _refused(readings: Readings, what: str, remedy: str) -> InputError:
    return InputError(Fault(file=readings.source, what=what, remedy=remedy))
