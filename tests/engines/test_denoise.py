"""Fine waves come back into a denoised picture, from noise alone."""

from __future__ import annotations

import numpy as np

from mockup.engines.appearance.waviness import slopes as tile
from mockup.engines.tracing.denoise import with_waves
from mockup.engines.tracing.grain import normals, slopes
from mockup.model.material import Waviness

SIDE = 256


def test_light_on_fine_waves_comes_back_out_of_noise_fifteen_times_as_strong() -> None:
    waves = tile((Waviness(shortest_mm=0.3, longest_mm=0.8, slope=0.025),))[:SIDE, :SIDE, :2].copy()
    waves[:, : SIDE // 4] = 0.0  # no waves there: a nut, say
    change = 1.2 * waves[..., 0] - 0.6 * waves[..., 1]
    truth = 0.4 * (1.0 + change)[..., None] * np.ones(3)
    noisy = truth * np.random.default_rng(3).uniform(0.4, 1.6, (SIDE, SIDE, 1))
    flat = np.full((SIDE, SIDE, 3), 0.4, np.float32)
    found = with_waves(flat, noisy, waves)
    far = waves.any(axis=2)
    assert np.array_equal(found[~far], flat[~far])
    left = np.std((found - truth)[far]) / np.std((flat - truth)[far])
    # by hand: noise 0.346 over 4 pi 24^2 pixels leaves 0.0041 for each of two slopes, of a change of 0.0237: 0.24
    assert left < 0.4  # more along the picture's edge, where there are fewer pixels


def test_waves_and_normals_are_told_apart_in_one_picture() -> None:
    flake, wave, none, half = (0.7, 0.5, 0.9), (0.53, 0.48, 0.25), (0.0, 0.0, 0.0), (0.4, 0.4, 0.2)
    picture = np.array([[flake, wave, none, half]], np.float32)
    assert np.allclose(normals(picture)[0], [(0.4, 0.0, 0.8), (0, 0, 0), (0, 0, 0), (0, 0, 0)], atol=1e-6)
    assert np.allclose(slopes(picture)[0], [(0, 0), (0.03, -0.02), (0, 0), (0, 0)], atol=1e-6)
