"""Parts that something is printed round."""

from __future__ import annotations

import numpy as np

from mockup.checks.art.sheets import sheets_on
from mockup.checks.panel.built import Built
from mockup.model.design import Design

NEAR_MM, STEP_MM = (
    4.0,
    0.2,
)  # how far from hardware print still belongs to it, and how finely it is looked for: our taste


def printed_round(design: Design) -> frozenset[str]:
    """Return the parts that something is printed round, so near their edge that it shows when they lie off it."""
    built = Built(design)
    angles = np.radians(np.arange(0.0, 360.0, 5.0))
    found = set()
    for part in design.parts:
        if not part.kind.cutouts:
            continue
        edge = max(max(cut.outline.width_mm, cut.outline.height_mm) for cut in part.kind.cutouts) / 2
        if part.knob is not None:
            edge = part.knob.diameter_mm / 2
        reach = edge + np.arange(NEAR_MM, 0.0, -STEP_MM)
        around = np.stack([np.outer(reach, np.cos(angles)), np.outer(reach, np.sin(angles))], axis=-1).reshape(-1, 2)
        for sheet in sheets_on(built, part.face):
            rows, columns, inside = sheet.indices(around + np.array([part.u_mm, part.v_mm]))
            if (inside & sheet.is_ink[rows, columns]).any():
                found.add(part.name)
    return frozenset(found)
