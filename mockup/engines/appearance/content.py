"""What both engines ask of a scene: its extent, its lamps, its mean colour."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mockup.colour import rgb
from mockup.engines.appearance.lens import MEAN_SHINE, axis
from mockup.memo import memoize
from mockup.model.material import Colour
from mockup.model.mesh import Mesh
from mockup.model.scene import Body, Scene

_EDGE_MM = 0.2  # below its highest point: what is still a bezel's edge, by eye
FADE = (1.6, 3.4)  # the ground fades into the backdrop between these multiples of the pedal's reach: by eye


@dataclass(frozen=True, kw_only=True, eq=False)
class Extent:
    """Size of all bodies together, the same whatever the turn: `reach` is the largest distance from
    the z axis, `low` and `high` the heights; all mm."""

    reach: float
    low: float
    high: float

    @property
    def centre(self) -> NDArray[np.float64]:
        """Middle of the smallest upright cylinder about the z axis that holds everything."""
        return np.array([0.0, 0.0, 0.5 * (self.low + self.high)])

    @property
    def radius(self) -> float:
        """Radius of the sphere about `centre` that holds that cylinder."""
        return float(np.hypot(self.reach, 0.5 * (self.high - self.low))) + 0.5


@dataclass(frozen=True, kw_only=True, eq=False)
class Glow:
    """A shining body seen from some way off: a sphere of `radius` mm at `centre` and its radiance.

    Along its unit `axis`, from the centre, it is `crown` mm high; a bezel round it is `rim` (radius, height) mm high.
    """

    centre: NDArray[np.float64]
    radius: float
    radiance: Colour
    axis: NDArray[np.float64]
    crown: float
    rim: tuple[float, float]


def extent(scene: Scene) -> Extent:
    """Return the extent of a scene's bodies; a scene without any has the size of a point.

    A pedal stands on its box or its knobs: a lug of something inside that pokes out below, which a check
    finds, does not lift it off the ground.
    """
    bodies = [body for body in scene.bodies if len(body.mesh.vertices)]
    if not bodies:
        return Extent(reach=1.0, low=0.0, high=1.0)
    meshes = [body.mesh for body in bodies]
    reach = max(float(np.hypot(m.vertices[:, 0], m.vertices[:, 1]).max()) for m in meshes)
    standing = [body.mesh for body in bodies if body.group != "inside"] or meshes
    low = min(float(m.vertices[:, 2].min()) for m in standing)
    high = max(float(m.vertices[:, 2].max()) for m in meshes)
    return Extent(reach=reach, low=low, high=max(high, low + 1.0))


def glows(bodies: tuple[Body, ...]) -> list[Glow]:
    """Return the shining bodies as spheres of the same surface as a half dome of theirs."""
    found = []
    for body in bodies:
        if max(body.material.emission) > 0.0 and len(body.mesh.faces):
            low, high = body.mesh.bounds()
            centre = 0.5 * (low + high)
            radius = float(np.sqrt(body.mesh.area() / (2.0 * np.pi)))
            red, green, blue = (MEAN_SHINE * part for part in body.material.emission)
            way = axis(body, np.zeros(3))
            crown = float(((body.mesh.vertices - centre) @ way).max())
            bezel = [o.mesh.vertices for o in bodies if o is not body and o.part == body.part and len(o.mesh.vertices)]
            found.append(
                Glow(
                    centre=centre, radius=radius, radiance=(red, green, blue), axis=way, crown=crown,
                    rim=_rim(np.concatenate(bezel) - centre, way) if bezel else (0.0, -radius),
                )
            )  # fmt: skip
    return found


def _rim(bezel: NDArray[np.float64], way: NDArray[np.float64]) -> tuple[float, float]:
    """Return radius and height of a bezel's highest edge, its points (n, 3) given from the middle of its lamp."""
    high = bezel @ way
    top = high > high.max() - _EDGE_MM
    return float(np.linalg.norm(bezel[top] - high[top, None] * way, axis=1).max()), float(high.max())


def mean_colour(bodies: tuple[Body, ...]) -> NDArray[np.float64]:
    """Return the mean linear colour by surface area, art by its own mean."""
    total, weight = np.zeros(3), 0.0
    for body in bodies:
        area = _area(body.mesh)
        total += area * own_mean(body)
        weight += area
    return total / weight if weight else total


_area = memoize(Mesh.area)


def panel(scene: Scene) -> Body | None:
    """Return the box's uppermost surface, if there is a box."""
    box = [body for body in scene.bodies if body.group == "box" and len(body.mesh.faces)]
    return max(box, key=lambda body: float(body.mesh.vertices[:, 2].max()), default=None)


def own_mean(body: Body) -> NDArray[np.float64]:
    """Return a body's mean linear colour: of a coarse sample of its picture, and of what lies beside that."""
    base, texture = np.array(body.material.base_color), body.material.texture
    if texture is None:
        return base
    art = rgb.decode_8bit(texture.pixels[::16, ::16].reshape(-1, 3)).mean(axis=0)
    share = min(texture.width_mm * texture.height_mm / max(_area(body.mesh), 1e-6), 1.0)
    return np.asarray(base + share * (art - base))


def coarse(mesh: Mesh, cell_mm: float) -> Mesh:
    """Return a mesh whose vertices within one cell of `cell_mm` have become one, for shadows that are no finer.

    Vertex clustering (Rossignac and Borrel 1993): no point moves by more than a cell's diagonal, and
    triangles that shrink to a line go. Normals are not kept in step: it casts, it is not seen.
    """
    cell = np.floor(mesh.vertices / cell_mm).astype(np.int64)
    cell -= cell.min(axis=0)
    span = cell.max(axis=0) + 1
    key = (cell[:, 0] * span[1] + cell[:, 1]) * span[2] + cell[:, 2]
    _, place, count = np.unique(key, return_inverse=True, return_counts=True)
    sums = [np.bincount(place, weights=mesh.vertices[:, axis]) for axis in range(3)]
    faces = place[mesh.faces]
    faces = faces[(faces[:, 0] != faces[:, 1]) & (faces[:, 1] != faces[:, 2]) & (faces[:, 2] != faces[:, 0])]
    ordered = np.sort(faces, axis=1)
    _, first = np.unique((ordered[:, 0] * len(count) + ordered[:, 1]) * len(count) + ordered[:, 2], return_index=True)
    vertices = np.column_stack(sums) / count[:, None]
    return Mesh(vertices=vertices, normals=np.zeros_like(vertices), faces=faces[first])
