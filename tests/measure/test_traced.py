"""Holes read off photographs and scans that the path tracer makes of drilled boxes: nothing sure that is wrong.

Figures of the long run (nine photographs, 1300 x 975 pixels, six scans) are in DEVELOPERS.md. Walls, sheen, shadow and
glare are traced; the sensor's noise and the lens are simulated, which is kinder than a real camera: no demosaicing, no
paper that curls, no burrs.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import traced
from traced import DESIGNED, Case, drilled_places

from mockup.enclosure.bores import bores
from mockup.geometry.rigid import best_move
from mockup.measure.flatbed import scanned
from mockup.measure.outline import placed
from mockup.measure.pattern import SeenFace
from mockup.measure.photograph import photographed

PHOTO_MM, WORST_MM, SCAN_MM, PLACE_MM = 0.1, 0.25, 0.05, 0.1  # goals: photograph, its worst hole, scan, two scans
LONG = (1300, 975)
CASES = (
    Case(seed=31, paint="#e9e4d8", tilt_deg=4, size_px=LONG),
    Case(seed=32, paint="#1b2340", tilt_deg=14, around_deg=200, size_px=LONG),
    Case(seed=33, paint="#151515", sheen="satin", tilt_deg=10, around_deg=120, size_px=LONG),
    Case(seed=34, paint="#c8421f", tilt_deg=20, around_deg=300, lens=-0.06, size_px=LONG),
    Case(seed=35, paint="#2f6f73", tilt_deg=6, glare=25.0, around_deg=290, size_px=LONG),
    Case(seed=36, sheen="bare", tilt_deg=9, size_px=LONG),
    Case(seed=51, paint="#141416", sheen="matte", tilt_deg=12, around_deg=60, size_px=LONG),
    Case(seed=52, paint="#0d0d0f", tilt_deg=7, around_deg=170, size_px=LONG),
    Case(seed=53, paint="#2a1a14", sheen="satin", tilt_deg=15, around_deg=250, size_px=LONG),
)
SCANNED = (*CASES[:4], Case(seed=53, paint="#2a1a14", sheen="satin"), Case(seed=54, sheen="bare"))


def _off(found: SeenFace, case: Case) -> np.ndarray:
    """Return how far the sure holes are off, as a pattern."""
    sure = found.is_sure
    return (
        np.hypot(*best_move(drilled_places(case)[sure], found.places_mm[sure]).left.T)
        if sure.sum() > 1
        else np.zeros(1)
    )


def _photographed(folder: Path, case: Case) -> SeenFace:
    scene, face, design = traced.box(folder, case)
    wide = [each.outline.width_mm for each in bores(design)]
    picture = traced.photograph(traced.framed(scene, face), face, case)
    return photographed(picture, (face.width_mm, face.height_mm), design.enclosure.top_mm, DESIGNED, wide)


@pytest.mark.slow
def test_a_small_traced_photograph(tmp_path: Path) -> None:
    """At 5 pixels a millimetre, as coarse as is taken."""
    case = Case(seed=41, paint="#d9b53c", size_px=(760, 570))
    found = _photographed(tmp_path, case)
    assert found.is_sure.sum() >= 4 and found.strays == ()
    assert _off(found, case).max() < PHOTO_MM


@pytest.mark.long
@pytest.mark.parametrize("case", CASES, ids=lambda each: f"{each.paint} {each.sheen} {each.tilt_deg}")
def test_traced_photographs(tmp_path: Path, case: Case) -> None:
    off = _off(_photographed(tmp_path, case), case)
    assert off.mean() < PHOTO_MM and off.max() < WORST_MM


@pytest.mark.long
@pytest.mark.parametrize("case", SCANNED, ids=lambda each: f"{each.paint} {each.sheen}")
def test_traced_scans(tmp_path: Path, case: Case) -> None:
    scene, face, design = traced.box(tmp_path, case)
    wide = [each.outline.width_mm for each in bores(design)]
    found = scanned(traced.scan(scene, face, case), (200.0, 200.0), DESIGNED, wide)
    off = _off(found, case)
    assert off.max() < SCAN_MM


@pytest.mark.long
@pytest.mark.parametrize("case", SCANNED, ids=lambda each: f"{each.paint} {each.sheen}")
def test_two_traced_scans_tell_the_place_on_the_box(tmp_path: Path, case: Case) -> None:
    """Unsure holes count as well: what the outline says is judged, not what is asked."""
    scene, face, design = traced.box(tmp_path, case)
    wide, real = [each.outline.width_mm for each in bores(design)], drilled_places(case)
    scans = []
    for turn in (1.2, 180.3):
        seen = scanned(traced.scan(scene, face, case, turn_deg=turn, tilt_deg=1.0), (200.0, 200.0), DESIGNED, wide)
        scans.append((seen, best_move(seen.places_mm, DESIGNED)))
    move = placed(scans, (face.width_mm, face.height_mm))
    assert move is not None
    found = move.of(scans[0][1].of(scans[0][0].places_mm))
    assert np.hypot(*(found - real).T).max() < PLACE_MM
