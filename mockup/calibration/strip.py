"""The test strip: which patches it has, where they and its marks lie, and the page that it is printed on."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from mockup.calibration.options import SIZES
from mockup.drawing.feed import corrected
from mockup.drawing.lettering import lines, wrapped
from mockup.drawing.rule import inch_rule, metric_rule
from mockup.model.material import Colour
from mockup.model.printer import Rule
from mockup.model.sheet import PAPERS, Mark, Page, Paper, Rectangle, Text

PATCH_MM = 6.0  # wide enough for a window of 3 mm on a phone's photograph: our choice
STEP_MM = 7.0  # from one patch to the next; bare film between them shows how even the light is
COLUMNS = 6
MARK_MM = 3.0  # side of a register mark, two black quadrants of it
WHITE_BAND_MM = (-9.5, -4.5)  # where the white card lies, down from the patches' upper edge
BLACK_BAND_MM = (4.5, 9.5)  # where the black scrap lies, down from their lower edge
BLACK_PARTS_MM = ((2.0, 16.0), (25.0, 39.0))  # along it: the half under bare film, and the half without
_MARK_GAP_MM = 3.4  # from the outer patches' edge to a mark's middle
_LOW, _HIGH = 0.27, 0.73  # of the eight inner points: by trial, the middles of what corners and faces leave
_FAINT: Colour = (0.55, 0.55, 0.55)

_CORNERS: Mapping[str, Colour] = {
    "bare": (1.0, 1.0, 1.0),
    "cyan": (0.0, 1.0, 1.0),
    "magenta": (1.0, 0.0, 1.0),
    "yellow": (1.0, 1.0, 0.0),
    "red": (1.0, 0.0, 0.0),
    "green": (0.0, 1.0, 0.0),
    "blue": (0.0, 0.0, 1.0),
    "black": (0.0, 0.0, 0.0),
}
_FACES: tuple[Colour, ...] = (
    (0.5, 0.5, 1.0), (0.5, 1.0, 0.5), (1.0, 0.5, 0.5), (0.5, 0.5, 0.0), (0.5, 0.0, 0.5), (0.0, 0.5, 0.5),
)  # fmt: skip
_MORE: tuple[Colour, ...] = (
    (0.5, 0.5, 0.5), (0.5, 0.9, 0.0), (0.9, 1.0, 0.5), (0.0, 0.5, 0.1), (1.0, 0.5, 0.1), (1.0, 0.1, 0.5),
    (0.0, 0.1, 0.5), (0.1, 1.0, 0.5),
)  # fmt: skip  # each where the profile's own deviation shrinks most, after those before it


@dataclass(frozen=True, kw_only=True)
class Patch:
    """One patch: what is printed (encoded sRGB), and its centre in millimetres from the patches' corner."""

    name: str
    printed: Colour
    x_mm: float
    y_mm: float


def patches(size: int = SIZES[0]) -> dict[str, Patch]:
    """Return the patches of a strip by name, a letter for the row and a number for the column; "a1" is bare."""
    inner: list[Colour] = [(r, g, b) for r in (_LOW, _HIGH) for g in (_LOW, _HIGH) for b in (_LOW, _HIGH)]
    colours = [*_CORNERS.values(), *inner, *_FACES, *(_MORE if size == SIZES[1] else ())]
    found = {}
    for number, colour in enumerate(colours):
        row, column = divmod(number, COLUMNS)
        name = f"{'abcde'[row]}{column + 1}"
        found[name] = Patch(
            name=name,
            printed=colour,
            x_mm=PATCH_MM / 2 + column * STEP_MM,
            y_mm=PATCH_MM / 2 + row * STEP_MM,
        )
    return found


BARE = "a1"


def field_mm(size: int) -> tuple[float, float]:
    """Return width and height of a strip's patches together."""
    rows = -(-size // COLUMNS)
    return (COLUMNS - 1) * STEP_MM + PATCH_MM, (rows - 1) * STEP_MM + PATCH_MM


def marks_mm(size: int) -> tuple[tuple[float, float], ...]:
    """Return the middles of the four register marks, clockwise from the top left."""
    width, height = field_mm(size)
    left, right, half = -_MARK_GAP_MM, width + _MARK_GAP_MM, PATCH_MM / 2
    return (left, half), (right, half), (right, height - half), (left, height - half)


def bare_spots_mm(size: int) -> tuple[tuple[float, float], ...]:
    """Return places between and round the patches that hold nothing but bare film."""
    width, height = field_mm(size)
    gap = (STEP_MM - PATCH_MM) / 2
    across = [-gap, *(PATCH_MM + gap + STEP_MM * number for number in range(COLUMNS - 1)), width + gap]
    down = [-gap, *(PATCH_MM + gap + STEP_MM * row for row in range(-(-size // COLUMNS) - 1)), height + gap]
    return tuple(itertools.product(across, down))


_TRIM_MM = (5.4, 3.4)  # from the outer patches to the cutting line, across and down
_PLACE_MM = (34.0, 52.0)  # where on the page the patches' corner lies
_SAY_X_MM = 20.0  # further in than any printer's margin: common practice, no source

_STEPS = (
    "Print at 100 %, not fitted, on the film and with the settings of your decals; note them. Check both rules.",
    "Let the ink dry fully (hours to a day), then lacquer lightly: wet ink runs in the water. Lacquer outdoors or with "
    "forced ventilation, away from flames, with a suitable respirator.",
    "Cut along the dashes and slide the strip on a scrap painted as the pedal will be. That is the surest for this "
    "pedal; on white card it serves every paint, less surely. Lacquer it as you will lacquer the pedal.",
    "Slide a bare piece of the same film on one half of a scrap painted black: it shows its haze. Lacquer it too.",
    "Lay plain white card along the strip's upper edge (numbers), 4 mm above the patches, and the black scrap along "
    "the lower one, its half with film to the left. Both at least as long as the patches and 8 mm high.",
    "Scan all of it, or photograph it in daylight from straight above: no shine, no shadow, a little dark rather than "
    "burnt out. Then run",
    'mockup calibrate fit --photo strip.jpg --black --name "my printer"',
    "Leave --black out where there is no black scrap. With a measuring device, fill in a readings file instead "
    "(mockup calibrate readings).",
)
_COMMAND = 6


def strip_page(paper: Paper = "a4", rule: Rule | None = None, size: int = SIZES[0]) -> Page:
    """Return the page: the strip, check rules of 50 mm and 2 in, and what to do, at true size.

    `rule` is what the measuring page of the printer showed; the page is then corrected for it.
    """
    width_mm, height_mm = PAPERS[paper]
    room = width_mm - 2 * _SAY_X_MM
    marks: list[Mark] = [
        Text(x_mm=_SAY_X_MM, y_mm=22.0, text="Test strip for ink on decal film", size_mm=6.0, is_bold=True),
        Text(x_mm=_SAY_X_MM, y_mm=28.5, text="Print it, scan it, and mockup knows your printer.", size_mm=3.4),
        *strip_marks(*_PLACE_MM, size),
    ]
    y_mm = _PLACE_MM[1] + field_mm(size)[1] + 24.0
    marks += metric_rule(_SAY_X_MM, y_mm)
    marks += inch_rule(_SAY_X_MM + 70.0, y_mm)
    y_mm += 18.0
    number = 0
    for place, step in enumerate(_STEPS):
        is_command = place == _COMMAND
        if not is_command and place < _COMMAND:
            number += 1
            marks.append(Text(x_mm=_SAY_X_MM, y_mm=y_mm, text=str(number), size_mm=3.4, is_bold=True))
        said = wrapped(step, 3.3, room - 6.0)
        marks += lines(said, _SAY_X_MM + 6.0, y_mm, 3.3, 5.0, is_bold=is_command)
        y_mm += 5.0 * len(said) + 2.0
    marks.append(Text(x_mm=_SAY_X_MM, y_mm=y_mm + 2.0, text="The products' own safety sheets come first.", size_mm=3.0))
    page = Page(width_mm=width_mm, height_mm=height_mm, marks=tuple(marks), title="Test strip")
    return corrected(page, rule, x_mm=_SAY_X_MM, y_mm=y_mm + 8.0, room_mm=room)


def strip_marks(x_mm: float, y_mm: float, size: int) -> Iterator[Mark]:
    """Yield a strip, the corner of its patches at (x, y), with its register marks, names and cutting line."""
    width, height = field_mm(size)
    yield Rectangle(
        x_mm=x_mm - _TRIM_MM[0],
        y_mm=y_mm - _TRIM_MM[1],
        width_mm=width + 2 * _TRIM_MM[0],
        height_mm=height + 2 * _TRIM_MM[1],
        stroke=_FAINT,
        dash_mm=(2.0, 1.5),
    )
    for column in range(COLUMNS):
        at = x_mm + PATCH_MM / 2 + column * STEP_MM
        yield Text(x_mm=at, y_mm=y_mm - 1.3, text=str(column + 1), size_mm=1.7, anchor="middle")
    for row in range(-(-size // COLUMNS)):
        at = y_mm + PATCH_MM / 2 + row * STEP_MM + 0.6
        if 0 < row < -(-size // COLUMNS) - 1:
            yield Text(x_mm=x_mm - _MARK_GAP_MM, y_mm=at, text="ABCDE"[row], size_mm=1.7, anchor="middle")
    for mark_x, mark_y in marks_mm(size):
        half = MARK_MM / 2
        for left, top in ((-half, -half), (0.0, 0.0)):
            yield Rectangle(
                x_mm=x_mm + mark_x + left, y_mm=y_mm + mark_y + top, width_mm=half, height_mm=half, fill=(0, 0, 0)
            )
    for patch in patches(size).values():
        if patch.name != BARE:
            yield Rectangle(
                x_mm=x_mm + patch.x_mm - PATCH_MM / 2,
                y_mm=y_mm + patch.y_mm - PATCH_MM / 2,
                width_mm=PATCH_MM,
                height_mm=PATCH_MM,
                fill=patch.printed,
            )
