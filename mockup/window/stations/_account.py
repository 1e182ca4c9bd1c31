"""What was loaded for a decal, and what is wrong with it, each with its one button."""

from __future__ import annotations

from collections.abc import Callable

from imgui_bundle import ImVec2, imgui

from mockup.decal.account import Account
from mockup.model.finding import Finding, Severity
from mockup.window import art_flow
from mockup.window.desk import Desk
from mockup.window.shell.marks import MARK_PX, draw_mark

_SHOWN = ("Pixels", "Resolution", "Size", "Drawn in", "Clear", "Ground", "Inks", "Sharpness", "Note")
_NAMES = 0.31  # share of the width that the names take: by eye
_GRAVE = ("nearly white", "turned", "stamp", "larger")


def draw_account(desk: Desk, account: Account) -> None:
    """Draw the lines of an account, then its troubles, and what the checks say of the same picture."""
    widgets = desk.widgets
    for line in account.lines:
        if line.name in _SHOWN:
            with widgets.font(widgets.faces.plain, 13.0):
                widgets.pair(line.name, line.text, _NAMES)
    for each in account.troubles:
        severity: Severity = "warn" if each.name in _GRAVE else "note"
        text = f"{each.title}: {each.what}. {each.order}." if not each.edits else f"{each.title}: {each.what}."

        def cure(title: str = each.title, edits: tuple[object, ...] = each.edits) -> None:
            art_flow.change(desk, title.lower(), edits)  # type: ignore[arg-type]

        _row(desk, severity, text, each.doing, f"remedy.{each.name.replace(' ', '-')}", each.order, cure)
    for index, finding in enumerate(desk.work.findings):
        if _is_about(finding, account.art):
            _row(
                desk, finding.severity, finding.title, "Show me", f"finding.{index}", "",
                lambda index=index: _show(desk, index),  # type: ignore[misc]
            )  # fmt: skip


def _is_about(finding: Finding, art: str) -> bool:
    """Return whether a finding is about a picture; what its account says already is left out."""
    return finding.check != "art-file" and any(each.kind == "decal" and each.name == art for each in finding.subjects)


def _show(desk: Desk, index: int) -> None:
    desk.view.change(desk.view.state.at_station("check").with_finding(index))


def _row(desk: Desk, severity: Severity, text: str, doing: str, name: str, tip: str, does: Callable[[], None]) -> None:
    """Draw a mark, a text that wraps, and a button at the right."""
    widgets, scale = desk.widgets, desk.widgets.scale
    widgets.space(8)
    left, at = imgui.get_cursor_pos_x(), imgui.get_cursor_screen_pos()
    inset, right = (MARK_PX + 12) * scale, left + widgets.wide
    middle = ImVec2(at.x + MARK_PX / 2 * scale, at.y + MARK_PX / 2 * scale)
    draw_mark(imgui.get_window_draw_list(), widgets.faces, middle, severity, "", palette=widgets.palette, scale=scale)
    top = imgui.get_cursor_pos_y()
    imgui.set_cursor_pos_x(left + inset)
    wide = widgets.text_size(doing, widgets.faces.semibold, 14.0)[0] + 24 * scale if doing else 0.0
    imgui.push_text_wrap_pos(right - (wide + 8 * scale if doing else 0.0))
    with widgets.font(widgets.faces.plain, 13.0):
        imgui.text_unformatted(text)
    imgui.pop_text_wrap_pos()
    low = imgui.get_cursor_pos_y()
    if doing:
        imgui.set_cursor_pos(ImVec2(right - wide, top - 4 * scale))
        if widgets.button(doing, name, tip=tip, wide=wide):
            does()
        low = max(low, imgui.get_cursor_pos_y())
    imgui.set_cursor_pos(ImVec2(left, low))
    imgui.dummy(ImVec2(0, 0))
