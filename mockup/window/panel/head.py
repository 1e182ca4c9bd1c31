"""The head of the panel: which project, whether it is saved, undo, redo, save."""

from __future__ import annotations

from imgui_bundle import ImVec2, imgui

from mockup.window.doing import Doing
from mockup.window.shell import theme
from mockup.window.shell.widgets import Widgets
from mockup.window.view.scene_view import App


def draw(app: App, kit: Widgets, doing: Doing) -> None:
    """Lay out the head."""
    assert app.project is not None
    title = app.design.name if app.design is not None else app.project.title
    with kit.bold(theme.TEXT_PX + 5):
        imgui.text_unformatted(title)
    start = imgui.get_cursor_screen_pos()
    with kit.small():
        if app.is_changed:
            r = 4 * kit.scale
            imgui.get_window_draw_list().add_circle_filled(
                ImVec2(start.x + r, start.y + imgui.get_text_line_height() / 2 + 1), r, theme.packed(theme.UNSAVED)
            )
            imgui.set_cursor_screen_pos(ImVec2(start.x + 14 * kit.scale, start.y))
            kit.text(
                f"{app.project.layout.name}, " + ("changed here and elsewhere" if app.clashes else "not saved yet")
            )
        else:
            kit.text(app.project.layout.name, is_dim=True)
        kit.mark("head.file")
        kit.tip("\n".join((str(app.project.layout), *app.clashes[:6])))
    document = app.document
    gap = 4 * kit.scale
    wide = (kit.wide - 2 * gap) / 3
    undoes = document.undoes if document is not None else None
    redoes = document.redoes if document is not None else None
    rows = (
        ("Undo", "undo", undoes is not None, f"Undo: {undoes}" if undoes else "Nothing to undo"),
        ("Redo", "redo", redoes is not None, f"Redo: {redoes}" if redoes else "Nothing to redo"),
        ("Save layout", "save", app.is_changed, "Write the changed values into the layout file"),
    )
    for index, (label, action, is_enabled, tip) in enumerate(rows):
        if index:
            imgui.same_line(0, gap)
        if kit.button(label, f"head.{action}", action=action, tip=tip, wide=wide, is_enabled=is_enabled):
            doing.act(action)
    imgui.dummy(ImVec2(0, 1 * kit.scale))
