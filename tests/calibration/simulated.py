"""Prints of known ink, surface and film, read with noise: what a calibration has to find again."""

from __future__ import annotations

import numpy as np

from mockup.calibration.fit import Readings, Scrap
from mockup.calibration.strip import PATCHES
from mockup.colour import difference, rgb
from mockup.decal import ink_over_paint as ink
from mockup.films import films
from mockup.model.finish import Film

NAMES = tuple(PATCHES)
PRINTED = np.array([patch.printed for patch in PATCHES.values()])
OCHRE, TEAL = "#c8a23a", "#2f7f86"


def lab_to_encoded(lab: np.ndarray) -> np.ndarray:
    """Return encoded sRGB, clipped, of CIELAB under D65: the published inverse (CIE 15:2018 8.2.1)."""
    fy = (lab[..., 0] + 16) / 116
    f = np.stack([fy + lab[..., 1] / 500, fy, fy - lab[..., 2] / 200], axis=-1)
    xyz = np.where(f > 6 / 29, f**3, 3 * (6 / 29) ** 2 * (f - 4 / 29)) * rgb.WHITE_XYZ
    return rgb.encode(np.clip(xyz @ rgb.XYZ_TO_SRGB.T, 0, 1))


def read(encoded: np.ndarray, noise: float, chance: np.random.Generator) -> np.ndarray:
    """Return colours as read: Gaussian noise of `noise` CIELAB units a coordinate, then 8 bits."""
    lab = difference.encoded_to_lab(encoded)
    return rgb.to_8bit(lab_to_encoded(lab + chance.normal(0, noise, lab.shape))) / 255


def readings(
    strength: float,
    k: float,
    *,
    film: str = "clear",
    true_film: Film | None = None,
    paints: tuple[str, ...] = (OCHRE,),
    noise: float = 1.0,
    seed: int = 0,
) -> Readings:
    """Return readings of a strip that the ink model itself has printed."""
    chance = np.random.default_rng(seed)

    def seen(paint: tuple[float, float, float]) -> np.ndarray:
        return ink.predict(
            PRINTED, ink.Ground(paint=paint, film=true_film or films()[film], ink_strength=strength, k=k)
        )

    card = read(seen((1.0, 1.0, 1.0)), noise, chance)
    scraps = [(np.array(rgb.parse(paint)), seen(rgb.parse(paint))) for paint in paints]
    return Readings(
        source="readings.toml",
        film=films()[film],
        names=NAMES,
        printed=PRINTED,
        card=card,
        scraps=tuple(Scrap(paint=read(paint, noise, chance), seen=read(over, noise, chance)) for paint, over in scraps),
    )
