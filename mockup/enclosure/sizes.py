"""Generic die-cast boxes by dimension: length x width x height over all, in millimetres."""

from __future__ import annotations

from mockup.model.enclosure import Enclosure

SIZES: dict[str, Enclosure] = {
    "112x60x31": Enclosure(length_mm=112, width_mm=60, height_mm=31),  # from memory; +-1 mm between suppliers
    "121x66x39": Enclosure(length_mm=121, width_mm=66, height_mm=39),  # from memory; +-1 mm between suppliers
}
