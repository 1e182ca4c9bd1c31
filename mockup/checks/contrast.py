"""Lettering that does not stand out from what is round it once it is printed over this paint."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from mockup.checks.art.legibility import Standing, standing
from mockup.checks.art.words import Piece, pieces
from mockup.checks.panel.built import Built
from mockup.model.finding import Finding, Limit, Severity
from mockup.model.limits import Limits

READS = ("decals", "finish", "labels")


def check(built: Built, limits: Limits) -> Iterable[Finding]:
    """Return what is wrong with a built design; pure, never raises, changes nothing."""
    for piece in pieces(built):
        found = standing(built, piece)
        if found is None:
            yield from _nothing_there(piece)
        else:
            yield from _of(piece, found, limits)


def _nothing_there(piece: Piece) -> Iterator[Finding]:
    yield Finding(
        check="contrast",
        severity="warn",
        subjects=(piece.name,),
        what=f"nothing is printed where the label {piece.name} is declared",
        remedy="check the label's place and size, or draw it into the art",
        source="the layout's own [[label]]",
        marks=(piece.mark,),
    )


def _of(piece: Piece, found: Standing, limits: Limits) -> Iterator[Finding]:
    is_large = piece.label.height_mm >= limits["large_letter_mm"].value
    wanted = limits["contrast_large" if is_large else "contrast_small"]
    lost = limits["contrast_lost"]
    if found.low >= wanted.value:
        return
    against, severity = _grade(found, wanted, lost)
    doubt = "; it depends on the lacquer, which the model leaves open" if found.high >= wanted.value else ""
    yield Finding(
        check="contrast",
        severity=severity,
        subjects=(piece.name,),
        what=(
            f"{piece.name} over this paint has a contrast of {found.low:.1f} to {found.high:.1f} to 1, "
            f"where {wanted.value:g} reads well{doubt} (colour difference {found.difference:.0f} CIEDE2000)"
        ),
        remedy=_remedy(found, wanted.value),
        source=against.source,
        measured=round(found.high, 2) if severity != "note" else round(found.low, 2),
        limit=against.value,
        marks=(piece.mark,),
    )


def _grade(found: Standing, wanted: Limit, lost: Limit) -> tuple[Limit, Severity]:
    if found.high < lost.value:
        return lost, "stop"
    return wanted, "warn" if found.high < wanted.value else "note"


def _remedy(found: Standing, wanted: float) -> str:
    if found.black >= wanted * 1.05:
        most = (found.around + 0.05) / wanted - 0.05
        return (
            f"print it darker: its luminance may be {max(0.0, most):.2f} at most where the surround has "
            f"{found.around:.2f}; black reaches {found.black:.1f}"
        )
    return (
        f"no ink reads here: even black reaches only {found.black:.1f}; choose a lighter paint "
        f"(luminance {wanted * 0.05 - 0.05:.2f} or more), a lighter surround, or white film"
    )
