"""The ink model against spectra, against the physics it stands for, and against itself."""

from __future__ import annotations

from dataclasses import replace

import colour
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mockup.colour import difference, rgb
from mockup.decal import ink_over_paint as ink
from mockup.films import films
from mockup.finishes import sheens
from mockup.model.finish import Film, Finish
from mockup.model.material import CAST_ALUMINIUM

pytestmark = pytest.mark.slow

WHITE = (1.0, 1.0, 1.0)
UNIT = st.floats(0, 1)
COLOURS = st.tuples(UNIT, UNIT, UNIT)
CLEAR, WHITE_FILM = films()["clear"], films()["white"]
FILMS = st.sampled_from([CLEAR, WHITE_FILM])


# --- outside: products of measured spectra ------------------------------------------------------------------


class Chart:
    """A 24-patch colour chart: spectra, and what each patch and each pair laid over each other looks like.

    Truth for art over paint is the product of the two reflectance spectra, seen under D65 by the CIE 1931
    2 degree observer, scaled so that a perfect white has the XYZ of D65.
    """

    def __init__(self, key: str) -> None:
        shape = colour.SpectralShape(380, 780, 10)
        patches = colour.SDS_COLOURCHECKERS[key]
        self.names = tuple(patches)
        spectra = np.stack([patch.copy().align(shape).values for patch in patches.values()])
        observer = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(shape).values
        weights = observer * colour.SDS_ILLUMINANTS["D65"].copy().align(shape).values[:, None]
        weights *= rgb.WHITE_XYZ / weights.sum(axis=0)
        self.encoded = rgb.encode(spectra @ weights @ rgb.XYZ_TO_SRGB.T)
        self.lab = difference.xyz_to_lab((spectra[:, None] * spectra[None]) @ weights)  # [art, paint]
        self.is_within = np.all((self.encoded >= 0) & (self.encoded <= 1), axis=-1)

    def errors(self, k: float = 0.0) -> np.ndarray:
        """Return CIEDE2000 of the model against the product, (24 art, 24 paint), before clipping to sRGB."""
        columns = []
        for patch in self.encoded:
            paint = ink.Ground(paint=tuple(patch)).bare()
            linear = ink.overprint(self.encoded, paint, CLEAR, 1.0, k) @ rgb.BT2020_TO_SRGB.T
            columns.append(difference.linear_to_lab(linear))
        return difference.ciede2000(np.stack(columns, axis=1), self.lab)

    def errors_of_linear_srgb(self) -> np.ndarray:
        """Return the same for the plain product of linear sRGB."""
        linear = rgb.decode(self.encoded)
        return difference.ciede2000(difference.linear_to_lab(linear[:, None] * linear[None]), self.lab)


@pytest.fixture(scope="module", params=["babel_average", "ISO 17321-1"])
def chart(request: pytest.FixtureRequest) -> Chart:
    return Chart(request.param)


def paints(chart: Chart) -> list[int]:
    """Return twelve patches round the hue circle, light and dark, as paints; all of them within sRGB."""
    names = ["orange", "purplish blue", "moderate red", "purple", "yellow green", "blue", "green", "red", "yellow"]
    chosen = [chart.names.index(name) for name in names] + [18, 21, 23]  # and white, middle grey, black
    assert chart.is_within[chosen].all()
    return chosen


def test_plain_product_keeps_within_the_stated_error_of_spectra(chart: Chart) -> None:
    errors = chart.errors()[chart.is_within][:, paints(chart)]
    assert errors.mean() <= 1.6
    assert np.percentile(errors, 95) <= 6
    assert errors.max() <= 11


def test_even_the_patch_outside_srgb_keeps_near(chart: Chart) -> None:
    # One cyan patch cannot be written in sRGB at all; as art over orange it is the worst of all pairs.
    errors = chart.errors()
    assert errors.mean() <= 1.6
    assert np.percentile(errors, 95) <= 6
    assert errors.max() <= 13


def test_neutral_paints_are_predicted_nearly_exactly(chart: Chart) -> None:
    errors = chart.errors()[:, 18:]  # the chart's row of greys
    assert errors.mean() <= 0.3
    assert errors.max() <= 3


def test_wide_primaries_beat_the_product_in_linear_srgb(chart: Chart) -> None:
    columns = paints(chart)
    assert chart.errors()[:, columns].mean() < 0.7 * chart.errors_of_linear_srgb()[:, columns].mean()


# --- outside: the physics ---------------------------------------------------------------------------------------


def saunderson(inside: float, k2: float) -> float:
    """Return reflectance seen through one air interface, k1 = 0 (Saunderson 1942; facts as in textbooks)."""
    return (1 - k2) * inside / (1 - k2 * inside)


@given(st.floats(0.001, 0.999), st.floats(0.001, 0.999), st.floats(0, 0.9))
def test_one_interface_form_equals_saunderson_of_the_product_inside(inner_ink: float, inner: float, k: float) -> None:
    # Ink on white and paint alone, each seen through the interface; then both inside one interface.
    a, p, both = saunderson(inner_ink, k), saunderson(inner, k), saunderson(inner_ink * inner, k)
    grey = rgb.encoded_colour((a, a, a))
    seen = ink.overprint(grey, np.full(3, p), CLEAR, 1.0, k)
    assert seen == pytest.approx(both, rel=1e-6)


def test_k_zero_is_beers_double_pass() -> None:
    # R = Rs 10^-Dr (Wyszecki and Stiles): paint 0.5 under ink of density 1.0 on white reflects 0.05.
    art = rgb.encoded_colour((0.1, 0.1, 0.1))
    assert ink.overprint(art, np.full(3, 0.5), CLEAR, 1.0, 0.0) == pytest.approx(0.05, rel=1e-9)


def test_white_film_is_a_layer_over_the_paint() -> None:
    # R0 + T2 p / (1 - R0 p), by hand with R0 = 0.75, T2 = 0.05: p = 0 -> 0.75; p = 1 -> 0.75 + 0.05 / 0.25 = 0.95.
    for paint, expected in ((0.0, 0.75), (1.0, 0.95), (0.5, 0.75 + 0.025 / 0.625)):
        assert ink.overprint(WHITE, np.full(3, paint), WHITE_FILM, 1.0, 0.4) == pytest.approx(expected, abs=1e-12)


def test_a_swatch_seen_bare_loses_its_surface_reflection_under_lacquer() -> None:
    # (0.52 - 0.04) / 0.96 = 0.5; and 0.03 is less than the surface alone, so nothing is left.
    bare = rgb.encoded_colour((0.52, 0.52, 0.52))
    seen = ink.predict(WHITE, ink.Ground(paint=bare, is_swatch_coated=False))
    assert rgb.decode(seen) == pytest.approx(0.5, abs=1e-12)
    assert ink.predict(
        WHITE, ink.Ground(paint=rgb.encoded_colour((0.03, 0.03, 0.03)), is_swatch_coated=False)
    ) == pytest.approx(0.0)


def test_veil_lifts_black_by_itself() -> None:
    assert rgb.decode(ink.predict((0, 0, 0), ink.Ground(paint=(0.5, 0.5, 0.5), veil=0.03))) == pytest.approx(
        0.03, abs=1e-12
    )


def test_cyan_over_yellow_turns_green() -> None:
    red, green, blue = ink.predict(rgb.parse("#00a0e0"), ink.Ground(paint=rgb.parse("#f0d000")))
    assert green > red + 0.2
    assert green > blue + 0.2


# --- identities and order -----------------------------------------------------------------------------------------


KNEE = 3e-8  # the published sRGB curve has a step of this size at its knee (IEC 61966-2-1 rounds its constants)


@given(COLOURS, st.floats(0, 0.95), st.floats(0.3, 2))
def test_white_art_gives_the_paint_back(paint: tuple[float, float, float], k: float, strength: float) -> None:
    below = ink.Ground(paint=paint).bare()
    assert np.abs(ink.overprint(WHITE, below, CLEAR, strength, k) - below).max() < 1e-12
    assert np.abs(ink.predict(WHITE, ink.Ground(paint=paint, k=k, ink_strength=strength)) - paint).max() < KNEE


@given(COLOURS, st.floats(0, 0.95))
def test_white_paint_shows_the_art_as_it_is(art: tuple[float, float, float], k: float) -> None:
    white = ink.Ground(paint=WHITE).bare()
    assert np.abs(ink.overprint(art, white, CLEAR, 1.0, k) - rgb.decode(art) @ rgb.SRGB_TO_BT2020.T).max() < 1e-12
    assert np.abs(ink.predict(art, ink.Ground(paint=WHITE, k=k)) - art).max() < KNEE


@given(COLOURS, COLOURS, st.floats(0, 0.95), st.floats(0.3, 2))
def test_ink_on_clear_film_is_never_lighter_than_the_paint(
    art: tuple[float, float, float], paint: tuple[float, float, float], k: float, strength: float
) -> None:
    below = ink.Ground(paint=paint).bare()
    seen = ink.overprint(art, below, CLEAR, strength, k)
    assert (seen <= below + 1e-12).all()
    assert (seen >= 0).all()


@given(COLOURS, COLOURS, COLOURS, FILMS, st.floats(0, 0.95))
def test_more_ink_never_makes_it_lighter(
    art: tuple[float, float, float],
    share: tuple[float, float, float],
    paint: tuple[float, float, float],
    film: Film,
    k: float,
) -> None:
    below = ink.Ground(paint=paint).bare()
    more = rgb.encode(rgb.decode(art) * np.array(share))
    less_light = ink.overprint(more, below, film, 1.0, k)
    assert (less_light <= ink.overprint(art, below, film, 1.0, k) + 1e-12).all()


@given(COLOURS, COLOURS, st.floats(0.3, 1.5), st.floats(0, 0.5))
def test_stronger_ink_never_makes_it_lighter(
    art: tuple[float, float, float], paint: tuple[float, float, float], strength: float, extra: float
) -> None:
    below = ink.Ground(paint=paint).bare()
    weak = ink.overprint(art, below, CLEAR, strength, 0.4)
    assert (ink.overprint(art, below, CLEAR, strength + extra, 0.4) <= weak + 1e-12).all()


@given(COLOURS, COLOURS, st.floats(0, 0.9), st.floats(0, 0.05))
def test_more_internal_reflection_never_makes_it_darker(
    art: tuple[float, float, float], paint: tuple[float, float, float], k: float, extra: float
) -> None:
    below = ink.Ground(paint=paint).bare()
    low = ink.overprint(art, below, CLEAR, 1.0, k)
    assert (ink.overprint(art, below, CLEAR, 1.0, k + extra) >= low - 1e-12).all()


@given(COLOURS, COLOURS, FILMS, st.floats(0, 0.05), st.booleans())
def test_what_is_seen_is_a_colour(
    art: tuple[float, float, float], paint: tuple[float, float, float], film: Film, veil: float, is_coated: bool
) -> None:
    seen = ink.predict(art, ink.Ground(paint=paint, film=film, veil=veil, is_swatch_coated=is_coated))
    assert ((seen >= 0) & (seen <= 1)).all()


def test_eight_bit_art_means_the_same_as_floats() -> None:
    art = np.random.default_rng(0).integers(0, 256, (5, 7, 3), dtype=np.uint8)
    on = ink.Ground(paint=(0.2, 0.5, 0.7))
    assert np.abs(ink.predict(art, on) - ink.predict(art / 255, on)).max() < 1e-12


# --- the inverse --------------------------------------------------------------------------------------------------


def is_reached(wish: np.ndarray, art: np.ndarray, on: ink.Ground) -> list[bool]:
    """Whether art looks as wished, to half an 8-bit code."""
    error = np.abs(ink.predict(art, on) - wish).max(axis=-1)
    return (error <= 0.5 / 255.0).tolist()


@given(COLOURS, COLOURS, FILMS, st.floats(0, 0.8), st.floats(0.5, 1.5))
def test_what_was_predicted_can_be_asked_for(
    art: tuple[float, float, float], paint: tuple[float, float, float], film: Film, k: float, strength: float
) -> None:
    on = ink.Ground(paint=paint, film=film, k=k, ink_strength=strength, veil=0.01)
    reflectance = ink.overprint(art, on.bare(), film, strength, k)
    linear = (0.01 + 0.99 * reflectance) @ rgb.BT2020_TO_SRGB.T
    if linear.min() < 0 or linear.max() > 1:
        return  # clipped to sRGB: another wish than the ink gave
    found = ink.invert(ink.predict(art, on), on)
    assert np.abs(ink.predict(found, on) - ink.predict(art, on)).max() <= 0.5 / 255


def test_lighter_than_the_paint_is_out_of_reach() -> None:
    on = ink.Ground(paint=(0.5, 0.5, 0.5))
    wish = np.array([[0.9, 0.9, 0.9], [0.5, 0.5, 0.5], [0.2, 0.2, 0.2]])
    art = ink.invert(wish, on)
    assert is_reached(wish, art, on) == [False, True, True]
    assert art[0] == pytest.approx(1.0)  # the best that ink can do there is none


def test_on_black_paint_only_black_is_within_reach() -> None:
    wish, on = np.array([[0.0, 0.0, 0.0], [0.1, 0.0, 0.0]]), ink.Ground(paint=(0.0, 0.0, 0.0))
    assert is_reached(wish, ink.invert(wish, on), on) == [True, False]


# --- the lookup ---------------------------------------------------------------------------------------------------


def test_lookup_gives_white_art_the_exact_paint_for_500_paints() -> None:
    codes = np.random.default_rng(7).integers(0, 256, (500, 3), dtype=np.uint8)
    white = np.full((1, 1, 3), 255, np.uint8)
    for code in codes:
        red, green, blue = (code / 255.0).tolist()
        assert ink.lookup(ink.Ground(paint=(red, green, blue))).apply(white)[0, 0].tolist() == code.tolist()


@pytest.mark.parametrize("film", [CLEAR, WHITE_FILM], ids=lambda film: film.name)
@pytest.mark.parametrize("veil", [0.0, 0.03])
def test_lookup_follows_the_reference_over_chart_paints(film: Film, veil: float) -> None:
    art = np.random.default_rng(11).integers(0, 256, (100, 200, 3), dtype=np.uint8)
    for patch in np.clip(Chart("ISO 17321-1").encoded, 0, 1):
        red, green, blue = patch.tolist()
        on = ink.Ground(paint=(red, green, blue), film=film, veil=veil)
        error = np.abs(ink.lookup(on).apply(art) - 255 * ink.predict(art, on))
        assert error.max() <= 3
        assert error.mean() <= 0.3


@settings(max_examples=60, deadline=None)
@given(COLOURS, st.floats(0, 0.6), st.integers(0, 2**32))
def test_lookup_follows_the_reference_over_any_paint(paint: tuple[float, float, float], k: float, seed: int) -> None:
    error, seen = lookup_error(ink.Ground(paint=paint, k=k), seed)
    assert error.max() <= 6  # next to black in one channel, where the sRGB curve is steepest
    assert error.mean() <= 0.3
    assert seen.max() <= 1.5


@settings(max_examples=60, deadline=None)
@given(COLOURS, st.floats(0, 0.6), st.floats(0.3, 2), st.integers(0, 2**32))
def test_lookup_looks_like_the_reference_for_weak_and_strong_ink(
    paint: tuple[float, float, float], k: float, strength: float, seed: int
) -> None:
    error, seen = lookup_error(ink.Ground(paint=paint, k=k, ink_strength=strength), seed)
    assert error.mean() <= 0.6  # of art that is mostly black
    assert seen.max() <= 2


def lookup_error(on: ink.Ground, seed: int) -> tuple[np.ndarray, np.ndarray]:
    """Return the lookup's error in 8-bit codes and in CIEDE2000, over random art, much of it nearly black."""
    art = np.random.default_rng(seed).integers(0, 256, (50, 60, 3), dtype=np.uint8)
    art[:15] //= 32
    found, expected = ink.lookup(on).apply(art), ink.predict(art, on)
    return np.abs(found - 255 * expected), difference.difference(found / 255, expected)


# --- grounds ------------------------------------------------------------------------------------------------------

FINISH = Finish(paint=rgb.parse("teal"), sheen=sheens()["matte"])


def test_a_photo_leaves_the_veil_to_the_renderer() -> None:
    assert ink.ground(FINISH, CLEAR, "proof").veil == 0.03
    assert ink.ground(FINISH, CLEAR, "photo").veil == 0.0


def test_a_bare_swatch_changes_only_under_lacquer() -> None:
    picked_bare = replace(FINISH, is_swatch_coated=False)
    assert ink.ground(picked_bare, CLEAR).is_swatch_coated is False
    assert ink.ground(replace(picked_bare, has_clear_coat=False), CLEAR).is_swatch_coated is True


def test_a_box_without_paint_has_the_colour_of_cast_metal() -> None:
    on = ink.ground(replace(FINISH, sheen=sheens()["bare"], is_swatch_coated=False), CLEAR)
    assert rgb.linear_colour(ink.unprinted(on)) == pytest.approx(CAST_ALUMINIUM.base_color, abs=1e-9)


def test_limits_name_what_a_finish_adds_to_the_doubt() -> None:
    assert ink.limits(FINISH) == ink.LIMITS
    assert any("metal" in line for line in ink.limits(replace(FINISH, sheen=sheens()["bare"]))[len(ink.LIMITS) :])
    assert any("flake" in line for line in ink.limits(replace(FINISH, sheen=sheens()["flake"]))[len(ink.LIMITS) :])
    assert any("White film" in line for line in ink.limits(FINISH, (CLEAR, WHITE_FILM))[len(ink.LIMITS) :])
