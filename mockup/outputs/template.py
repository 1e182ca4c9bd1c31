"""Draw the drill template at true size: PDF to print, SVG or DXF to cut."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import get_args

from mockup.drawing.faces import OUTLINE_MM, Drawing, centre_cross, face_drawing, hole_edge, outline, titles
from mockup.drawing.feed import stretched, usable
from mockup.drawing.holes import Hole, drill_words, holes, in_order, size_words
from mockup.drawing.lettering import lines, text_area
from mockup.drawing.paper import cautions, numbered, sheets
from mockup.drawing.table import table_pages
from mockup.drawing.unfold import Panel, unfolded
from mockup.encode.dxf import dxf
from mockup.encode.pdf import pdf
from mockup.encode.svg import svg
from mockup.fingerprint import fingerprint
from mockup.model.design import Design
from mockup.model.enclosure import FACES, Enclosure, Face, FaceName, faces
from mockup.model.sheet import Circle, Layer, Line, Mark, Page, Path, Text, moved
from mockup.model.units import Unit
from mockup.options import Progress, Result, file_stem, option, require_ending, silent
from mockup.outputs.pages.open_stops import mark, notes, open_stops
from mockup.outputs.pages.page_heading import page_heading
from mockup.outputs.pages.paper_sizes import page_size

_SUFFIXES = (".pdf", ".svg", ".dxf")
_APART_MM = 10.0  # between faces drawn one by one for a cutter
_NOTE_MM, _NOTES_OFF_MM = 3.0, 10.0  # of the cautions under the drawing for a cutter: size, and how far below
_CUT_MARGIN_MM = 5.0  # round the drawing in an SVG file for a cutter


@dataclass(frozen=True, kw_only=True)
class Options:
    """What to draw, on which paper, and where to put it."""

    page: str = option("a4", 'paper: a4, letter, or width x height such as "420x297" or "11x17 in"')
    faces: str = option(
        "unfolded",
        "unfolded: drilled faces round the top; each: one by one",
        choices=("unfolded", "each"),
        noun="arrangement of faces",
    )
    units: Unit | None = option(
        None, "unit of the figures; the layout's own where none is given", choices=get_args(Unit), noun="unit"
    )
    open_stops: int = open_stops()
    output: str | None = option(None, "file to write: .pdf, .svg or .dxf", short="o", suffixes=_SUFFIXES)


def make(design: Design, options: Options, progress: Progress = silent) -> Result:
    """Return the template in the form that the file's name asks for."""
    path = require_ending(options.output or f"{file_stem(design.name)}-template.pdf", _SUFFIXES)
    suffix = path.suffix.lower()
    units = options.units or design.units
    box_faces = faces(design.enclosure)
    found = holes(design, box_faces, units)
    progress(0, 1, "template")
    drilled = _drilled(found)
    if suffix == ".pdf":
        pages = template_pages(design, options)
        extra: dict[str, object] = {"pages": len(pages)}
        data = pdf(pages, title=f"{design.name}: drill template")
    else:
        is_unfolded = options.faces == "unfolded"
        panels = unfolded(design.enclosure, box_faces, drilled) if is_unfolded else _apart(box_faces, drilled)
        layers = _layers(design.enclosure, panels, found, is_unfolded=is_unfolded)
        extra = {"layers": [each.name for each in layers]}
        variant = f"variant {design.variant}" if design.variant else ""
        words = (f"{design.name}: drill template", variant, f"design {fingerprint(design)}", mark(options.open_stops))
        title = ", ".join(filter(None, words))
        data = dxf(layers, title) if suffix == ".dxf" else _cut_svg(layers, title)
    progress(1, 1, "done")
    facts = {
        "file": str(path),
        "design": fingerprint(design),
        "faces": list(drilled),
        **extra,
        "holes": [_facts(hole, units) for hole in found],
    }
    return Result(files={str(path): data}, facts=facts, notes=(*notes(options.open_stops), *_notes(design, found)))


def template_pages(design: Design, options: Options) -> list[Page]:
    """Return the pages of a template: the faces, as many sheets as they need, and the table of holes."""
    paper = page_size(options.page)
    units = options.units or design.units
    box, box_faces = design.enclosure, faces(design.enclosure)
    found = holes(design, box_faces, units)
    drilled = _drilled(found)
    size, _ = usable(paper, design.rule)
    figures = "figures in millimetres" if units == "mm" else "figures in inches"
    drawings: list[Drawing]
    if options.faces == "each":
        drawings = [
            face_drawing(box, {name: Panel(face=box_faces[name])}, found, units, f"{name.title()} face, 1:1, {figures}")
            for name in drilled
        ]
    else:
        drawings = [
            face_drawing(box, unfolded(box, box_faces, drilled), found, units, f"Drill template, 1:1, {figures}")
        ]
    corrected = design.rule.words if design.rule is not None else ""
    heading = page_heading(design, units, options.open_stops, corrected)
    pages = numbered([*sheets(drawings, size, heading), *table_pages(found, size, heading)])
    return stretched(pages, paper, design.rule)


def _drilled(found: Sequence[Hole]) -> tuple[FaceName, ...]:
    """Return the faces to draw: the top, which holds the others together, and every other one with holes."""
    return tuple(name for name in FACES if name == "top" or in_order(found, name))


def _apart(box_faces: Mapping[FaceName, Face], names: Sequence[FaceName]) -> Mapping[FaceName, Panel]:
    panels, y = {}, 0.0
    for name in names:
        panels[name] = Panel(face=box_faces[name], x_mm=0.0, y_mm=y)
        y += box_faces[name].height_mm + _APART_MM
    return panels


def _layers(
    box: Enclosure, panels: Mapping[FaceName, Panel], found: Sequence[Hole], *, is_unfolded: bool
) -> list[Layer]:
    """Return what a cutter follows: holes and centres of each face in layers of their own, outlines, folds.

    Numbers and names of the holes, and the cautions, lie in layers that are not cut.
    """
    beside = frozenset(panels) if is_unfolded else None
    edges: list[Line | Path] = []
    layers: list[Layer] = []
    for name, panel in panels.items():
        own = in_order(found, name)
        edges += outline(box, panel, beside=beside)
        edge = tuple(hole_edge(panel, hole) for hole in own)
        layers.append(Layer(name=name, about=f"holes of the {name} face", colour="black", marks=edge))
        named = titles(panels, found, name)
        about = f"number and name of each hole, {name} face; not to cut"
        layers.append(Layer(name=f"{name}-numbers", about=about, colour="blue", marks=named))
        crosses = tuple(line for hole in own for line in centre_cross(panel, hole))
        layers.append(Layer(name=f"{name}-centres", about=f"their middles, {name} face", colour="red", marks=crosses))
    folds = tuple(edge for edge in edges if edge.dash_mm is not None)
    cut = tuple(edge for edge in edges if edge.dash_mm is None and edge.line_mm >= OUTLINE_MM)
    sharp = tuple(edge for edge in edges if edge.dash_mm is None and edge.line_mm < OUTLINE_MM)
    points = [point for panel in panels.values() for point in panel.corners()]
    left, low = min(x for x, _ in points), max(y for _, y in points)
    beside_it = tuple(lines(cautions(found), left, low + _NOTES_OFF_MM, _NOTE_MM, 1.4 * _NOTE_MM))
    return [
        *layers,
        Layer(name="notes", about="what to mind; not to cut", colour="blue", marks=beside_it),
        Layer(name="outline", about="what is cut round the faces", colour="black", marks=cut),
        Layer(name="fold", about="where it bends round the top edge; not to cut", colour="blue", marks=folds),
        *([Layer(name="edge", about="sharp edge of the top; not to cut", colour="blue", marks=sharp)] if sharp else []),
    ]


def _cut_svg(layers: Sequence[Layer], title: str) -> bytes:
    """Return one page, as large as the drawing, with the lines alone, a group for every layer."""
    marks = [mark for layer in layers for mark in layer.marks]
    xs, ys = zip(*(point for mark in marks for point in _extent(mark)), strict=True)
    left, top = min(xs) - _CUT_MARGIN_MM, min(ys) - _CUT_MARGIN_MM
    page = Page(
        width_mm=max(xs) + _CUT_MARGIN_MM - left,
        height_mm=max(ys) + _CUT_MARGIN_MM - top,
        marks=(),
        title=title,
    )
    placed = [replace(each, marks=tuple(moved(mark, -left, -top) for mark in each.marks)) for each in layers]
    return svg(page, placed)


def _extent(mark: Mark) -> Sequence[tuple[float, float]]:
    if isinstance(mark, Line):
        return (mark.x1_mm, mark.y1_mm), (mark.x2_mm, mark.y2_mm)
    if isinstance(mark, Circle):
        r = mark.radius_mm
        return (mark.x_mm - r, mark.y_mm - r), (mark.x_mm + r, mark.y_mm + r)
    if isinstance(mark, Text):
        left, top, right, bottom = text_area(mark)
        return (left, top), (right, bottom)
    return mark.points if isinstance(mark, Path) else ()


def _facts(hole: Hole, units: Unit) -> dict[str, object]:
    return {
        "number": hole.number,
        "name": hole.bore.name,
        "face": hole.bore.face,
        "size": size_words(hole.bore.outline, units),
        "u_mm": round(hole.bore.u_mm, 4),
        "v_mm": round(hole.bore.v_mm, 4),
        "drills": drill_words(hole, units),
    }


def _notes(design: Design, found: Sequence[Hole]) -> tuple[str, ...]:
    return () if found else (f"{design.name} has no holes to drill",)
