"""Pages that belong to no pedal, in the form that their file's name asks for."""

from __future__ import annotations

from pathlib import PurePath

from mockup.calibration.rule import rule_page
from mockup.encode.pdf import pdf
from mockup.encode.pixels import pixels
from mockup.encode.png import png
from mockup.encode.svg import svg
from mockup.model.sheet import Page
from mockup.model.units import MM_PER_INCH
from mockup.options import JPEG, bad_option

PRINTED_AS_IS = "a JPEG smears edges that are printed pixel for pixel"
DPI = 600.0  # of a page as a picture: as fine as decals are printed


def loose_page(path: str, page: Page) -> bytes:
    """Return one page as PDF, SVG or PNG (600 dpi); `InputError` for another kind of file."""
    suffix = PurePath(path).suffix.lower()
    if suffix == ".pdf":
        return pdf([page])
    if suffix == ".svg":
        return svg(page)
    if suffix == ".png":
        return png(pixels(page, DPI / MM_PER_INCH), dpi=DPI)
    why = f": {PRINTED_AS_IS}" if suffix in JPEG else ""
    raise bad_option("output", f"{PurePath(path).name!r} has an unknown ending", f"end it in .pdf, .png or .svg{why}")


def measuring_page(path: str, paper_mm: tuple[float, float]) -> bytes:
    """Return the measuring page; `InputError` where paper is too small for it or the file's ending is unknown."""
    try:
        page = rule_page(paper_mm)
    except ValueError as error:
        raise bad_option("page", str(error), "use a larger page: what is measured holds for all sizes") from None
    return loose_page(path, page)
