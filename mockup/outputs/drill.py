"""Draw the plan for the drill press: numbered holes, and the drills in order to tick off."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, get_args

from mockup.model.making import MOST_COPIES
from mockup.model.units import Unit
from mockup.options import Progress, Result, file_stem, option, require_ending, require_range, silent
from mockup.outputs.pages.open_stops import notes, open_stops

if TYPE_CHECKING:
    from mockup.model.design import Design

_SUFFIXES = (".pdf",)


@dataclass(frozen=True, kw_only=True)
class Options:
    """On which paper, in which units, and where to put it."""

    page: str = option("a4", 'paper: a4, letter, or width x height such as "148x210" or "11x17 in"')
    units: Unit | None = option(
        None, "of the figures; the layout's own by default", choices=get_args(Unit), noun="unit"
    )
    copies: int = option(1, "how many pedals are drilled together: a box to tick for each")
    open_stops: int = open_stops()
    output: str | None = option(None, "file to write (.pdf)", short="o", suffixes=_SUFFIXES)


def make(design: Design, options: Options, progress: Progress = silent) -> Result:
    """Return the plan: the drilled faces with numbers and names, boxes to tick for each drill, the table of holes."""
    from mockup.drawing.holes import holes
    from mockup.drawing.paper import numbered
    from mockup.drawing.table import table_pages
    from mockup.encode.pdf import pdf
    from mockup.fingerprint import fingerprint
    from mockup.model.enclosure import faces
    from mockup.outputs.pages.drill_plan import plan_pages, turns
    from mockup.outputs.pages.page_heading import page_heading
    from mockup.outputs.pages.paper_sizes import page_size

    require_range("copies", options.copies, 1, MOST_COPIES)
    path = require_ending(options.output or f"{file_stem(design.name)}-drill.pdf", _SUFFIXES)
    units = options.units or design.units
    found = holes(design, faces(design.enclosure), units)
    progress(0, 1, "drill plan")
    paper = page_size(options.page)
    heading = page_heading(design, units, options.open_stops)
    serials = design.making.serials(options.copies) if options.copies > 1 else ()
    pages = plan_pages(design.enclosure, found, design.drills_mm, paper, heading, serials)
    if found:
        pages += table_pages(found, paper, heading)
    progress(1, 1, "done")
    order = turns(found, units, design.drills_mm)
    facts = {
        "file": str(path),
        "design": fingerprint(design),
        "pages": len(pages),
        "drills": [
            {"mm": each.drill_mm, "holes": [hole.number for hole in each.holes], "is_own": each.is_own}
            for each in order
        ],
        "holes": [{"number": each.number, "name": each.bore.name, "face": each.bore.face} for each in found],
    }
    missing = ", ".join(each.words(units) for each in order if not each.is_own)
    told = [f"not among your drills: {missing}"] if missing else []
    told += [] if found else [f"{design.name} has no holes to drill"]
    data = pdf(numbered(pages), title=f"{design.name}: drill plan")
    return Result(files={str(path): data}, facts=facts, notes=(*notes(options.open_stops), *told))
