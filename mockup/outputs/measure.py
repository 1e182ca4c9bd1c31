"""Draw the frame of marks that is laid on a drilled face, so that a photograph tells where its holes are."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from mockup.model.enclosure import FACES
from mockup.options import Progress, Result, bad_option, file_stem, option, require_ending, silent

if TYPE_CHECKING:
    from mockup.drawing.faces import Drawing
    from mockup.drawing.holes import Hole
    from mockup.model.design import Design
    from mockup.model.enclosure import Face
    from mockup.model.sheet import Mark

_SUFFIXES = (".pdf",)
_LEDGE_MM = 5.0  # of the face under each side of the frame, so that it lies on it: our choice
_FREE_MM = 2.5  # round each hole: our choice
_LEAST_LEDGE_MM = 2.0  # under two opposite sides; with less the frame needs tape: our choice
_STEPS_MM, _SIZE_MM, _PITCH_MM = 180.0, 3.0, 4.3


@dataclass(frozen=True, kw_only=True)
class Options:
    """For which face, on which paper, and where to put it."""

    face: str = option("top", "the face that the frame is laid on", choices=FACES)
    page: str = option("a4", 'paper: a4, letter, or width x height such as "420x297" or "11x17 in"')
    output: str | None = option(None, "file to write (.pdf)", short="o", suffixes=_SUFFIXES)


def make(design: Design, options: Options, progress: Progress = silent) -> Result:
    """Return the frame at true size, with what to do."""
    from mockup.drawing.feed import stretched, usable
    from mockup.drawing.holes import holes
    from mockup.drawing.paper import numbered, sheets
    from mockup.encode.pdf import pdf
    from mockup.fingerprint import fingerprint
    from mockup.measure.frame import BAND_MM
    from mockup.model.enclosure import faces
    from mockup.outputs.pages.page_heading import page_heading
    from mockup.outputs.pages.paper_sizes import page_size

    path = require_ending(options.output or f"{file_stem(design.name)}-{options.face}-frame.pdf", _SUFFIXES)
    box_faces = faces(design.enclosure)
    face = box_faces[options.face]  # type: ignore[index]  # one of its choices
    found = tuple(each for each in holes(design, box_faces, design.units) if each.bore.face == face.name)
    progress(0, 1, "frame")
    paper = page_size(options.page)
    size, _ = usable(paper, design.rule)
    heading = page_heading(design, design.units, 0, design.rule.words if design.rule is not None else "")
    window = window_mm(face, found)
    together, apart, steps = _drawings(face, window)
    pages = sheets([together], size, heading)
    if len(pages) > 1:
        pages = sheets([apart, steps], size, heading)
    if len(pages) > 2:
        needed = " x ".join(f"{side + 2 * BAND_MM:.0f}" for side in (face.width_mm, face.height_mm))
        raise bad_option("page", f"the frame of {needed} mm does not fit", "use a larger page, such as 420x297")
    progress(1, 1, "done")
    left, top, right, bottom = window
    ledges = ((left, face.width_mm - right), (top, face.height_mm - bottom))
    notes = []
    if all(min(pair) < _LEAST_LEDGE_MM for pair in ledges):
        notes.append("holes near all edges leave the frame little to lie on: tape it level with the face")
    if not found:
        notes.append(f"the {face.name} has no holes")
    facts = {
        "file": str(path),
        "design": fingerprint(design),
        "face": face.name,
        "window_mm": [round(each, 2) for each in window],
        "pages": len(pages),
    }
    data = pdf(numbered(stretched(pages, paper, design.rule)), title=f"{design.name}: frame of marks")
    return Result(files={str(path): data}, facts=facts, notes=tuple(notes))


def window_mm(face: Face, found: tuple[Hole, ...]) -> tuple[float, float, float, float]:
    """Return the window (left, top, right, bottom) of a face's frame: it leaves every hole free."""
    from mockup.layout.ruler import reach

    left, top, right, bottom = _LEDGE_MM, _LEDGE_MM, face.width_mm - _LEDGE_MM, face.height_mm - _LEDGE_MM
    for each in found:
        wide, high = (side / 2 + _FREE_MM for side in reach(each.bore.outline, each.bore.rotation_deg))
        u, v = each.bore.u_mm, each.bore.v_mm
        left, top, right, bottom = min(left, u - wide), min(top, v - high), max(right, u + wide), max(bottom, v + high)
    return max(left, 0.0), max(top, 0.0), min(right, face.width_mm), min(bottom, face.height_mm)


def _drawings(face: Face, window: tuple[float, float, float, float]) -> tuple[Drawing, Drawing, Drawing]:
    """Return the frame with what to do below it, and both apart."""
    from mockup.drawing.faces import Drawing
    from mockup.measure.frame import BAND_MM

    caption = f"Frame of marks for the {face.name}, 1:1"
    own = (-BAND_MM, -BAND_MM, face.width_mm + BAND_MM, face.height_mm + BAND_MM)
    marks, middle = tuple(_frame(face, window)), face.width_mm / 2
    wide = max(_STEPS_MM, face.width_mm + 2 * BAND_MM)
    steps, below = _steps(face, middle - wide / 2, own[3] + 8.0, wide)
    area = (middle - wide / 2, own[1] - 1.0, middle + wide / 2, below)
    return (
        Drawing(caption=caption, marks=(*marks, *steps), area=area),
        Drawing(caption=caption, marks=marks, area=(own[0] - 1.0, own[1] - 1.0, own[2] + 1.0, own[3] + 1.0)),
        Drawing(caption="What to do with the frame of marks", marks=steps, area=(area[0], own[3], area[2], below)),
    )


def _frame(face: Face, window: tuple[float, float, float, float]) -> Iterator[Mark]:
    from mockup.drawing.lettering import FAINT
    from mockup.measure.frame import BAND_MM, mark_mm, middles_mm
    from mockup.model.sheet import Rectangle, Text

    size = (face.width_mm, face.height_mm)
    left, top, right, bottom = window
    for x, y, wide, high in (
        (-BAND_MM, -BAND_MM, size[0] + 2 * BAND_MM, size[1] + 2 * BAND_MM),
        (left, top, right - left, bottom - top),
    ):
        yield Rectangle(x_mm=x, y_mm=y, width_mm=wide, height_mm=high, stroke=FAINT, line_mm=0.18, dash_mm=(2.0, 1.5))
    half = mark_mm(size) / 2
    for x, y in middles_mm(size).tolist():
        for dx, dy in ((-half, -half), (0.0, 0.0)):
            yield Rectangle(x_mm=x + dx, y_mm=y + dy, width_mm=half, height_mm=half, fill=(0.0, 0.0, 0.0))
    edge = "FAR EDGE" if face.name == "top" else "TOP EDGE"
    yield Text(x_mm=size[0] / 2, y_mm=3.2, text=edge, size_mm=2.6, anchor="middle", colour=FAINT)
    middle = (left + right) / 2
    said = ("cut this window out", f"{face.name}: {size[0]:.1f} × {size[1]:.1f} mm")
    for row, words in enumerate(said):
        at = (top + bottom) / 2 + 4.0 * row
        yield Text(x_mm=middle, y_mm=at, text=words, size_mm=2.6, anchor="middle", colour=FAINT)


def _steps(face: Face, x: float, y: float, wide: float) -> tuple[tuple[Mark, ...], float]:
    """Return what to do as marks, and where they end."""
    from mockup.drawing.lettering import lines, wrapped
    from mockup.measure.frame import OUTSIDE_MM
    from mockup.model.sheet import Text

    across, down = face.width_mm + 2 * OUTSIDE_MM, face.height_mm + 2 * OUTSIDE_MM
    which = "" if face.name == "top" else f" --face {face.name}"
    edge = "the box's far edge" if face.name == "top" else "the edge to the top"
    said = (
        "Print on stiff card, or glue the paper on card. Cut along both dashed lines, outside and window.",
        f"Measure between the middles of the corner marks: {across:.1f} mm across and {down:.1f} mm down. Where yours "
        f"differ, add what you measured: --frame {across - 0.2:.1f},{down + 0.3:.1f}",
        "Deburr the holes on both sides and brush the chips off; drilled edges cut. No part and no decal is on yet.",
        f"Lay the frame flat on the face, its marked edge to {edge}, all holes free. Tape it where it stands off.",
        "Photograph it from straight above, from arm's length or farther (zoom in rather than go near), with all "
        "twelve marks sharp, in even light without shine, something dark under the holes.",
        f"mockup built --photo face.jpg{which} layout.toml",
    )
    marks: list[Mark] = []
    for number, step in enumerate(said, 1):
        is_command = number == len(said)
        marks.append(Text(x_mm=x, y_mm=y, text=str(number), size_mm=_SIZE_MM, is_bold=True))
        rows = wrapped(step, _SIZE_MM, wide - 6.0)
        marks += lines(rows, x + 6.0, y, _SIZE_MM, _PITCH_MM, is_bold=is_command)
        y += _PITCH_MM * len(rows) + 1.2
    return tuple(marks), y
