"""Fine waves come back into a denoised picture, from noise alone."""

from __future__ import annotations

import numpy as np
import pytest

from mockup.engines.appearance.waviness import slopes as tile
from mockup.engines.tracing.denoise import with_speckle, with_waves
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


def test_speckle_comes_back_as_far_as_it_is_more_than_noise_but_none_where_flakes_lie_level() -> None:
    size, samples = (128, 128, 1), 16
    rng = np.random.default_rng(7)
    flakes = np.zeros((128, 128, 3), np.float32)
    flakes[..., 2], flakes[:, 64:, 0] = 1.0, 0.3  # level on the left, as under white film
    speckle = 0.4 + 0.1 * rng.standard_normal(size)
    noisy = (speckle + 0.1 * np.sqrt(20.0 / samples) * rng.standard_normal(size)) * np.ones(3)
    flat = np.full((128, 128, 3), 0.4, np.float32)
    found = with_speckle(flat, noisy, flakes, samples)
    assert np.array_equal(found[:, :64], flat[:, :64])
    # Wiener's filter leaves sqrt(noise / (noise + signal)), both as powers: 20 / 16 over 36 / 16
    assert np.std((found - speckle)[:, 64:]) == pytest.approx(0.1 * np.sqrt(20.0 / 36.0), rel=0.03)
