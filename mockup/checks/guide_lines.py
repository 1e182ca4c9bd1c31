"""Drilling guides left in the art: circles at the holes' size, centre crosses, the outline of the face."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np

from mockup.checks import Case, part_text
from mockup.checks.art.curves import STEP_MM, Curve, beside, distances, edge_of, is_inside, segment
from mockup.checks.art.guide_layer import STEP_MM as ALONG_MM
from mockup.checks.art.guide_layer import GuideLine, guide_lines
from mockup.checks.art.sheets import Bits, sheets_on
from mockup.checks.panel.built import Built
from mockup.checks.panel.shadow import from_above
from mockup.model.bore import Bore
from mockup.model.enclosure import DECAL_FACES, FaceName
from mockup.model.finding import Finding, Mark, Subject, mm
from mockup.model.mesh import Floats

LIMITS = """
[guide_mm]
value = 0.3
about = "how near to a hole or an edge a line must run to be taken for a drilling guide"
source = "common practice, no source"
"""
READS = ("decals", "enclosure", "labels", "parts")
_POT = part_text("A", "pot-16", top=30.49)
_CIRCLE = '<circle cx="25" cy="25" r="{}" fill="none" stroke="#000" stroke-width="0.2"/>'
PLANTED = Case(_POT, _CIRCLE.format(3.75))  # on the edge of its hole of 7.5
SOUND = Case(_POT, _CIRCLE.format(12))
LINE_MM = 0.5  # wider is drawn to be seen: common practice, no source
CLEAR_MM = 0.6  # bare film on both sides, or it is part of a picture: common practice, no source
DRAWN = 0.6  # share of a guide that is there; the rest may be dashes or gaps for lettering
STEADY_MM = 0.12  # a guide keeps its distance this well
ARM_MM = 1.5  # of a centre cross, from where the other arm no longer disturbs
CORNER_MM = 8.0  # left out at the ends of the face's sides, where boxes are round
REMEDY = "Switch the guide layer off before you save the art"
MARKS = 12  # at most, on the picture
SEEN_MM = 1.0  # of a guide beside the hardware, before it is worth a warning


@dataclass(frozen=True)
class _Guide:
    """One guide: what it is, how far from the true edge or centre (mm), how much of it shows (mm)."""

    kind: str
    off_mm: float
    seen_mm: float


def check(built: Built) -> Iterable[Finding]:
    """Return what is wrong with a built design; pure, never raises, changes nothing."""
    near = built.limits["guide_mm"].value
    for face in DECAL_FACES:
        if not sheets_on(built, face):
            continue
        covers = {shadow.part: shadow.outline for shadow in from_above(built).get(face, ())}
        layer = guide_lines(built, face)
        if layer:
            yield _layer(built, face, layer, list(covers.values()))
            continue
        for bore in built.bores:
            if bore.face == face:
                cover = covers.get(bore.part, ())
                guides = [*_at_edge(built, bore, cover, near), *_cross(built, bore, cover, near)]
                if guides:
                    yield _at_hole(built, bore, guides)
        yield from _outline(built, face)


def _layer(built: Built, face: FaceName, lines: tuple[GuideLine, ...], covers: list[tuple[Floats, ...]]) -> Finding:
    """Return the one finding about a whole guide that was left on: it has one cause."""
    is_bare = [~np.any([is_inside(line.drawn, cover) for cover in covers], axis=0) for line in lines]
    seen = ALONG_MM * sum(float(each.sum()) for each in is_bare)
    return Finding(
        severity="warn" if seen > SEEN_MM else "note",
        title="Guide layer left on",
        what="a guide layer seems to be on in {subjects}: {many} of its lines lie where the guide of this layout "
        "draws them, {measured} off at most" + (", and {seen} of line will show" if seen > SEEN_MM else ""),
        subjects=tuple(sheet.subject for sheet in sheets_on(built, face)),
        remedy=REMEDY,
        measured=mm(round(max(line.off_mm for line in lines), 2)),
        limit=built.limits["guide_mm"],
        facts={"many": str(len(lines)), "seen": mm(round(seen))},
        marks=tuple(_mark(face, line) for line in lines[:MARKS]),
    )


def _mark(face: FaceName, line: GuideLine) -> Mark:
    low, high = line.drawn.min(axis=0), line.drawn.max(axis=0)
    (u, v), (across, down) = ((low + high) / 2).tolist(), (high - low).tolist()
    return Mark(face=face, u_mm=u, v_mm=v, radius_mm=max(math.hypot(across, down) / 2, 1.0), box_mm=(across, down))


def line_beside(ink: Bits, offsets: Floats, near_mm: float) -> tuple[Bits, float]:
    """Return where a thin line runs beside a curve (n,), and how far from it in the middle.

    `ink` (n, offsets) as from `beside`. A line is at most `LINE_MM` wide, starts and ends clear, lies
    within `near_mm` and keeps its distance; (all False, 0) where there is none.
    """
    width = ink.sum(axis=1) * STEP_MM
    middle = (ink * offsets).sum(axis=1) / np.maximum(ink.sum(axis=1), 1)
    extent = np.where(
        ink.any(axis=1), (ink.shape[1] - ink[:, ::-1].argmax(axis=1) - ink.argmax(axis=1)) * STEP_MM, np.inf
    )
    is_line = (width > 0) & (extent <= LINE_MM + 2 * STEP_MM) & (np.abs(middle) <= near_mm)
    if not is_line.any():
        return is_line, 0.0
    usual = float(np.median(middle[is_line]))
    return is_line & (np.abs(middle - usual) <= STEADY_MM), usual


def _at_edge(built: Built, bore: Bore, cover: tuple[Floats, ...], near: float) -> Iterator[_Guide]:
    curve = edge_of(bore)
    offsets = distances(-near - CLEAR_MM, near + CLEAR_MM)
    is_line, off = line_beside(beside(built, bore.face, curve, offsets), offsets, near)
    if is_line.mean() >= DRAWN:
        points = curve.points + (off + LINE_MM / 4) * curve.normals  # its outer half: the inner may be drilled away
        yield _Guide("a line along its edge", off, _length(points[is_line & ~is_inside(points, cover)], curve))


def _length(points: Floats, curve: Curve) -> float:
    """Return how long a line is that some of a curve's points mark."""
    spacing = float(np.median(np.hypot(*np.diff(curve.points, axis=0).T)))
    return len(points) * spacing


def _cross(built: Built, bore: Bore, cover: tuple[Floats, ...], near: float) -> Iterator[_Guide]:
    """Yield a cross in the middle of a hole: two thin lines along the face's own directions."""
    centre = np.array([bore.u_mm, bore.v_mm])
    reach = max(bore.outline.width_mm, bore.outline.height_mm) / 2 + 6.0
    offsets = distances(-near - CLEAR_MM, near + CLEAR_MM)
    off, seen = 0.0, 0.0
    for along in (np.array([1.0, 0.0]), np.array([0.0, 1.0])):
        curve = segment(centre - reach * along, centre + reach * along, 0.1)
        is_line, at = line_beside(beside(built, bore.face, curve, offsets), offsets, near)
        from_centre = np.abs((curve.points - centre) @ along)
        arms = (from_centre >= CLEAR_MM + near) & (from_centre <= CLEAR_MM + near + ARM_MM)
        if is_line[arms].mean() < DRAWN:
            return
        off = max(off, abs(at))
        bare = ~is_inside(curve.points, cover)
        seen += float((is_line & bare).sum()) * 0.1
    yield _Guide("a centre cross", off, seen)


def _at_hole(built: Built, bore: Bore, guides: list[_Guide]) -> Finding:
    limit = built.limits["guide_mm"]
    seen = sum(guide.seen_mm for guide in guides)
    worst = max(guides, key=lambda guide: guide.seen_mm)
    return Finding(
        severity="warn" if seen > SEEN_MM else "note",
        title="Drilling guide left in the art",
        what="at the hole of {first} the art has {kinds}, {measured} off the true one; "
        + ("{seen} of it will show" if seen > SEEN_MM else "its hardware hides it"),
        subjects=Subject.parts(bore.part),
        remedy=REMEDY,
        measured=mm(round(abs(worst.off_mm), 2)),
        limit=limit,
        facts={"kinds": " and ".join(guide.kind for guide in guides), "seen": mm(round(seen))},
        marks=(Mark.at(bore, max(bore.outline.width_mm, bore.outline.height_mm) / 2 + 1.0),),
    )


def _outline(built: Built, face: FaceName) -> Iterator[Finding]:
    """Yield the face's own outline, at its sharp edge or (on top) at the box's nominal size."""
    limit, frame, box = built.limits["guide_mm"], built.faces[face], built.design.enclosure
    margins = {"the face's sharp edge": 0.0}
    if face == "top":
        margins["the box's outer size"] = (box.width_mm - frame.width_mm) / 2
    for name, out in margins.items():
        sides = _sides(frame.width_mm, frame.height_mm, out)
        offsets = distances(-limit.value - CLEAR_MM, limit.value + CLEAR_MM)
        found = [line_beside(beside(built, face, side, offsets), offsets, limit.value) for side in sides]
        drawn = [
            (side, is_line, off) for side, (is_line, off) in zip(sides, found, strict=True) if is_line.mean() >= DRAWN
        ]
        if len(drawn) < 3:
            continue
        off = max((abs(each) for _, _, each in drawn))
        length = sum(_length(side.points[is_line], side) for side, is_line, _ in drawn)
        yield Finding(
            severity="warn",
            title="Outline left in the art",
            what="{subjects} shows {length} of line along {outline}, no more than {measured} off",
            subjects=tuple(sheet.subject for sheet in sheets_on(built, face)),
            remedy=REMEDY,
            measured=mm(round(off, 2)),
            limit=limit,
            facts={"outline": name, "length": mm(round(length))},
            marks=tuple(
                Mark(face=face, u_mm=float(side.points[:, 0].mean()), v_mm=float(side.points[:, 1].mean()))
                for side, _, _ in drawn
            ),
        )
        return


def _sides(width: float, height: float, out: float) -> list[Curve]:
    """Return the four sides of a rectangle, `out` larger than the face all round, without its corners."""
    low, right, bottom, skip = -out, width + out, height + out, CORNER_MM
    ends = (
        ((low + skip, low), (right - skip, low)),
        ((right, low + skip), (right, bottom - skip)),
        ((right - skip, bottom), (low + skip, bottom)),
        ((low, bottom - skip), (low, low + skip)),
    )
    return [segment(np.array(start), np.array(end)) for start, end in ends if math.dist(start, end) > skip]
