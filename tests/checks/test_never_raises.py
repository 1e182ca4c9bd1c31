"""No check of reading or printing raises or warns of arithmetic, whatever art and labels it meets."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from art_desk import MIDDLE, artwork, decal, label, part, pedal, run

from mockup.checks.report.sentences import remedy, what
from mockup.films import films
from mockup.model.design import Design
from mockup.model.finish import Decal
from mockup.model.label import Label

pytestmark = pytest.mark.slow

PARTS = [
    part("DRIVE", "pot-16", MIDDLE, 30, style="bar"),
    part("MODE", "slide-switch", MIDDLE, 60),
    part("BYPASS", "footswitch", MIDDLE, 90),
    part("IN", "jack-open", 40, 15, face="far"),
    part("OUT", "jack-open", 40, 15, face="near"),
]
LABELS = [label("DRIVE", MIDDLE, 45, 10), label("OFF", -30, 200, 3, 1e-3), label("", MIDDLE, 45, 1e-3, 60)]


def _noise(height: int, width: int) -> np.ndarray:
    return np.random.default_rng(height).integers(0, 256, (height, width, 4), np.uint8)


ART = {
    "one pixel": _noise(1, 1),
    "two pixels": _noise(1, 2),
    "one column": _noise(300, 1),
    "one row": _noise(1, 300),
    "noise": _noise(240, 130),
    "all ink": np.full((200, 100, 4), (0, 0, 0, 255), np.uint8),
    "all white": np.full((200, 100, 4), 255, np.uint8),
    "all clear": np.zeros((200, 100, 4), np.uint8),
    "half clear": np.full((200, 100, 4), (200, 30, 30, 128), np.uint8),
}


@pytest.mark.parametrize("name", ART)
@pytest.mark.parametrize("is_labelled", [True, False])
@pytest.mark.parametrize("paint", [(0.0, 0.0, 0.0), (1.0, 1.0, 1.0), (0.9, 0.1, 0.0)])
def test_odd_art(name: str, is_labelled: bool, paint: tuple[float, float, float]) -> None:
    design = pedal(decal(ART[name]), PARTS, LABELS if is_labelled else (), paint=paint, sheen="matte")
    for finding in run(design):
        assert what(finding, "mm")
        assert remedy(finding, "in") or finding.is_advice
        assert finding.severity in ("stop", "warn", "note")


@pytest.mark.parametrize("angle", [0.0, 33.0, 90.0, 180.0])
@pytest.mark.parametrize("face", ["top", "near", "far", "left", "right"])
def test_film_anywhere(angle: float, face: str) -> None:
    film = Decal(
        art=artwork(_noise(120, 200)),
        face=face,  # type: ignore[arg-type]
        u_mm=5.0,
        v_mm=10.0,
        width_mm=60.0,
        height_mm=20.0,
        rotation_deg=angle,
        film=films()["white" if angle else "clear"],
    )
    words = Label(text="IN", face=face, u_mm=20.0, v_mm=12.0, width_mm=8.0, height_mm=2.0, rotation_deg=angle)  # type: ignore[arg-type]
    run(pedal([film, replace(film, film=films()["clear"], u_mm=30.0)], PARTS, [words], sheen="bare"))
    run(pedal([film], PARTS))


def test_nothing_at_all() -> None:
    assert run(pedal()) == []
    empty: Design = pedal((), PARTS)
    assert [each.severity for each in run(empty)] == []


def test_checks_change_nothing() -> None:
    design = pedal(decal(ART["noise"]), PARTS, LABELS)
    before = design.decals[0].art.pixels.copy()
    first, second = run(design), run(design)
    assert first == second
    assert np.array_equal(design.decals[0].art.pixels, before)
