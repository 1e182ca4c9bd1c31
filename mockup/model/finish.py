"""Paint, lacquer, film and the art that lies on it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from mockup.model.enclosure import FaceName
from mockup.model.material import DENT_MM, FLAKE_MM, Colour, Material, Waviness
from mockup.model.paint_picture import PaintPicture
from mockup.model.scene import DAYLIGHT, Surface
from mockup.model.units import MM_PER_INCH

CutShape = Literal["rectangle", "ink", "border"]
WhiteUnder = Literal["drawn", "everything"]

_CLEAR = 0.1  # roughness of paint that still shows the edge of what it mirrors: by eye
LACQUER_INDEX = 1.5  # refractive index of clear lacquer, 1.47 to 1.52 by kind: from memory


@dataclass(frozen=True, kw_only=True)
class Sheen:
    """How a painted surface answers light, or bare metal in its place; all that checks, pages and engines read of it.

    `name` is that of its file, `about` says it in a few words. Roughness is perceptual, 0 to 1: of the paint under
    lacquer (`roughness`), without any (`bare_roughness`) and of the lacquer itself (`coat_roughness`). `metallic` is
    the share of metal in the paint; `flake` and `hammer`, 0 to 1, are how strongly it glitters and is dented, by
    flakes `flake_mm` wide and a dent every `dent_mm`. `veil`, 0 to 1, is the light that a dull
    surface adds to every colour. `scatter` is the share of a studio's light that its surface sends to the eye, which a
    paint's own colour holds already: a render that makes its own highlights starts without it. `metal` shows
    where there is no paint. `waves` are what stays uneven in it as it dries, or in the metal as it is cast.
    `caution` is a sentence for every prediction of ink over it.
    """

    name: str = ""
    about: str
    roughness: float
    bare_roughness: float
    coat_roughness: float
    metallic: float = 0.0
    flake: float = 0.0
    hammer: float = 0.0
    flake_mm: float = FLAKE_MM
    dent_mm: float = DENT_MM
    veil: float = 0.0
    scatter: float = 0.0
    waves: tuple[Waviness, ...] = ()
    metal: Material | None = None
    caution: str | None = None

    @property
    def is_painted(self) -> bool:
        """Whether there is paint, whose colour shows."""
        return self.metal is None

    @property
    def is_lacquer(self) -> bool:
        """Whether clear lacquer comes with such a sheen: smooth, whatever is under it."""
        return self.is_painted and not self.has_grain

    @property
    def has_grain(self) -> bool:
        """Whether the paint itself is uneven to the eye."""
        return self.flake > 0.0 or self.hammer > 0.0


@dataclass(frozen=True, kw_only=True)
class InkProfile:
    """A strip as it was read: how bare film looks on its ground, and every other patch, with the haze taken out.

    `ground` and `printed` (n) are encoded sRGB, `read` (n) CIELAB under D65, relative to the white card.
    """

    ground: Colour
    printed: tuple[Colour, ...]
    read: tuple[tuple[float, float, float], ...]


@dataclass(frozen=True, kw_only=True)
class Film:
    """What art is printed on.

    `name` is that of its file, `about` says it in a few words. `reflectance` (R0) is the share of light that the
    film itself sends back, `transmittance` (T2) the share that passes it twice, both 0 to 1; clear film has 0 and 1.
    `haze` is the share of light that the film scatters back before it reaches anything: seen = h + (1 - h)^2 R;
    0 until a bare piece of it was read over black, which `caution` may say.
    `caution` is a sentence for every prediction on it, as long as its figures are not measured. `profile` is what
    the printer's ink looks like on it, None for one that prints sRGB as drawn.
    """

    name: str = ""
    about: str
    reflectance: float = 0.0
    transmittance: float = 1.0
    haze: float = 0.0
    caution: str | None = None
    profile: InkProfile | None = None

    @property
    def is_clear(self) -> bool:
        """Whether the paint shows through as if there were no film."""
        return self.reflectance == 0.0 and self.transmittance == 1.0

    def measured(self, reflectance: float, transmittance: float, haze: float = 0.0) -> Film:
        """Return the same film with the figures that a test strip showed."""
        if (reflectance, transmittance, haze) == (self.reflectance, self.transmittance, self.haze):
            return self
        return replace(self, reflectance=reflectance, transmittance=transmittance, haze=haze, caution=None)

    def under(self, white: Film) -> Film:
        """Return the film as it looks with white printed on it: two layers that send light to and fro between them."""
        between = 1.0 - white.reflectance * self.reflectance
        return replace(
            self,
            reflectance=white.reflectance + white.transmittance * self.reflectance / between,
            transmittance=white.transmittance * self.transmittance / between**2,
            haze=0.0,
            caution=white.caution,
        )


@dataclass(frozen=True, kw_only=True)
class Process:
    """How art comes onto film: `about` says it in the trade's words.

    `white` is the white that goes on the film before the colours, as a layer of its own, None where there is none.
    `separation` is whether a print service takes it as a named colour in the page, else it is a page of its own.
    `care` is a sentence for the bench.
    """

    name: str
    about: str
    care: str
    white: Film | None = None
    is_separation: bool = False


INKJET = Process(
    name="inkjet",
    about="no white: what is white shows the film",
    care="Let the ink dry, then seal it with clear lacquer before it meets water.",
)
"""How art is printed where nothing is said."""


@dataclass(frozen=True, kw_only=True)
class Finish:
    """What covers the box: `paint` is the swatch's colour, encoded sRGB 0 to 1; bare metal does not use it.

    Where a `picture` is the paint, `paint` is its mean, for what has one colour only: lamps, roughness, doubt.
    `has_clear_coat` lacquers the whole box over paint and film, with the paint's own sheen or that of `lacquer`;
    `coat_under_film` is the sheen of a coat on the paint before the film is laid, which lacquer over it hides.
    `is_swatch_coated` says whether the paint colour was picked from a lacquered swatch; `ink_strength` scales the
    printer's ink (1 as sRGB on white paper). `orange_peel` is how uneven the paint dried, 1 as sprayed from a can;
    `casting_texture` how much of the casting's own texture is left, 1 as cast, 0 sanded smooth.
    `edge_wear` is how far bare casting shows along the edges, 0 as new. `room` is the light
    that the pedal is looked at in, by its name in `colour.room`. `is_silvered` shows the film as it looks where it was
    laid badly. `printer` names the calibrated printer that prints the art, if any, and `print_words` says how it
    printed its strip.
    """

    paint: Colour
    sheen: Sheen
    picture: PaintPicture | None = None
    has_clear_coat: bool = True
    lacquer: Sheen | None = None
    coat_under_film: Sheen | None = None
    is_swatch_coated: bool = True
    ink_strength: float = 1.0
    orange_peel: float = 1.0
    casting_texture: float = 1.0
    edge_wear: float = 0.0
    room: str = DAYLIGHT
    is_silvered: bool = False
    end: float = 0.0
    printer: str | None = None
    print_words: str = ""

    def in_colour(self, paint: Colour) -> Finish:
        """Return the same finish on paint of one colour."""
        return replace(self, paint=paint, picture=None)

    @property
    def coat(self) -> Sheen | None:
        """The sheen of the clear coat that shows beside the film, None where paint or metal lies bare."""
        return (self.lacquer or self.sheen) if self.has_clear_coat else self.coat_under_film

    @property
    def coat_words(self) -> str:
        """Whether all is lacquered, and how that shines where it is another sheen than the paint's."""
        if not self.has_clear_coat:
            return "no"
        return "yes" if self.lacquer is None else f"yes, {self.lacquer.name}"

    @property
    def surface(self) -> Surface:
        """What kind of surface lamps must suit."""
        if not self.sheen.is_painted:
            return "metal"
        roughness = self.coat.coat_roughness if self.coat is not None else self.sheen.bare_roughness
        if roughness >= _CLEAR:
            return "dull"
        if self.sheen.hammer > 0.0:
            return "dented"
        return "flake" if self.sheen.flake > 0.0 else "mirror"


@dataclass(frozen=True, kw_only=True)
class ArtFile:
    """What a picture file is: its `format`, and what its numbers are.

    `mode` is grey, palette, RGB, CMYK, YCbCr, Lab or lines, `bits` those of one channel (0 for lines). `profile`
    names the colour profile it was read by, "" for none. `dpi_from` says where its resolution is written, "" for
    nowhere. `layers` are the names of those of its layers and groups that can be left out, the outermost first.
    """

    format: str
    mode: str
    bits: int
    profile: str = ""
    dpi_from: str = ""
    layers: tuple[str, ...] = ()

    @property
    def is_vector(self) -> bool:
        """Whether it holds lines, which are sharp at any size."""
        return self.bits == 0


@dataclass(frozen=True, kw_only=True, eq=False)
class Artwork:
    """A decoded picture: what an image editor shows, ready to become ink.

    `pixels` (h, w, 4) uint8: encoded sRGB and straight alpha, row 0 at the top. `dpi` is what the
    file itself says (x, y), or None. `notes` say what was done to it on the way in, one plain
    sentence each (profile converted, orientation applied, CMYK assumed, ...). `file` is None where it is of
    the tool's own making.
    """

    name: str
    pixels: NDArray[np.uint8]
    dpi: tuple[float, float] | None = None
    notes: tuple[str, ...] = ()
    file: ArtFile | None = None

    @property
    def width_px(self) -> int:
        """Width in pixels."""
        return int(self.pixels.shape[1])

    @property
    def height_px(self) -> int:
        """Height in pixels."""
        return int(self.pixels.shape[0])


@dataclass(frozen=True, kw_only=True)
class Cut:
    """How film is cut: round the whole picture, round what is drawn, or along the border that is drawn on it.

    It reaches `allowance_mm` further than that. `radius_mm` is that of a rectangle's corners, else of the corners that
    run inward; the others are as round as the allowance.
    """

    shape: CutShape
    allowance_mm: float
    radius_mm: float


@dataclass(frozen=True, kw_only=True, eq=False)
class Decal:
    """One piece of printed film on a face.

    Its centre lies at (`u_mm`, `v_mm`) in face coordinates; `width_mm` by `height_mm` before it is
    turned clockwise by `rotation_deg`. `white_under` says where the white of a process that has one goes: under what is
    drawn, under everything, or where another picture, as large as the art, is drawn. `cut` is how the film is cut, None
    where the sheet says so alone.
    """

    art: Artwork
    face: FaceName
    u_mm: float
    v_mm: float
    width_mm: float
    height_mm: float
    film: Film
    rotation_deg: float = 0.0
    process: Process = INKJET
    white_under: Artwork | WhiteUnder = "drawn"
    cut: Cut | None = None

    @property
    def ink_film(self) -> Film:
        """What the colours are printed on: the film, or the white on it."""
        return self.film.under(self.process.white) if self.process.white is not None else self.film

    @property
    def is_white_all_over(self) -> bool:
        """Whether white lies on all of the film, so that no paint is seen beside the ink."""
        return self.process.white is not None and self.white_under == "everything"

    @property
    def dpi(self) -> tuple[float, float]:
        """Pixels per inch at the printed size, across and down."""
        return (
            self.art.width_px * MM_PER_INCH / self.width_mm,
            self.art.height_px * MM_PER_INCH / self.height_mm,
        )
