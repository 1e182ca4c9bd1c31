"""Close looks at holes that went astray: as drawn and as drilled, straight on, at one scale."""

from __future__ import annotations

from collections.abc import Sequence

from mockup import __version__
from mockup.comparison.differences.words import length
from mockup.comparison.room import take
from mockup.comparison.sheet import flow
from mockup.comparison.sheet.canvas import painted
from mockup.comparison.sweep.job import opaque
from mockup.drawing.lettering import shortened
from mockup.encode.png import png
from mockup.model.design import Design, Placement
from mockup.model.enclosure import faces
from mockup.model.finding import Mark as Place
from mockup.model.sheet import Image, Mark, Page, Rectangle, Text
from mockup.picture import close_looks as _closeups
from mockup.picture.finding_sheet import VIEW_OF
from mockup.picture.shots import Setting, Sight

MOST = 3  # parts: the worst ones say it
_PX_PER_MM = 4.0  # of the sheet, on which a millimetre is just a unit
_TEXT, _MARGIN, _GAP = 4.6, 12.0, 5.0  # in those millimetres: our taste
_LEAST_MM = 5.0  # of the circle that a look is taken at: our taste


def close_looks(
    title: str, columns: Sequence[tuple[str, Design, dict[str, float]]], parts: Sequence[str], setting: Setting
) -> bytes:
    """Return a PNG sheet: a row for each part, a column for each (caption, design, how far off its print each part is).

    Every look stands on where the first design has the part, so that what moves is seen to move.
    """
    first = columns[0][1]
    shown = [part for name in parts[:MOST] for part in first.parts if part.name == name]
    sights = [_sight(first, part) for part in shown]
    side, head = _closeups.SIDE_PX / _PX_PER_MM, _MARGIN + 6.2 * _TEXT
    row = side + 2.6 * _TEXT + _GAP
    marks: list[Mark] = [
        Text(x_mm=_MARGIN, y_mm=_MARGIN + 1.7 * _TEXT, text=f"{title}: close looks", size_mm=2 * _TEXT, is_bold=True),
        _faint(_MARGIN, _MARGIN + 3.6 * _TEXT, "Straight on, at one scale, centred on where each hole is drawn."),
    ]
    for column, (caption, design, off) in enumerate(columns):
        x = _MARGIN + column * (side + _GAP)
        taken = take(design, sights, setting)
        said = shortened(caption, _TEXT, side)
        marks.append(Text(x_mm=x, y_mm=head - 0.7 * _TEXT, text=said, size_mm=_TEXT, is_bold=True))
        for number, (part, picture) in enumerate(zip(shown, taken.pictures, strict=True)):
            y = head + number * row
            marks.append(Image(x_mm=x, y_mm=y, width_mm=side, height_mm=side, pixels=opaque(picture)))
            marks.append(
                Rectangle(x_mm=x, y_mm=y, width_mm=side, height_mm=side, stroke=(0.80, 0.79, 0.76), line_mm=0.25)
            )
            gap = off.get(part.name, 0.0)
            words = f"print and hole {length(round(gap, 2), first.units)} apart" if gap else "as drawn"
            marks.append(_faint(x, y + side + 1.5 * _TEXT, f"{part.name}: {words}"))
    wide = 2 * _MARGIN + len(columns) * (side + _GAP) - _GAP
    tall = head + len(shown) * row + _TEXT
    page = Page(width_mm=wide, height_mm=tall, marks=tuple(marks), title=f"{title}: close looks")
    return png(painted(page, _PX_PER_MM), text={"Software": f"mockup {__version__}", "Title": page.title})


def _sight(design: Design, part: Placement) -> Sight:
    radius = part.knob.diameter_mm / 2 if part.knob is not None else _hole_mm(part)
    place = Place(face=part.face, u_mm=part.u_mm, v_mm=part.v_mm, radius_mm=max(radius, _LEAST_MM))
    camera = _closeups.camera_at(faces(design.enclosure)[part.face], place)
    side = _closeups.SIDE_PX
    return Sight(view=VIEW_OF[part.face], camera=camera, width_px=side, height_px=side)


def _hole_mm(part: Placement) -> float:
    return max((max(cut.outline.width_mm, cut.outline.height_mm) / 2 for cut in part.kind.cutouts), default=0.0)


def _faint(x: float, y: float, text: str) -> Text:
    return Text(x_mm=x, y_mm=y, text=text, size_mm=_TEXT, colour=flow.FAINT)
