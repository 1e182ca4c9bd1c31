"""Plain words for colours, as a builder says them."""

from __future__ import annotations

import numpy as np

from mockup.colour.difference import ciede2000, encoded_to_lab
from mockup.model.material import Colour

_WORDS: dict[str, Colour] = {  # CSS Color Module Level 4 (6.1), the plain ones, and some that it lacks
    "white": (1.0, 1.0, 1.0),
    "pale grey": (0.83, 0.83, 0.83),
    "grey": (0.5, 0.5, 0.5),
    "dark grey": (0.25, 0.25, 0.25),
    "black": (0.0, 0.0, 0.0),
    "red": (0.86, 0.08, 0.12),
    "dark red": (0.5, 0.0, 0.0),
    "pink": (1.0, 0.71, 0.76),
    "orange": (1.0, 0.55, 0.0),
    "brown": (0.5, 0.29, 0.12),
    "olive": (0.5, 0.5, 0.0),
    "yellow": (1.0, 0.93, 0.0),
    "cream": (1.0, 0.97, 0.8),
    "light green": (0.56, 0.93, 0.56),
    "green": (0.0, 0.6, 0.2),
    "dark green": (0.0, 0.3, 0.1),
    "teal": (0.0, 0.5, 0.5),
    "cyan": (0.0, 0.85, 0.95),
    "light blue": (0.68, 0.85, 0.9),
    "steel blue": (0.27, 0.51, 0.71),
    "blue": (0.1, 0.25, 0.9),
    "navy": (0.0, 0.0, 0.4),
    "purple": (0.5, 0.0, 0.6),
    "magenta": (0.95, 0.0, 0.6),
    "violet": (0.72, 0.55, 0.9),
}


def word(colour: Colour) -> str:
    """Return a plain word for an encoded sRGB colour: the nearest by CIEDE2000."""
    table = encoded_to_lab(np.array(list(_WORDS.values())))
    return list(_WORDS)[int(np.argmin(ciede2000(table, encoded_to_lab(colour))))]
