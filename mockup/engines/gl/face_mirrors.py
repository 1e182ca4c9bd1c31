"""The flat faces of the box as mirrors of the parts that stand on them, where its paint shines."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Any

import numpy as np

from mockup.engines.appearance.samples import Floats
from mockup.engines.gl.batch import Batch, is_face, posed
from mockup.engines.gl.planar_reflection import Eye, PlanarReflection, Shade
from mockup.engines.gl.resources import Programs, Targets
from mockup.model.material import Material
from mockup.model.scene import Body

WIDEST: float = 0.2  # slope width of the widest lobe that a mirror picture is drawn for: by eye
_STANDS_MM = 0.2  # a part that rises no higher over a face is not seen in it: our choice
_PASSES = 3  # that read one mirror picture: no difference seen
_FLAT = 0.5  # of a face's area that lies in one plane, at least: our choice


class FaceMirrors:
    """The mirrors of the faces that one picture shows, by the face's name."""

    def __init__(self, programs: Programs, targets: Targets) -> None:
        self._programs, self._targets = programs, targets
        self._shown: dict[str, tuple[PlanarReflection, Floats, list[Batch]]] = {}

    def choose(self, visible: Sequence[Batch], model: Floats, eye: Eye) -> None:
        """Take the faces that shine and are turned to the eye, each with the parts that stand on it."""
        self._shown = {}
        parts = [batch for batch in visible if batch.group == "hardware"]
        for batch in visible:
            if batch.face is None or _lobe(batch.material) >= WIDEST:
                continue
            name, plane = batch.face
            before = [part for part in parts if _rises(part, plane) > _STANDS_MM]
            in_world = np.asarray(plane @ np.linalg.inv(model))
            if before and in_world @ eye > 0.0:
                self._shown[name] = (PlanarReflection(self._programs, self._targets, name, 1), in_world, before)

    def draw_heights(
        self, size: tuple[int, int], view: Floats, model: Floats, pose: Floats | None, sphere: tuple[Floats, float]
    ) -> None:
        """Draw how high the parts stand over each face; once for all passes of a picture."""
        for mirror, plane, parts in self._shown.values():
            solids = [(part.solid, posed(model, pose if part.is_lifted else None)) for part in parts]
            mirror.draw_heights(size, view, plane, sphere, solids)

    def draw_pictures(
        self,
        index: int,
        view: Floats,
        eye: Eye,
        sphere: tuple[Floats, float],
        shade: Callable[[list[Batch]], Shade],
        bands: int,
    ) -> Iterator[None]:
        """Draw what each face shows, anew for some passes of a picture; yields after each strip.

        `shade` makes a `Shade` of parts.
        """
        if index % _PASSES:
            return
        for mirror, plane, parts in self._shown.values():
            yield from mirror.draw_picture(view, eye, plane, sphere, shade(parts), bands)

    def shows(self, batch: Batch) -> bool:
        """Return whether a batch is a face with a mirror in this picture."""
        return batch.face is not None and batch.face[0] in self._shown

    def values(self, batch: Batch) -> dict[str, Any]:
        """Bind the mirror of a face that shows one, and return its uniforms."""
        if batch.face is None:
            return {}
        mirror, plane, _ = self._shown[batch.face[0]]
        return {"uPlane": plane, **mirror.values()}


def face_of(body: Body) -> tuple[str, Floats] | None:
    """Return the name of a face and the plane (4,) of its flat, unit normal and offset; None for what is none."""
    if not is_face(body):
        return None
    corners = body.mesh.vertices[body.mesh.faces]
    cross = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    areas = np.linalg.norm(cross, axis=1)
    ways = cross / np.maximum(areas, 1e-12)[:, None]
    kinds, kind = np.unique(ways.round(3), axis=0, return_inverse=True)
    sums = np.bincount(kind.ravel(), areas, len(kinds))
    is_flat = kind.ravel() == np.argmax(sums)
    if sums.max() < _FLAT * areas.sum():
        return None
    out = areas[is_flat] @ ways[is_flat]
    out /= np.linalg.norm(out)
    return body.name, np.append(out, -float((corners[is_flat] @ out).mean()))


def _lobe(material: Material) -> float:
    """Return the slope width of the sharpest lobe that paint, lacquer or film mirrors with; metal has none of them."""
    film = material.texture.film if material.texture is not None else None
    shines = [film.roughness] if film is not None else []
    if material.coat > 0.0:
        shines.append(material.coat_roughness)
    elif material.metallic == 0.0 and material.gloss > 0.0:
        shines.append(material.roughness)
    return 2.0 * min(shines, default=1.0) ** 2


def _rises(part: Batch, plane: Floats) -> float:
    """Return how high a part rises over a face of the box, mm, by the boxes that hold its bodies."""
    if part.is_lifted:
        return np.inf
    low, high = part.bounds[:, 0], part.bounds[:, 1]
    return float(np.max(np.where(plane[:3] > 0.0, high, low) @ plane[:3] + plane[3]))
