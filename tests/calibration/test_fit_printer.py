"""Known prints, read with noise: the fit finds their figures again, within the errors it states."""

from __future__ import annotations

from dataclasses import replace

import colour
import numpy as np
import pytest
import simulated

from mockup.calibration.fit import FEWEST, Readings, Scrap, fit, over_scraps
from mockup.colour import difference, rgb
from mockup.films import films
from mockup.model.errors import InputError
from mockup.model.finish import INTERNAL_REFLECTION
from mockup.model.printer import Printer

pytestmark = pytest.mark.slow

USUAL = Printer(name="usual", film=films()["clear"], ink_strength=1.0, internal_reflection=INTERNAL_REFLECTION)

# A true standard error keeps 68 % of estimates within one and 99.99 % within four of it (normal distribution,
# any table). Readings cut to 8 bits and to sRGB are not quite normal and make the stated errors up to a third
# too small, hence 4 and a mean square of at most 3 over the seeds (for 12 draws of 1.33 sigma, the square has
# mean 1.8 and its mean over 12 a standard deviation of 1.8 sqrt(2/12) = 0.7).
FARTHEST, MEAN_SQUARE = 4.0, 3.0
SEEDS = range(6)


@pytest.mark.parametrize(("strength", "k"), [(1.25, 0.55), (0.85, 0.2)])
def test_strength_and_k_are_found_within_their_stated_errors(strength: float, k: float) -> None:
    misses = []
    for seed in SEEDS:
        found = fit(simulated.readings(strength, k, noise=1.0, seed=seed), "x").printer
        assert found.errors["ink_strength"] < 0.03
        assert found.errors["internal_reflection"] < 0.1
        misses.append((found.ink_strength - strength) / found.errors["ink_strength"])
        misses.append((found.internal_reflection - k) / found.errors["internal_reflection"])
        assert found.film == films()["clear"]
    assert np.abs(misses).max() < FARTHEST
    assert np.mean(np.square(misses)) < MEAN_SQUARE


def test_a_white_film_is_found_within_its_stated_errors() -> None:
    true = films()["white"].measured(0.6, 0.12)
    misses = []
    for seed in SEEDS[:4]:
        paints = (simulated.OCHRE, "#222222")
        print_ = simulated.readings(1.1, 0.5, film="white", true_film=true, paints=paints, noise=0.7, seed=seed)
        found = fit(print_, "x").printer
        assert found.film.name == "white"
        misses.append((found.film.reflectance - true.reflectance) / found.errors["reflectance"])
        misses.append((found.film.transmittance - true.transmittance) / found.errors["transmittance"])
        misses.append((found.internal_reflection - 0.5) / found.errors["internal_reflection"])
        misses.append((found.ink_strength - 1.1) / found.errors["ink_strength"])
    assert np.abs(misses).max() < FARTHEST
    assert np.mean(np.square(misses)) < MEAN_SQUARE


def test_readings_without_noise_give_the_figures_back() -> None:
    # 8 bits leave about 0.15 CIELAB units of rounding; 36 patches bring k well below 0.02.
    found = fit(simulated.readings(1.3, 0.6, noise=0.0, paints=(simulated.OCHRE, simulated.TEAL)), "x")
    assert found.printer.ink_strength == pytest.approx(1.3, abs=0.01)
    assert found.printer.internal_reflection == pytest.approx(0.6, abs=0.02)
    assert found.printer.worst_difference < 1.0  # half a code is at most 0.5 to 1 CIEDE2000 in the dark
    assert found.before_worst > 3 * found.printer.worst_difference
    assert found.notes == ()


def test_more_noise_is_a_larger_stated_error() -> None:
    errors = [
        fit(simulated.readings(1.0, 0.4, noise=noise, seed=3), "x").printer.errors["internal_reflection"]
        for noise in (0.3, 1.2)
    ]
    assert 2.0 < errors[1] / errors[0] < 8.0  # four times the noise, four times the error


def test_nearly_white_paint_cannot_tell_k_and_says_so() -> None:
    # Over p = 1 the model is R = a for every k, so such a scrap holds nothing of k.
    found = fit(simulated.readings(1.2, 0.6, paints=("#fbfbfb",), noise=1.0), "x")
    assert found.printer.internal_reflection == INTERNAL_REFLECTION
    assert "internal_reflection" not in found.printer.errors
    assert found.printer.ink_strength == pytest.approx(1.2, abs=0.05)
    assert any("do not show k" in note and "darker" in note for note in found.notes)


def test_a_printer_off_srgb_does_not_pull_k_along() -> None:
    """Its inks are other colours than were asked for (dull cyan, orange red): k is told by card against paint."""
    true_inks = np.clip(simulated.PRINTED * [0.9, 0.85, 0.8] + [0.05, 0.1, 0.02], 0, 1)
    true_inks[simulated.NAMES.index("bare")] = 1.0
    from mockup.decal import ink_over_paint as ink

    paint = rgb.parse(simulated.OCHRE)
    chance = np.random.default_rng(5)
    print_ = replace(
        simulated.readings(1.0, 0.4),
        card=simulated.read(ink.predict(true_inks, ink.Ground(paint=(1, 1, 1), k=0.55)), 0.7, chance),
        scraps=(
            Scrap(
                paint=np.array(paint),
                seen=simulated.read(ink.predict(true_inks, ink.Ground(paint=paint, k=0.55)), 0.7, chance),
            ),
        ),
    )
    found = fit(print_, "x").printer
    assert found.internal_reflection == pytest.approx(0.55, abs=FARTHEST * found.errors["internal_reflection"])
    assert found.errors["internal_reflection"] < 0.1


# --- outside: spectra -------------------------------------------------------------------------------------------


def test_a_fit_to_spectra_brings_another_paint_nearer_too() -> None:
    """Truth, wavelength by wavelength: 24 measured patches as inks of strength 1.3 under a surface of k = 0.6,
    R = a p / (1 - k (1 - a)(1 - p)) (Williams and Clapper's single interface in closed form), seen in D65 by
    the CIE 1931 observer. Fitted over one paint, judged over three others that the fit never saw."""
    shape = colour.SpectralShape(380, 780, 10)
    patches = colour.SDS_COLOURCHECKERS["babel_average"]
    names = tuple(patches)
    spectra = np.stack([patch.copy().align(shape).values for patch in patches.values()])
    observer = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(shape).values
    weights = observer * colour.SDS_ILLUMINANTS["D65"].copy().align(shape).values[:, None]
    weights *= rgb.WHITE_XYZ / weights.sum(axis=0)

    def seen(reflectance: np.ndarray) -> np.ndarray:
        return rgb.encode(np.clip(reflectance @ weights @ rgb.XYZ_TO_SRGB.T, 0, 1))

    def over(paint: np.ndarray) -> np.ndarray:
        inks = spectra**1.3
        return seen(inks * paint / (1 - 0.6 * (1 - inks) * (1 - paint)))

    def strips(*paints: str) -> Readings:
        chosen = [spectra[names.index(name)] for name in paints]
        return Readings(
            source="spectra",
            film=films()["clear"],
            names=names,
            printed=seen(spectra),
            card=seen(spectra**1.3),
            scraps=tuple(Scrap(paint=seen(paint), seen=over(paint)) for paint in chosen),
        )

    found = fit(strips("orange yellow"), "x").printer
    assert found.ink_strength == pytest.approx(1.3, abs=0.05)
    unseen = strips("blue sky", "moderate red", "bluish green")
    before, after = over_scraps(unseen, USUAL).mean(), over_scraps(unseen, found).mean()
    assert after < 0.6 * before
    assert after < 2.0  # overprints are predicted to a mean below 3: ICC White Paper 43


# --- nonsense ---------------------------------------------------------------------------------------------------


def refusal(readings: Readings) -> str:
    with pytest.raises(InputError) as caught:
        fit(readings, "x")
    text = str(caught.value)
    assert text.startswith("readings.toml: ")
    assert "\n" not in text
    return text


def test_too_few_patches_are_refused() -> None:
    whole = simulated.readings(1.0, 0.4)
    seen = whole.scraps[0].seen.copy()
    seen[FEWEST - 1 :] = np.nan
    assert "only 5 patches read over card and scrap 1, expected at least 6" in refusal(
        replace(whole, scraps=(replace(whole.scraps[0], seen=seen),))
    )


def test_patches_of_one_colour_are_refused() -> None:
    whole = simulated.readings(1.0, 0.4)
    assert "all patches over the card have one colour" in refusal(replace(whole, card=np.full_like(whole.card, 0.7)))
    flat = replace(whole.scraps[0], seen=np.full_like(whole.card, 0.3))
    assert "all patches over the scrap have one colour" in refusal(replace(whole, scraps=(flat,)))


def test_no_scrap_is_refused() -> None:
    assert "no painted scrap was read" in refusal(replace(simulated.readings(1.0, 0.4), scraps=()))


def test_patches_in_the_wrong_order_are_refused() -> None:
    whole = simulated.readings(1.0, 0.4)
    mixed = replace(whole.scraps[0], seen=whole.scraps[0].seen[::-1])
    assert "do not look like one ink over card and over paint" in refusal(replace(whole, scraps=(mixed,)))


def test_the_usual_figures_are_those_of_a_finish() -> None:
    white = films()["white"]
    assert (INTERNAL_REFLECTION, white.reflectance, white.transmittance) == (0.4, 0.75, 0.05)
    # Light that a white film sends back and lets through twice is no more than all of it.
    assert white.transmittance <= (1 - white.reflectance) ** 2


def test_ciede2000_of_the_fit_is_over_the_scraps() -> None:
    print_ = simulated.readings(1.2, 0.5, paints=(simulated.OCHRE, simulated.TEAL), noise=0.5)
    found = fit(print_, "x").printer
    assert found.mean_difference == pytest.approx(over_scraps(print_, found).mean())
    assert found.worst_difference == pytest.approx(over_scraps(print_, found).max())
    assert difference.difference(print_.card[0], print_.card[1]) > 1  # bare film and the first grey are not alike
