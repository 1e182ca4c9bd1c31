"""Lightness, chroma and hue against known values, and back."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mockup.colour import lch, rgb

codes = st.tuples(*(st.integers(0, 255).map(lambda code: code / 255) for _ in range(3)))


# CIELAB of the sRGB primaries under D65, as conversion tables print it (from memory): red 53.24 80.09 67.20,
# green 87.73 -86.18 83.18, blue 32.30 79.19 -107.86; chroma and hue are those in polar form, by hand.
@pytest.mark.parametrize(
    ("colour", "expected"),
    [
        ("#ff0000", (53.24, 104.55, 40.00)),
        ("#00ff00", (87.73, 119.78, 136.02)),
        ("#0000ff", (32.30, 133.81, 306.28)),
        ("#ffffff", (100.0, 0.0, 0.0)),
        ("#000000", (0.0, 0.0, 0.0)),
    ],
)
def test_known_colours(colour: str, expected: tuple[float, float, float]) -> None:
    found = lch.to_lch(rgb.parse(colour))
    assert found[:2] == pytest.approx(expected[:2], abs=0.03)
    if expected[1]:
        assert found[2] == pytest.approx(expected[2], abs=0.03)


@given(codes)
def test_every_code_comes_back(colour: tuple[float, float, float]) -> None:
    assert rgb.to_hex(lch.from_lch(*lch.to_lch(colour))) == rgb.to_hex(colour)


@given(st.floats(1, 99), st.floats(0, 360))
def test_what_srgb_does_not_have_keeps_lightness_and_hue(lightness: float, hue: float) -> None:
    found = lch.to_lch(lch.from_lch(lightness, 300.0, hue))
    assert found[0] == pytest.approx(lightness, abs=0.1)
    if found[1] > 2:
        assert (found[2] - hue + 180) % 360 - 180 == pytest.approx(0, abs=1)
    assert found[1] <= lch.most_chroma(lightness, hue) + 0.1
