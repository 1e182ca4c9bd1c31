"""Our own table of generic die-cast boxes, named by their outer size.

A name reads long side x short side x height in millimetres. Boxes stand upright here (far to near is
the long side); for landscape use swap `width_mm` and `length_mm`.

Sources: outer sizes from memory, within 1 mm between makers, height taken with the lid on; walls,
lids, draft, radii and screw posts common practice, no source; seam and lip from memory, feet our choice (none).
Measure the box in hand.
"""

from __future__ import annotations

from mockup.model.enclosure import Enclosure
from mockup.model.part import MEMORY, PRACTICE

SOURCES: dict[str, str] = {
    "width_mm, length_mm, height_mm": MEMORY,
    "wall_mm, top_mm, lid_mm": PRACTICE,
    "draft_deg, corner_mm, edge_mm": PRACTICE,
    "post_mm, screw_mm": PRACTICE,
    "seam_mm, lip_mm, lip_wall_mm": MEMORY,
    "feet_mm": "our choice",
}
"""Where each group of figures comes from."""

SIZES: dict[str, Enclosure] = {
    "92x38x31": Enclosure(length_mm=92, width_mm=38, height_mm=31, corner_mm=4.0, post_mm=6.5),
    "112x60x31": Enclosure(length_mm=112, width_mm=60, height_mm=31, corner_mm=5.0, post_mm=7.0),
    "121x66x39": Enclosure(length_mm=121, width_mm=66, height_mm=39, corner_mm=5.0, post_mm=7.0),
    "119x94x34": Enclosure(length_mm=119, width_mm=94, height_mm=34, corner_mm=5.0, post_mm=7.0),
    "145x121x39": Enclosure(
        length_mm=145, width_mm=121, height_mm=39, wall_mm=2.2, top_mm=2.2, lid_mm=2.0, corner_mm=5.5, post_mm=7.5
    ),
    "188x119x37": Enclosure(
        length_mm=188, width_mm=119, height_mm=37, wall_mm=2.3, top_mm=2.3, lid_mm=2.0, corner_mm=5.5, post_mm=7.5
    ),
}
"""Generic die-cast sizes by name."""
