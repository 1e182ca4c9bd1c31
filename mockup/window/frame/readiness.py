"""The readiness mark: whether the pedal can be built, always in sight; a click goes to Check."""

from __future__ import annotations

from collections.abc import Sequence

from imgui_bundle import ImVec2, imgui

from mockup.model.finding import Finding
from mockup.window.actions.table import BY_NAME, act
from mockup.window.desk import Desk
from mockup.window.shell import theme
from mockup.window.shell.cards import Cards
from mockup.window.widgets.marks import MarkKind, draw_mark

WIDE_PX = {"wide": 188.0, "small": 58.0, "tight": 58.0}  # units, kept whatever it says
_STALE_ALPHA = 0.5


def said(findings: Sequence[Finding]) -> tuple[MarkKind, int, str]:
    """Return the mark of findings, the number inside it and the words beside it."""
    stops, troubles, notes = (sum(each.severity == kind for each in findings) for kind in ("stop", "warn", "note"))
    if stops:
        words = _counted(stops, "stop") + (f", {_counted(troubles, 'trouble')}" if troubles else "")
        return "stop", stops, words
    if troubles:
        return "warn", troubles, _counted(troubles, "likely trouble")
    if notes:
        return "note", notes, f"{notes} to know"
    return "clear", 0, "Nothing in the way"


def draw(desk: Desk, cards: Cards, right: float) -> float:
    """Draw the mark with its right edge at a place; return its left edge."""
    widgets, scale, palette = desk.widgets, desk.widgets.scale, desk.widgets.palette
    wide, tall = WIDE_PX[cards.size] * scale, 40 * scale
    kind, number, words = said(desk.work.findings)
    is_stale = desk.work.found.is_checking or desk.work.found.checked is None
    at = ImVec2(right - wide, cards.head.y + 8 * scale)
    imgui.set_cursor_screen_pos(at)
    if widgets.button("", "head.readiness", tip=f"What stands in the way: {words}", wide=wide, tall=tall):
        act(desk, BY_NAME["station-check"])
    canvas, alpha = imgui.get_window_draw_list(), _STALE_ALPHA if is_stale else 1.0
    middle = ImVec2(at.x + 20 * scale, at.y + tall / 2)
    if is_stale:
        draw_arc(canvas, middle, 8 * scale, theme.packed(palette.second), scale)
    else:
        draw_mark(widgets, canvas, middle, kind, str(number or ""))
    shown = words if cards.size == "wide" else str(number or "")
    if desk.work.found.checked is None:
        shown = "Checking" if cards.size == "wide" else ""
    size = widgets.text_size(shown, widgets.faces.text)
    x, y = at.x + 38 * scale, at.y + (tall - size[1]) / 2
    widgets.draw_text(canvas, (x, y), shown, widgets.faces.text, palette.text, alpha=alpha)
    return at.x


def draw_arc(canvas: imgui.ImDrawList, middle: ImVec2, radius: float, colour: int, scale: float) -> None:
    """Draw the arc that stands where something is under way."""
    canvas.path_clear()
    canvas.path_arc_to(middle, radius, -1.6, 2.6, 24)
    canvas.path_stroke(colour, max(1.0, 2 * scale), imgui.ImDrawFlags_.none)


def _counted(count: int, word: str) -> str:
    return f"{count} {word}{'s' * (count > 1)}"
