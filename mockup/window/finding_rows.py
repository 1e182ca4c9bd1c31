"""Findings as rows of a sheet; a click looks at one."""

from __future__ import annotations

from imgui_bundle import ImVec2, imgui

from mockup.checks.report import rows
from mockup.model.finding import Finding
from mockup.window import remedies
from mockup.window.desk import Desk
from mockup.window.shell import theme
from mockup.window.widgets.marks import draw_mark


def finding_row(desk: Desk, index: int, finding: Finding, name: str) -> None:
    """One finding; a click looks at it."""
    widgets, palette = desk.widgets, desk.widgets.palette
    shown = rows.row(finding, desk.work.units)
    inset, start = 30 * widgets.scale, imgui.get_cursor_screen_pos()
    wide, is_chosen = widgets.wide, index == desk.view.state.finding
    imgui.begin_group()
    imgui.indent(inset)
    with widgets.semibold():
        widgets.text(f"{theme.SEVERITY_WORDS[finding.severity]}: {shown.subjects or finding.check}")
    with widgets.small():
        widgets.text(shown.what)
        if shown.remedy:
            widgets.text(shown.remedy, is_dim=True)
    imgui.unindent(inset)
    imgui.end_group()
    tall = imgui.get_cursor_screen_pos().y - start.y
    after = imgui.get_cursor_screen_pos()
    draw_list = imgui.get_window_draw_list()
    middle = ImVec2(start.x + 12 * widgets.scale, start.y + 10 * widgets.scale)
    draw_mark(widgets, draw_list, middle, finding.severity, str(index + 1))
    imgui.set_cursor_screen_pos(start)
    clicked = imgui.invisible_button(
        f"##{name}.{index}", ImVec2(max(wide, 1.0), max(tall - 4 * widgets.scale, 1.0)), imgui.ButtonFlags_.enable_nav
    )
    widgets.mark(f"{name}.{index + 1}")
    if imgui.is_item_hovered() or is_chosen:
        low, high = imgui.get_item_rect_min(), imgui.get_item_rect_max()
        room = 3 * widgets.scale
        draw_list.add_rect(
            ImVec2(low.x, low.y - room), ImVec2(high.x - 1, high.y + room),
            theme.packed(palette.chalk if is_chosen else palette.rule), 5 * widgets.scale,
            max(1.0, 1.2 * widgets.scale),
        )  # fmt: skip
    imgui.set_cursor_screen_pos(after)
    imgui.dummy(ImVec2(0, 2 * widgets.scale))
    if clicked:
        remedies.look_at(desk, index)
