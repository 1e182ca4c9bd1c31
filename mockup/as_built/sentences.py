"""What was measured of a box and what follows, in sentences."""

from __future__ import annotations

from mockup.as_built.comparison import AsBuilt
from mockup.as_built.plan_b import plans
from mockup.geometry.rigid import RigidMove
from mockup.model.units import Unit, format_length


def lines(told: AsBuilt) -> tuple[str, ...]:
    """Return what was measured and what follows, a line each, in the reader's units."""
    units = told.design.units
    said = [
        f"{each.bore.words}, {each.bore.face}: {way(each.right_mm, each.down_mm, units)}, "
        f"to within {format_length(each.built.doubt_mm, units)}" + (f", by {each.built.by}" if each.built.by else "")
        for each in told.holes
    ]
    for face in told.faces:
        if len(face.holes) < 2:
            continue
        left = f"among themselves its holes are off by {format_length(round(face.worst_left_mm, 3), units)} at most"
        whole = f"the pattern as a whole lies {way(*face.move.shift, units)}, turned by {_turn(face.move)}"
        if not face.is_placed:
            whole = "where the pattern as a whole lies on the box is not measured"
        said.append(f"{face.face}: {whole}; {left}")
    for decal in told.decals:
        place = f"{way(*decal.shift_mm, units)} of its place, turned by {_turn(decal.move)}"
        if not all(hole.is_placed for hole in decal.holes):
            place = "by the holes, not by the edges"
        name, left = decal.decal.art.name, format_length(round(max(decal.left_mm), 2), units)
        said.append(f"{name}, {decal.decal.face}: lay it {place}; then no hole is off its art by more than {left}")
        said += [each.words(told.design) for each in plans(told.design, decal) if each.way != "nothing"]
    if told.moved:
        names = "; ".join(each.bore.words for each in told.moved)
        said.append(f"the layout has moved since it was drilled: {names}; what is off by that is no slip of the hand")
    if told.unmeasured:
        said.append(f"not measured: {'; '.join(bore.words for bore in told.unmeasured)}")
    return tuple(said)


def _turn(move: RigidMove) -> str:
    """Return a turn in words."""
    return f"{round(move.turn_deg, 2) + 0.0:.2f} degrees"


def way(right_mm: float, down_mm: float, units: Unit) -> str:
    """Return a way in words: ``0.3 mm right, 0.1 mm up``."""
    across = format_length(round(abs(right_mm), 2), units)
    down = format_length(round(abs(down_mm), 2), units)
    return f"{across} {'right' if right_mm >= 0 else 'left'}, {down} {'down' if down_mm >= 0 else 'up'}"
