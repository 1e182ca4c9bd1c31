"""Room between a hole and the rounding, the corners, the open rim and what stands behind its panel."""

from __future__ import annotations

from collections.abc import Iterator

from mockup.checks import Case, part_text
from mockup.checks.panel.built import Built
from mockup.checks.panel.moves import cure
from mockup.clearance import regions
from mockup.clearance.figures import of_bore
from mockup.clearance.rules import HOLE_BEHIND, HOLE_EDGE, HOLE_RIM
from mockup.model.bore import Bore
from mockup.model.finding import Finding, Limit, Mark, Subject, mm
from mockup.model.units import is_enough

READS = ("enclosure", "parts", "units")
_KIND = '[[kind]]\nname = "hole"\nhole = 8\n'
PLANTED = Case(_KIND + part_text("A", "hole", top=40, left=5))  # reaches to 1 mm from the left, where the edge is round
SOUND = Case(_KIND + part_text("A", "hole", top=40))


def check(built: Built) -> Iterator[Finding]:
    """Yield holes that cannot be drilled where they are, and holes too close to an edge or a post.

    Which holes are impossible the drilled solid says; how far they are off, closed forms.
    """
    bad = {problem.bore: problem for problem in built.shell.problems if problem.trouble != "overlaps"}
    for bore in built.bores:
        name, room, limit = min(_rooms(built, bore), key=lambda each: each[1] - each[2].value)
        problem = bad.get(bore.name)
        if problem is None and is_enough(room, limit.value, built.design.units):
            continue
        what = "the hole of {first} leaves {measured} to {what}, less than {limit}"
        if problem is not None:
            what = "at {first}, {problem}" + (", by {by}" if room < 0 else "")
        yield Finding(
            severity="warn" if problem is None else "stop",
            title="Hole near an edge" if problem is None else "Hole that cannot be drilled",
            what=what,
            subjects=Subject.parts(bore.part),
            edits=cure(built, (bore.part,), HOLE_EDGE, HOLE_RIM, HOLE_BEHIND),
            remedy="Choose a part with a smaller hole, or a larger box",
            measured=mm(room),
            limit=limit if problem is None else limit.quantity,
            facts={"what": name, "problem": problem.what if problem is not None else ""},
            marks=(Mark.at(bore, of_bore(bore).reach_mm + 1.0),),
        )


def _rooms(built: Built, bore: Bore) -> list[tuple[str, float, Limit]]:
    """Return what a hole may come close to, the room that is left, and the limit."""
    box, face, hole = built.design.enclosure, built.faces[bore.face], of_bore(bore)
    edge = "the rounding of the edge" if bore.face == "top" else "the rounding of an edge or corner"
    behind, name = regions.room_behind(box, face, hole)
    return [
        (edge, regions.flat(box, face).room(hole), built.limits["hole_edge_mm"]),
        ("the open rim", regions.above_rim(face).room(hole), built.limits["hole_rim_mm"]),
        (f"{name} behind the panel", behind, built.limits["hole_post_mm"]),
    ]
