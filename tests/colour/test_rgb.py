"""sRGB against the published constants, tables and an outside colour library."""

from __future__ import annotations

import colour
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mockup.colour import rgb

# 8-bit code -> linear light, IEC 61966-2-1:1999 formula, worked with an outside library to 8 decimals.
DECODED = {
    0: 0.0,
    1: 0.00030353,
    10: 0.00303527,
    11: 0.00334654,
    64: 0.05126946,
    118: 0.18116424,
    119: 0.18447499,
    127: 0.21223076,
    128: 0.21586050,
    186: 0.49102085,
    188: 0.50288646,
    192: 0.52711513,
    254: 0.99110210,
    255: 1.0,
}
ENCODED = {
    0.001: 0.01292,
    0.0031308: 0.04044994,
    0.005: 0.06100854,
    0.01: 0.09985282,
    0.05: 0.24780053,
    0.18: 0.46135613,
    0.5: 0.73535698,
    0.8: 0.90633175,
}


@pytest.mark.parametrize(("code", "expected"), DECODED.items())
def test_decode_gives_the_table_values(code: int, expected: float) -> None:
    assert rgb.decode(code / 255) == pytest.approx(expected, abs=5e-9)
    assert rgb.decode_8bit(np.array([[code]], np.uint8))[0, 0] == pytest.approx(expected, abs=5e-9)


@pytest.mark.parametrize(("value", "expected"), ENCODED.items())
def test_encode_gives_the_table_values(value: float, expected: float) -> None:
    assert rgb.encode(value) == pytest.approx(expected, abs=5e-9)


def test_curve_equals_an_outside_library_over_the_whole_range() -> None:
    values = np.linspace(0, 1, 4097).reshape(17, 241)
    assert np.abs(rgb.decode(values) - colour.models.eotf_sRGB(values)).max() < 1e-12
    assert np.abs(rgb.encode(values) - colour.models.eotf_inverse_sRGB(values)).max() < 1e-12


@given(st.integers(0, 255))
def test_every_8bit_code_survives_decode_and_encode(code: int) -> None:
    assert rgb.to_8bit(rgb.encode(rgb.decode(code / 255))) == code


def test_negative_values_stay_finite_on_the_straight_piece() -> None:
    assert rgb.decode(-0.01292) == pytest.approx(-0.001)  # 12.92 x -0.001
    assert rgb.encode(-0.001) == pytest.approx(-0.01292)


def test_to_8bit_rounds_to_nearest_and_clips() -> None:
    assert rgb.to_8bit([-1.0, 0.4999 / 255, 0.5001 / 255, 254.6 / 255, 2.0]).tolist() == [0, 0, 1, 255, 255]


def test_srgb_to_xyz_is_the_published_matrix_to_its_four_digits() -> None:
    published = [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]]  # IEC 61966-2-1:1999
    assert np.abs(rgb.SRGB_TO_XYZ - published).max() <= 5.1e-5
    back = [[3.2406, -1.5372, -0.4986], [-0.9689, 1.8758, 0.0415], [0.0557, -0.2040, 1.0570]]  # IEC 61966-2-1:1999
    assert np.abs(rgb.XYZ_TO_SRGB - back).max() <= 4e-4  # the published pair are not exact inverses of each other
    assert np.abs(rgb.SRGB_TO_XYZ @ rgb.XYZ_TO_SRGB - np.eye(3)).max() < 1e-14


def test_white_maps_to_d65() -> None:
    by_hand = [0.95046, 1.0, 1.08906]  # x/y, 1, (1-x-y)/y with xy (0.3127, 0.3290)
    assert np.abs(rgb.WHITE_XYZ - by_hand).max() < 5e-6
    assert np.abs(rgb.SRGB_TO_XYZ.sum(axis=1) - rgb.WHITE_XYZ).max() < 1e-14


# CSS Color Module Level 4, 6.1 "Named Colors".
NAMED = {
    "teal": "#008080",
    "RebeccaPurple": "#663399",
    " cornflowerblue ": "#6495ed",
    "darkslategrey": "#2f4f4f",
    "DarkSlateGray": "#2f4f4f",
    "lightgoldenrodyellow": "#fafad2",
    "white": "#ffffff",
    "#0af": "#00aaff",
    "#1D5C63": "#1d5c63",
}


@pytest.mark.parametrize(("text", "expected"), NAMED.items())
def test_parse_reads_hex_and_css_names(text: str, expected: str) -> None:
    assert rgb.to_hex(rgb.parse(text)) == expected


def test_all_148_css_names_are_there() -> None:
    assert len(rgb._names()) == 148  # CSS Color Module Level 4, 6.1


@given(st.tuples(*[st.integers(0, 255)] * 3))
def test_hex_text_survives_parse_and_format(code: tuple[int, int, int]) -> None:
    text = "#{:02x}{:02x}{:02x}".format(*code)
    assert rgb.to_hex(rgb.parse(text)) == text
    assert rgb.parse(text) == tuple(value / 255 for value in code)


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        ("tael", "'teal'"),
        ("dark-blue", "'darkblue'"),
        ("Midnight Bleu", "'midnightblue'"),
        ("slategray2", "'slategray'"),
    ],
)
def test_parse_suggests_the_nearest_name(text: str, hint: str) -> None:
    with pytest.raises(ValueError, match=hint) as caught:
        rgb.parse(text)
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize(
    "text", ["", "#", "#12", "#12345", "#1234567", "#ggg", "12,3,4", "xq", "transparent", "rgb(1,2,3)"]
)
def test_parse_refuses_what_is_no_colour(text: str) -> None:
    with pytest.raises(ValueError, match="is not a colour"):
        rgb.parse(text)


def test_luminance_of_the_primaries_is_wcags() -> None:
    assert rgb.luminance(np.eye(3)).tolist() == pytest.approx([0.2126, 0.7152, 0.0722])  # WCAG 2.2
    assert rgb.luminance((1.0, 1.0, 1.0)) == pytest.approx(1.0)


@given(st.tuples(*[st.floats(0, 1)] * 3))
def test_one_colour_goes_there_and_back(value: tuple[float, float, float]) -> None:
    assert rgb.encoded_colour(rgb.linear_colour(value)) == pytest.approx(value, abs=1e-6)
