"""Strips in scans and photographs of every kind are read without help, within a unit; bad ones are refused."""

from __future__ import annotations

import numpy as np
import pytest
import simulated
import spectra
from photographed import PER_MM, laid_out, shot

from mockup.calibration.strip import marks_mm, patches
from mockup.calibration.strip_photo import read
from mockup.colour import difference

pytestmark = pytest.mark.slow

PRINTER = simulated.PRINTERS["dye inkjet"]
OCHRE = spectra.surfaces()[20]
BLACK = np.full(31, 0.01)
SHOTS = {
    "scan": {"slant": 0.0, "vignette": 0.0, "light": (0.85, 0.85, 0.85), "noise": 0.002},
    "upside down": {"turn_deg": 188.0, "slant": 0.03},
    "on end": {"turn_deg": 90.0, "wide_px": 1400},
}


@pytest.fixture(scope="module")
def strip() -> np.ndarray:
    return laid_out(PRINTER, OCHRE, 22, BLACK)


@pytest.mark.parametrize("kind", SHOTS)
def test_a_strip_is_read_within_a_unit(strip: np.ndarray, kind: str) -> None:
    found = read(shot(strip, 3, **SHOTS[kind]), has_black=True)
    assert found.size == 22  # which strip it is the picture tells
    known = patches(22)
    truth = np.clip(spectra.linear(PRINTER.spectrum(np.array([each.printed for each in known.values()]), OCHRE)), 0, 1)
    got = np.array([found.colours[name] for name in known])
    errors = difference.ciede2000(difference.linear_to_lab(got), difference.linear_to_lab(truth))
    assert errors.mean() < 0.6
    assert errors.max() < 1.6  # the darkest, where a code of the file is half a unit
    assert found.over_black is not None
    assert found.black is not None
    seen = float((found.over_black - found.black).mean())
    assert seen == pytest.approx(float(spectra.linear(PRINTER.spectrum(np.ones(3), BLACK)).mean() - 0.01), abs=0.0016)


def test_dark_paint_and_thirty_patches() -> None:
    dark = spectra.surfaces()[np.argsort(spectra.linear(spectra.surfaces())[:, 1])[2]]
    found = read(shot(laid_out(PRINTER, dark, 30), 5))
    truth = spectra.linear(PRINTER.spectrum(np.array([each.printed for each in patches(30).values()]), dark))
    got = np.array(list(found.colours.values()))
    errors = difference.ciede2000(difference.linear_to_lab(got), difference.linear_to_lab(np.clip(truth, 0, 1)))
    assert found.size == 30
    assert errors.mean() < 1.0


def test_corners_given_by_hand_read_the_same(strip: np.ndarray) -> None:
    flat = np.rint(255 * spectra.colour.cctf_encoding(strip * 0.9, function="sRGB")).astype(np.uint8)
    corners = [((x + 22.0) * PER_MM, (y + 20.0) * PER_MM) for x, y in marks_mm(22)]
    by_hand, found = read(flat, corners=corners), read(flat)
    for name, colour in by_hand.colours.items():
        assert found.colours[name] == pytest.approx(colour, abs=0.004)


@pytest.mark.parametrize(
    ("how", "said"),
    [
        ({"light": (1.5, 1.3, 1.2)}, "white card is burnt out in the picture; take it again a little darker"),
        ({"light": (0.1, 0.1, 0.1)}, "no white card along the strip's upper edge, or it is dark"),
        ({"wide_px": 420}, "too small in the picture; go nearer|four marks are not found"),
    ],
)
def test_a_bad_picture_is_refused(strip: np.ndarray, how: dict[str, object], said: str) -> None:
    with pytest.raises(ValueError, match=said):
        read(shot(strip, 3, **how))


def test_a_shadow_is_refused(strip: np.ndarray) -> None:
    shaded = strip.copy()
    shaded[:, strip.shape[1] // 2 :] *= 0.7
    with pytest.raises(ValueError, match=r"light (on the strip is patchy|falls off too much over the strip)"):
        read(shot(shaded, 3, slant=0.0))


def test_another_picture_holds_no_strip() -> None:
    with pytest.raises(ValueError, match="four marks are not found; take it straighter"):
        read(np.random.default_rng(0).integers(0, 256, (300, 400, 3)).astype(np.uint8))
