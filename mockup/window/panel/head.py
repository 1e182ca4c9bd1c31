"""The head of the panel: which project, whether it is saved, undo, redo, save."""

from __future__ import annotations

from imgui_bundle import ImVec2, imgui

from mockup.window.desk import Desk
from mockup.window.panel import action_buttons
from mockup.window.shell import theme


def draw(desk: Desk) -> None:
    """Lay out the head."""
    work, widgets = desk.work, desk.widgets
    assert work.project is not None
    with widgets.bold(theme.TEXT_PX + 5):
        imgui.text_unformatted(work.design.name if work.design is not None else work.project.title)
    start = imgui.get_cursor_screen_pos()
    layout = work.project.layout
    with widgets.small():
        if work.is_changed:
            r = 4 * widgets.scale
            imgui.get_window_draw_list().add_circle_filled(
                ImVec2(start.x + r, start.y + imgui.get_text_line_height() / 2 + 1), r,
                theme.packed(widgets.palette.warn),
            )  # fmt: skip
            imgui.set_cursor_screen_pos(ImVec2(start.x + 14 * widgets.scale, start.y))
            said = "changed here and elsewhere" if work.clashes else "not saved yet"
            widgets.text(f"{layout.name}, {said}")
        else:
            widgets.text(layout.name, is_dim=True)
        widgets.mark("head.file")
        widgets.tip("\n".join((str(layout), *work.clashes[:6])))
    document = work.document
    undoes = document.undoes if document is not None else None
    redoes = document.redoes if document is not None else None
    tips = (f"Undo: {undoes}" if undoes else "", f"Redo: {redoes}" if redoes else "", "")
    action_buttons.row(desk, ("undo", "redo", "save"), page="head", tips=tips)
    imgui.dummy(ImVec2(0, widgets.scale))
