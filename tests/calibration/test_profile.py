"""Profiles of simulated printers that nothing was tuned on: how near they come, and when none is kept."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
import simulated
import spectra

from mockup.calibration.profile import Fit, Readings, fit
from mockup.calibration.strip import BARE, patches
from mockup.colour import difference, rgb
from mockup.decal import doubt
from mockup.decal import ink_over_paint as ink
from mockup.decal.bands import to_lab
from mockup.films import films
from mockup.model.errors import InputError
from mockup.model.finish import Film

pytestmark = pytest.mark.slow

PAINTS = spectra.surfaces()[[5, 20, 37, 52, 70, 83]]
CARD, BLACK = np.ones(31), np.full(31, 0.01)
ARTS = np.random.default_rng(0).uniform(0, 1, (200, 3))
NOISE = 1.0  # CIELAB units a coordinate: a careful scan


def readings(printer: simulated.Printer, paint: np.ndarray, size: int, seed: int = 3, noise: float = NOISE) -> Readings:
    """Return a strip over a paint as read with noise, and bare film over a black scrap."""
    chance = np.random.default_rng(seed)

    def read(spectrum: np.ndarray) -> np.ndarray:
        lab = simulated.read(spectra.lab(spectrum), noise, chance)
        return difference.lab_to_xyz(lab) @ rgb.XYZ_TO_SRGB.T

    names = patches(size)
    seen = read(printer.spectrum(np.array([each.printed for each in names.values()]), paint))
    colours = dict(zip(names, seen, strict=True))
    bare = printer.spectrum(np.ones((16, 3)), paint)  # a picture shows it in every gap
    colours[BARE] = np.median(read(bare), axis=0)
    over = spectra.linear(printer.spectrum(np.ones(3), BLACK)) + chance.normal(0, 0.0016)
    return Readings(
        source="strip.jpg",
        film=films()["clear"],
        size=size,
        colours=colours,
        over_black=over,
        black=spectra.linear(BLACK),
    )


@cache
def fitted(name: str, size: int, paint: int | None) -> Fit:
    """Return the fit of one printer's strip on one of the paints, or on white card."""
    return fit(readings(simulated.PRINTERS[name], CARD if paint is None else PAINTS[paint], size), name)


def off(film: Film, paint: np.ndarray, truth: np.ndarray) -> float:
    """Return the mean CIEDE2000 of what is predicted of `ARTS` on a film over a paint."""
    red, green, blue = np.clip(spectra.encoded(paint), 0, 1).tolist()
    on = ink.Ground(paint=(red, green, blue), film=film)
    found = to_lab(ink.overprint(ARTS, on.bare(), on))  # not clipped to sRGB, as a file would be
    return float(difference.ciede2000(found, truth).mean())


@pytest.mark.parametrize(("size", "most"), [(22, 2.0), (30, 1.6)])
def test_on_its_own_paint_a_strip_reaches_the_goal(size: int, most: float) -> None:
    with_, without = [], []
    for name, printer in simulated.PRINTERS.items():
        for number, paint in enumerate(PAINTS):
            truth = printer.lab(ARTS, paint)
            with_.append(off(fitted(name, size, number).printer.film, paint, truth))
            without.append(off(films()["clear"], paint, truth))
    assert np.mean(with_) <= most
    assert (np.array(with_) <= np.array(without) + 0.1).all()
    assert np.mean(without) > 5  # these printers need a profile


def test_a_strip_on_white_card_serves_every_paint() -> None:
    left = []
    for name, printer in simulated.PRINTERS.items():
        film = fitted(name, 30, None).printer.film
        left += [off(film, paint, printer.lab(ARTS, paint)) for paint in PAINTS]
    assert np.mean(left) <= 2.6


def test_the_forecast_is_what_comes_true() -> None:
    """On average over printers; one strip of noisy readings may say half as much again."""
    told = [fitted(name, 30, 1).printer.forecast for name in simulated.PRINTERS]
    came = [
        off(fitted(n, 30, 1).printer.film, PAINTS[1], p.lab(ARTS, PAINTS[1])) for n, p in simulated.PRINTERS.items()
    ]
    assert 0.7 < np.mean(told) / np.mean(came) < 1.7


def test_a_printer_that_prints_srgb_gets_no_profile() -> None:
    """What the model itself predicts, read with noise: a profile could only learn the noise."""
    paint = (0.55, 0.7, 0.65)
    on = ink.Ground(paint=paint, film=films()["clear"])
    names = patches(22)
    printed = np.array([each.printed for each in names.values()])
    for seed in range(3):
        lab = simulated.read(difference.encoded_to_lab(ink.predict(printed, on)), NOISE, np.random.default_rng(seed))
        seen = dict(zip(names, difference.lab_to_xyz(lab) @ rgb.XYZ_TO_SRGB.T, strict=True))
        found = fit(Readings(source="s", film=films()["clear"], size=22, colours=seen), "x")
        assert found.printer.film.profile is None
        assert any("needs no profile" in note for note in found.notes)


def test_bare_film_stays_bare_and_haze_is_found() -> None:
    printer = simulated.PRINTERS["pigment inkjet"]
    film = fitted("pigment inkjet", 22, 1).printer.film
    assert film.haze == pytest.approx(printer.haze, abs=0.004)
    on = ink.Ground(paint=tuple(np.clip(spectra.encoded(PAINTS[1]), 0, 1).tolist()), film=film)
    assert ink.ink_on_white(np.ones(3), on) == pytest.approx(1.0)


def test_a_dark_strip_tells_nothing_of_a_pale_paint() -> None:
    profiled = fitted("dye inkjet", 22, 0).printer.film  # a dusty red
    assert ink.Ground(paint=(0.9, 0.9, 0.7), film=profiled).profile is None
    assert (
        ink.Ground(paint=tuple(np.clip(spectra.encoded(PAINTS[0]), 0, 1).tolist()), film=profiled).profile is not None
    )


def test_white_film_shows_its_figures_over_black_and_paint() -> None:
    """R0 + T2 p / (1 - R0 p) with R0 = 0.6, T2 = 0.1: over p = 0.01 0.60101, over p = 0.5 0.67143, by hand."""
    true = films()["white"].measured(0.6, 0.1)
    printed = np.array([each.printed for each in patches(22).values()])
    grey = (0.7353569, 0.7353569, 0.7353569)  # encoded 0.5
    seen = rgb.decode(ink.predict(printed, ink.Ground(paint=grey, film=true)))
    found = fit(
        Readings(
            source="s",
            film=films()["white"],
            size=22,
            colours=dict(zip(patches(22), seen, strict=True)),
            over_black=np.full(3, 0.60101),
            black=np.full(3, 0.01),
            paint=np.full(3, 0.5),
        ),
        "x",
    ).printer.film
    assert (found.reflectance, found.transmittance) == pytest.approx((0.6, 0.1), abs=1e-3)


def test_nonsense_is_refused_in_one_line() -> None:
    whole = readings(simulated.PRINTERS["dye inkjet"], CARD, 22)
    few = {name: whole.colours[name] for name in list(whole.colours)[:8]}
    same = dict.fromkeys(whole.colours, np.full(3, 0.4))
    gone = {name: colour for name, colour in whole.colours.items() if name != BARE}
    for colours, said in (
        (few, "only 7 patches were read"),
        (same, "all patches have one colour"),
        (gone, "bare film"),
    ):
        with pytest.raises(InputError, match=said) as caught:
            fit(Readings(source="strip.jpg", film=films()["clear"], size=22, colours=colours), "x")
        assert "\n" not in str(caught.value)


@pytest.mark.parametrize("kind", ["no strip", "own paint", "white card"])
def test_the_doubt_holds_the_truth_nine_times_in_ten(kind: str) -> None:
    """Over all printers and paints: the share of colours that lie within the stated CIEDE2000 of what is likely."""
    held = []
    arts = ARTS[:60]
    for name, printer in simulated.PRINTERS.items():
        for number in (0, 2, 4):
            paint = PAINTS[number]
            known = {"own paint": number, "white card": None}
            film = fitted(name, 22, known[kind]).printer.film if kind in known else films()["clear"]
            on = ink.Ground(paint=tuple(np.clip(spectra.encoded(paint), 0, 1).tolist()), film=film)
            likely = ink.overprint(arts, on.bare(), on)
            spread = doubt.together(ink.doubts(arts, on))
            apart = difference.ciede2000(to_lab(likely), printer.lab(arts, paint))
            told = [doubt.radius(one, each) for one, each in zip(likely, spread, strict=True)]
            held += (apart <= told).tolist()
    assert 0.88 <= np.mean(held) <= 0.985
