"""The lines of an art guide: sets of outlines on one face, each with a look of its own."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace

import numpy as np

from mockup.checks.panel.built import Built
from mockup.checks.panel.shadow import rings
from mockup.clearance.figures import Figure, disc, of_bore, stack
from mockup.clearance.placed import knob_figure
from mockup.enclosure.bores import bores_of
from mockup.enclosure.skin import outer_skin
from mockup.geometry.planar import box_on_face, polygon
from mockup.geometry.polygons import area, hull, shared_area, union
from mockup.model.design import Placement
from mockup.model.enclosure import Face, FaceName
from mockup.model.mesh import Floats
from mockup.model.shape import Outline
from mockup.scene.assemble import TRAVEL_START_DEG

CHORD_MM = 0.004  # a tenth of a pixel at 600 dpi
BARE_MM2 = 0.01  # what covers less of the panel than this lies in its hole: rounding of polygons
CROSS_MM = 1.2  # arm of the cross in the middle of a hole: our choice
_TICK_MM = (0.4, 1.8)  # from the knob's reach to both ends of a mark of its travel: our choice


@dataclass(frozen=True, kw_only=True, eq=False)
class Trace:
    """One line of a guide in face millimetres (n, 2); `circle` is (u, v, radius) where it is one.

    `about` says in a word what it goes round.
    """

    points: Floats
    is_closed: bool = True
    circle: tuple[float, float, float] | None = None
    about: str = ""


@dataclass(frozen=True, kw_only=True)
class LineSet:
    """The look of one set: what it shows, its colour (hex) and its dash (mark and gap in mm), None for a whole line."""

    about: str
    colour: str
    dash_mm: tuple[float, float] | None = None


SETS: Mapping[str, LineSet] = {  # violets for the face, ambers for holes, teals for knobs: our choice
    "edge": LineSet(about="sharp edge of the face", colour="#5a24b8"),
    "rounding": LineSet(about="where the rounding starts", colour="#9a6ce2", dash_mm=(2.4, 1.2)),
    "margin": LineSet(about="safe margin for ink", colour="#c0458e", dash_mm=(1.2, 1.2)),
    "holes": LineSet(about="edges and middles of holes", colour="#b2520c"),
    "nuts": LineSet(about="nuts, washers and flanges", colour="#d39c00", dash_mm=(1.8, 0.6)),
    "knobs": LineSet(about="knobs as they stand", colour="#0d756c"),
    "travel": LineSet(about="how far a knob reaches when turned, and its travel", colour="#2aa9c4", dash_mm=(0.9, 0.9)),
    "labels": LineSet(about="boxes of lettering", colour="#556d14", dash_mm=(0.6, 0.6)),
}


def traces(built: Built, face: FaceName, name: str) -> tuple[Trace, ...]:
    """Return the lines of one set on a face; `KeyError` where there is no such set."""
    return tuple(_SOURCES[name](built, built.faces[face]))


def margin_mm(built: Built) -> float:
    """Return how far inside the flat ink is safe: the limit between ink and the edge that film is cut at."""
    return built.limits["trim_mm"].value


def _edge(built: Built, face: Face) -> Iterator[Trace]:
    if face.name == "top":
        box = built.design.enclosure
        corner = box.corner_mm - box.inset_mm(box.height_mm)
        yield _rounded(0.0, 0.0, face.width_mm, face.height_mm, corner, "edge")
        return
    yield _side(face, 0.0, face.width_mm, 0.0, face.height_mm, "edge")


def _rounding(built: Built, face: Face) -> Iterator[Trace]:
    yield _inside_flat(built, face, 0.0, "rounding")


def _margin(built: Built, face: Face) -> Iterator[Trace]:
    by = margin_mm(built)
    left, top, right, bottom = face.flat
    if 2 * by < min(right - left, bottom - top):
        yield _inside_flat(built, face, by, "margin")


def _inside_flat(built: Built, face: Face, by_mm: float, about: str) -> Trace:
    left, top, right, bottom = face.flat
    if face.name == "top":
        corner = max(outer_skin(built.design.enclosure).top_corner_mm - by_mm, 0.0)
        return _rounded(left + by_mm, top + by_mm, right - by_mm, bottom - by_mm, corner, about)
    across = by_mm * math.hypot(1.0, face.taper)  # along u, from a line that leans
    return _side(face, left + across, right - across, top + by_mm, bottom - by_mm, about)


def _side(face: Face, left: float, right: float, top: float, bottom: float, about: str) -> Trace:
    """Return a drafted side's outline between two heights; `left` and `right` hold at v = 0."""
    corners = [
        (left - face.taper * top, top),
        (right + face.taper * top, top),
        (right + face.taper * bottom, bottom),
        (left - face.taper * bottom, bottom),
    ]
    return Trace(points=np.array(corners), about=about)


def _rounded(left: float, top: float, right: float, bottom: float, corner_mm: float, about: str) -> Trace:
    width, height = right - left, bottom - top
    corner = min(max(corner_mm, 0.0), width / 2, height / 2)
    outline = Outline(kind="rectangle", width_mm=width, height_mm=height, corner_mm=corner)
    middle = ((left + right) / 2, (top + bottom) / 2)
    return Trace(points=polygon(outline, CHORD_MM) * (1.0, -1.0) + middle, about=about)


def _holes(built: Built, face: Face) -> Iterator[Trace]:
    for bore in built.bores:
        if bore.face == face.name:
            yield _round(of_bore(bore), bore.name)
            for u, v in ((CROSS_MM, 0.0), (0.0, CROSS_MM)):
                ends = np.array([[bore.u_mm - u, bore.v_mm - v], [bore.u_mm + u, bore.v_mm + v]])
                yield Trace(points=ends, is_closed=False, about=bore.name)


def _nuts(built: Built, face: Face) -> Iterator[Trace]:
    for part in _on(built, face):
        seen: set[tuple[float, ...]] = set()  # one washer often has several solids
        holes = [_round(of_bore(bore), bore.name).points for bore in bores_of(part)]
        for figure in stack(part):
            key = tuple(round(each, 4) for each in (*figure.core.ravel(), figure.radius_mm))
            trace = _round(figure, part.name)
            covered = area([trace.points]) - sum(shared_area([trace.points], [hole]) for hole in holes)
            if key not in seen and covered > BARE_MM2:
                seen.add(key)
                yield trace


def _knobs(built: Built, face: Face) -> Iterator[Trace]:
    for part in _on(built, face):
        if part.knob is not None:
            alone = replace(part, kind=replace(part.kind, above=()))
            for outline in union([hull(each[:, :2]) for each in rings(alone)]):
                yield Trace(points=outline, about=part.name)


def _travel(built: Built, face: Face) -> Iterator[Trace]:
    for part in _on(built, face):
        figure, shaft = knob_figure(part), part.kind.shaft
        if figure is None or shaft is None:
            continue
        yield _round(disc(part.u_mm, part.v_mm, figure.radius_mm), part.name)
        for turn in (0.0, shaft.travel_deg):
            angle = math.radians(part.rotation_deg + TRAVEL_START_DEG + turn)
            away = np.array([math.sin(angle), -math.cos(angle)])  # clockwise from 12 o'clock, v down
            reach = figure.radius_mm + np.array(_TICK_MM)[:, None]
            yield Trace(points=away * reach + (part.u_mm, part.v_mm), is_closed=False, about=part.name)


def _labels(built: Built, face: Face) -> Iterator[Trace]:
    for label in built.design.labels:
        if label.face == face.name:
            size, at = (label.width_mm, label.height_mm), (label.u_mm, label.v_mm)
            yield Trace(points=box_on_face(size, at, label.rotation_deg), about=label.text)


def _on(built: Built, face: Face) -> Iterator[Placement]:
    return (part for part in built.design.parts if part.face == face.name and part.kind.mount == "panel")


def _round(figure: Figure, about: str) -> Trace:
    """Return the outline of a figure: its core's corners blown up by its radius."""
    if figure.radius_mm <= 0:
        return Trace(points=hull(figure.core), about=about)
    circle = polygon(Outline(kind="circle", width_mm=2 * figure.radius_mm), CHORD_MM)
    points = hull((figure.core[:, None, :] + circle).reshape(-1, 2))
    if len(figure.core) == 1:
        u, v = figure.core[0].tolist()
        return Trace(points=points, circle=(u, v, figure.radius_mm), about=about)
    return Trace(points=points, about=about)


_SOURCES: Mapping[str, Callable[[Built, Face], Iterator[Trace]]] = {
    "edge": _edge,
    "rounding": _rounding,
    "margin": _margin,
    "holes": _holes,
    "nuts": _nuts,
    "knobs": _knobs,
    "travel": _travel,
    "labels": _labels,
}
