"""Ink on film on paint: what colour a printed decal has once it lies on the box.

Art is flattened over white first, so that what is transparent prints nothing. Then, in linear light,
band by band of three wide ones (M: linear sRGB -> bands):

    a  = (M art)^s                         ink as it looks on white; s = ink strength
    p  = M paint                           paint as it looks under lacquer
         (p - R1) / (1 - R1)               where a matte swatch was seen bare and the box is lacquered: wet,
                                           it loses what its dull surface R1 scattered
    p' = R0 + T2 p / (1 - R0 p)            film; clear film has R0 = 0 and T2 = 1
    R  = a p' / (1 - q(a) (1 - p'))        one air interface over ink, film and paint together: `lacquer`
    R' = h + (1 - h)^2 R                   h = haze of the film
    seen = M^-1 (v + (1 - v) R')           v = veil: light that a dull surface adds to everything

Lacquer, film and paint are in optical contact, so light meets air once, not twice; multiplying two
colours that were each measured under air counts that interface twice and comes out too dark.

Sources. Wide bands multiply more like spectra do: Ward and Eydelberg-Vileshin, Eurographics
Workshop on Rendering 2002. Ink over print: Machizaud and Hebert, 2012. One interface: Williams and
Clapper, J. Opt. Soc. Am. 43, 1953. The wet look: Lekner and Dorf, Applied Optics 27, 1988, by its surface
alone. Overprints predicted to a mean CIEDE2000 below 3: ICC White Paper 43.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray
from PIL import Image, ImageFilter

from mockup.colour import rgb
from mockup.colour.room import LIMIT, in_room
from mockup.decal import ink_profile
from mockup.decal.bands import FROM_BANDS, bands
from mockup.decal.doubt import Deviations, deviations, shifted, together
from mockup.decal.lacquer import laid
from mockup.memo import memoize
from mockup.model.enclosure import FaceName
from mockup.model.finish import LACQUER_INDEX, Film, Finish, InkProfile
from mockup.model.material import Colour
from mockup.model.paint_picture import PaintPicture
from mockup.model.scene import DAYLIGHT, Look

Floats = NDArray[np.float64]
Pixels = NDArray[np.uint8]

FAINT = 24  # of 255: ink paler than this beside bare film is not seen, and files are full of it: practice, no source
SURFACE_REFLECTION = ((LACQUER_INDEX - 1.0) / (LACQUER_INDEX + 1.0)) ** 2  # Fresnel, normal incidence

_DAYLIGHT = "Seen in daylight (D65), by one standard observer."
_PRINTER = "The printer reproduces sRGB on white paper."
_EXPECT = "Expect a difference of about 9 CIEDE2000, and over 20 for one vivid colour in ten."  # simulated printers
_EXPECT_MEASURED = "Expect a difference of about 2 CIEDE2000 on the strip's own paint, more on others."
LIMITS: tuple[str, ...] = (
    _DAYLIGHT,
    "Paint is opaque and not metallic; ink, film, paint and lacquer lie in optical contact; the film is clear of haze "
    "unless it was measured.",
    _PRINTER,
    _EXPECT,
)
"""What a prediction assumes and how far it may be trusted; printed with every proof."""

_HELD = 0.8  # most of a dark paint's colour that comes off its surface: by trial against the path tracer
_TONED = 0.5  # a surface of light and dark tones mirrors no less, so that the light ones keep their sheen: our choice
_SPECKS = 5.0  # percent of a picture that count as none of its tones: our choice
_DARK = 1e-5  # reflectance that is lost within half an 8-bit code
_LATTICE = 33  # points per axis of the lookup: common practice for display and print profiles
_FINE_LATTICE = 65  # the most that Pillow's lookup takes
_LATTICE_STRENGTH = 0.8  # below it a^s is too steep at black: 65 points were measured 4 to 16 CIEDE2000 off there
_ROWS = 128  # rows at a time, so that a large picture needs little memory beside itself
_LATTICE_ERROR = 2.0 / 255.0  # between two points; above it the fine lattice is used


@dataclass(frozen=True, kw_only=True)
class Ground:
    """What the ink lies on, and the doubtful figures: all that a prediction needs besides the art.

    `paint` is encoded sRGB; `film` is None where none lies; `veil` 0 to 1; `scatter` is what of a coated swatch's
    colour its surface sent back, where that is added later; `is_swatch_coated` False means that
    the colour was picked from bare matte paint that lies under lacquer on the box; `room` is the light that it is
    looked at in; `air` lies between the paint and a film that did not lie down.
    `end` of the doubt: 0 is what is likely, -1 the darkest and 1 the lightest.
    """

    paint: Colour
    film: Film | None = None
    ink_strength: float = 1.0
    veil: float = 0.0
    scatter: float = 0.0
    is_swatch_coated: bool = True
    room: str = DAYLIGHT
    air: Film | None = None
    end: float = 0.0

    @property
    def profile(self) -> InkProfile | None:
        """What is known of this printer's ink on this film, where that serves on this paint."""
        known = self.film.profile if self.film is not None else None
        return known if known is not None and ink_profile.serves(known, self.base()) else None

    def base(self) -> Floats:
        """Return reflectance (3,), in bands, of the film on the paint."""
        return over(np.ones(3), self.bare(), replace(self.film, haze=0.0) if self.film is not None else None)

    def bare(self, picture: Pixels | None = None) -> Floats:
        """Return reflectance (3,), in bands, of the paint alone, before film and ink.

        Of a picture that is the paint, it is that of some of its 8-bit pixels (..., 3).
        """
        paint = bands(self.paint if picture is None else picture)
        if self.is_swatch_coated:
            paint = np.maximum(paint - self.scatter, 0.0)
        else:
            paint = np.maximum((paint - SURFACE_REFLECTION) / (1.0 - SURFACE_REFLECTION), 0.0)
        return paint if self.air is None else over(np.ones(3), paint, self.air)


def ground(finish: Finish, film: Film | None = None, look: Look = "proof") -> Ground:
    """Return the ground that a finish gives to ink, with a film on it or none.

    A photo renders its own surface reflection, so there the veil is 0, and what the swatch's own surface sent back is
    taken from its colour: it counts once. A swatch that was seen
    bare changes only where lacquer goes over it. Bare metal counts as paint of the metal's colour.
    """
    sheen, top = finish.sheen, finish.coat or finish.sheen
    return Ground(
        paint=rgb.encoded_colour(sheen.metal.base_color) if sheen.metal is not None else finish.paint,
        film=film,
        ink_strength=finish.ink_strength,
        veil=top.veil if look == "proof" else 0.0,
        scatter=top.scatter * gloss(finish) if look == "photo" else 0.0,
        room=finish.room,
        end=finish.end,
        is_swatch_coated=finish.is_swatch_coated or not sheen.is_painted or finish.coat is None,
    )


def gloss(finish: Finish) -> float:
    """Return how much a finish's surface mirrors, of what its sheen does: no more than a dark paint's colour holds.

    Of a picture that is the paint, its dark tones decide.
    """
    scatter = (finish.coat or finish.sheen).scatter
    if scatter == 0.0 or not finish.sheen.is_painted:
        return 1.0
    own = min(1.0, _HELD * min(rgb.linear_colour(finish.paint)) / scatter)
    if finish.picture is None:
        return own
    return max(min(own, _TONED), min(1.0, _HELD * _darkest(finish.picture) / scatter))


@memoize
def _darkest(picture: PaintPicture) -> float:
    """Return the light of a picture's dark tones in their weakest channel, specks left out."""
    return float(rgb.decode(np.percentile(rgb.least(picture.pixels), _SPECKS) / 255.0))


def paint_at(finish: Finish, on: Ground, face: FaceName, uv: Floats) -> Floats:
    """Return reflectance (..., 3) or (3,), in bands, of the paint at places (..., 2) of a face, before film and ink."""
    return on.bare(finish.picture.at(face, uv) if finish.picture is not None else None)


def limits(finish: Finish, films: Iterable[Film] = ()) -> tuple[str, ...]:
    """Return the limits to print with a prediction, with those that this finish and these films add or lift."""
    told = {_PRINTER: f'Ink as the strip of "{finish.printer}" showed it.'} if finish.printer else {}
    if finish.printer:
        told[_EXPECT] = _EXPECT_MEASURED
    if finish.room != DAYLIGHT:
        told[_DAYLIGHT] = LIMIT.format(room=finish.room)
    known = tuple(told.get(line, line) for line in LIMITS)
    cautions = dict.fromkeys((finish.sheen.caution, *(film.caution for film in films)))
    return (*known, *(caution for caution in cautions if caution is not None))


def predict(art: ArrayLike, on: Ground) -> Floats:
    """Return the encoded sRGB (..., 3) seen where art lies on a ground: the exact reference.

    `art` (..., 3) is encoded sRGB already flattened over white. Formula, limits and sources: see the
    module. What falls outside sRGB is clipped.
    """
    return seen(overprint(art, on.bare(), on), on)


def unprinted(on: Ground) -> Colour:
    """Return the encoded sRGB of the ground where no film lies."""
    return rgb.colour(seen(on.bare(), on))


def overprint(art: ArrayLike, below: Floats, on: Ground) -> Floats:
    """Return reflectance (..., 3), in bands, of art (..., 3) over reflectance `below` (..., 3).

    `art` is encoded sRGB, 0 to 1, or 8-bit pixels.
    """
    encoded = np.asarray(art)
    return _laid(encoded / 255.0 if encoded.dtype == np.uint8 else encoded, below, on)


def over(ink: Floats, below: Floats, film: Film | None) -> Floats:
    """Return reflectance (..., 3) of ink over what lies below; all of them in bands."""
    base = below
    if film is not None and not film.is_clear:
        back = film.reflectance
        base = back + film.transmittance * below / (1.0 - back * below)
    reflectance = laid(ink, base)
    haze = film.haze if film is not None else 0.0
    return np.asarray(haze + (1.0 - haze) ** 2 * reflectance)


def seen(reflectance: Floats, on: Ground) -> Floats:
    """Return the encoded sRGB (..., 3) of reflectance in bands, under veil and in the room; clipped to sRGB."""
    return rgb.encode(np.clip(_linear(reflectance, on), 0.0, 1.0))


@dataclass(frozen=True, kw_only=True, eq=False)
class Lookup:
    """`predict` for one ground as a lattice of colours, for whole pictures.

    `table` (n, n, n, 3) float32, encoded sRGB; the axes are the art's blue, green and red. Values
    outside 0 to 1 are kept, so that clipping comes after interpolation and leaves no kink. It is
    None for ink so weak that a lattice is too coarse next to black: then every pixel is worked out.
    """

    on: Ground
    table: NDArray[np.float32] | None

    def apply(self, art: Pixels) -> Pixels:
        """Return what is seen (h, w, 3) for 8-bit art (h, w, 3) or (h, w, 4), by trilinear interpolation.

        White art gives the ground's own colour exactly; elsewhere within 3 codes of the reference
        (6 in the darkest channel over the most saturated paints), 0.3 on average.
        """
        if self.table is None:
            flat = flatten(art)
            return np.concatenate(
                [rgb.to_8bit(predict(flat[i : i + _ROWS], self.on)) for i in range(0, len(flat), _ROWS)]
            )
        cube = ImageFilter.Color3DLUT(
            len(self.table), self.table.reshape(-1), channels=3, target_mode="RGB", _copy_table=False
        )
        return np.asarray(_on_white(art).filter(cube))


def flatten(art: Pixels) -> Pixels:
    """Return art (h, w, 3 or 4) as (h, w, 3) over white, in encoded sRGB: what is transparent prints nothing."""
    return np.asarray(_on_white(art).convert("RGB"))


def ink_of(art: Pixels) -> Pixels:
    """Return how much ink (h, w) art prints: 0 for bare film to 255, by the darkest of the three channels."""
    return np.asarray(255 - rgb.least(flatten(art)))


def _on_white(art: Pixels) -> Image.Image:
    """Return art as an opaque picture; its mode is RGB or RGBA."""
    picture = Image.fromarray(np.ascontiguousarray(art))
    if art.shape[-1] == 3 or art[..., 3].min() == 255:
        return picture
    white = Image.new("RGBA", picture.size, "white")
    white.paste(picture, mask=picture)
    return white


@memoize
def lookup(on: Ground) -> Lookup:
    """Return the lookup of one ground: 33 points a side, or 65 where 33 would be off by more than 2 codes."""
    if on.ink_strength < _LATTICE_STRENGTH:
        return Lookup(on=on, table=None)
    coarse = _table(on, _lattice(_LATTICE))
    between = coarse
    for axis in range(3):
        between = (np.take(between, range(1, _LATTICE), axis) + np.take(between, range(_LATTICE - 1), axis)) / 2.0
    exact = _table(on, _lattice(_LATTICE - 1, 0.5 / (_LATTICE - 1)))
    error = np.abs(np.clip(between, 0.0, 1.0) - np.clip(exact, 0.0, 1.0)).max()
    fine = _table(on, _lattice(_FINE_LATTICE)) if error > _LATTICE_ERROR else coarse
    return Lookup(on=on, table=fine.astype(np.float32))


@memoize
def _lattice(points: int, margin: float = 0.0) -> Floats:
    """Return art (n, n, n, 3) at even steps of encoded sRGB, `margin` away from 0 and 1."""
    steps = np.linspace(margin, 1.0 - margin, points)
    blue, green, red = np.meshgrid(steps, steps, steps, indexing="ij")
    return np.stack([red, green, blue], axis=-1)


def _table(on: Ground, art: Floats) -> Floats:
    """Return predictions (..., 3), not clipped, with the sRGB curve mirrored below zero to stay smooth."""
    linear = _linear(_shown(art, _ink(art, on.ink_strength, on.profile), on.bare(), on), on)
    return np.copysign(rgb.encode(np.abs(linear)), linear)


def _laid(art: Floats, below: Floats, on: Ground) -> Floats:
    """Return reflectance (..., 3) of printed art, encoded, over what lies below, at the ground's end of the doubt."""
    return _shown(art, ink_on_white(art, on), below, on)


def _shown(art: Floats, ink: Floats, below: Floats, on: Ground) -> Floats:
    """Return reflectance (..., 3) of ink in bands over what lies below, at the ground's end of the doubt."""
    reflectance = over(ink, below, on.film)
    if on.end == 0.0:
        return reflectance
    return shifted(reflectance, together(_doubts(art, ink, reflectance, on)), on.end)


def _doubts(art: Floats, ink: Floats, reflectance: Floats, on: Ground) -> Deviations:
    known, base = on.profile, on.base()
    found = deviations(
        art,
        ink,
        reflectance,
        base,
        ink_profile.deviation(art, known) if known is not None else None,
        is_own=known is not None and ink_profile.is_own(known, base),
        is_hazy=on.film is not None and on.film.haze > 0.0,
    )
    bare = (art >= 1.0).all(axis=-1, keepdims=True)  # no ink: the paint is as it was given
    return {cause: np.where(bare, 0.0, each) for cause, each in found.items()}


def doubts(art: ArrayLike, on: Ground) -> Deviations:
    """Return standard deviations (..., 3) of L*, a* and b*, by cause, of what is seen of art (..., 3) on a ground."""
    encoded = np.asarray(art, np.float64)
    ink = ink_on_white(encoded, on)
    return _doubts(encoded, ink, over(ink, on.bare(), on.film), on)


def ink_on_white(art: Floats, on: Ground) -> Floats:
    """Return what printed art (..., 3), encoded sRGB, looks like on white, in bands, by the profile if one serves."""
    return _printed(art, on.ink_strength, on.profile)


def _printed(art: Floats, strength: float, profile: InkProfile | None) -> Floats:
    if profile is not None:
        return ink_profile.ink(art, profile)
    ink = bands(art)
    return ink if strength == 1.0 else np.asarray(ink**strength)


_ink = memoize(_printed)  # of a lattice, which is the same for all paints


def _linear(reflectance: Floats, on: Ground) -> Floats:
    """Return linear sRGB of reflectance under the veil, in the room's light; outside sRGB it leaves 0 to 1."""
    return in_room((on.veil + (1.0 - on.veil) * reflectance) @ FROM_BANDS.T, on.room)
