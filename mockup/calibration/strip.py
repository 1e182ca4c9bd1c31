"""The test strip: which patches it has, where they lie, and the page that it is printed on."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from mockup.drawing.feed import corrected
from mockup.drawing.rule import inch_rule, metric_rule
from mockup.model.material import Colour
from mockup.model.printer import Rule
from mockup.model.sheet import PAPERS, Mark, Page, Paper, Rectangle, Text

PATCH_MM = 9.0  # a window of a third of it is 3 mm, some 70 px at 600 dpi: our choice
_STEP_X_MM, _STEP_Y_MM = 10.0, 13.5
_GREY_STEPS = 8  # from bare film to black in even steps of encoded sRGB, which look even
_PALE = 0.5  # encoded share of white in a pale ink
_BARE = (1.0, 1.0, 1.0)
_FAINT: Colour = (0.55, 0.55, 0.55)

_INKS: Mapping[str, Colour] = {
    "cyan": (0.0, 1.0, 1.0),
    "magenta": (1.0, 0.0, 1.0),
    "yellow": (1.0, 1.0, 0.0),
    "red": (1.0, 0.0, 0.0),
    "green": (0.0, 1.0, 0.0),
    "blue": (0.0, 0.0, 1.0),
}


@dataclass(frozen=True, kw_only=True)
class Patch:
    """One patch: what is printed (encoded sRGB), and its centre in millimetres from the first one's."""

    name: str
    printed: Colour
    x_mm: float
    y_mm: float


def _patches() -> Iterator[Patch]:
    greys = {f"grey-{step}": 1.0 - step / _GREY_STEPS for step in range(1, _GREY_STEPS)}
    first = {"bare": _BARE, **{name: (level, level, level) for name, level in greys.items()}, "black": (0.0, 0.0, 0.0)}
    pale = {f"pale-{name}": _mixed(_INKS[name]) for name in ("cyan", "magenta", "yellow")}
    for row, colours in enumerate((first, {**_INKS, **pale})):
        for column, (name, printed) in enumerate(colours.items()):
            yield Patch(name=name, printed=printed, x_mm=column * _STEP_X_MM, y_mm=row * _STEP_Y_MM)


def _mixed(ink: Colour) -> Colour:
    red, green, blue = (_PALE + (1.0 - _PALE) * value for value in ink)
    return red, green, blue


PATCHES: dict[str, Patch] = {patch.name: patch for patch in _patches()}
"""All patches by name, in two rows: the grey ramp from bare film to black, then inks and pale inks."""
FIRST, LAST = next(iter(PATCHES)), next(reversed(PATCHES))
"""The first (top left) and the last (bottom right) patch, by which a photograph is read."""

_MARGIN_X_MM, _ABOVE_MM, _BELOW_MM = 3.5, 6.0, 6.0  # of a strip, round the outer patches' edges
_WIDTH_MM = PATCHES[LAST].x_mm + PATCH_MM + 2 * _MARGIN_X_MM
_HEIGHT_MM = PATCHES[LAST].y_mm + PATCH_MM + _ABOVE_MM + _BELOW_MM
_STRIP_X_MM = 20.0  # further in than any printer's margin: common practice, no source
_STRIP_Y_MM = (36.0, 80.0)
_RULE_Y_MM = 126.0

_STEPS = (
    "Print at 100 %, not fitted to the page, on the film and with the printer settings of your decals.",
    "Check both rules above with a ruler. If they are off, nothing printed from here is true to size.",
    "Let the ink dry fully (hours to a day), then lacquer lightly: wet ink runs in the water. Lacquer outdoors or",
    "with forced ventilation, away from flames, with a suitable respirator.",
    "Cut out strip A and slide it on plain white card; slide strip B on a scrap painted as the pedal will be,",
    "with bare paint left beside it. Lacquer both as you will lacquer the pedal, and let them dry.",
    "Photograph each in daylight, from straight above, with a white card beside it in the same light:",
    "no shine, no shadow on it, and a little dark rather than burnt out.",
    "Fill in a readings file (mockup calibrate readings) with colours, or with the photographs, and run",
    'mockup calibrate fit readings.toml --name "my printer"',
)
_NUMBERED = {0: "1", 1: "2", 2: "3", 4: "4", 6: "5", 8: "6"}


def strip_page(paper: Paper = "a4", rule: Rule | None = None) -> Page:
    """Return the page: two strips, check rules of 50 mm and 2 in, and what to do, at true size.

    `rule` is what the measuring page of the printer showed; the page is then corrected for it.
    """
    width_mm, height_mm = PAPERS[paper]
    marks: list[Mark] = [
        Text(x_mm=_STRIP_X_MM, y_mm=22.0, text="Test strip for ink on decal film", size_mm=6.0, is_bold=True),
        Text(x_mm=_STRIP_X_MM, y_mm=28.5, text="Print it, read it, and mockup knows your printer.", size_mm=3.4),
    ]
    for top_mm, title in zip(_STRIP_Y_MM, ("A: over white card", "B: over the painted scrap"), strict=True):
        marks += _strip(_STRIP_X_MM, top_mm, title)
    marks += metric_rule(_STRIP_X_MM, _RULE_Y_MM)
    marks += inch_rule(_STRIP_X_MM + 70.0, _RULE_Y_MM)
    for row, line in enumerate(_STEPS):
        y_mm = 148.0 + 5.2 * row + 1.6 * sum(1 for each in _NUMBERED if 0 < each <= row)
        if row in _NUMBERED:
            marks.append(Text(x_mm=_STRIP_X_MM, y_mm=y_mm, text=_NUMBERED[row], size_mm=3.4, is_bold=True))
        is_command = row == len(_STEPS) - 1
        marks.append(Text(x_mm=_STRIP_X_MM + 6.0, y_mm=y_mm, text=line, size_mm=3.3, is_bold=is_command))
    end = "The products' own safety sheets come first."
    marks.append(Text(x_mm=_STRIP_X_MM, y_mm=218.0, text=end, size_mm=3.0))
    page = Page(width_mm=width_mm, height_mm=height_mm, marks=tuple(marks), title="Test strip")
    return corrected(page, rule, x_mm=_STRIP_X_MM, y_mm=225.0, room_mm=width_mm - 2 * _STRIP_X_MM)


def _strip(x_mm: float, y_mm: float, title: str) -> Iterator[Mark]:
    """Yield one strip with its cutting line."""
    yield Rectangle(x_mm=x_mm, y_mm=y_mm, width_mm=_WIDTH_MM, height_mm=_HEIGHT_MM, stroke=_FAINT, dash_mm=(2.0, 1.5))
    yield Text(x_mm=x_mm + _MARGIN_X_MM, y_mm=y_mm + 4.2, text=title, size_mm=2.8, is_bold=True)
    for patch in PATCHES.values():
        left, top = x_mm + _MARGIN_X_MM + patch.x_mm, y_mm + _ABOVE_MM + patch.y_mm
        is_bare = patch.printed == _BARE
        yield Rectangle(
            x_mm=left,
            y_mm=top,
            width_mm=PATCH_MM,
            height_mm=PATCH_MM,
            fill=None if is_bare else patch.printed,
            stroke=_FAINT if is_bare else None,
        )
        words = patch.name.split("-") if patch.name.startswith("pale") else [patch.name.replace("-", " ")]
        for row, word in enumerate(words):
            at = (left + PATCH_MM / 2, top + PATCH_MM + 2.0 + 1.7 * row)
            yield Text(x_mm=at[0], y_mm=at[1], text=word, size_mm=1.6, anchor="middle")
