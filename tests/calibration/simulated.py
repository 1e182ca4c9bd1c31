"""Printers that we do not tune on: dyes, solids, dots that grow, black for grey, a gamut smaller than sRGB.

A colour becomes dots of cyan, magenta, yellow and black, whose overprints lie on the paint by the full angular
integral for dots (`tests/reference/spectra.py`). A reading has Gaussian noise, a value for each coordinate of CIELAB.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass

import numpy as np
import spectra

Array = np.ndarray
SOLIDS = np.array(list(itertools.product((0, 1), repeat=4)))  # which of C, M, Y, K lie there


_CURVES: dict[Printer, tuple[Array, Array]] = {}


@dataclass(frozen=True, kw_only=True)
class Printer:
    """`dyes` (middles, widths, tail), single-pass densities of the solids C, M, Y, K, dot gain at a half, the
    share of grey that black takes over, the hazes of film."""

    middles: tuple[float, float, float] = (640, 540, 445)
    widths: tuple[float, float, float] = (58, 42, 45)
    tail: float = 0.04
    solids: tuple[float, float, float, float] = (0.62, 0.6, 0.55, 0.9)
    gain: float = 0.06
    black: float = 0.5
    haze: float = 0.01

    def dots(self, art: Array) -> Array:
        """Return areas (..., 4) for encoded sRGB (..., 3): what the driver asks for, then dots that grow.

        The driver takes out what each dye holds back beside its own band (masking: Yule, Principles of Color
        Reproduction, 1967, chapter 10, from memory) and then follows the curves that make its greys neutral.
        """
        each = spectra.dyes(self.middles, self.widths, self.tail) * 0.3
        held = -np.log10(np.maximum(spectra.linear(spectra.white_ink(10**-each)), 1e-3))  # [dye, band]
        mask = np.linalg.inv(held / held.sum(axis=0))
        light = spectra.colour.cctf_decoding(np.asarray(art, float), function="sRGB")
        wanted = np.maximum(-np.log10(np.maximum(light, 4e-3)) @ (0.7 * mask + 0.3 * np.eye(3)), 0)
        densities, curves = self._greys()
        asked = np.stack([np.interp(wanted[..., dye], densities, curves[:, dye]) for dye in range(3)], axis=-1)
        return self._grown(asked, self.gain)

    def _grown(self, asked: Array, gain: float) -> Array:
        """Return areas (..., 4) of asked areas (..., 3) with black for grey, grown by a dot gain."""
        key = self.black * asked.min(axis=-1, keepdims=True) ** 2
        areas = np.concatenate([np.clip((asked - 0.6 * key) / (1 - 0.6 * key), 0, 1), key], axis=-1)
        return np.clip(areas + 4 * gain * areas * (1 - areas), 0, 1)

    def _greys(self) -> tuple[Array, Array]:
        """Return densities (n,) and the areas (n, 3) that its maker found to print them grey on white paper."""
        from scipy.optimize import least_squares

        if self not in _CURVES:
            greys, found = np.linspace(1.0, 0.0, 12), [np.zeros(3)]
            densities = -np.log10(np.maximum(spectra.colour.cctf_decoding(greys, function="sRGB"), 4e-3))
            for grey in greys[1:]:
                goal = spectra.colour.XYZ_to_Lab(
                    spectra.colour.RGB_to_XYZ([grey] * 3, "sRGB", apply_cctf_decoding=True)
                )

                def miss(asked: Array, goal: Array = goal) -> Array:
                    areas = self._grown(asked, 0.8 * self.gain)
                    shares = np.where(SOLIDS == 1, areas, 1 - areas).prod(axis=-1)
                    return spectra.lab(spectra.dotted(self.passes(), shares, np.ones(31))) - goal

                found.append(least_squares(miss, np.clip(found[-1] + 0.05, 0.01, 0.99), bounds=(0, 1)).x)
            _CURVES[self] = densities, np.array(found)
        return _CURVES[self]

    def passes(self) -> Array:
        """Return the single straight pass (16, wavelengths) of every overprint of solids."""
        three = spectra.dyes(self.middles, self.widths, self.tail) * np.array(self.solids[:3])[:, None]
        four = np.concatenate([three, np.full((1, three.shape[1]), self.solids[3])])
        return 10 ** -(SOLIDS @ four)

    def spectrum(self, art: Array, paint: Array) -> Array:
        """Return what is seen (..., wavelengths) of art over a paint whose lacquered look is `paint`."""
        areas = self.dots(art)[..., None, :]
        shares = np.where(SOLIDS == 1, areas, 1 - areas).prod(axis=-1)
        seen = spectra.dotted(self.passes(), shares, paint)
        return self.haze + (1 - self.haze) ** 2 * seen

    def lab(self, art: Array, paint: Array) -> Array:
        """Return CIELAB of what is seen."""
        return spectra.lab(self.spectrum(art, paint))


PRINTERS = {
    "dye inkjet": Printer(),
    "pigment inkjet": Printer(middles=(650, 548, 438), widths=(70, 50, 38), tail=0.09, solids=(0.7, 0.62, 0.6, 1.1),
                              gain=0.18, black=0.7, haze=0.012),
    "colour laser": Printer(middles=(632, 536, 450), widths=(62, 46, 40), tail=0.06, solids=(0.55, 0.6, 0.5, 0.8),
                            gain=0.08, black=0.9, haze=0.006),
    "weak ink": Printer(solids=(0.42, 0.42, 0.4, 0.6), gain=0.05, black=0.3, haze=0.008),
    "heavy ink": Printer(middles=(628, 545, 452), solids=(0.9, 0.85, 0.8, 1.2), gain=0.2, black=0.4, haze=0.015),
    "narrow dyes": Printer(middles=(655, 530, 435), widths=(45, 34, 34), tail=0.01, gain=0.1, black=0.2),
}  # fmt: skip


def true_printer(art: Array) -> Array:
    """Return the lacquered look on white (..., wavelengths) of a printer that prints sRGB as drawn, near enough.

    Its dye amounts are sought for each colour, so that it is right on white card and needs no profile.
    """
    from scipy.optimize import least_squares

    art = np.asarray(art, float).reshape(-1, 3)
    of = spectra.dyes((645, 540, 440), (60, 45, 45), 0.0)
    found = []
    for colour in art:
        goal = spectra.colour.XYZ_to_Lab(spectra.colour.RGB_to_XYZ(colour, "sRGB", apply_cctf_decoding=True))

        def miss(amounts: Array, goal: Array = goal) -> Array:
            return spectra.lab(spectra.white_ink(spectra.ink(amounts, of))) - goal

        found.append(least_squares(miss, np.full(3, 0.2), bounds=(0, 2.5)).x)
    return spectra.ink(np.array(found), of)


def read(lab: Array, noise: float, chance: np.random.Generator) -> Array:
    """Return CIELAB as read: Gaussian noise of `noise` units a coordinate."""
    return lab + chance.normal(0, noise, lab.shape)
