"""How a surface answers light, in the terms of glTF 2.0 (metallic-roughness, clear coat).

Metal colours are reflectance at normal incidence as linear sRGB, computed from measured n and k
(refractiveindex.info database, CC0), 400 to 700 nm, CIE 1931, D65; the data set is named per line.
Die-cast and machined figures are duller than the pure metal: common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

Colour = tuple[float, float, float]

DENT_MM = 1.6  # from dent to dent, where a sheen says nothing of it: by eye
FLAKE_MM = 0.25  # width of a flake, where a sheen says nothing of it: by eye


@dataclass(frozen=True, kw_only=True, eq=False)
class FilmPatch:
    """One decal's film as pictures round its middle, which lies at (u, v) on the face, turned clockwise.

    All pictures are float32 of one shape, (h, w), row 0 at the top, and `width_mm` by `height_mm` large, the film with
    some room round it: `inside_mm` is how far a place lies within the film's edge, less than 0 beside it, and never
    more than a millimetre or so either way; `hides`, 0 to 1, how much the film or white on it keeps from sight of
    what glitters or shines like metal below; `shine`, 0 to 1, what air under it sends back like a dull mirror.
    """

    u_mm: float
    v_mm: float
    width_mm: float
    height_mm: float
    rotation_deg: float
    inside_mm: NDArray[np.float32]
    hides: NDArray[np.float32]
    shine: NDArray[np.float32]


@dataclass(frozen=True, kw_only=True)
class FilmLayer:
    """Film that lies on a face and ends on it, as far as it is seen by its surface alone.

    `patches` are where it lies; holes need none, it is cut at their rims. `roughness` (perceptual)
    is that of what covers it, its own or the lacquer's over it. At its edge the surface comes down
    by `step_mm` over a width of `run_mm`.
    """

    patches: tuple[FilmPatch, ...]
    roughness: float
    step_mm: float
    run_mm: float


@dataclass(frozen=True, kw_only=True, eq=False)
class Texture:
    """A picture laid on a face at true size.

    `pixels` (h, w, 3) uint8, sRGB-encoded, row 0 at the top. The picture's top-left corner lies at
    (`u_mm`, `v_mm`) in face coordinates and it is `width_mm` by `height_mm` large; outside of it
    the material's base colour shows. `film` is what it is printed on, where that is to be seen.
    """

    pixels: NDArray[np.uint8]
    u_mm: float
    v_mm: float
    width_mm: float
    height_mm: float
    film: FilmLayer | None = None

    def normalised(self, uv: NDArray[np.float64]) -> NDArray[np.float64]:
        """Return (n, 2) picture coordinates, 0 to 1, origin at the top-left corner, v down."""
        return (uv - (self.u_mm, self.v_mm)) / (self.width_mm, self.height_mm)


@dataclass(frozen=True, kw_only=True)
class Waviness:
    """Gentle waves in a surface, too long to be roughness, from one wavelength to another (mm).

    `slope` is the root mean square of their slope, whichever way it falls.
    """

    shortest_mm: float
    longest_mm: float
    slope: float


@dataclass(frozen=True, kw_only=True, eq=False)
class Material:
    """One surface. Colours are linear sRGB, 0 to 1 (emission may exceed 1).

    `roughness` is perceptual (GGX alpha = roughness squared, glTF 2.0 B.2); `coat` is the amount
    of clear lacquer over the surface (refractive index 1.5, KHR_materials_clearcoat);
    `transmission` 0 to 1 lets light through (lamp lenses); `flake` and `hammer` 0 to 1 give metallic
    flakes, `flake_mm` wide, and hammered paint with a dent every `dent_mm`; `emission` is the light it gives
    off, in the units of scene radiance.
    `anisotropy` 0 to 1 gives metal the marks of a lathe, rings round the axis of its body, which draw
    reflections out across them (KHR_materials_anisotropy: alpha across is mix(alpha, 1, anisotropy squared)).
    `gloss` 0 to 1 is how much the surface of paint mirrors, of what a smooth one of its kind does.
    `waves` are what is uneven in it, where its mesh has face coordinates.
    """

    name: str
    base_color: Colour
    metallic: float = 0.0
    roughness: float = 0.5
    coat: float = 0.0
    coat_roughness: float = 0.05
    transmission: float = 0.0
    flake: float = 0.0
    hammer: float = 0.0
    flake_mm: float = FLAKE_MM
    dent_mm: float = DENT_MM
    anisotropy: float = 0.0
    gloss: float = 1.0
    waves: tuple[Waviness, ...] = ()
    emission: Colour = (0.0, 0.0, 0.0)
    texture: Texture | None = None

    @property
    def alphas(self) -> tuple[float, float]:
        """GGX alpha along the marks of turning and across them; equal without marks."""
        along = self.roughness**2
        return along, along + (1.0 - along) * self.anisotropy**2


CHROME = Material(name="chrome", base_color=(0.550, 0.556, 0.554), metallic=1, roughness=0.08)  # Johnson & Christy 1974
NICKEL = Material(name="nickel", base_color=(0.697, 0.640, 0.563), metallic=1, roughness=0.18)  # Johnson & Christy
BRASS = Material(name="brass", base_color=(0.910, 0.778, 0.423), metallic=1, roughness=0.25)  # Querry, Cu70Zn30
STEEL = Material(name="steel", base_color=(0.530, 0.513, 0.494), metallic=1, roughness=0.35)  # Johnson & Christy, iron
TURNED_ALUMINIUM = Material(
    name="turned-aluminium", base_color=(0.77, 0.78, 0.785), metallic=1, roughness=0.28, anisotropy=0.45
)  # machined and anodised: duller than the pure metal (0.91, Rakic 1995); roughness and marks: practice
CAST_ALUMINIUM = Material(name="cast-aluminium", base_color=(0.68, 0.69, 0.70), metallic=1, roughness=0.5)  # practice
DRILLED_ALUMINIUM = Material(
    name="drilled-aluminium", base_color=(0.80, 0.81, 0.82), metallic=1, roughness=0.32
)  # practice
BLACK_PLASTIC = Material(name="black-plastic", base_color=(0.012, 0.012, 0.013), roughness=0.45)  # practice
GREY_PLASTIC = Material(name="grey-plastic", base_color=(0.18, 0.18, 0.19), roughness=0.5)  # practice
PHENOLIC = Material(name="phenolic", base_color=(0.010, 0.009, 0.009), roughness=0.25)  # practice
RUBBER = Material(name="rubber", base_color=(0.020, 0.020, 0.021), roughness=0.85)  # practice
BOARD_GREEN = Material(name="board-green", base_color=(0.02, 0.10, 0.045), roughness=0.4, coat=0.5)  # practice
THROAT = Material(
    name="throat", base_color=(0.004, 0.004, 0.004), roughness=0.9, gloss=0.0
)  # of a hole that one looks into: no light comes back: practice
SEAM = replace(THROAT, name="seam")  # of the line between lid and body: hardly any light comes back: practice
SOLDER = Material(name="solder", base_color=(0.70, 0.69, 0.66), metallic=1, roughness=0.35)  # practice

NAMED: dict[str, Material] = {
    each.name: each
    for each in (
        CHROME,
        NICKEL,
        BRASS,
        STEEL,
        TURNED_ALUMINIUM,
        CAST_ALUMINIUM,
        DRILLED_ALUMINIUM,
        BLACK_PLASTIC,
        GREY_PLASTIC,
        PHENOLIC,
        RUBBER,
        BOARD_GREEN,
        SOLDER,
    )
}
"""Every material that a part may name."""


def plastic(colour: Colour, name: str = "plastic", roughness: float = 0.4) -> Material:
    """Return moulded plastic of a linear sRGB colour."""
    return replace(BLACK_PLASTIC, name=name, base_color=colour, roughness=roughness)
