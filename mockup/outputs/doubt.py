"""Show how far each main colour of the art may come out from what is predicted, and why: a table with swatches."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from mockup.options import PICTURES, Progress, Result, file_stem, option, require_ending, silent

if TYPE_CHECKING:
    from mockup.model.design import Design
    from mockup.model.sheet import Mark, Page
    from mockup.outputs.pages.doubt_rows import Doubt

_SUFFIXES = (*PICTURES, ".pdf")
_PER_MM = 8.0  # pixels of a picture: some 200 dpi; our choice
_WIDE_MM, _EDGE_MM, _ROW_MM = 190.0, 8.0, 11.0
_SWATCH_MM = (19.0, 8.0)
_COLUMNS = {"as drawn": 0.0, "darkest": 22.0, "likely": 44.0, "lightest": 66.0}  # mm from the left edge's text
_CAUSE_MM = 92.0
_GREY = (0.35, 0.35, 0.35)


@dataclass(frozen=True, kw_only=True)
class Options:
    """Where to put the table."""

    output: str | None = option(None, "file to write: .png, .jpg or .pdf", short="o", suffixes=_SUFFIXES)


def make(design: Design, options: Options, progress: Progress = silent) -> Result:
    """Return the table of a pedal's main colours; `InputError` where it has no decal with ink."""
    from mockup.encode.pdf import pdf
    from mockup.encode.picture_file import picture_file
    from mockup.encode.pixels import pixels
    from mockup.model.errors import Fault, InputError
    from mockup.outputs.pages.doubt_rows import doubts, most_doubtful

    path = str(require_ending(options.output or f"{file_stem(design.name)}-doubt.png", _SUFFIXES))
    progress(0, 1, "colours")
    rows = doubts(design)
    if not rows:
        remedy = "add a [[decal]] or a [lettering] table"
        raise InputError(Fault(file=design.source, what="has no ink to be in doubt of", remedy=remedy))
    worst = most_doubtful(rows)
    page = _page(design, rows, worst)
    is_pdf = path.lower().endswith(".pdf")
    data = pdf([page]) if is_pdf else picture_file(path, pixels(page, _PER_MM), dpi=_PER_MM * 25.4)
    progress(1, 1, "done")
    facts = {
        "file": path,
        "colours": [row.facts() for row in rows],
        "most_doubtful": [row.facts()["drawn"] for row in worst],
    }
    said = ", ".join(f"{row.facts()['drawn']} within {row.radius:.0f}" for row in worst)
    notes = (f"most in doubt (CIEDE2000): {said}; print them first: mockup sheet --test-piece",)
    return Result(files={path: data}, facts=facts, notes=notes)


def _page(design: Design, rows: Sequence[Doubt], worst: Sequence[Doubt]) -> Page:
    from mockup.model.sheet import Page

    marks = list(_marks(design, rows, worst))
    height = 34.0 + _ROW_MM * len(rows) + 14.0
    return Page(width_mm=_WIDE_MM, height_mm=height, marks=tuple(marks), title=f"{design.name}: colours in doubt")


def _marks(design: Design, rows: Sequence[Doubt], worst: Sequence[Doubt]) -> Iterator[Mark]:
    from mockup.colour import rgb
    from mockup.decal.painting import paint_words
    from mockup.drawing.lettering import lines, wrapped
    from mockup.model.sheet import Rectangle, Text

    left = _EDGE_MM
    finish = design.finish
    yield Text(x_mm=left, y_mm=13.0, text=f"{design.name}: colours in doubt", size_mm=5.0, is_bold=True)
    printer = f'printer "{finish.printer}"' if finish.printer else "no measured printer"
    about = f"over {paint_words(finish)}, {printer}; nine prints in ten lie from darkest to lightest"
    yield Text(x_mm=left, y_mm=19.0, text=about, size_mm=3.0, colour=_GREY)
    for name, x in _COLUMNS.items():
        yield Text(x_mm=left + x, y_mm=29.0, text=name, size_mm=3.0, is_bold=True)
    yield Text(x_mm=left + _CAUSE_MM, y_mm=29.0, text="difference (CIEDE2000)", size_mm=3.0, is_bold=True)
    for number, row in enumerate(rows):
        top = 32.0 + _ROW_MM * number
        for name, x in _COLUMNS.items():
            colour = getattr(row, name.removeprefix("as "))
            yield Rectangle(
                x_mm=left + x, y_mm=top, width_mm=_SWATCH_MM[0], height_mm=_SWATCH_MM[1], fill=colour, stroke=None
            )
        mark = "  *" if row in worst else ""
        over = f" over {rgb.to_hex(row.paint)}" if finish.picture is not None else ""
        said = f"likely {row.difference:.0f} from drawn{over}, within ± {row.radius:.0f}{mark}"
        yield Text(x_mm=left + _CAUSE_MM, y_mm=top + 3.4, text=said, size_mm=3.0, is_bold=row in worst)
        more = f"{rgb.to_hex(row.drawn)}, {row.share:.0%} of the ink; most by: {row.cause}"
        yield Text(x_mm=left + _CAUSE_MM, y_mm=top + 7.4, text=more, size_mm=2.6, colour=_GREY)
    end = (
        "* most in doubt: print the sheet's test piece and lay it on a scrap of this paint before you print the decal."
    )
    yield from lines(wrapped(end, 2.8, _WIDE_MM - 2 * left), left, 38.0 + _ROW_MM * len(rows), 2.8, 4.0)
