"""What lies behind the drawing in a picture: clear, white, nearly white, one flat colour, or nothing of the kind."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from mockup.colour.difference import ciede2000, encoded_to_lab
from mockup.decal.ink_over_paint import Floats, flatten
from mockup.memo import memoize
from mockup.model.finish import Artwork
from mockup.model.material import Colour

LONG_PX = 400  # longer side that backgrounds are looked for at
SAME_DE = 3.0  # colours closer than this are one; measured on five forgotten layers and sixty photographs
PAPER_DE = 6.0  # the same for what is nearly white: a scan of paper has grain; our choice
UNIFORM = 0.85  # share of the border that has its middle colour; the same
LEAST_AREA = 0.3  # share of the art that has it; the same
CLEAR = 8  # of 255: alpha up to which a pixel shows nothing: our choice
NEARLY = 40  # codes below white in the darkest channel up to which a background was meant as white: our choice
_ALMOST_ALL = 99.0  # percent of the background that a tolerance has to take
_MARGIN = 2  # codes more than that, for the noise between the pixels looked at

Kind = Literal["clear", "white", "nearly white", "flat", "none"]


@dataclass(frozen=True, kw_only=True, eq=False)
class Background:
    """What surrounds the drawing: its `kind`, its `colour` (encoded sRGB) and where it is (h, w), a small picture.

    `tolerance` is how many codes of 255 below white still have to count as white for all of it to print nothing.
    The `kind` is none where art runs to the edges.
    """

    kind: Kind
    colour: Colour
    is_there: NDArray[np.bool_]
    tolerance: int = 0

    @property
    def codes(self) -> str:
        """The colour as image editors show it, such as 250 248 240."""
        return " ".join(str(round(255 * each)) for each in self.colour)


@memoize
def background(art: Artwork) -> Background:
    """Return what lies behind the drawing of a picture."""
    size = _small((art.width_px, art.height_px))
    alpha = np.asarray(Image.fromarray(art.pixels[..., 3]).resize(size, Image.Resampling.NEAREST))
    picture = Image.fromarray(flatten(art.pixels)).resize(size, Image.Resampling.NEAREST)
    pixels = np.asarray(picture) / 255.0
    lab = encoded_to_lab(pixels)
    is_clear = alpha <= CLEAR
    if (_border(is_clear[..., None]) > 0).mean() > UNIFORM:
        return Background(kind="clear", colour=(1.0, 1.0, 1.0), is_there=is_clear)
    border = _border(lab)
    middle = np.median(border, axis=0)
    is_pale = float(np.median(_border(pixels).min(axis=1))) >= 1.0 - NEARLY / 255
    same = PAPER_DE if is_pale else SAME_DE
    is_there = ciede2000(lab, middle) <= same
    uniform = (ciede2000(border, middle) <= same).mean()
    if uniform <= UNIFORM or is_there.mean() <= LEAST_AREA:
        return Background(kind="none", colour=(1.0, 1.0, 1.0), is_there=np.zeros(is_there.shape, np.bool_))
    red, green, blue = np.median(pixels[is_there], axis=0).tolist()
    short = np.rint(255.0 * (1.0 - pixels[is_there].min(axis=1)))
    if min(red, green, blue) == 1.0:
        return Background(kind="white", colour=(1.0, 1.0, 1.0), is_there=is_there)
    kind: Kind = "nearly white" if round(255 * (1.0 - min(red, green, blue))) <= NEARLY else "flat"
    tolerance = round(float(np.percentile(short, _ALMOST_ALL))) + _MARGIN
    return Background(kind=kind, colour=(red, green, blue), is_there=is_there, tolerance=tolerance)


def _border(picture: Floats | NDArray[np.bool_]) -> Floats:
    """Return the outermost pixels (n, c) of a picture (h, w, c)."""
    return np.concatenate([picture[0], picture[-1], picture[:, 0], picture[:, -1]])


def _small(size: tuple[int, int]) -> tuple[int, int]:
    scale = min(1.0, LONG_PX / max(size))
    return max(1, round(size[0] * scale)), max(1, round(size[1] * scale))
