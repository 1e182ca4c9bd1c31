"""Lamps that a knob or other hardware hides from a standing player."""

from __future__ import annotations

from collections.abc import Iterator

from mockup.checks import Case, part_text
from mockup.checks.panel.built import Built
from mockup.checks.panel.moves import freeing
from mockup.checks.panel.shadow import hidden_share, is_seen, lens_seen, player_eye, shadows
from mockup.clearance.rules import LENS
from mockup.model.design import Placement
from mockup.model.finding import Finding, Mark, Quantity, Subject
from mockup.model.mesh import Floats

LIMITS = """
[lamp_hidden_percent]
value = 40.0
unit = "%"
about = "share of a lamp's lens that hardware may hide from a standing player"
source = "common practice, no source"
"""
READS = ("enclosure", "parts", "units")
_A = part_text("A", "pot-16", top=40, knob={"style": "barrel", "diameter": 18, "height": 20})
PLANTED = Case(_A + part_text("EYE", "lamp-3", top=28.6))  # its lens 11.4 mm beyond the axis of a knob 20 mm high
SOUND = Case(_A + part_text("EYE", "lamp-3", top=22))


def check(built: Built) -> Iterator[Finding]:
    """Yield lamps whose lens is hidden from the eye of a usual player; what covers one from above is told before."""
    eye = player_eye(built, built.limits["eye_mm"].value, built.limits["stance_mm"].value)
    lamps = [part for part in built.design.parts if part.kind.is_lamp and part.kind.mount == "panel"]
    covered = {margin.parts for margin in built.broken(LENS)}
    for part in lamps:
        if is_seen(built, part.face, eye):
            yield from _hidden(built, part, eye, {first for first, second in covered if second == part.name})


def _hidden(built: Built, part: Placement, eye: Floats, told: set[str]) -> Iterator[Finding]:
    limit = built.limits["lamp_hidden_percent"]
    seat = built.faces[part.face].from_world(eye)
    others = [each for each in shadows(built, part.face, eye) if each.part != part.name and each.part not in told]

    def cover(lamp: Placement) -> tuple[float, tuple[str, ...]]:
        return max((hidden_share(lens, others) for lens in lens_seen(lamp, seat)), default=(0.0, ()))

    share, by = cover(part)
    if 100 * share <= limit.value:
        return
    yield Finding(
        severity="warn",
        title="Lamp hidden",
        what="{parts} hides {measured} of the lens of {first} from a standing player",
        subjects=Subject.parts(part.name, *by),
        edits=freeing(built, part.name, lambda lamp: 100 * cover(lamp)[0] <= limit.value),
        remedy="Move {first} away from it, or choose a lower or smaller knob",
        measured=Quantity(round(100 * share), "%"),
        limit=limit,
        facts={"parts": Subject.parts(by[0])},
        marks=(Mark.at(part, 4.0),),
    )
