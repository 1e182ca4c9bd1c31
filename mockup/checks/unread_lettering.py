"""Art in which no lettering was recognised, so that nobody judged whether it can be read."""

from __future__ import annotations

from collections.abc import Iterable

from mockup.checks import Case, part_text
from mockup.checks.art.lettering import pieces
from mockup.checks.art.sheets import sheets
from mockup.checks.panel.built import Built
from mockup.model.finding import Finding, Subject
from mockup.reading import network

READS = ("decals", "labels", "parts")
_POT = part_text("A", "pot-16", top=30.49)
_LABEL = '[[label]]\ntext = "III"\nleft = 24\ntop = 45\nwidth = 5\nheight = 3\n'
_BARS = '<path fill="#000" d="M20 40h1v3h-1z m2 0h1v3h-1z m2 0h1v3h-1z"/>'
PLANTED = Case(_POT, _BARS)
SOUND = Case(_POT + _LABEL, _BARS)
ORIGIN = "what was read in the art"


def check(built: Built) -> Iterable[Finding]:
    """Return what is wrong with a built design; pure, never raises, changes nothing."""
    inked = [sheet for sheet in sheets(built) if sheet.is_ink.any()]
    read = [piece for piece in pieces(built) if piece.is_read]
    why = network.unavailable() if inked and not read else ""  # what was read once is known without the networks
    if why:
        yield Finding(
            severity="note",
            title="Lettering was not read",
            what="lettering in the art cannot be recognised on this machine, so only declared labels "
            "are judged ({why})",
            subjects=tuple(dict.fromkeys(sheet.subject for sheet in inked)),
            remedy="Install mockup again with all that it needs, or declare each word with [[label]]",
            origin=ORIGIN,
            facts={"why": why},
        )
        return
    known = {label.face for label in built.design.labels} | {piece.label.face for piece in read}
    for sheet in inked:
        face = sheet.decal.face
        if face not in known and any(part.face == face for part in built.design.parts):
            known.add(face)
            yield Finding(
                severity="note",
                title="No lettering recognised",
                what="no lettering was recognised on the {face} face, so it was not judged how well it reads",
                subjects=(Subject(kind="face", name=face),),
                remedy="If there is any, declare it with [[label]], or click it in the window",
                origin=ORIGIN,
                facts={"face": face},
                marks=(sheet.mark_whole(),),
            )
