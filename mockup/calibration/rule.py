"""The measuring page: two rules at right angles, to find out how true to size a printer prints."""

from __future__ import annotations

from collections.abc import Iterator

from mockup.drawing.lettering import lines, wrapped
from mockup.model.printer import RULE_MM
from mockup.model.sheet import PAPERS, Line, Mark, Page, Text

CORNER_MM = (40.0, 50.0)
"""Where on the page both rules begin, from its top-left corner."""
_END_MM = 7.0  # lines at both ends, long enough to lay a ruler or a caliper's tips on
_TICKS_MM = {10: 4.5, 5: 3.2, 1: 2.0}
_LINE_MM = 0.15

_STEPS = (
    "Print at 100 %, not fitted to the page, with the paper or film and the settings that you use for decals.",
    "Measure A and B between the middles of their end lines, to a tenth of a millimetre.",
    "Then type what you measured, A first, with a name for this printer:",
    'mockup calibrate rule --measured 99.6,100.3 --name "my inkjet"',
    "From then on every page made with --printer and that name (template, decal sheet, test strip) is stretched "
    "so that it comes out true, and says so.",
    "Printers and films differ: measure again for another one.",
)
_COMMAND = 3
_STEPS_MM = (20.0, 166.0, 3.3, 5.4)  # left, first line, size of the face, from line to line
_LEAST_MM = (160.0, 235.0)  # what rules and words need


def rule_page(paper_mm: tuple[float, float] = PAPERS["a4"]) -> Page:
    """Return the measuring page at true size, upright: rule A across, rule B down, each `RULE_MM` long.

    Raises `ValueError` with one plain sentence where it has no room on the paper.
    """
    width_mm, height_mm = sorted(paper_mm)
    if width_mm < _LEAST_MM[0] or height_mm < _LEAST_MM[1]:
        raise ValueError(
            f"the measuring page needs {_LEAST_MM[0]:g} x {_LEAST_MM[1]:g} mm, found {width_mm:g} x {height_mm:g} mm"
        )
    x, y = CORNER_MM
    marks: list[Mark] = [
        Text(x_mm=20.0, y_mm=22.0, text="Measuring page", size_mm=6.0, is_bold=True),
        Text(x_mm=20.0, y_mm=28.5, text="How long does your printer make 100 mm?", size_mm=3.4),
        Text(x_mm=x + RULE_MM / 2, y_mm=y - 9.5, text="A: 100 mm", size_mm=3.6, anchor="middle", is_bold=True),
        Text(x_mm=x - 9.5, y_mm=y + RULE_MM / 2, text="B: 100 mm", size_mm=3.6, anchor="end", is_bold=True),
        *_rule(is_across=True),
        *_rule(is_across=False),
    ]
    left, y_mm, size, pitch = _STEPS_MM
    for number, step in enumerate(_STEPS):
        said = wrapped(step, size, width_mm - 2 * left)
        marks += lines(said, left, y_mm, size, pitch, is_bold=number == _COMMAND)
        y_mm += pitch * len(said)
    return Page(width_mm=width_mm, height_mm=height_mm, marks=tuple(marks), title="Measuring page")


def _rule(*, is_across: bool) -> Iterator[Mark]:
    """Yield one rule; its ticks stand outside the corner that both make."""
    yield _line(is_across, 0.0, 0.0, RULE_MM, 0.0)
    for tick in range(1, int(RULE_MM)):
        reach = next(length for every, length in _TICKS_MM.items() if tick % every == 0)
        yield _line(is_across, float(tick), 0.0, float(tick), -reach)
    for end in (0.0, RULE_MM):
        yield _line(is_across, end, -_END_MM, end, _END_MM)


def _line(is_across: bool, along1: float, off1: float, along2: float, off2: float) -> Line:
    x, y = CORNER_MM
    if is_across:
        return Line(x1_mm=x + along1, y1_mm=y + off1, x2_mm=x + along2, y2_mm=y + off2, line_mm=_LINE_MM)
    return Line(x1_mm=x + off1, y1_mm=y + along1, x2_mm=x + off2, y2_mm=y + along2, line_mm=_LINE_MM)
