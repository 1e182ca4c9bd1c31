"""CIELAB, CIEDE2000 and contrast against published values and an outside colour library."""

from __future__ import annotations

import colour
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mockup.colour import difference, rgb

# Sharma, Wu and Dalal, Color Research and Application 30(1), 2005, table 1: L a b, L a b, CIEDE2000.
SHARMA_TABLE = """
50 2.6772 -79.7751   50 0 -82.7485   2.0425
50 3.1571 -77.2803   50 0 -82.7485   2.8615
50 2.8361 -74.0200   50 0 -82.7485   3.4412
50 -1.3802 -84.2814   50 0 -82.7485   1.0000
50 -1.1848 -84.8006   50 0 -82.7485   1.0000
50 -0.9009 -85.5211   50 0 -82.7485   1.0000
50 0 0   50 -1 2   2.3669
50 -1 2   50 0 0   2.3669
50 2.4900 -0.0010   50 -2.4900 0.0009   7.1792
50 2.4900 -0.0010   50 -2.4900 0.0010   7.1792
50 2.4900 -0.0010   50 -2.4900 0.0011   7.2195
50 2.4900 -0.0010   50 -2.4900 0.0012   7.2195
50 -0.0010 2.4900   50 0.0009 -2.4900   4.8045
50 -0.0010 2.4900   50 0.0010 -2.4900   4.8045
50 -0.0010 2.4900   50 0.0011 -2.4900   4.7461
50 2.5 0   50 0 -2.5   4.3065
50 2.5 0   73 25 -18   27.1492
50 2.5 0   61 -5 29   22.8977
50 2.5 0   56 -27 -3   31.9030
50 2.5 0   58 24 15   19.4535
50 2.5 0   50 3.1736 0.5854   1.0000
50 2.5 0   50 3.2972 0   1.0000
50 2.5 0   50 1.8634 0.5757   1.0000
50 2.5 0   50 3.2592 0.3350   1.0000
60.2574 -34.0099 36.2677   60.4626 -34.1751 39.4387   1.2644
63.0109 -31.0961 -5.8663   62.8187 -29.7946 -4.0864   1.2630
61.2901 3.7196 -5.3901   61.4292 2.2480 -4.9620   1.8731
35.0831 -44.1164 3.7933   35.0232 -40.0716 1.5901   1.8645
22.7233 20.0904 -46.6940   23.0331 14.9730 -42.5619   2.0373
36.4612 47.8580 18.3852   36.2715 50.5065 21.2231   1.4146
90.8027 -2.0831 1.4410   91.1528 -1.6435 0.0447   1.4441
90.9257 -0.5406 -0.9208   88.6381 -0.8985 -0.7239   1.5381
6.7747 -0.2908 -2.4247   5.8714 -0.0985 -2.2286   0.6377
2.0776 0.0795 -1.1350   0.9033 -0.0636 -0.5514   0.9082
"""
SHARMA = np.array(SHARMA_TABLE.split(), dtype=np.float64).reshape(34, 7)


@pytest.mark.parametrize("row", range(34))
def test_ciede2000_gives_the_34_published_values(row: int) -> None:
    first, second, expected = SHARMA[row, :3], SHARMA[row, 3:6], SHARMA[row, 6]
    assert difference.ciede2000(first, second) == pytest.approx(expected, abs=5e-5)
    assert difference.ciede2000(second, first) == pytest.approx(expected, abs=5e-5)


def test_ciede2000_of_a_whole_array_is_that_of_its_rows() -> None:
    whole = difference.ciede2000(SHARMA[:, :3].reshape(17, 2, 3), SHARMA[:, 3:6].reshape(17, 2, 3))
    assert whole.shape == (17, 2)
    assert np.abs(whole.ravel() - SHARMA[:, 6]).max() < 5e-5


def test_ciede2000_equals_an_outside_library_over_random_colours() -> None:
    rng = np.random.default_rng(20050101)
    first, second = rng.uniform((0, -110, -110), (100, 110, 110), (2, 20000, 3))
    expected = colour.delta_E(first, second, method="CIE 2000")
    assert np.abs(difference.ciede2000(first, second) - expected).max() < 1e-9


LAB = st.tuples(st.floats(0, 100), st.floats(-120, 120), st.floats(-120, 120))


@given(LAB, LAB)
def test_ciede2000_is_symmetric_and_never_negative(first: tuple[float, ...], second: tuple[float, ...]) -> None:
    there, back = difference.ciede2000(first, second), difference.ciede2000(second, first)
    assert there == pytest.approx(back, rel=1e-9, abs=1e-9)
    assert there >= 0


@given(LAB)
def test_a_colour_is_no_distance_from_itself(lab: tuple[float, ...]) -> None:
    assert difference.ciede2000(lab, lab) == 0


# sRGB -> CIELAB D65, worked with an outside library and the standard's four-digit matrix: its rounding moves
# a* and b* by up to 0.021.
LAB_OF = {
    "#ff0000": (53.233, 80.111, 67.224),
    "#00ff00": (87.737, -86.183, 83.188),
    "#0000ff": (32.303, 79.198, -107.850),
    "#00ffff": (91.117, -48.078, -14.124),
    "#ff00ff": (60.320, 98.256, -60.830),
    "#ffff00": (97.138, -21.554, 94.489),
    "#808080": (53.585, 0.005, 0.002),
    "#ffffff": (100.0, 0.008, 0.004),
    "#000000": (0.0, 0.0, 0.0),
}


@pytest.mark.parametrize(("text", "expected"), LAB_OF.items())
def test_lab_of_plain_colours(text: str, expected: tuple[float, ...]) -> None:
    assert difference.encoded_to_lab(rgb.parse(text)).tolist() == pytest.approx(expected, abs=0.03)


def test_lab_equals_an_outside_library_near_black_too() -> None:
    rng = np.random.default_rng(3)
    xyz = rng.uniform(0, 1, (2000, 3)) ** 4
    expected = colour.XYZ_to_Lab(xyz, illuminant=np.array([0.3127, 0.3290]))
    assert np.abs(difference.xyz_to_lab(xyz) - expected).max() < 1e-9


def test_difference_of_encoded_colours() -> None:
    pairs = {("#000000", "#ffffff"): 100.0, ("#ff0000", "#00ff00"): 86.6143, ("#808080", "#818181"): 0.3778}
    for (first, second), expected in pairs.items():  # worked with an outside library
        assert difference.difference(rgb.parse(first), rgb.parse(second)) == pytest.approx(expected, abs=0.01)


# Worked by hand from the formula of WCAG 2.2, "contrast ratio", four decimals.
CONTRAST = {
    ("#000", "#fff"): 21.0,
    ("#777777", "#fff"): 4.4781,
    ("#767676", "#fff"): 4.5422,
    ("#949494", "#fff"): 3.0335,
    ("#595959", "#fff"): 7.0047,
    ("#ff0000", "#fff"): 3.9985,
    ("#00ff00", "#fff"): 1.3722,
    ("#0000ff", "#fff"): 8.5925,
    ("#ffff00", "#000"): 19.5560,
    ("#ff0000", "#000"): 5.2520,
    ("#0000ff", "#000"): 2.4440,
    ("#ffff00", "#fff"): 1.0738,
    ("#808080", "#000"): 5.3172,
    ("#808080", "#fff"): 3.9494,
    ("#ff0000", "#0000ff"): 2.1489,
}


@pytest.mark.parametrize(("pair", "expected"), CONTRAST.items())
def test_contrast_gives_the_worked_ratios_either_way_round(pair: tuple[str, str], expected: float) -> None:
    first, second = (rgb.parse(text) for text in pair)
    assert difference.contrast(first, second) == pytest.approx(expected, abs=5e-5)
    assert difference.contrast(second, first) == pytest.approx(expected, abs=5e-5)
