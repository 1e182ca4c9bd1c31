"""How a lit lens shines: white-hot at its crown, where the light source sits behind it, its own colour at its rim.

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

RIM: Final = 0.02  # of the crown's light: below white in a picture, so that the resin's colour is seen
WHITENESS: Final = 0.22  # of the brightest channel, in every channel, at the crown
MEAN_SHINE: Final = RIM + (1.0 - RIM) / 7.0  # over half a ball, whose area is even in the cosine: by hand
_BANDS: Final = 12  # rings of one radiance each; a dome's own rings are as many

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


def shine(cosine: Floats | float, emission: Colour) -> Floats:
    """Return the radiance (..., 3) where the surface's normal has this cosine with the lens's axis."""
    c = np.maximum(np.asarray(cosine, np.float64), 0.0)[..., None]
    return np.asarray(np.array(emission) * (RIM + (1.0 - RIM) * c**6) + WHITENESS * max(emission) * c**16)


def rings(mesh: Mesh, emission: Colour, way: Floats) -> list[tuple[Mesh, Colour]]:
    """Return a lens cut into rings across its axis, each with its one radiance."""
    cosine = mesh.normals[mesh.faces].mean(axis=1) @ way
    band = np.clip(np.ceil(cosine * _BANDS), 0, _BANDS).astype(int)
    found = []
    for each in np.unique(band):
        some = band == each
        red, green, blue = (float(v) for v in shine(cosine[some].mean(), emission))
        found.append((mesh.part(mesh.faces[some]), (red, green, blue)))
    return found
