"""Lettering that does not stand out from what is round it once it is printed over this paint."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from mockup.checks import Case
from mockup.checks.art.legibility import Standing, standing
from mockup.checks.art.lettering import Piece, pieces
from mockup.checks.art.white import is_white
from mockup.checks.panel.built import Built
from mockup.colour import rgb
from mockup.colour.difference import FLARE
from mockup.limits import wanted_contrast
from mockup.model.finding import Finding, Quantity

LIMITS = """
[contrast_lost]
value = 1.5
unit = ":1"
about = "contrast ratio below which lettering is as good as gone"
source = "common practice, no source"
"""
READS = ("decals", "finish", "labels", "lost")
_LABEL = '[[label]]\ntext = "III"\nleft = 24\ntop = 45\nwidth = 5\nheight = 3\n'
_BARS = '<path fill="{}" d="M20 40h1v3h-1z m2 0h1v3h-1z m2 0h1v3h-1z"/>'
PLANTED = Case(_LABEL, _BARS.format("#b0b0b0"))  # about 2.2 : 1 on white
SOUND = Case(_LABEL, _BARS.format("#000000"))
PALE, DARK = 0.4, 0.1  # relative luminance of what is called pale and dark: our choice
UNSURE = 0.75  # share of the contrast wanted that the worst of the doubts has to reach: our choice


def check(built: Built) -> Iterable[Finding]:
    """Return what is wrong with a built design; pure, never raises, changes nothing."""
    lost = {(ink.face, ink.name) for ink in built.design.lost}
    doubted: list[tuple[Piece, Standing]] = []
    for piece in pieces(built):
        found = standing(built, piece)
        if found is None and (piece.label.face, piece.label.text) in lost and not piece.is_read:
            continue  # that it is cut off is told by itself
        if found is None:
            yield _unseen(piece)
            continue
        wanted = wanted_contrast(built.limits, piece.capital_mm)
        if is_white(built, piece):
            continue
        if found.likely < wanted.value:
            yield _of(built, piece, found)
        elif found.low < UNSURE * wanted.value:
            doubted.append((piece, found))
    if doubted:
        yield _doubt(built, doubted)


def _doubt(built: Built, doubted: Sequence[tuple[Piece, Standing]]) -> Finding:
    """Return in one piece of advice which lettering reads well, but might not with this printer and lacquer."""
    piece, worst = min(doubted, key=lambda each: each[1].low)
    return Finding(
        severity="note",
        is_advice=True,
        title="Lettering may be hard to read",
        what="{first}"
        + (" and {more} more" if len(doubted) > 1 else "")
        + " may stand out by no more than {measured}, "
        "by printer and lacquer ({limit} reads well; a test strip tells)",
        subjects=tuple(each.subject for each, _ in doubted),
        measured=Quantity(worst.low, ":1"),
        limit=wanted_contrast(built.limits, piece.capital_mm),
        facts={"first": piece.subject, "more": str(len(doubted) - 1)},
        marks=tuple(each.mark for each, _ in doubted),
    )


def _unseen(piece: Piece) -> Finding:
    """Return what to say of lettering whose letters were not found: it is not there, or drowns where it is."""
    drowns = piece.is_read
    return Finding(
        severity="warn" if piece.is_declared else "note",
        title="Lettering drowns in the art" if drowns else "No lettering here",
        what="the letters of {first} cannot be told from what is drawn round them"
        if drowns
        else "the layout declares the label {first}, but nothing there stands out as lettering",
        subjects=(piece.subject,),
        remedy="Move it, or put a plain plate under it"
        if drowns
        else "Check its place and size, or draw it in the art",
        origin="what was read in the art" if drowns else "the layout's own [[label]]",
        marks=(piece.mark,),
    )


def _of(built: Built, piece: Piece, found: Standing) -> Finding:
    wanted, lost = wanted_contrast(built.limits, piece.capital_mm), built.limits["contrast_lost"]
    is_lost = found.likely < lost.value
    is_meant = found.is_on_ink and found.drawn < lost.value  # tone on tone: the paint did not do it
    can_be_inked = found.black >= wanted.value * 1.05
    return Finding(
        severity="stop" if is_lost and not is_meant else "warn",
        title="Lettering as good as gone" if is_lost else "Lettering hard to read",
        what="{first} is {letters} lettering on a {around} ground, with {share} the contrast that reads well "
        "({low} to {high}; {wanted} reads well)",
        subjects=(piece.subject,),
        remedy=_remedy(piece, found, can_be_inked=can_be_inked),
        measured=Quantity(found.likely, ":1"),
        limit=lost if is_lost else wanted,
        facts={
            "letters": _tone(found.letters),
            "around": _tone(found.around),
            "share": Quantity(0.0 if is_lost else found.likely / wanted.value, "share"),
            "low": Quantity(round(found.low, 1), ":1"),
            "high": Quantity(round(found.high, 1), ":1"),
            "wanted": wanted.quantity,
            "black": Quantity(round(found.black, 1), ":1"),
            "grey": rgb.grey(
                (found.around + FLARE) / wanted.value - FLARE if can_be_inked else wanted.value * FLARE - FLARE
            ),
        },
        marks=(piece.mark,),
    )


def _remedy(piece: Piece, found: Standing, *, can_be_inked: bool) -> str:
    if found.is_across:
        return "Part of what it lies across swallows it: move the word, or put a plain plate under it"
    if can_be_inked:
        return "Print it darker: as dark as the grey {grey} once printed, or darker; black reaches {black}"
    said = "No ink reads here, as even black reaches only {black}: choose "
    if piece.strokes is not None and piece.strokes.sheet.decal.ink_film.is_clear:
        return said + "a paint as light as the grey {grey} or lighter, a lighter surround, or white film"
    return said + "a surround as light as the grey {grey} or lighter"


def _tone(luminance: float) -> str:
    return "pale" if luminance >= PALE else "dark" if luminance <= DARK else "mid-toned"
