"""The ink model against spectra and the full angular integral, against its physics, and against itself."""

from __future__ import annotations

from dataclasses import replace

import colour
import numpy as np
import pytest
import spectra
from hypothesis import given, settings
from hypothesis import strategies as st

from mockup.colour import difference, rgb
from mockup.colour.room import ROOM_WORDS, in_room
from mockup.decal import ink_over_paint as ink
from mockup.decal import lacquer
from mockup.decal.bands import FROM_BANDS, TO_BANDS, bands, from_lab, to_lab
from mockup.films import films
from mockup.finishes import sheens
from mockup.model.finish import Film, Finish
from mockup.model.material import CAST_ALUMINIUM
from mockup.model.scene import ROOMS

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

    def errors(self) -> np.ndarray:
        """Return CIEDE2000 of the product in bands against that of spectra, (24 art, 24 paint)."""
        held = bands(self.encoded)
        return difference.ciede2000(to_lab(held[:, None] * held[None]), self.lab)

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


def test_bands_beat_the_product_in_linear_srgb(chart: Chart) -> None:
    columns = paints(chart)
    assert chart.errors()[:, columns].mean() < 0.7 * chart.errors_of_linear_srgb()[:, columns].mean()


# --- outside: the physics ---------------------------------------------------------------------------------------


def test_what_lacquer_turns_back_is_the_full_integral() -> None:
    """0.596 for an index of 1.5 is Fresnel's value for diffuse light (Judd, J. Res. NBS 29, 1942)."""
    passes = np.linspace(0.001, 1, 80)
    for index in (1.45, 1.5, 1.56):
        most = spectra.turned_back(np.array(1.0), index)
        on_white = spectra.laid_over(passes, np.ones(80), index)
        back = spectra.turned_back(passes, index)
        assert np.abs(lacquer.turned_back(index).of(on_white) - (most - back) / (1 - back)).max() < 0.001
    assert lacquer.turned_back(1.5).most == pytest.approx(0.596, abs=0.0005)


def test_one_band_is_the_full_integral() -> None:
    """R = a p / (1 - q(a)(1 - p)) is exact but for the fit of q: within 0.001 of the integral for every pair."""
    passes, paints = np.linspace(0.001, 1, 60), np.linspace(0.001, 1, 60)
    truth = spectra.laid_over(passes[:, None], paints[None])
    on_white = spectra.laid_over(passes, np.ones(60))
    assert np.abs(lacquer.laid(on_white[:, None], paints[None]) - truth).max() < 0.001


UNSEEN = {  # dyes that the bands were not fitted to
    "broad": spectra.dyes((650, 550, 430), (70, 50, 35), 0.1),
    "narrow": spectra.dyes((640, 540, 445), (58, 42, 45), 0.04),
}


@pytest.mark.parametrize("dyes", UNSEEN)
def test_surfaces_and_dyes_it_was_not_fitted_on_come_within_the_stated_error(dyes: str) -> None:
    """90 real surfaces (CIE 224:2017) under 20 to 40 inks: means are more than halved against one k of 0.4 in BT.2020,
    which gave 2.9 and 8.2 (p95) here, where the best that was hoped for is 1.23 and 3.77; and no hue turns over."""
    amounts = np.array(np.meshgrid(*[(0, 0.15, 0.4, 0.9)] * 3)).reshape(3, -1).T[1:]
    passes = spectra.ink(amounts, UNSEEN[dyes])
    on_white = spectra.linear(spectra.white_ink(passes))
    within = ((on_white >= 0) & (on_white <= 1)).all(axis=1)
    truth = spectra.lab(spectra.laid_over(passes[within][:, None], spectra.surfaces()[None]))
    held, below = on_white[within] @ TO_BANDS.T, spectra.linear(spectra.surfaces()) @ TO_BANDS.T
    found = to_lab(ink.over(held[:, None], below[None], CLEAR))
    errors = difference.ciede2000(found, truth)
    assert errors.mean() <= 1.4
    assert np.percentile(errors, 95) <= 3.77
    assert np.percentile(errors, 99) <= 6
    assert errors.max() <= 23  # deep blue over orange: nearly black, whatever its hue
    assert abs((found - truth)[..., 0].mean()) < 0.4  # neither too dark nor too light
    strong = np.hypot(truth[..., 1], truth[..., 2]) > 20
    turn = np.degrees(np.arctan2(found[..., 2], found[..., 1]) - np.arctan2(truth[..., 2], truth[..., 1]))
    assert np.abs((turn[strong] + 180) % 360 - 180).max() < 26


def test_no_ink_over_no_paint_is_darker_than_black() -> None:
    corners = np.array(np.meshgrid(*[(0.0, 0.1, 1.0)] * 3)).reshape(3, -1).T @ TO_BANDS.T
    seen = ink.over(corners[:, None], corners[None], CLEAR) @ FROM_BANDS.T
    assert (seen @ rgb.SRGB_TO_XYZ.T)[..., 1].min() >= -1e-12


def test_haze_lies_over_all_that_is_under_it() -> None:
    # h + (1 - h)^2 R by hand: h = 0.02, R = 0.5 -> 0.02 + 0.9604 * 0.5 = 0.5002.
    hazy = CLEAR.measured(0.0, 1.0, 0.02)
    assert ink.over(np.ones(3), np.full(3, 0.5), hazy) == pytest.approx(0.5002, abs=1e-12)
    assert ink.over(np.ones(3), np.zeros(3), hazy) == pytest.approx(0.02, abs=1e-12)


def test_a_room_is_the_published_decomposition_seen_in_its_light() -> None:
    """Mallett and Yuksel's primaries under the CIE's lamps, adapted by CAT16, by the outside library."""
    primaries = colour.recovery.MSDS_BASIS_FUNCTIONS_sRGB_MALLETT2019.copy().align(spectra.SHAPE).values.T
    day = spectra.linear(primaries)
    for room, lamp in (("tungsten", "A"), ("warm-led", "LED-B1")):
        assert np.abs(in_room(day, room) - spectra.linear(primaries, lamp)).max() < 0.004
    assert in_room(np.ones(3), "tungsten") == pytest.approx(1.0, abs=2e-4)
    assert ROOMS[0] == "daylight"
    assert set(ROOM_WORDS) == set(ROOMS)


def test_a_room_brings_chart_spectra_nearer_to_what_its_light_shows() -> None:
    chart = np.array(
        [each.copy().align(spectra.SHAPE).values for each in colour.SDS_COLOURCHECKERS["ISO 17321-1"].values()]
    )
    for room, lamp in (("tungsten", "A"), ("warm-led", "LED-B1")):
        truth = spectra.lab(chart, lamp)
        left = difference.ciede2000(difference.linear_to_lab(in_room(spectra.linear(chart), room)), truth)
        without = difference.ciede2000(difference.linear_to_lab(spectra.linear(chart)), truth)
        assert left.mean() < 0.9 * without.mean()
    on = ink.Ground(paint=(0.8, 0.2, 0.2))
    assert ink.unprinted(replace(on, room="tungsten"))[0] > ink.unprinted(on)[0]  # red glows in warm light


def test_white_film_is_a_layer_over_the_paint() -> None:
    # R0 + T2 p / (1 - R0 p), by hand with R0 = 0.75, T2 = 0.05: p = 0 -> 0.75; p = 1 -> 0.75 + 0.05 / 0.25 = 0.95.
    for paint, expected in ((0.0, 0.75), (1.0, 0.95), (0.5, 0.75 + 0.025 / 0.625)):
        assert ink.over(np.ones(3), np.full(3, paint), WHITE_FILM) == pytest.approx(expected, abs=1e-12)


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


@given(COLOURS, st.floats(0.3, 2))
def test_white_art_gives_the_paint_back(paint: tuple[float, float, float], strength: float) -> None:
    on = ink.Ground(paint=paint, film=CLEAR, ink_strength=strength)
    assert np.abs(ink.overprint(WHITE, on.bare(), on) - on.bare()).max() < 1e-12
    assert np.abs(ink.predict(WHITE, on) - paint).max() < KNEE


@given(COLOURS)
def test_white_paint_shows_the_art_as_it_is(art: tuple[float, float, float]) -> None:
    on = ink.Ground(paint=WHITE)
    assert np.abs(ink.overprint(art, on.bare(), on) - rgb.decode(art) @ TO_BANDS.T).max() < 1e-12
    assert np.abs(ink.predict(art, on) - art).max() < KNEE


@given(COLOURS, COLOURS, st.floats(0.3, 2))
def test_ink_on_clear_film_is_never_lighter_than_the_paint(
    art: tuple[float, float, float], paint: tuple[float, float, float], strength: float
) -> None:
    on = ink.Ground(paint=paint, film=CLEAR, ink_strength=strength)
    seen = ink.overprint(art, on.bare(), on)
    assert (seen <= on.bare() + 1e-12).all()
    assert (seen >= 0).all()


@given(COLOURS, COLOURS, COLOURS, FILMS)
def test_more_ink_never_makes_it_lighter(
    art: tuple[float, float, float], share: tuple[float, float, float], paint: tuple[float, float, float], film: Film
) -> None:
    on = ink.Ground(paint=paint, film=film)
    less_light = ink.over(bands(art) * np.array(share), on.bare(), film)
    assert (less_light <= ink.over(bands(art), on.bare(), film) + 1e-12).all()


@given(COLOURS, COLOURS, st.floats(0.3, 1.5), st.floats(0, 0.5))
def test_stronger_ink_never_makes_it_lighter(
    art: tuple[float, float, float], paint: tuple[float, float, float], strength: float, extra: float
) -> None:
    weak, strong = (ink.Ground(paint=paint, ink_strength=each) for each in (strength, strength + extra))
    assert (ink.overprint(art, weak.bare(), strong) <= ink.overprint(art, weak.bare(), weak) + 1e-12).all()


@given(COLOURS, COLOURS, FILMS)
def test_both_ends_of_the_doubt_lie_round_what_is_likely(
    art: tuple[float, float, float], paint: tuple[float, float, float], film: Film
) -> None:
    dark, likely, light = (
        to_lab(ink.overprint(art, on.bare(), on))[0]
        for on in (ink.Ground(paint=paint, film=film, end=end) for end in (-1.0, 0.0, 1.0))
    )
    assert dark <= likely + 1e-6
    assert likely <= light + 1e-6


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


@given(COLOURS, st.tuples(*[st.floats(0.01, 1)] * 3))
def test_ink_is_lifted_off_the_ground_it_was_laid_on(
    art: tuple[float, float, float], ground: tuple[float, float, float]
) -> None:
    held, below = np.clip(bands(art), 1e-4, 1), np.array(ground)
    assert lacquer.lifted(lacquer.laid(held, below), below) == pytest.approx(held, abs=1e-6)


@given(COLOURS)
def test_bands_and_lab_go_both_ways(art: tuple[float, float, float]) -> None:
    assert from_lab(to_lab(bands(art))) == pytest.approx(bands(art), abs=1e-9)
    assert np.abs(FROM_BANDS @ TO_BANDS - np.eye(3)).max() < 1e-12
    assert TO_BANDS.sum(axis=1) == pytest.approx(1.0)


# --- the lookup ---------------------------------------------------------------------------------------------------


def test_lookup_gives_white_art_the_exact_paint() -> None:
    codes = np.random.default_rng(7).integers(0, 256, (60, 3), dtype=np.uint8)
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


@settings(max_examples=60)
@given(COLOURS, st.integers(0, 2**32))
def test_lookup_follows_the_reference_over_any_paint(paint: tuple[float, float, float], seed: int) -> None:
    error, seen = lookup_error(ink.Ground(paint=paint), seed)
    assert error.max() <= 6  # next to black in one channel, where the sRGB curve is steepest
    assert error.mean() <= 0.3
    assert seen.max() <= 1.5


@settings(max_examples=60)
@given(COLOURS, st.floats(0.3, 2), st.integers(0, 2**32))
def test_lookup_looks_like_the_reference_for_weak_and_strong_ink(
    paint: tuple[float, float, float], strength: float, seed: int
) -> None:
    error, seen = lookup_error(ink.Ground(paint=paint, ink_strength=strength), seed)
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
