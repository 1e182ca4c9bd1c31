"""What colour a place on the pedal has: every film that lies there, over this paint, by the ink model."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from mockup.checks.art.sheets import sheets_on
from mockup.checks.panel.built import Built
from mockup.decal import ink_over_paint
from mockup.decal.white_under import grounds, reflected, white_share
from mockup.model.enclosure import FaceName
from mockup.model.mesh import Floats
from mockup.model.scene import Look

_LOOKS: dict[bool, Look] = {True: "proof", False: "photo"}  # a photo leaves the veil to the renderer


class Place:
    """Points (n, 2) of a face, with the art above each of them looked up once."""

    def __init__(self, built: Built, face: FaceName, uv: Floats) -> None:
        self._finish, self._face, self._uv = built.design.finish, face, uv
        self._count = len(uv)
        self._layers = []
        for sheet in sheets_on(built, face):
            rows, columns, inside = sheet.indices(uv)
            if inside.any():
                white = white_share(sheet.decal)
                share = white[rows, columns] / 255.0 if white is not None else None
                self._layers.append((sheet.decal, sheet.colours[rows, columns], share, inside))

    @property
    def art(self) -> NDArray[np.uint8]:
        """Encoded sRGB (n, 3) of the uppermost film's art, white where there is none."""
        art = np.full((self._count, 3), 255, np.uint8)
        for _, colours, share, inside in self._layers:
            drawn = inside & (colours.min(axis=1) < 255)
            drawn |= inside & (share >= 0.5) if share is not None else False
            art[drawn] = colours[drawn]
        return art

    def seen(self, end: float = 0.0, *, is_veiled: bool = True) -> Floats:
        """Return the encoded sRGB (n, 3) that is seen there, as likely or at one end of the doubt (-1 or 1)."""
        finish, look = replace(self._finish, end=end), _LOOKS[is_veiled]
        bare = ink_over_paint.ground(finish, None, look)
        below = np.broadcast_to(ink_over_paint.paint_at(finish, bare, self._face, self._uv), (self._count, 3))
        for decal, colours, share, inside in self._layers:
            printed = reflected(colours, share, below, grounds(finish, decal, look))
            below = np.where(inside[:, None], printed, below)
        return ink_over_paint.seen(below, bare)

    def doubts(self) -> Iterator[Floats]:
        """Yield what is seen at both ends of what the model leaves open: the ink's doubt, and the veil."""
        for end in (-1.0, 1.0):
            for is_veiled in (False, True):
                yield self.seen(end, is_veiled=is_veiled)
