"""The view transform: encoding after IEC 61966-2-1, shoulder, hue, alpha."""

import numpy as np
import pytest

from mockup.colour import rgb
from mockup.colour.view import SHOULDER, rolled_off, view

# 8-bit code to linear, computed from IEC 61966-2-1:1999 with colour-science 0.4.7
CODES = {
    0: 0.0, 1: 0.00030353, 10: 0.00303527, 11: 0.00334654, 64: 0.05126946, 118: 0.18116424, 128: 0.21586050,
    186: 0.49102085, 192: 0.52711513, 254: 0.99110210, 255: 1.0,
}  # fmt: skip


def one(red, green=None, blue=None, alpha=1.0):
    colour = (red, red if green is None else green, red if blue is None else blue)
    return np.array([[(*(c * alpha for c in colour), alpha)]], np.float32)


@pytest.mark.parametrize(("code", "linear"), CODES.items())
def test_proof_encodes_by_the_standard(code, linear):
    assert view(one(linear), "proof")[0, 0].tolist() == [code, code, code, 255]


@pytest.mark.parametrize("code", [c for c, linear in CODES.items() if linear < SHOULDER])
def test_photo_is_the_identity_below_the_shoulder(code):
    assert view(one(CODES[code]), "photo")[0, 0, 0] == code


def test_all_codes_survive_decoding_and_encoding():
    code = np.arange(256)
    c = code / 255
    linear = np.where(c <= 0.04045, c / 12.92, ((c + 0.055) / 1.055) ** 2.4)  # IEC 61966-2-1:1999, 5.2
    frame = np.repeat(linear[None, :, None], 4, axis=2).astype(np.float32)
    frame[..., 3] = 1.0
    assert np.array_equal(view(frame, "proof")[0, :, 1], code)


def test_the_shoulder_starts_without_a_step_and_never_passes_white():
    ramp = np.linspace(0.0, 60.0, 60001, dtype=np.float64)[:, None] * np.ones(3)
    out = rolled_off(ramp)[:, 0]
    steps = np.diff(out)
    assert (steps > 0).all()
    assert out[-1] < 1.0
    assert np.abs(np.diff(steps)).max() < 1e-5  # slope is continuous: no kink at the shoulder


def test_a_red_lamp_stays_red():
    out = view(one(6.0, 0.3, 0.12), "photo")[0, 0]
    assert out[0] > 240
    linear = rolled_off(np.array([[6.0, 0.3, 0.12]]))[0]
    assert linear[1] / linear[0] == pytest.approx(0.3 / 6.0)
    assert linear[2] / linear[0] == pytest.approx(0.12 / 6.0)


def test_alpha_is_straight_in_bytes():
    assert view(one(0.21586050, alpha=0.5), "proof")[0, 0].tolist() == [128, 128, 128, 128]
    assert view(np.zeros((1, 1, 4), np.float32), "photo")[0, 0].tolist() == [0, 0, 0, 0]


def test_what_is_not_finite_never_becomes_noise():
    frame = np.array([[(np.nan, 0.2, -1.0, 1.0), (np.inf, 0.0, 0.0, 1.0)]], np.float32)
    out = view(frame, "photo")
    assert out[0, 0].tolist()[0] == 0
    assert out[0, 1].tolist() == [255, 0, 0, 255]


def test_a_photo_shows_no_steps_between_two_codes() -> None:
    """The mean of many pixels is the value itself, to an eighth of a code, where rounding would be half a code off."""
    for code in (20.5, 20.3, 120.8):
        flat = np.broadcast_to(one(float(rgb.decode(code / 255.0))), (64, 64, 4))
        seen = view(np.array(flat, np.float32), "photo")[..., 0].astype(float)
        assert seen.mean() == pytest.approx(code, abs=0.125)
        assert np.ptp(seen) == 1.0
