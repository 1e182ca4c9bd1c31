"""A picture on the graphics card, for the panel library to draw."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from mockup.engines.gl.context import make_current
from mockup.engines.gl.resources import ImageTexture


class PictureTexture:
    """Holds one picture (h, w, 3), encoded sRGB; it goes to the card when it is asked for and was not there before."""

    def __init__(self) -> None:
        self._texture: ImageTexture | None = None
        self._pixels: NDArray[np.uint8] | None = None

    def of(self, pixels: NDArray[np.uint8]) -> ImageTexture:
        """Return the texture that shows these pixels."""
        if self._texture is None or self._pixels is not pixels:
            make_current()
            if self._texture is not None and self._texture.fits(pixels):
                self._texture.replace(pixels)
            else:
                self.clear()
                self._texture = ImageTexture(pixels, is_encoded=True)
            self._pixels = pixels
        return self._texture

    def clear(self) -> None:
        """Free it, however long ago it was drawn last."""
        if self._texture is not None:
            make_current()
            self._texture.delete()
        self._texture = self._pixels = None
