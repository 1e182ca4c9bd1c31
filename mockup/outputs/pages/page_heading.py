"""The heading of pages for the bench: which pedal, which design of it, and how large its box is."""

from __future__ import annotations

from mockup.drawing.paper import Heading
from mockup.fingerprint import fingerprint
from mockup.model.design import Design
from mockup.model.units import Unit
from mockup.outputs.pages.open_stops import mark


def page_heading(design: Design, units: Unit, open_stops: int, corrected: str = "") -> Heading:
    """Return what stands on every page of a design; `corrected` says how it was corrected for a printer."""
    box = design.enclosure
    variant = f", variant {design.variant}" if design.variant else ""
    size = f"{box.length_mm:g} × {box.width_mm:g} × {box.height_mm:g} mm"
    return Heading(
        title=design.name,
        about=f"Design {fingerprint(design)}{variant}, box {size}",
        units=units,
        corrected=corrected,
        mark=mark(open_stops),
    )
