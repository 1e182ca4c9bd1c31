"""Marks of turning: their coordinates follow the axis, and both engines draw a highlight out across them."""

from dataclasses import replace

import numpy as np
import pytest
import scenes

from mockup.engines.appearance.anisotropy import STEP_DEG, round_axis
from mockup.model import material as m

TOP = scenes.lathe([(8.0, 0.0), (8.0, 3.0), (0.0, 3.0)], 48)


def slopes(mesh, at):
    """dp/du of every triangle, unit length."""
    a, b, c = (mesh.vertices[mesh.faces[:, k]] for k in range(3))
    u, v, w = (at[mesh.faces[:, k]] for k in range(3))
    e1, e2, f1, f2 = b - a, c - a, v - u, w - u
    det = f1[:, 0] * f2[:, 1] - f1[:, 1] * f2[:, 0]
    along = (e1 * f2[:, 1:] - e2 * f1[:, 1:]) / det[:, None]
    return along / np.linalg.norm(along, axis=1, keepdims=True)


@pytest.mark.parametrize("tilt", [0.0, 90.0, 200.0])
def test_marks_run_round_the_axis_everywhere(tilt):
    t = np.radians(tilt)
    pose = np.array([[1, 0, 0, 4.0], [0, np.cos(t), -np.sin(t), -7.0], [0, np.sin(t), np.cos(t), 2.0], [0, 0, 0, 1]])
    way = tuple(float(v) for v in pose[:3, 2])
    body = TOP.moved(pose)
    fine, at = round_axis(body, (tuple(float(v) for v in pose[:3, 3]), way))
    assert fine.area() == pytest.approx(body.area(), rel=1e-9)
    along = slopes(fine, at)
    for corner in range(3):
        true = np.cross(way, fine.vertices[fine.faces[:, corner]] - pose[:3, 3])
        far = np.linalg.norm(true, axis=1)
        seen = far > 1e-6  # on the axis there is no way round
        normal = fine.normals[fine.faces[:, corner]]
        marks = along - normal * (along * normal).sum(axis=1, keepdims=True)  # as a shading frame takes it
        cosine = ((marks * true).sum(axis=1) / np.linalg.norm(marks, axis=1))[seen] / far[seen]
        assert np.degrees(np.arccos(np.clip(cosine, -1, 1))).max() < STEP_DEG


def test_the_marks_of_a_material_widen_its_lobe_as_the_standard_says():
    """KHR_materials_anisotropy: alpha across the direction of the marks is mix(alpha, 1, strength squared)."""
    along, across = replace(m.TURNED_ALUMINIUM, roughness=0.3, anisotropy=0.5).alphas
    assert along == pytest.approx(0.09)
    assert across == pytest.approx(0.09 + 0.91 * 0.25)
    assert m.NICKEL.alphas[0] == m.NICKEL.alphas[1]
