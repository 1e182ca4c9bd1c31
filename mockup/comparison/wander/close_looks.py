"""Close looks at holes that went astray: as drawn and as drilled, straight on, at one scale."""

from __future__ import annotations

from collections.abc import Sequence

from mockup import __version__
from mockup.comparison.differences.words import length
from mockup.decal import ink_over_paint
from mockup.drawing.lettering import FAINT, lines, shortened, wrapped
from mockup.encode.picture_file import picture_file
from mockup.encode.pixels import pixels
from mockup.model.design import Design, Placement
from mockup.model.enclosure import faces
from mockup.model.finding import Mark as Place
from mockup.model.sheet import Mark, Page, Text
from mockup.picture.close_looks import HEIGHT, SIDE_PX, camera, look
from mockup.picture.open_engine import take
from mockup.picture.options import PictureRequest
from mockup.picture.shots import Sight
from mockup.scene.views import STRAIGHT_AT

MOST = 3  # parts: the worst ones say it
_TEXT, _MARGIN, _GAP = 18.4, 48.0, 20.0  # pixels: our taste
_LEAST_MM = 5.0  # of the circle that a look is taken at: our taste


def close_looks(
    name: str,
    title: str,
    hand: str,
    columns: Sequence[tuple[str, Design, dict[str, float]]],
    parts: Sequence[str],
    request: PictureRequest,
) -> bytes:
    """Return a sheet as the picture file that `name` asks for: a row for each part, a column for each design.

    With a design come its caption and how far (mm) each part is off its print. `hand` says whose holes they are. Every
    look stands on where the first design has the part, so that what moves is seen to move.
    """
    first = columns[0][1]
    shown = [part for each in parts[:MOST] for part in first.parts if part.name == each]
    sights = [_sight(first, part) for part in shown]
    wide = 2 * _MARGIN + len(columns) * (SIDE_PX + _GAP) - _GAP
    about = f"Straight on, at one scale, centred on where each hole is drawn. Drilled by {hand}."
    told = wrapped(about, _TEXT, wide - 2 * _MARGIN)
    head = _MARGIN + (4.9 + 1.3 * len(told)) * _TEXT
    marks: list[Mark] = [
        Text(x_mm=_MARGIN, y_mm=_MARGIN + 1.7 * _TEXT, text=f"{title}: close looks", size_mm=2 * _TEXT, is_bold=True),
        *lines(told, _MARGIN, _MARGIN + 3.6 * _TEXT, _TEXT, 1.3 * _TEXT, colour=FAINT),
    ]
    for column, (caption, design, off) in enumerate(columns):
        x = _MARGIN + column * (SIDE_PX + _GAP)
        said = shortened(caption, _TEXT, SIDE_PX)
        marks.append(Text(x_mm=x, y_mm=head - 0.7 * _TEXT, text=said, size_mm=_TEXT, is_bold=True))
        for number, (part, picture) in enumerate(zip(shown, take(design, sights, request).pictures, strict=True)):
            gap = off.get(part.name, 0.0)
            words = f"print and hole {length(round(gap, 2), first.units)} apart" if gap else "as drawn"
            y = head + number * (HEIGHT + _GAP)
            marks += look(ink_over_paint.flatten(picture.pixels), x, y, f"{part.name}: {words}", is_faint=True)
    tall = head + len(shown) * (HEIGHT + _GAP) - _GAP + _MARGIN
    page = Page(width_mm=wide, height_mm=tall, marks=tuple(marks), title=f"{title}: close looks")
    return picture_file(name, pixels(page, 1.0), text={"Software": f"mockup {__version__}", "Title": page.title})


def _sight(design: Design, part: Placement) -> Sight:
    radius = part.knob.diameter_mm / 2 if part.knob is not None else _hole_mm(part)
    place = Place(face=part.face, u_mm=part.u_mm, v_mm=part.v_mm, radius_mm=max(radius, _LEAST_MM))
    seen_by = camera(faces(design.enclosure)[part.face], place)
    return Sight(view=STRAIGHT_AT[part.face], camera=seen_by, width_px=SIDE_PX, height_px=SIDE_PX)


def _hole_mm(part: Placement) -> float:
    return max((max(cut.outline.width_mm, cut.outline.height_mm) / 2 for cut in part.kind.cutouts), default=0.0)
