"""A finished picture: encoded pixels, and the facts of how it was made."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray


@dataclass(frozen=True, kw_only=True, eq=False)
class Picture:
    """`pixels` (h, w, 3 or 4) uint8, encoded sRGB with straight alpha, row 0 at the top.

    `dpi` is set where the picture is true to size (an orthographic view): printed at that
    resolution it comes out as large as the pedal. `facts` are plain text by name.
    """

    pixels: NDArray[np.uint8]
    dpi: float | None = None
    facts: dict[str, str] = field(default_factory=dict)
