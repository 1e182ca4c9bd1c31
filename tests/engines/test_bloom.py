"""The glow round lamps: only where there is more than white, only adding, of the lamp's own colour."""

import numpy as np
import pytest

from mockup.engines.appearance.bloom import with_bloom


def picture(value, alpha=1.0):
    out = np.zeros((64, 64, 4), np.float32)
    out[..., 3] = alpha
    out[30:34, 30:34, :3] = value
    out[30:34, 30:34, 3] = 1.0
    return out


def test_nothing_above_white_changes_nothing():
    before = picture((1.0, 0.9, 0.2))
    assert np.array_equal(with_bloom(before), before)


def test_a_red_lamp_glows_red_and_evenly_all_round():
    before = picture((6.0, 0.6, 0.3))
    halo = (with_bloom(before) - before)[..., :3]
    assert halo.min() >= 0.0
    ring = np.array([halo[24, 31], halo[39, 32], halo[32, 24], halo[31, 39]])
    assert ring[:, 0] == pytest.approx(ring[0, 0], rel=0.05)
    assert ring[:, 1] / ring[:, 0] == pytest.approx(0.1, rel=1e-3)
    assert halo[31, 31, 0] > halo[24, 31, 0] > halo[12, 31, 0]


def test_the_glow_is_a_small_share_of_the_light():
    before = picture((6.0, 6.0, 6.0))
    excess = 5.0 * 16
    # the shares in the module sum to 0.135; some leaves the picture at its border
    assert 0.08 * excess < (with_bloom(before) - before)[..., 0].sum() <= 0.1351 * excess


def test_on_a_transparent_ground_the_glow_has_alpha():
    after = with_bloom(picture((6.0, 0.6, 0.3), alpha=0.0))
    assert after[24, 31, 3] == pytest.approx(after[24, 31, :3].max())
    assert after[0, 0, 3] < 0.02
