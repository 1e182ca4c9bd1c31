"""Pages to the bytes of a PDF file (ISO 32000-1): vector marks at true size, fonts embedded."""

from __future__ import annotations

import io
import math
from collections.abc import Iterable, Mapping
from typing import Any

from mockup import fonts
from mockup.encode._pdf_image import paste
from mockup.model.material import Colour
from mockup.model.shape import Point
from mockup.model.sheet import Circle, Clip, Line, Mark, Page, Path, Rectangle, Text
from mockup.model.units import MM_PER_INCH, POINTS_PER_INCH

_POINTS = POINTS_PER_INCH / MM_PER_INCH
_NAMES: Mapping[bool, str] = {False: f"{fonts.FAMILY}-Plain", True: f"{fonts.FAMILY}-Bold"}


def pdf(pages: Iterable[Page], *, title: str = "", icc: bytes | None = None) -> bytes:
    """Return a PDF file of pages, one byte for byte the same for the same pages.

    It asks viewers not to scale it when printing (ISO 32000-1 12.2, PrintScaling). Colours are written
    as they are, encoded sRGB, in DeviceRGB; pictures keep every pixel. `icc` is the colour profile that
    pictures are in, embedded with them. `pages` are drawn as they come, so that they need not all be held.
    """
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont
    from reportlab.pdfgen.canvas import Canvas

    out = io.BytesIO()
    canvas = Canvas(out, invariant=1, pageCompression=1)  # invariant: neither clock nor random identifier
    canvas.setTitle(title)
    canvas.setCreator("mockup")
    canvas.setViewerPreference("PrintScaling", "None")
    with fonts.paths() as files:
        for is_bold, path in files.items():
            pdfmetrics.registerFont(TTFont(_NAMES[is_bold], str(path)))
        for number, page in enumerate(pages):
            if number == 0 and not title:
                canvas.setTitle(page.title)
            width_mm, height_mm = page.paper_mm
            canvas.setPageSize((width_mm * _POINTS, height_mm * _POINTS))
            canvas.scale(page.stretch[0] * _POINTS, page.stretch[1] * _POINTS)
            canvas.translate(0.0, page.height_mm)
            for mark in page.marks:
                _draw(canvas, mark, icc)
            canvas.showPage()
        canvas.save()
    return out.getvalue()


def _draw(canvas: Any, mark: Mark, icc: bytes | None) -> None:
    """Draw one mark; the canvas counts millimetres from the page's top-left corner, y up."""
    if isinstance(mark, Line):
        _pen(canvas, mark.colour, mark.line_mm, mark.dash_mm)
        canvas.line(mark.x1_mm, -mark.y1_mm, mark.x2_mm, -mark.y2_mm)
    elif isinstance(mark, Rectangle):
        _pen(canvas, mark.stroke, mark.line_mm, mark.dash_mm)
        _brush(canvas, mark.fill)
        bottom = -mark.y_mm - mark.height_mm
        is_drawn = {"fill": int(mark.fill is not None), "stroke": int(mark.stroke is not None)}
        canvas.rect(mark.x_mm, bottom, mark.width_mm, mark.height_mm, **is_drawn)
    elif isinstance(mark, Circle):
        _pen(canvas, mark.stroke, mark.line_mm, None)
        _brush(canvas, mark.fill)
        is_drawn = {"fill": int(mark.fill is not None), "stroke": int(mark.stroke is not None)}
        canvas.circle(mark.x_mm, -mark.y_mm, mark.radius_mm, **is_drawn)
    elif isinstance(mark, Path):
        _pen(canvas, mark.stroke, mark.line_mm, mark.dash_mm)
        _brush(canvas, mark.fill)
        _trace(canvas, mark)
    elif isinstance(mark, Clip):
        canvas.saveState()
        window = canvas.beginPath()
        window.rect(mark.x_mm, -mark.y_mm - mark.height_mm, mark.width_mm, mark.height_mm)
        canvas.clipPath(window, stroke=0, fill=0)
        for each in mark.marks:
            _draw(canvas, each, icc)
        canvas.restoreState()
    elif isinstance(mark, Text):
        _brush(canvas, mark.colour)
        canvas.setFont(_NAMES[mark.is_bold], mark.size_mm)
        draw = {"start": canvas.drawString, "middle": canvas.drawCentredString, "end": canvas.drawRightString}
        draw[mark.anchor](mark.x_mm, -mark.y_mm, mark.text)
    else:
        paste(canvas, mark, icc)


def _trace(canvas: Any, mark: Path) -> None:
    path = canvas.beginPath()
    path.moveTo(mark.points[0][0], -mark.points[0][1])
    for start, end, bulge in mark.steps():
        if bulge == 0.0:
            path.lineTo(end[0], -end[1])
        else:
            path.arcTo(*_arc(start, end, bulge))
    if mark.is_closed:
        path.close()
    canvas.drawPath(path, fill=int(mark.fill is not None), stroke=int(mark.stroke is not None))


def _arc(start: Point, end: Point, bulge: float) -> tuple[float, float, float, float, float, float]:
    """Return the corners of an arc's whole circle, its first angle and its sweep in degrees, y up."""
    along = (end[0] - start[0], end[1] - start[1])
    off = (1.0 - bulge * bulge) / (4.0 * bulge)
    x, y = start[0] + along[0] / 2 - along[1] * off, start[1] + along[1] / 2 + along[0] * off
    radius = math.dist(start, (x, y))
    angle = math.atan2(y - start[1], start[0] - x)
    return x - radius, -y - radius, x + radius, -y + radius, math.degrees(angle), -math.degrees(4.0 * math.atan(bulge))


def _pen(canvas: Any, colour: Colour | None, line_mm: float, dash_mm: tuple[float, float] | None) -> None:
    if colour is not None:
        canvas.setStrokeColorRGB(*colour)
        canvas.setLineWidth(line_mm)
        canvas.setDash(*((list(dash_mm), 0) if dash_mm else ([], 0)))


def _brush(canvas: Any, colour: Colour | None) -> None:
    if colour is not None:
        canvas.setFillColorRGB(*colour)
