"""Every light preset, whichever there are, can light a pedal."""

from __future__ import annotations

import math
import re

import numpy as np
import pytest

from mockup.geometry.irradiance import irradiance
from mockup.lights import LIGHTS, presets


def test_every_file_gives_the_preset_of_its_name() -> None:
    assert sorted(presets()) == sorted(LIGHTS.names())
    assert next(iter(presets())) == "bench"  # the light of a picture that names none


@pytest.mark.parametrize("name", presets())
def test_every_light_is_possible(name: str) -> None:
    light = presets()[name]
    assert re.fullmatch(r"[a-z].{9,118}[^.]", light.about)
    colours = [light.surround, light.horizon, light.backdrop, *(box.radiance for box in light.boxes)]
    assert all(value >= 0.0 for colour in colours for value in colour)
    assert light.ground is None or all(0.0 <= value <= 1.0 for value in light.ground)  # a reflectance
    assert light.ground_roughness is None or 0.0 < light.ground_roughness <= 1.0
    for box in light.boxes:
        assert np.dot(box.right, box.up) == pytest.approx(0.0, abs=1e-6)
        assert box.centre[2] > 0.0  # over the ground
        assert np.dot(np.cross(box.up, box.right), np.subtract((0.0, 0.0, 20.0), box.centre)) > 0.0  # faces the pedal


@pytest.mark.parametrize("name", presets())
def test_white_paint_on_the_box_is_exposed_to_white(name):
    light = presets()[name]
    total = np.array(irradiance(light, (0.0, 0.0, 35.0), (0.0, 0.0, 1.0)))
    luminance = total @ (0.2126, 0.7152, 0.0722)  # IEC 61966-2-1:1999, row Y
    assert luminance / math.pi * light.exposure == pytest.approx(1.0)
    assert np.ptp(total) / luminance < 0.08  # near neutral, so that paint keeps its colour


def test_presets_have_what_their_names_promise():
    assert {"bench", "window", "stage", "white", "cutout"} <= set(presets())
    assert presets()["cutout"].ground is None
    assert max(presets()["stage"].backdrop) < 0.05 < min(presets()["white"].backdrop)
    key = max(presets()["bench"].boxes, key=lambda box: sum(box.radiance))
    assert key.centre[0] < 0 < key.centre[2]
