"""A picture that is the paint, as of two tones, fades, swirls or wood."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mockup.model.enclosure import Enclosure, FaceName, faces
from mockup.model.mesh import Floats

_MARGIN_MM = 1.0  # beyond the rounding of an edge, so that a picture's own edge is never seen: our choice


@dataclass(frozen=True, kw_only=True, eq=False)
class PaintPicture:
    """A picture on the drilled face of `box`, edge to edge; `name` is that of its file.

    `pixels` (h, w, 3) uint8 are encoded sRGB, row 0 at the far edge. Every other place of the box has the colour of
    the place of that face which is nearest when one looks straight down: sides carry on the colour of their edge.
    `file_px` are the columns and rows of a file that is laid on whole, None where its corners were straightened.
    """

    name: str
    pixels: NDArray[np.uint8]
    box: Enclosure
    file_px: tuple[int, int] | None = None

    @property
    def per_mm(self) -> float:
        """Pixels in a millimetre, the greater of both directions."""
        top = faces(self.box)["top"]
        return float(max(self.pixels.shape[1] / top.width_mm, self.pixels.shape[0] / top.height_mm))

    def at(self, face: FaceName, uv: Floats) -> NDArray[np.uint8]:
        """Return the encoded sRGB (..., 3) of places (..., 2) of a face, in its coordinates."""
        from scipy import ndimage  # here, so that a design without such paint does without it

        frames = faces(self.box)
        top, own = frames["top"], frames[face]
        height, width = self.pixels.shape[:2]
        size = np.array([height / top.height_mm, width / top.width_mm])
        ways = np.stack([own.right, own.down]) @ np.stack([top.down, top.right], axis=-1) * size
        start = top.from_world(own.origin)[1::-1] * size - 0.5
        where = np.moveaxis(np.asarray(uv) @ ways + start, -1, 0)
        found = [
            ndimage.map_coordinates(self.pixels[..., each], where, np.float32, order=1, mode="nearest")
            for each in range(3)
        ]
        return np.asarray(np.rint(np.stack(found, axis=-1)), np.uint8)

    def corners(self, face: FaceName) -> Floats:
        """Return two corners (2, 2) of a rectangle, in face coordinates, beyond which a face's surface never runs."""
        frame = faces(self.box)[face]
        beyond = self.box.edge_mm + _MARGIN_MM + frame.taper * frame.height_mm
        return np.array([(-beyond, -beyond), (frame.width_mm + beyond, frame.height_mm + beyond)])
