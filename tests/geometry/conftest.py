"""Measures that know nothing of how a mesh was made."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from mockup.model.material import CHROME
from mockup.model.mesh import Mesh
from mockup.model.shape import Extruded, Outline

sys.path.append(str(Path(__file__).parent))  # for perimeters, which is no test


def _assert_closed(mesh: Mesh) -> None:
    """Every directed edge between positions has exactly one partner that runs the other way."""
    _, index = np.unique(mesh.vertices + 0.0, axis=0, return_inverse=True)
    faces = index.reshape(-1)[mesh.faces]
    edges = faces[:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2)
    forward, counts = np.unique(edges, axis=0, return_counts=True)
    backward = np.unique(edges[:, ::-1], axis=0)
    assert (counts == 1).all()
    assert np.array_equal(forward, backward)


def _least_cosine(mesh: Mesh) -> float:
    """Smallest cosine between a triangle's own normal and the normals at its corners."""
    a, b, c = (mesh.vertices[mesh.faces[:, i]] for i in range(3))
    normal = np.cross(b - a, c - a)
    length = np.linalg.norm(normal, axis=1)
    is_real = length > 1e-10
    normal = normal[is_real] / length[is_real, None]
    return min(float((normal * mesh.normals[mesh.faces[is_real, i]]).sum(axis=1).min()) for i in range(3))


@pytest.fixture(scope="session")
def assert_closed() -> Callable[[Mesh], None]:
    return _assert_closed


@pytest.fixture(scope="session")
def least_cosine() -> Callable[[Mesh], float]:
    return _least_cosine


@pytest.fixture(scope="session")
def prism() -> Callable[..., Mesh]:
    """Return a maker of plain round or rectangular prisms."""
    from mockup.geometry.tessellate import tessellate

    def make(
        outline: Outline, low: float, high: float, at: tuple[float, float] = (0.0, 0.0), chord: float = 0.02
    ) -> Mesh:
        return tessellate(Extruded(outline=outline, bottom_mm=low, top_mm=high, at=at, material=CHROME), chord)

    return make
