"""Paint, lacquer, film and the art that lies on it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from mockup.model.enclosure import FaceName
from mockup.model.material import Colour
from mockup.model.units import MM_PER_INCH

Sheen = Literal["gloss", "satin", "matte", "hammered", "flake", "bare"]
Film = Literal["clear", "white"]

INTERNAL_REFLECTION = 0.4  # k; 0.4 to 0.6 is usual for lacquer (Saunderson correction as commonly applied)


@dataclass(frozen=True, kw_only=True)
class WhiteFilm:
    """How white a white film is: share of light it sends back (R0), and lets through twice (T2).

    Both 0 to 1; the defaults are an estimate, no source (films sold as opaque measure 76 to 96 % covering).
    """

    reflectance: float = 0.75
    transmittance: float = 0.05


ESTIMATED_FILM = WhiteFilm()


@dataclass(frozen=True, kw_only=True)
class Finish:
    """What covers the box: `paint` is the swatch's colour, encoded sRGB 0 to 1.

    `sheen` "bare" means no paint at all (then `paint` is not used). `has_clear_coat` lacquers the
    whole box over paint and film. `is_swatch_coated` says whether the paint colour was picked
    from a lacquered swatch; `ink_strength` scales the printer's ink (1 as sRGB on white paper).
    `internal_reflection` (k, 0 to 1) is the share of light that the surface sends back inside.
    `printer` names the calibrated printer that strength, k and white film were measured on, if any.
    """

    paint: Colour
    sheen: Sheen = "gloss"
    has_clear_coat: bool = True
    is_swatch_coated: bool = True
    ink_strength: float = 1.0
    internal_reflection: float = INTERNAL_REFLECTION
    white_film: WhiteFilm = ESTIMATED_FILM
    printer: str | None = None


@dataclass(frozen=True, kw_only=True, eq=False)
class Artwork:
    """A decoded picture: what an image editor shows, ready to become ink.

    `pixels` (h, w, 4) uint8: encoded sRGB and straight alpha, row 0 at the top. `dpi` is what the
    file itself says (x, y), or None. `notes` say what was done to it on the way in, one plain
    sentence each (profile converted, orientation applied, CMYK assumed, ...).
    """

    name: str
    pixels: NDArray[np.uint8]
    dpi: tuple[float, float] | None = None
    notes: tuple[str, ...] = ()

    @property
    def width_px(self) -> int:
        """Width in pixels."""
        return int(self.pixels.shape[1])

    @property
    def height_px(self) -> int:
        """Height in pixels."""
        return int(self.pixels.shape[0])


@dataclass(frozen=True, kw_only=True, eq=False)
class Decal:
    """One piece of printed film on a face.

    Its centre lies at (`u_mm`, `v_mm`) in face coordinates; `width_mm` by `height_mm` before it is
    turned clockwise by `rotation_deg`.
    """

    art: Artwork
    face: FaceName
    u_mm: float
    v_mm: float
    width_mm: float
    height_mm: float
    rotation_deg: float = 0.0
    film: Film = "clear"

    @property
    def dpi(self) -> tuple[float, float]:
        """Pixels per inch at the printed size, across and down."""
        return (
            self.art.width_px * MM_PER_INCH / self.width_mm,
            self.art.height_px * MM_PER_INCH / self.height_mm,
        )
