"""A close look at a tight ring: the hole moves by the stated wander, the art does not."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

import mockup
from mockup.engines.gl.settings import EFFORTS
from mockup.model.design import Design
from mockup.model.enclosure import faces
from mockup.model.finding import Finding, Mark, Subject
from mockup.picture import close_looks

pytestmark = pytest.mark.slow

LAYOUT = """
[box]
size = "112x60x31"
[finish]
paint = "#d0d0c0"
[[part]]
name = "LAMP"
kind = "lamp-5"
top = 40
lit = false
[[part]]
name = "TONE"
kind = "pot-16"
top = 70
[limits]
wander_mm = 0.8
"""


@pytest.fixture
def design() -> Design:
    return mockup.loads(LAYOUT)


@pytest.fixture
def finding(design: Design) -> Finding:
    lamp = design.parts[0]
    return Finding(
        check="registration",
        severity="warn",
        title="Tight ring",
        subjects=Subject.parts("LAMP"),
        what="the ring round {first} is tight",
        remedy="Draw it larger",
        marks=(Mark(face="top", u_mm=lamp.u_mm, v_mm=lamp.v_mm, radius_mm=6.0),),
    )


def test_only_the_concerned_hole_moves_and_by_the_layouts_own_wander(design: Design, finding: Finding) -> None:
    """0.8 mm towards right and down is 0.8 / sqrt 2 = 0.566 mm along each axis, by hand."""
    off = close_looks.drilled_off(design, [finding])
    (lamp, tone), (lamp_off, tone_off) = design.parts, off.parts
    assert lamp_off.u_mm - lamp.u_mm == pytest.approx(0.5657, abs=1e-4)
    assert lamp_off.v_mm - lamp.v_mm == pytest.approx(0.5657, abs=1e-4)
    assert math.hypot(lamp_off.u_mm - lamp.u_mm, lamp_off.v_mm - lamp.v_mm) == pytest.approx(0.8)
    assert (tone_off.u_mm, tone_off.v_mm) == (tone.u_mm, tone.v_mm)
    assert off.decals == design.decals


def test_only_rings_get_a_close_look(finding: Finding) -> None:
    assert close_looks.concerned([finding]) == (finding,)
    assert close_looks.concerned([replace(finding, check="webs"), replace(finding, marks=())]) == ()


def test_camera_looks_straight_at_the_mark(design: Design, finding: Finding) -> None:
    face = faces(design.enclosure)["top"]
    camera = close_looks.camera(face, finding.marks[0])
    pose = camera.basis()
    assert np.allclose(pose[:3, 2], face.out)
    assert np.allclose(pose[:3, 1], -face.down)
    assert camera.ortho_mm == pytest.approx(2 * (6 + 4))
    u, v, _ = face.from_world(np.array(camera.target))
    assert (u, v) == pytest.approx((finding.marks[0].u_mm, finding.marks[0].v_mm))


@pytest.mark.gl
def test_picture_grows_by_the_close_look(design: Design, finding: Finding, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(EFFORTS, "normal", EFFORTS["draft"])
    monkeypatch.setattr("mockup.engines.gl.context.is_software", lambda: False)  # where stills are not path traced
    with_ring = mockup.marked(design, [finding]).pixels
    without = mockup.marked(design, [replace(finding, check="webs")]).pixels
    assert with_ring.shape[0] - without.shape[0] == pytest.approx(close_looks.SIDE_PX + 76, abs=2)
    low = without.shape[0]
    x = 36 + close_looks.SIDE_PX + 28  # the second picture's left edge
    first = with_ring[low + 40 : low + 380, 36 : 36 + close_looks.SIDE_PX]
    second = with_ring[low + 40 : low + 380, x : x + close_looks.SIDE_PX]
    assert np.abs(first.astype(int) - second.astype(int)).mean() > 0.5, "the hole has moved"
