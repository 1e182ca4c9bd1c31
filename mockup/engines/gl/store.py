"""What a session keeps on the GPU, found again by the very objects that it was made of.

A new scene that shares meshes and pictures with the last one costs only what is new in it. This is no second
`mockup.memo`: what is on the GPU belongs to one context, is freed by hand, and lives just as long as it is shown.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np
from numpy.typing import NDArray

from mockup.engines.appearance.content import coarse
from mockup.engines.gl.resources import GpuMesh, ImageTexture
from mockup.model.mesh import Mesh, joined

_Key = tuple[tuple[int, ...], float]
Pixels = NDArray[np.uint8] | NDArray[np.float32]


class GpuStore:
    """Solids, casters and pictures by identity; the originals are kept so that no identity is used twice."""

    def __init__(self) -> None:
        self._solids: dict[tuple[int, ...], tuple[tuple[Mesh, ...], GpuMesh]] = {}
        self._casts: dict[_Key, tuple[tuple[Mesh, ...], GpuMesh | None]] = {}
        self._pictures: dict[int, tuple[Pixels, ImageTexture]] = {}
        self._used: set[object] = set()

    def solid(self, meshes: Sequence[Mesh]) -> GpuMesh:
        """Return several meshes as one solid."""
        key = tuple(id(mesh) for mesh in meshes)
        if key not in self._solids:
            self._solids[key] = tuple(meshes), GpuMesh(joined(meshes))
        self._used.add(key)
        return self._solids[key][1]

    def cast(self, meshes: Sequence[Mesh], cell_mm: float) -> GpuMesh | None:
        """Return several meshes as one that only casts, no finer than `cell_mm` (0: as it is); None for nothing."""
        key = tuple(id(mesh) for mesh in meshes), cell_mm
        if key not in self._casts:
            whole = joined(Mesh(vertices=m.vertices, normals=m.normals, faces=m.faces) for m in meshes)
            if cell_mm and len(whole.faces):
                whole = coarse(whole, cell_mm)
            self._casts[key] = tuple(meshes), GpuMesh(whole) if len(whole.faces) else None
        self._used.add(key)
        return self._casts[key][1]

    def show(self, wanted: Iterable[Pixels]) -> dict[int, ImageTexture]:
        """Return the pictures of these pixel arrays by their identity; no others are kept.

        New pixels take the place of old ones of the same size.
        """
        asked = {id(pixels): pixels for pixels in wanted}
        spare = [self._pictures.pop(key)[1] for key in [*self._pictures] if key not in asked]
        for key, pixels in asked.items():
            if key in self._pictures:
                continue
            fitting = [each for each in spare if each.fits(pixels)]
            if fitting:
                picture = fitting[0]
                spare.remove(picture)
                picture.replace(pixels)
            else:
                picture = ImageTexture(pixels)
            self._pictures[key] = pixels, picture
        for picture in spare:
            picture.delete()
        return {key: picture for key, (_, picture) in self._pictures.items()}

    def sweep(self) -> None:
        """Free the solids that were not asked for since the last sweep."""
        for key in [key for key in self._solids if key not in self._used]:
            self._solids.pop(key)[1].delete()
        for cast_key in [key for key in self._casts if key not in self._used]:
            solid = self._casts.pop(cast_key)[1]
            if solid is not None:
                solid.delete()
        self._used = set()

    def delete(self) -> None:
        """Free everything."""
        self._used = set()
        self.sweep()
        self.show(())
