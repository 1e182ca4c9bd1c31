"""Each hole that pictures show, enlarged: the circle found, its rival and the drill's circle, with how sure it is."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from pathlib import PurePath

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

from mockup.as_built.pictures import FaceReading
from mockup.as_built.sentences import way
from mockup.colour import rgb
from mockup.drawing.lettering import FAINT, lines, shortened, width_mm, wrapped
from mockup.encode.picture_file import picture_file
from mockup.encode.pixels import pixels
from mockup.fingerprint import fingerprint
from mockup.measure.holes import Floats
from mockup.model.built import Answer
from mockup.model.material import Colour
from mockup.model.sheet import Circle, Image, Line, Mark, Page, Path, Rectangle, Text
from mockup.model.units import MM_PER_INCH, format_length

FOUND: Colour = (0.05, 0.75, 0.69)
RIVAL: Colour = (1.0, 0.62, 0.0)
DRILL: Colour = (0.72, 0.45, 1.0)
"""Colours of the circles, told apart on dark and on pale paint, and by their dashes: our choice."""
MARGIN_MM = 2.5  # shown round the drill's circle: our choice
_ROUND_MM = 1.0  # shown round a circle that is far off: our choice
_TILE_MM, _GAP_MM, _EDGE_MM, _COLUMNS = 58.0, 6.0, 10.0, 3
_HEAD_MM, _WORDS_MM, _PAGE_PER_MM = 46.0, 18.0, 8.0
_DASHES = 28


def enlarged(reading: FaceReading, index: int, side_px: int) -> tuple[NDArray[np.uint8], float]:
    """Return a hole's surroundings (s, s, 3), encoded sRGB, straight on the face, and pixels in a millimetre.

    The drill's circle, where the design has it, stands in the middle; more is shown where what was found lies far off.
    It is as bright as shows most.
    """
    bore, first = reading.holes[index].bore, reading.seen[0]
    places = [each for each in (reading.places[index], reading.rival(index)) if each is not None]
    far = [float(np.hypot(*(each - (bore.u_mm, bore.v_mm)))) for each in places if not np.isnan(each).any()]
    margin = max([MARGIN_MM, *(each + _ROUND_MM for each in far)])
    per_mm = side_px / (bore.outline.width_mm + 2 * margin)
    steps = (np.arange(side_px) + 0.5 - side_px / 2) / per_mm
    across, down = np.meshgrid(bore.u_mm + steps, bore.v_mm + steps)
    at = _in_picture(reading, np.stack([across, down], axis=-1)) * first.per_mm - 0.5
    values = ndimage.map_coordinates(first.grey, [at[..., 1], at[..., 0]], order=1, mode="nearest")
    low, high = np.percentile(values, (1, 99))
    codes = rgb.to_8bit(rgb.encode(np.clip((values - low) / max(high - low, 0.02), 0.0, 1.0)))
    return np.repeat(codes[..., None], 3, axis=2), per_mm


def _in_picture(reading: FaceReading, on_face: Floats) -> Floats:
    """Return where in the first picture's millimetres places (..., 2) on the face are seen."""
    at = on_face
    for move in reversed(reading.to_face):
        at = move.back(at)
    return at


def sureness(reading: FaceReading, index: int, answer: Answer | None = None) -> str:
    """Return in words what was answered of a hole, or how sure it is, or why it is asked."""
    if answer is not None:
        if answer.circle is None:
            return "you say: it cannot be told"
        nudge = f", {way(answer.right_mm, answer.down_mm, reading.design.units)}" if answer.is_moved else ""
        return f"you say: the {answer.circle} circle{nudge}"
    if reading.unsure[index]:
        return f"asked: {reading.unsure[index]}"
    return f"sure to {format_length(round(reading.doubts_mm[index], 2), reading.design.units)}"


def enlargements(reading: FaceReading, name: str | PurePath, answers: Mapping[int, Answer] | None = None) -> bytes:
    """Return the page of enlargements, as PNG or JPEG by its file's name, with the answers to it by holes' numbers."""
    given = reading.remembered | dict(answers or {})
    count = len(reading.holes)
    rows = math.ceil(count / _COLUMNS)
    width = 2 * _EDGE_MM + _COLUMNS * _TILE_MM + (_COLUMNS - 1) * _GAP_MM
    height = _HEAD_MM + rows * (_TILE_MM + _WORDS_MM) + _EDGE_MM
    marks = [*_heading(reading, given, width - 2 * _EDGE_MM)]
    for index in range(count):
        x = _EDGE_MM + index % _COLUMNS * (_TILE_MM + _GAP_MM)
        marks += _tile(
            reading,
            index,
            given.get(reading.holes[index].number),
            x,
            _HEAD_MM + index // _COLUMNS * (_TILE_MM + _WORDS_MM),
        )
    page = Page(width_mm=width, height_mm=height, marks=tuple(marks), title="Holes as seen")
    return picture_file(name, pixels(page, _PAGE_PER_MM), dpi=_PAGE_PER_MM * MM_PER_INCH)


def _heading(reading: FaceReading, given: Mapping[int, Answer], room_mm: float) -> Iterator[Mark]:
    title = f"{reading.design.name}: the holes of the {reading.face} as seen"
    yield Text(x_mm=_EDGE_MM, y_mm=14.0, text=shortened(title, 6.0, room_mm), size_mm=6.0, is_bold=True)
    about = f"Design {fingerprint(reading.design)}, by {reading.by}. Looking straight at the face."
    yield Text(x_mm=_EDGE_MM, y_mm=20.0, text=about, size_mm=3.2, colour=FAINT)
    x = _EDGE_MM
    for colour, words, is_whole in (
        (FOUND, "found", True),
        (RIVAL, "its rival", False),
        (DRILL, "the drill's circle where the design has it", False),
    ):
        dash = None if is_whole else (1.6, 1.0)
        yield Line(x1_mm=x, y1_mm=26.0, x2_mm=x + 9.0, y2_mm=26.0, line_mm=0.7, colour=colour, dash_mm=dash)
        yield Text(x_mm=x + 11.0, y_mm=27.0, text=words, size_mm=3.2)
        x += 11.0 + width_mm(words, 3.2) + 6.0
    unsure = zip(reading.holes, reading.unsure, strict=True)
    asked = [hole.number for hole, why in unsure if why and hole.number not in given]
    said = ""
    if asked:
        which = f"hole {asked[0]}. It is" if len(asked) == 1 else f"holes {', '.join(map(str, asked))}. They are"
        said = f"Asked: {which} not taken over until you say which circle is the rim. "
    number = asked[0] if asked else reading.holes[0].number
    said += (
        f"To say so, or to change one that is sure, add to the command --hole {number}=found, --hole {number}=rival, a "
        f"nudge in mm to the right and down such as --hole {number}=+0.2,-0.1, or --hole {number}=? where it cannot be "
        "told."
    )
    yield from lines(wrapped(said, 3.2, room_mm), _EDGE_MM, 33.0, 3.2, 4.6)


def _tile(reading: FaceReading, index: int, answer: Answer | None, x: float, y: float) -> Iterator[Mark]:
    hole, side = reading.holes[index], _TILE_MM
    picture, per_mm = enlarged(reading, index, round(side * _PAGE_PER_MM))
    yield Image(x_mm=x, y_mm=y, width_mm=side, height_mm=side, pixels=picture)
    zoom = per_mm / _PAGE_PER_MM
    middle = np.array([x + side / 2, y + side / 2])
    designed, bore = np.array([hole.bore.u_mm, hole.bore.v_mm]), hole.bore
    radius = bore.outline.width_mm / 2
    yield from _dashed(middle, radius * zoom, DRILL)
    rival, at, look = reading.rival(index), reading.places[index], reading.seen[0].seen[index]
    taken = reading.answered(index, answer)
    at = at if taken is None else taken
    if rival is not None:
        yield from _dashed(middle + (rival - designed) * zoom, radius * zoom, RIVAL)
    if look is not None and not np.isnan(at).any():
        spot = middle + (at - designed) * zoom
        yield Circle(x_mm=spot[0], y_mm=spot[1], radius_mm=look.diameter_mm / 2 * zoom, stroke=FOUND, line_mm=0.35)
        for dx, dy in ((1.5, 0.0), (0.0, 1.5)):
            yield Line(x1_mm=spot[0] - dx, y1_mm=spot[1] - dy, x2_mm=spot[0] + dx, y2_mm=spot[1] + dy, colour=FOUND)
    is_asked = bool(reading.unsure[index]) and answer is None
    edge = RIVAL if is_asked else FAINT
    yield Rectangle(x_mm=x, y_mm=y, width_mm=side, height_mm=side, stroke=edge, line_mm=0.8 if is_asked else 0.25)
    title = shortened(f"{hole.number}  {hole.name}", 3.8, side)
    yield Text(x_mm=x, y_mm=y + side + 5.0, text=title, size_mm=3.8, is_bold=True)
    words = wrapped(sureness(reading, index, answer), 3.0, side)
    yield from lines(words[:2], x, y + side + 9.4, 3.0, 3.9)


def _dashed(middle: Floats, radius: float, colour: Colour) -> Iterator[Mark]:
    """Yield a circle of dashes."""
    for dash in range(_DASHES):
        angle = (dash + np.array([0.0, 0.5])) * 2 * np.pi / _DASHES
        ends = tuple((float(middle[0] + radius * np.cos(a)), float(middle[1] + radius * np.sin(a))) for a in angle)
        bulge = math.tan(math.pi / _DASHES / 4)
        yield Path(points=ends, bulges=(bulge, 0.0), is_closed=False, stroke=colour, line_mm=0.4)
