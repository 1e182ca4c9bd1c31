"""The drawing of drilled faces: outlines, holes, centre marks, numbers and dimensions, in the plane."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from mockup.drawing.dimension import COLOUR, LINE_MM, Station, running
from mockup.drawing.drills import number
from mockup.drawing.holes import Hole, drill_words, guides, in_order, size_words
from mockup.drawing.lettering import Area, overlap_mm2, overlaps_mm2, shortened, text_area, width_mm
from mockup.drawing.unfold import Panel, bend_mm, closed_path, placed, turned
from mockup.geometry.planar import reach
from mockup.memo import memoize
from mockup.model.enclosure import Enclosure, FaceName
from mockup.model.material import Colour
from mockup.model.shape import Point
from mockup.model.sheet import INK, Circle, Line, Mark, Path, Rectangle, Text
from mockup.model.units import Unit

OUTLINE_MM, HOLE_MM, CROSS_MM, PILOT_LINE_MM = 0.35, 0.25, 0.13, 0.13  # thick and thin, about 2 to 1: ISO 128-2
FOLD_MM, FOLD_DASH_MM = 0.13, (1.6, 1.0)
NUMBER_MM, NAME_MM = 2.6, 2.6
_WORDS_MM, _WORDS_PITCH_MM = 2.1, 2.6  # of the lines below a hole's number
_GREY: Colour = (0.45, 0.45, 0.45)
_AROUND_DEG = (-45, 45, -135, 135, -25, 25, -155, 155, -65, 65, -115, 115, 0, 180, -90, 90)  # best first: our choice
_RELUCTANCE_MM2 = 0.01  # each further place is worth avoiding this much overlap: our choice
_COVERED = 4.0  # how much worse lettering over lettering is than lettering that is hard to place: our choice
_REACHED_MM = 45.0  # from a hole's edge: its words end nearer than that
_ROUNDS = 3  # the places change little after that
_PAPER: Colour = (1.0, 1.0, 1.0)
_GUESS_MM2 = 3.0  # of overlap that a clear place is worth: our choice
_NAMED_MM2, _NAME_ROOM_MM = 6.0, 24.0  # of overlap that a hole's name is worth, and how long it gets: our choice
_LONGER_MM2 = 1.0  # of overlap that a hole's drills, said beside it, are worth: our choice
_AIR_MM = 0.8  # between lettering and the edges of a face's flat
_BEYOND_MM = 2.0  # of a centre line beyond its hole: common practice, no source


@dataclass(frozen=True, kw_only=True, eq=False)
class Drawing:
    """Marks in a plane of their own, and the area (left, top, right, bottom) that they need."""

    caption: str
    marks: tuple[Mark, ...]
    area: Area


@memoize
def face_drawing(
    box: Enclosure,
    panels: Mapping[FaceName, Panel],
    holes: Sequence[Hole],
    units: Unit,
    caption: str,
    *,
    has_sizes: bool = True,
) -> Drawing:
    """Return one drawing of some panels: all of them unfolded round the top, or a single one.

    Without sizes the holes have their numbers and names beside them, and no drills.
    """
    is_alone = len(panels) == 1
    marks: list[Mark] = []
    taken: list[Area] = []
    for panel in panels.values():
        own = in_order(holes, panel.face.name)
        marks += outline(box, panel, beside=None if is_alone else frozenset(panels))
        for hole in own:
            marks += hole_marks(panel, hole)
        found = list(_dimensions(panel, own, units, is_inside=panel.face.name == "top" and not is_alone))
        marks += _cleared(panel, own, found)
        taken += [area for hole in own for area in _hole_areas(panel, hole)]
        taken += [text_area(each) for each in found if isinstance(each, Text)]
    for panel in panels.values():
        name = _face_name(panel, taken)
        taken.append(text_area(name))
        marks.append(name)
    placed_texts: dict[int, tuple[Text, ...]] = {}
    for _ in range(_ROUNDS):  # each round, every hole's words look for a better place among the others'
        for panel in panels.values():
            beside = in_order(holes, panel.face.name)
            for hole in beside:
                others = [
                    text_area(text) for number, texts in placed_texts.items() if number != hole.number for text in texts
                ]
                placed_texts[hole.number] = _callout(
                    panel, hole, beside, [*taken, *others], units if has_sizes else None
                )
    for texts in placed_texts.values():
        taken += map(text_area, texts)
        marks += texts
    corners = [corner for panel in panels.values() for corner in panel.corners()]
    areas = [*taken, *((x, y, x, y) for x, y in corners)]
    area = (
        min(each[0] for each in areas) - 1.0,
        min(each[1] for each in areas) - 1.0,
        max(each[2] for each in areas) + 1.0,
        max(each[3] for each in areas) + 1.0,
    )
    return Drawing(caption=caption, marks=tuple(marks), area=area)


def outline(box: Enclosure, panel: Panel, *, beside: frozenset[FaceName] | None) -> Iterator[Path | Line]:
    """Yield a panel's cutting line and its folds; `beside` names the panels it hangs together with, None for none.

    Unfolded, a side's sharp top edge gives way to two dashed fold lines, where the rounding begins and
    ends; the top's own sharp edge stays as a thin line, for its figures count from there.
    """
    face, flat = panel.face, box.flat_inset_mm
    if beside is None:
        yield closed_path(panel.corners(), OUTLINE_MM)
        if box.edge_mm > 0:
            left, low = (flat, face.height_mm - flat) if face.name == "top" else (0.0, 0.0)
            if face.name == "top":
                ring = [
                    panel.at(left, flat),
                    panel.at(face.width_mm - left, flat),
                    panel.at(face.width_mm - left, low),
                    panel.at(left, low),
                ]
                yield closed_path(ring, FOLD_MM, FOLD_DASH_MM)
            else:
                yield _line(
                    panel.at(face.left_edge(flat), flat), panel.at(face.right_edge(flat), flat), LINE_MM, FOLD_DASH_MM
                )
        return
    if face.name == "top":
        a, b, c, d = panel.corners()
        edges: tuple[tuple[FaceName, Point, Point], ...] = (
            ("far", a, b),
            ("right", b, c),
            ("near", c, d),
            ("left", d, a),
        )
        for name, start, end in edges:
            yield _line(start, end, LINE_MM if name in beside else OUTLINE_MM)
        return
    fold = flat - bend_mm(box)  # of the side's own v: where the top's flat ends, unrolled
    a, b, c, d = panel.corners(flat)
    for at in {fold, flat} if box.edge_mm > 0 else {0.0}:
        yield _line(panel.at(flat, at), panel.at(face.width_mm - flat, at), FOLD_MM, FOLD_DASH_MM)
    starts = (panel.at(face.left_edge(flat), fold), panel.at(face.right_edge(flat), fold))
    yield Path(points=(starts[0], a, d, c, b, starts[1]), is_closed=False, stroke=INK, line_mm=OUTLINE_MM)


def hole_marks(panel: Panel, hole: Hole) -> Iterator[Mark]:
    """Yield a hole's edge, its centre cross and its pilot circles."""
    bore = hole.bore
    at, turn = panel.at(bore.u_mm, bore.v_mm), bore.rotation_deg + panel.turn_deg
    yield hole_edge(panel, hole)
    if hole.pilot_mm < min(bore.outline.width_mm, bore.outline.height_mm or math.inf) - 0.2:
        for each in guides(bore.outline):
            x, y = turned(each, at, turn)
            yield Circle(x_mm=x, y_mm=y, radius_mm=hole.pilot_mm / 2, stroke=_GREY, line_mm=PILOT_LINE_MM)
    yield from centre_cross(panel, hole)


def hole_edge(panel: Panel, hole: Hole) -> Circle | Path:
    """Return a hole's edge, true to size."""
    bore = hole.bore
    at = panel.at(bore.u_mm, bore.v_mm)
    if bore.outline.kind == "circle":
        return Circle(x_mm=at[0], y_mm=at[1], radius_mm=bore.outline.width_mm / 2, stroke=INK, line_mm=HOLE_MM)
    points, bulges = placed(bore.outline, at, bore.rotation_deg + panel.turn_deg)
    return Path(points=points, bulges=bulges, stroke=INK, line_mm=HOLE_MM)


def centre_cross(panel: Panel, hole: Hole) -> tuple[Line, Line]:
    """Return the two centre lines of a hole, along the face's own directions."""
    bore = hole.bore
    arm = reach(bore.outline) + _BEYOND_MM
    x, y = panel.at(bore.u_mm, bore.v_mm)
    return (
        _line((x - arm, y), (x + arm, y), CROSS_MM),
        _line((x, y - arm), (x, y + arm), CROSS_MM),
    )


def titles(panels: Mapping[FaceName, Panel], holes: Sequence[Hole], face: FaceName) -> tuple[Text, ...]:
    """Return the number and name of each hole of a face, clear of its holes and of one another where that can be."""
    panel, own = panels[face], in_order(holes, face)
    taken = [area for hole in own for area in _hole_areas(panel, hole)]
    found: list[Text] = []
    for hole in own:
        _, lines = _placed_words(panel, hole, own, taken, (f"{hole.number}  {hole.name}",))
        found += lines
        taken += map(text_area, lines)
    return tuple(found)


def _cleared(panel: Panel, holes: Sequence[Hole], found: Sequence[Mark]) -> Iterator[Mark]:
    """Yield dimensions; where a hole's centre line runs under a figure it is interrupted, but never a hole's edge."""
    areas = [tuple(_hole_areas(panel, hole)) for hole in holes]
    for mark in found:
        if isinstance(mark, Text):
            area = text_area(mark)
            is_crossed = any(overlap_mm2(area, arm) for _, *arms in areas for arm in arms)
            if is_crossed and not any(overlap_mm2(area, edge) for edge, *_ in areas):
                left, top, right, bottom = area
                yield Rectangle(
                    x_mm=left, y_mm=top - 0.3, width_mm=right - left, height_mm=bottom - top + 0.3, fill=_PAPER
                )
        yield mark


def _dimensions(panel: Panel, holes: Sequence[Hole], units: Unit, *, is_inside: bool) -> Iterator[Mark]:
    """Yield both sets of running dimensions of a panel: along its datum edge, and up from it."""
    if not holes:
        return
    face, is_top = panel.face, panel.face.name == "top"
    low = 0.0 if is_top else face.height_mm
    lowest = max(hole.bore.v_mm for hole in holes)
    across = [Station(at=panel.at(hole.bore.u_mm, low), text=number(hole.across_mm, units)) for hole in holes]
    across.append(Station(at=panel.at(face.left_edge(0.0 if is_top else lowest), low), text="0"))
    side = face.left_edge(low)
    along = [Station(at=panel.at(side, hole.bore.v_mm), text=number(hole.along_mm, units)) for hole in holes]
    along.append(Station(at=panel.at(side, low), text="0"))
    sign = 1.0 if is_inside else -1.0
    off_edge = panel.direction(0.0, sign if is_top else 1.0)
    off_side = panel.direction(sign, 0.0)
    if is_inside:  # the corner is crowded: a ring marks the origin (ISO 129-1) in place of two figures 0
        across, along = across[:-1], along[:-1]
        x, y = panel.at(0.0, 0.0)
        yield Circle(x_mm=x, y_mm=y, radius_mm=0.7, stroke=COLOUR, line_mm=LINE_MM)
    yield from running(across, off_edge)
    yield from running(along, off_side)


def _hole_areas(panel: Panel, hole: Hole) -> Iterator[Area]:
    """Yield what a hole and its two centre lines cover, with a little air."""
    x, y = panel.at(hole.bore.u_mm, hole.bore.v_mm)
    radius, air = reach(hole.bore.outline) + 0.4, 0.3
    arm = radius + _BEYOND_MM
    yield x - radius, y - radius, x + radius, y + radius
    yield x - arm, y - air, x + arm, y + air
    yield x - air, y - arm, x + air, y + arm


def _callout(
    panel: Panel, hole: Hole, beside: Sequence[Hole], taken: Sequence[Area], units: Unit | None
) -> tuple[Text, ...]:
    """Return a hole's number, name, size and drills beside it, where they cover least of what is there.

    Drills and name, which the table of holes says too, stay away where there is no room for them. Size and drills are
    said in `units`, None where they are not said.
    """
    x, y = panel.at(hole.bore.u_mm, hole.bore.v_mm)
    reached = reach(hole.bore.outline) + _REACHED_MM
    window = (x - reached, y - reached, x + reached, y + reached)
    taken = [each for each in taken if overlap_mm2(each, window)]
    title = str(hole.number)
    named = f"{title}  {shortened(hole.name, NUMBER_MM, _NAME_ROOM_MM)}"
    if units is None:
        return _placed_words(panel, hole, beside, taken, (named,))[1]
    size = size_words(hole.bore.outline, units)
    least_cost, least = _placed_words(panel, hole, beside, taken, (title, size))
    named_cost, found = _placed_words(panel, hole, beside, taken, (named, size))
    if named_cost > least_cost + _NAMED_MM2:
        return least
    if not hole.finish:
        cost, longer = _placed_words(panel, hole, beside, taken, (named, size, drill_words(hole, units)))
        found = longer if cost <= named_cost + _LONGER_MM2 else found
    return found


def _placed_words(
    panel: Panel, hole: Hole, beside: Sequence[Hole], taken: Sequence[Area], words: Sequence[str]
) -> tuple[float, tuple[Text, ...]]:
    """Return the best place of some lines, the first one bold, beside a hole, and what it costs.

    No nearer to another hole than to its own, if that can be: nobody shall have to guess.
    """
    others = [
        (panel.at(each.bore.u_mm, each.bore.v_mm), reach(each.bore.outline)) for each in beside if each is not hole
    ]
    x, y = panel.at(hole.bore.u_mm, hole.bore.v_mm)
    radius = reach(hole.bore.outline)
    wide = [width_mm(each, _WORDS_MM if row else NUMBER_MM) for row, each in enumerate(words)]
    found: list[tuple[float, tuple[Text, ...], list[Area]]] = []
    tried = ((angle, far) for far in (0.6, 2.4, 4.5) for angle in _AROUND_DEG)
    for index, (angle, far) in enumerate(tried):
        dx, dy = math.cos(math.radians(angle)), math.sin(math.radians(angle))
        px, py = x + dx * (radius + far), y + dy * (radius + far)
        anchor = "start" if dx > 0.3 else "end" if dx < -0.3 else "middle"
        more = _WORDS_PITCH_MM * (len(words) - 2)
        first = py + (-1.6 - more if dy < -0.3 else 2.1 if dy > 0.3 else -0.2 - more / 2)
        lines = (
            Text(x_mm=px, y_mm=first, text=words[0], size_mm=NUMBER_MM, anchor=anchor, is_bold=True),  # type: ignore[arg-type]
            *(
                Text(x_mm=px, y_mm=first + _WORDS_PITCH_MM * row, text=each, size_mm=_WORDS_MM, anchor=anchor)  # type: ignore[arg-type]
                for row, each in enumerate(words[1:], 1)
            ),
        )
        areas = list(map(text_area, lines, wide))
        cost = 2.0 * sum(_outside(panel, area) for area in areas) + _RELUCTANCE_MM2 * index
        second = areas[min(1, len(areas) - 1)]
        middle = ((second[0] + second[2]) / 2, (areas[0][1] + areas[-1][3]) / 2)
        own = math.dist(middle, (x, y)) - radius
        cost += _GUESS_MM2 * sum(math.dist(middle, at) - wide < own for at, wide in others)
        found.append((cost, lines, areas))
    covered = overlaps_mm2(np.array([areas for *_, areas in found]), np.array(taken).reshape(-1, 4)).sum(axis=1)
    costs = [cost + _COVERED * over for (cost, *_), over in zip(found, covered.tolist(), strict=True)]
    best = costs.index(min(costs))
    return costs[best], found[best][1]


def _outside(panel: Panel, area: Area) -> float:
    """Return how much of an area lies outside of the flat part of a panel."""
    face = panel.face
    left, top, right, bottom = face.flat
    one, other = panel.at(left, top), panel.at(right, bottom)
    whole = (area[2] - area[0]) * (area[3] - area[1])
    room = (
        min(one[0], other[0]) + _AIR_MM,
        min(one[1], other[1]) + _AIR_MM,
        max(one[0], other[0]) - _AIR_MM,
        max(one[1], other[1]) - _AIR_MM,
    )
    return whole - overlap_mm2(area, room)


def _face_name(panel: Panel, taken: Sequence[Area]) -> Text:
    """Return the face's name in its panel, low and in the middle if there is room, else where it covers least."""
    left, top, right, bottom = panel.face.flat
    one, other = panel.at(left, top), panel.at(right, bottom)
    words = panel.face.name.upper()
    half = width_mm(words, NAME_MM) / 2 + _AIR_MM
    xs = [min(one[0], other[0]) + half, (one[0] + other[0]) / 2, max(one[0], other[0]) - half]
    ys = [max(one[1], other[1]) - 2.0, min(one[1], other[1]) + 3.5, (one[1] + other[1]) / 2]
    places = [
        Text(x_mm=x, y_mm=y, text=words, size_mm=NAME_MM, anchor="middle", is_bold=True, colour=_GREY)
        for y in ys
        for x in (xs[1], xs[0], xs[2])
    ]

    def cost(place: tuple[int, Text]) -> float:
        area = text_area(place[1])
        return sum(overlap_mm2(area, each) for each in taken) + 2.0 * _outside(panel, area) + 0.01 * place[0]

    return min(enumerate(places), key=cost)[1]


def _line(start: Point, end: Point, line_mm: float, dash_mm: tuple[float, float] | None = None) -> Line:
    return Line(x1_mm=start[0], y1_mm=start[1], x2_mm=end[0], y2_mm=end[1], line_mm=line_mm, dash_mm=dash_mm)
