"""From a strip that was read to a printer: haze or whiteness of its film, and its ink's profile where that pays."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from mockup.calibration.strip import BARE, patches
from mockup.colour import rgb
from mockup.colour.difference import ciede2000
from mockup.decal import ink_profile
from mockup.decal.bands import FROM_BANDS, TO_BANDS, to_lab
from mockup.model.errors import Fault, InputError
from mockup.model.finish import Film, InkProfile
from mockup.model.printer import Printer

Floats = NDArray[np.float64]

FEWEST = 12  # patches beside the bare one: fewer leave most colours to a guess; our choice
_ALIKE = 5.0  # CIEDE2000; a strip whose patches all lie so close holds no ink: our choice
_ABSURD = 60.0  # mean CIEDE2000 from what was printed: no printer is so far off; our choice
_FAR = 20.0  # CIEDE2000 by which one patch may miss its neighbours' forecast before it is named: our choice
_MOST_HAZE = 0.1  # of clear film: more is not clear; our choice
_OF_LEFT_OUT = 0.53  # of a left-out patch's miss is what colours between patches miss: measured on simulated printers


@dataclass(frozen=True, kw_only=True, eq=False)
class Readings:
    """What was read, as linear sRGB relative to white card: the patches by name, and bare film over black.

    `colours` has at least "a1", the bare film on the strip's ground. `over_black` and `black` are the scrap painted
    black under bare film and without; `paint` is the ground itself, beside the film. `source` names the readings.
    """

    source: str
    film: Film
    size: int
    colours: dict[str, Floats]
    over_black: Floats | None = None
    black: Floats | None = None
    paint: Floats | None = None
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Fit:
    """A printer as its strip shows it, and what a user should know."""

    printer: Printer
    notes: tuple[str, ...] = ()


def fit(readings: Readings, name: str, *, date: str = "", paper: str = "", settings: str = "") -> Fit:
    """Return the printer of a strip; its profile is kept only where it forecasts better than none.

    Raises `InputError` for readings that cannot be those of a strip.
    """
    known = patches(readings.size)
    names = [each for each in known if each in readings.colours and each != BARE]
    if BARE not in readings.colours:
        raise _refused(readings, "the bare film, a1, was not read", "read it: all else is held against it")
    if len(names) < FEWEST:
        raise _refused(
            readings, f"only {len(names)} patches were read, expected at least {FEWEST}", "read more of them"
        )
    film, notes = _film(readings)
    seen = _without(np.array([readings.colours[each] for each in names]), film.haze)
    ground = _without(readings.colours[BARE], film.haze)
    red, green, blue = np.clip(rgb.encode(ground @ FROM_BANDS.T), 0.0, 1.0).tolist()
    lab = to_lab(seen)
    if ciede2000(lab, lab[:1]).max() < _ALIKE:
        raise _refused(readings, "all patches have one colour", "read each patch by itself")
    strip = InkProfile(
        ground=(red, green, blue),
        printed=tuple(known[each].printed for each in names),
        read=tuple((float(light), float(a), float(b)) for light, a, b in lab),
    )
    plain = ciede2000(ink_profile.drawn(strip), lab)
    misses = ciede2000(ink_profile.left_out(strip), lab)
    if plain.mean() > _ABSURD:
        raise _refused(
            readings, f"the patches are {plain.mean():.0f} CIEDE2000 from what was printed", "check their order"
        )
    if float(misses.max()) > _FAR:
        worst = names[int(misses.argmax())].upper()
        notes.append(f"{worst} is {misses.max():.0f} CIEDE2000 from what its neighbours say; look at it again.")
    if misses.mean() < plain.mean():
        film = replace(film, profile=strip)
    else:
        notes.append("The printer prints sRGB as well as the strip can tell: it needs no profile, and gets none.")
    printer = Printer(
        name=name,
        film=film,
        strip=strip,
        forecast=float(misses.mean()) * _OF_LEFT_OUT,
        plain=float(plain.mean()),
        date=date,
        paper=paper,
        settings=settings,
    )
    return Fit(printer=printer, notes=(*readings.notes, *notes))


def _film(readings: Readings) -> tuple[Film, list[str]]:
    """Return the film with its haze, or a white film's figures, as bare film over black shows them."""
    film = readings.film
    if readings.over_black is None or readings.black is None:
        what = "haze" if film.is_clear else "whiteness"
        return film, [f"No bare film over black was read, so the film's {what} stays at the usual figure."]
    over, below = (float((each @ TO_BANDS.T).mean()) for each in (readings.over_black, readings.black))
    if film.is_clear:
        haze = _haze(over, below)
        if haze > _MOST_HAZE:
            what = f"bare film over black is {haze:.0%} lighter than black itself, which no clear film is"
            raise _refused(readings, what, "check which half lies under the film")
        return film.measured(film.reflectance, film.transmittance, haze), []
    if readings.paint is None:
        return film.measured(over, film.transmittance), ["No bare paint was read: how much shines through stays usual."]
    bare, paint = (float((each @ TO_BANDS.T).mean()) for each in (readings.colours[BARE], readings.paint))
    return film.measured(*_white(over, below, bare, paint)), []


def _haze(over: float, below: float) -> float:
    """Return h of over = h + (1 - h)^2 below, no less than 0."""
    if below < 1e-6:
        return max(over, 0.0)
    half = 1.0 - 2.0 * below  # below h^2 + (1 - 2 below) h + below - over = 0
    return max((-half + math.sqrt(max(half * half - 4.0 * below * (below - over), 0.0))) / (2.0 * below), 0.0)


def _white(over: float, below: float, bare: float, paint: float) -> tuple[float, float]:
    """Return reflectance and transmittance of a white film from how it looks over black and over paint."""
    low, high = 0.0, min(over, bare, 0.98)
    for _ in range(60):  # halving: over black it is the lighter, the more it reflects
        back = (low + high) / 2.0
        through = max(bare - back, 0.0) * (1.0 - back * paint) / max(paint, 1e-6)
        if back + through * below / (1.0 - back * below) < over:
            low = back
        else:
            high = back
    return back, float(np.clip(through, 0.0, (1.0 - back) ** 2))


def _without(linear: Floats, haze: float) -> Floats:
    """Return reflectance in bands of what was read, the film's haze taken out."""
    return np.asarray(np.maximum((linear @ TO_BANDS.T - haze) / (1.0 - haze) ** 2, 0.0))


def _refused(readings: Readings, what: str, remedy: str) -> InputError:
    return InputError(Fault(file=readings.source, what=what, remedy=remedy))
