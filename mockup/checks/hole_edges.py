"""Room between a hole and the rounding, the corners, the open rim and what stands behind its panel."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from mockup.checks.panel.built import Built
from mockup.checks.panel.face_room import CLOSE_MM, margins
from mockup.checks.panel.moves import remedy
from mockup.checks.panel.plan import of_bore, room_behind, room_in_flat, room_to_rim
from mockup.checks.report.words import SHAPES, is_enough, length
from mockup.model.bore import Bore
from mockup.model.design import Placement
from mockup.model.finding import Finding, Limit, Mark
from mockup.model.limits import Limits

READS = ("enclosure", "parts", "units")


def check(built: Built, limits: Limits) -> Iterator[Finding]:
    """Yield holes that cannot be drilled where they are, and holes too close to an edge or a post.

    Which holes are impossible the drilled solid says; how far they are off, closed forms.
    """
    bad = {problem.bore: problem for problem in built.shell.problems if problem.trouble != "overlaps"}
    for bore in built.bores:
        rooms = _rooms(built, limits, bore)
        name, room, limit = min(rooms, key=lambda each: each[1] - each[2].value)
        if bore.name in bad:
            what = bad[bore.name].what.replace("the hole", f"The hole of {bore.part}", 1)
            if room < 0:
                what += f", by {length(-room, built.design.units)}"
            yield _finding(built, limits, bore, "stop", what, room, limit)
        elif not is_enough(room, limit.value, built.design.units):
            units = built.design.units
            what = f"The hole of {bore.part} leaves {length(room, units)} to {name}, less than " + (
                length(limit.value, units)
            )
            yield _finding(built, limits, bore, "warn", what, room, limit)


def _rooms(built: Built, limits: Limits, bore: Bore) -> list[tuple[str, float, Limit]]:
    """Return what a hole may come close to, the room that is left, and the limit."""
    box, face, hole = built.design.enclosure, built.faces[bore.face], of_bore(bore)
    edge = "the rounding of the edge" if bore.face == "top" else "the rounding of an edge or corner"
    behind, name = room_behind(box, face, hole, built.posts)
    return [
        (edge, room_in_flat(box, face, hole), limits["hole_edge_mm"]),
        ("the open rim", room_to_rim(face, hole), limits["hole_rim_mm"]),
        (f"{name}, seen through the panel", behind, limits["hole_post_mm"]),
    ]


def _finding(built: Built, limits: Limits, bore: Bore, severity: str, what: str, room: float, limit: Limit) -> Finding:
    stops = severity == "stop"
    return Finding(
        check="hole-edges",
        severity="stop" if stops else "warn",
        subjects=(bore.part,),
        what=what,
        remedy=remedy(built, limits, (bore.part,), partial(_is_clear, built, limits))
        or "Choose a part with a smaller hole, or a larger box",
        source=SHAPES if stops else limit.source,
        measured=room,
        limit=limit.value,
        unit="mm",
        marks=(Mark(face=bore.face, u_mm=bore.u_mm, v_mm=bore.v_mm, radius_mm=of_bore(bore).reach_mm + 1.0),),
    )


def _is_clear(built: Built, limits: Limits, moved: Placement, others: tuple[Placement, ...]) -> bool:
    rooms = margins(built, limits, moved, others)
    return all(room >= -CLOSE_MM for (kind, _), room in rooms.items() if kind in ("edge", "rim", "behind"))
