"""Art files that were not loaded as they were meant: a ground that is nearly white, a wrong size, lying across."""

from __future__ import annotations

from collections.abc import Iterable

from mockup.checks import Case
from mockup.checks.art.sheets import sheets
from mockup.checks.panel.built import Built
from mockup.decal.account import TroubleName, troubles
from mockup.decal.fitting import flat_mm
from mockup.model.edit import Address
from mockup.model.enclosure import Face
from mockup.model.finding import Finding, Severity
from mockup.model.finish import Decal
from mockup.model.shape import turned

READS = ("decals", "enclosure", "variant")
_GROUND = '<path fill="{}" d="M0 0h50v100h-50z"/><path d="M10 50h30v2h-30z"/>'
PLANTED = Case(art=_GROUND.format("#faf8f0"))
SOUND = Case(art=_GROUND.format("#ffffff"))
_SEVERITIES: dict[TroubleName, Severity] = {
    "nearly white": "warn",
    "turned": "warn",
    "stamp": "warn",
    "larger": "warn",
    "smaller": "note",
    "profile": "note",
}
_FAR_OVER = 1.05  # of the flat's sides: below that, the check of margins says what runs over the edge; our choice


def check(built: Built) -> Iterable[Finding]:
    """Return what is wrong with a built design; pure, never raises, changes nothing."""
    for number, sheet in enumerate(sheets(built)):
        decal, face = sheet.decal, built.faces[sheet.decal.face]
        address = Address(way=("decal", number), variant=built.design.variant)
        for each in troubles(decal, face, address):
            if each.name != "larger" or _is_far_over(decal, face):
                yield Finding(
                    severity=_SEVERITIES[each.name],
                    title=each.title,
                    what="{first}: " + _plain(each.what),
                    subjects=(sheet.subject,),
                    remedy=_plain(each.order),
                    edits=each.edits,
                    origin="what the file says of itself, and the measures of the box",
                    marks=(sheet.mark_whole(),),
                )


def _is_far_over(decal: Decal, face: Face) -> bool:
    across, down = turned(decal.width_mm, decal.height_mm, decal.rotation_deg)
    room = flat_mm(face)
    return across > _FAR_OVER * room[0] or down > _FAR_OVER * room[1]


def _plain(text: str) -> str:
    """Return a sentence as a template that says just that."""
    return text.replace("{", "{{").replace("}", "}}")
