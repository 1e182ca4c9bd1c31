"""How a lit lens shines: brightest along its axis, and white-hot where it faces the eye, which sees the light source
through the resin there; its own colour at its rim.

All figures by eye, from a 5 mm lamp on a desk in daylight: common practice, no source. The raster
engine's `surface.frag` holds the same curve.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from mockup.model.material import Colour
from mockup.model.mesh import Mesh
from mockup.model.scene import Body

RIM: Final = 0.01  # of the crown's light: below white in a picture, so that the resin's colour is seen
BODY: Final = 0.04  # more, where the resin faces the eye: it is thickest there
CORE: Final = 1.50  # of the light, white in every channel, where the resin faces the eye
MEAN_SHINE: Final = RIM + (1.0 - RIM) / 7.0  # over half a ball, whose area is even in the cosine: by hand
_STEPS: Final = 64  # of either cosine in the table that the path tracer reads

Floats = NDArray[np.float64]


def axis(body: Body, centre: Floats) -> Floats:
    """Return the unit axis that a lens of revolution turns about, pointing away from `centre`."""
    low, high = body.mesh.bounds()
    a, b, c = (body.mesh.vertices[body.mesh.faces[:, i]] for i in range(3))
    facing = np.cross(b - a, c - a)
    # a solid of revolution answers alike in two directions; the third one is its axis
    spread, ways = np.linalg.eigh(
        np.einsum("ni,nj->ij", facing, facing / np.linalg.norm(facing + 1e-12, axis=1)[:, None])
    )
    odd = int(np.argmax(np.abs(spread - np.median(spread))))
    way = ways[:, odd]
    return np.asarray(way if way @ (0.5 * (low + high) - centre) >= 0.0 else -way)


def shine(cosine: Floats, facing: Floats, emission: Colour) -> Floats:
    """Return the radiance (..., 3) where the surface's normal has these cosines with the lens's axis and to the eye."""
    c, f = (np.maximum(each, 0.0)[..., None] for each in (cosine, facing))
    share = RIM + (1.0 - RIM) * c**6 + BODY * f**2
    return np.asarray(share * (np.array(emission) + CORE * max(emission) * f**8))


def table(emission: Colour) -> NDArray[np.float32]:
    """Return what a lens shines with, (n, n, 3): a row for each cosine to the eye, a column for each with its axis."""
    steps = np.linspace(0.0, 1.0, _STEPS)
    return shine(steps[None, :], steps[:, None], emission).astype(np.float32)


def in_table(mesh: Mesh, way: Floats, eye: Floats) -> Floats:
    """Return where the vertices of a lens are looked up in its `table`, (n, 2), 0 to 1.

    `way` is the lens's axis; `eye` where the eye stands, (4,), its last component 0 where it is infinitely far.
    """
    to = eye[:3] - eye[3] * mesh.vertices
    facing = (mesh.normals * to).sum(axis=1) / np.linalg.norm(to, axis=1)
    cosines = np.clip(np.column_stack([mesh.normals @ way, facing]), 0.0, 1.0)
    return np.asarray((cosines * (_STEPS - 1) + 0.5) / _STEPS)
