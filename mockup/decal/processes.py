"""How art is printed on film, in the trade's words, and what white each way lays under the colours."""

from __future__ import annotations

from mockup.model.finish import INKJET, Decal, Film, Process

_CAUTION = "White under the ink: how much paint shines through is an estimate."
_DRY = "Let it dry; fused toner does not run in water."  # common practice, no source

PROCESSES: dict[str, Process] = {
    each.name: each
    for each in (
        INKJET,
        Process(name="toner", about="fused powder, no white: what is white shows the film", care=_DRY),
        Process(
            name="white-toner",
            about="toner or ink with white under it",
            care=_DRY,
            # One layer over black looks like a light grey, about L* 82: from memory, no source.
            white=Film(about="white under the ink", reflectance=0.60, transmittance=0.12, caution=_CAUTION),
        ),
        Process(
            name="print-service",
            about="film from a print service, with white under the colours",
            care="Ask the service whether it is sealed; else seal it with clear lacquer before it meets water.",
            # Two passes of white, about L* 88 over black: from memory, no source.
            white=Film(about="white under the ink", reflectance=0.72, transmittance=0.06, caution=_CAUTION),
            is_separation=True,
        ),
    )
}
"""Every process by its name, the one that most builders have first."""


def process_words(decal: Decal) -> str:
    """Return how a decal is printed, and where its white goes, as the end of its film's name; nothing for an inkjet."""
    if decal.process == INKJET:
        return ""
    where = decal.white_under if isinstance(decal.white_under, str) else decal.white_under.name
    return f", {decal.process.name}" + (f" with white under {where}" if decal.process.white is not None else "")
