"""What colour a place on the pedal has: every film that lies there, over this paint, by the ink model."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from mockup.checks.art.sheets import sheets_on
from mockup.checks.panel.built import Built
from mockup.decal import ink_over_paint
from mockup.model.enclosure import FaceName
from mockup.model.mesh import Floats

DOUBT_K = (0.0, 0.6)  # both ends of what internal reflection can be: no light sent back; Saunderson's usual highest


class Place:
    """Points (n, 2) of a face, with the art above each of them looked up once."""

    def __init__(self, built: Built, face: FaceName, uv: Floats) -> None:
        self._finish = built.design.finish
        self._count = len(uv)
        self._layers = []
        for sheet in sheets_on(built, face):
            rows, columns, inside = sheet.indices(uv)
            if inside.any():
                self._layers.append((sheet.decal.film, sheet.colours[rows, columns], inside))

    @property
    def art(self) -> NDArray[np.uint8]:
        """Encoded sRGB (n, 3) of the uppermost film's art, white where there is none."""
        art = np.full((self._count, 3), 255, np.uint8)
        for _, colours, inside in self._layers:
            drawn = inside & (colours.min(axis=1) < 255)
            art[drawn] = colours[drawn]
        return art

    def seen(self, k: float | None = None, *, is_veiled: bool = True) -> Floats:
        """Return the encoded sRGB (n, 3) that is seen there; `k` takes the place of the finish's own."""
        bare = ink_over_paint.ground(self._finish, None, "proof" if is_veiled else "photo", k)
        below = np.broadcast_to(bare.bare(), (self._count, 3))
        for film, colours, inside in self._layers:
            printed = ink_over_paint.overprint(colours, below, film, bare.ink_strength, bare.k)
            below = np.where(inside[:, None], printed, below)
        return ink_over_paint.seen(below, bare.veil)

    def doubts(self) -> Iterator[Floats]:
        """Yield what is seen at both ends of what the model leaves open: inner reflection, and the veil."""
        for k in DOUBT_K:
            for is_veiled in (False, True):
                yield self.seen(k, is_veiled=is_veiled)
