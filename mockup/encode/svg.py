"""A page as SVG text at true size."""

from __future__ import annotations

import base64
import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from mockup import fonts
from mockup.colour import rgb
from mockup.encode.markup import xml_attribute, xml_text
from mockup.encode.png import png
from mockup.model.material import Colour
from mockup.model.sheet import Circle, Clip, Layer, Line, Mark, Page, Path, Rectangle, Text

_COLOURS: Mapping[str, Colour] = {"black": (0.0, 0.0, 0.0), "red": (0.8, 0.0, 0.0), "blue": (0.0, 0.2, 0.8)}


def svg(page: Page, layers: Sequence[Layer] = ()) -> bytes:
    """Return one page as an SVG file whose user unit is a millimetre; text stays text.

    `layers` come after the page's own marks, each as a group with its name as id and its line as title (SVG 2,
    5.2 and 5.7), in its colour: programs for drawing and cutting list them by that.
    """
    width_mm, height_mm = page.paper_mm
    size = f'width="{width_mm:.6g}mm" height="{height_mm:.6g}mm"'
    if page.stretch != (1.0, 1.0):
        size += ' preserveAspectRatio="none"'
    marks = "\n".join((*(_drawn(mark) for mark in page.marks), *map(_group, layers)))
    title = f"<title>{xml_text(page.title)}</title>\n" if page.title else ""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} viewBox="0 0 {page.width_mm:.6g} {page.height_mm:.6g}" '
        f'font-family="{fonts.FAMILY}">\n{title}{marks}\n</svg>\n'
    ).encode()


def _group(layer: Layer) -> str:
    colour = _COLOURS[layer.colour]
    marks = "\n".join(_drawn(_tinted(mark, colour)) for mark in layer.marks)
    name = f"id={xml_attribute(layer.name)} aria-label={xml_attribute(layer.name)}"
    return f"<g {name}>\n<title>{xml_text(layer.about)}</title>\n{marks}\n</g>"


def _tinted(mark: Mark, colour: Colour) -> Mark:
    """Return a line in another colour; marks of other kinds as they are."""
    if isinstance(mark, Line):
        return replace(mark, colour=colour)
    return replace(mark, stroke=colour) if isinstance(mark, Circle | Path | Rectangle) else mark


def _drawn(mark: Mark) -> str:
    if isinstance(mark, Line):
        ends = f'x1="{mark.x1_mm:.4f}" y1="{mark.y1_mm:.4f}" x2="{mark.x2_mm:.4f}" y2="{mark.y2_mm:.4f}"'
        return f"<line {ends}{_stroke(mark.colour, mark.line_mm, mark.dash_mm)}/>"
    if isinstance(mark, Rectangle):
        place = f'x="{mark.x_mm:.4f}" y="{mark.y_mm:.4f}" width="{mark.width_mm:.4f}" height="{mark.height_mm:.4f}"'
        return f"<rect {place}{_fill(mark.fill)}{_stroke(mark.stroke, mark.line_mm, mark.dash_mm)}/>"
    if isinstance(mark, Circle):
        place = f'cx="{mark.x_mm:.4f}" cy="{mark.y_mm:.4f}" r="{mark.radius_mm:.4f}"'
        return f"<circle {place}{_fill(mark.fill)}{_stroke(mark.stroke, mark.line_mm, None)}/>"
    if isinstance(mark, Path):
        return f'<path d="{_trace(mark)}"{_fill(mark.fill)}{_stroke(mark.stroke, mark.line_mm, mark.dash_mm)}/>'
    if isinstance(mark, Clip):  # an inner svg shows nothing outside of its own window (SVG 2, 8.7)
        place = f'x="{mark.x_mm:.4f}" y="{mark.y_mm:.4f}" width="{mark.width_mm:.4f}" height="{mark.height_mm:.4f}"'
        view = f"{mark.x_mm:.4f} {mark.y_mm:.4f} {mark.width_mm:.4f} {mark.height_mm:.4f}"
        inside = "\n".join(_drawn(each) for each in mark.marks)
        return f'<svg {place} viewBox="{view}" overflow="hidden">\n{inside}\n</svg>'
    if isinstance(mark, Text):
        place = f'x="{mark.x_mm:.4f}" y="{mark.y_mm:.4f}" font-size="{mark.size_mm:.4f}" text-anchor="{mark.anchor}"'
        # Letter spacing, however little, keeps two hyphens from being joined into a dash (CSS Text 3, 8.2).
        look = f'font-weight="{fonts.WEIGHTS[mark.is_bold]}" letter-spacing="0.0001"{_fill(mark.colour)}'
        return f"<text {place} {look}>{xml_text(mark.text)}</text>"
    data = base64.b64encode(png(mark.pixels)).decode()
    place = f'x="{mark.x_mm:.4f}" y="{mark.y_mm:.4f}" width="{mark.width_mm:.4f}" height="{mark.height_mm:.4f}"'
    return f'<image {place} preserveAspectRatio="none" href={xml_attribute("data:image/png;base64," + data)}/>'


def _trace(mark: Path) -> str:
    words = [f"M{mark.points[0][0]:.4f} {mark.points[0][1]:.4f}"]
    for start, end, bulge in mark.steps():
        if bulge == 0.0:
            words.append(f"L{end[0]:.4f} {end[1]:.4f}")
        else:
            radius = math.dist(start, end) * (1.0 + bulge * bulge) / (4.0 * abs(bulge))
            words.append(f"A{radius:.4f} {radius:.4f} 0 {abs(bulge) > 1:d} {bulge > 0:d} {end[0]:.4f} {end[1]:.4f}")
    return " ".join([*words, *(["Z"] if mark.is_closed else [])])


def _fill(colour: Colour | None) -> str:
    return f' fill="{rgb.to_hex(colour) if colour is not None else "none"}"'


def _stroke(colour: Colour | None, line_mm: float, dash_mm: tuple[float, float] | None) -> str:
    if colour is None:
        return ""
    dash = f' stroke-dasharray="{dash_mm[0]:.4f} {dash_mm[1]:.4f}"' if dash_mm else ""
    return f' stroke="{rgb.to_hex(colour)}" stroke-width="{line_mm:.4f}"{dash}'
