"""The help overlay: every key, and the pages of the manual."""

from __future__ import annotations

from collections.abc import Sequence

from imgui_bundle import ImVec2, imgui

from mockup import manual
from mockup.window import action_buttons
from mockup.window.actions.table import ACTIONS
from mockup.window.desk import Desk
from mockup.window.shell import theme
from mockup.window.shell.key_names import written
from mockup.window.shell.widgets import Widgets

_MOUSE = (
    ("Go round", "drag"),
    ("Shift the picture", "Drag with the right button, or the middle one"),
    ("Pick several", "Shift and click, or Shift and drag a frame"),
    ("Nearer, farther", "wheel, about the pointer"),
    ("Select a part", "click it"),
    ("Move a part", "drag it along its face; Alt: freely"),
)
COLUMNS = (
    ("Mouse", "Pedal", "What is picked", "Pictures and words"),
    ("View", "Parts"),
    ("Variants", "Take away", "Show", "Window"),
)
"""The groups of each column, about equally long."""
_SHARES, _MOUSE_SHARES = (0.66, 0.34), (0.38, 0.62)  # of what is done and its key: by eye


def draw(desk: Desk, is_new: bool) -> None:
    """Show keys and manual over the window."""
    widgets, view = desk.widgets, imgui.get_main_viewport()
    wide, tall = min(view.size.x * 0.94, 1180 * widgets.scale), min(view.size.y * 0.94, 760 * widgets.scale)
    with widgets.dialog("help", wide, tall, is_new=is_new):
        with widgets.semibold(theme.TITLE_PX):
            imgui.text_unformatted("Help")
        imgui.same_line(imgui.get_window_width() - 428 * widgets.scale)
        for name in ("theme", "smaller", "bigger"):
            action_buttons.button(desk, name, page="help", wide=100 * widgets.scale)
            imgui.same_line(0, 8 * widgets.scale)
        if widgets.button("Close", "help.close", wide=84 * widgets.scale):
            desk.view.show_help(False)
        if imgui.begin_tab_bar("help"):
            for title, name, page in (("Keys and mouse", "keys", _every_key), ("Manual", "manual", _manual)):
                is_open = imgui.begin_tab_item_simple(title)
                widgets.mark(f"help.{name}")
                if is_open:
                    imgui.begin_child(name, ImVec2(0, 0))
                    page(widgets)
                    imgui.end_child()
                    imgui.end_tab_item()
            imgui.end_tab_bar()


def _every_key(widgets: Widgets) -> None:
    """List what mouse and keys do, in columns."""
    if imgui.begin_table("keys", len(COLUMNS)):
        imgui.table_next_row()
        for groups in COLUMNS:
            imgui.table_next_column()
            _column(widgets, groups)
        imgui.end_table()


def _manual(widgets: Widgets) -> None:
    """List the pages of the manual; one that is clicked opens under its title."""
    for topic, title in manual.topics().items():
        is_open = imgui.collapsing_header(title)
        widgets.mark(f"help.page.{topic}")
        if is_open:
            imgui.push_text_wrap_pos(0.0)
            imgui.text_unformatted(manual.plain(topic).partition("\n\n")[2])  # the title stands above
            imgui.pop_text_wrap_pos()


def _column(widgets: Widgets, groups: Sequence[str]) -> None:
    """Fill one of the columns."""
    imgui.push_style_var(imgui.StyleVar_.cell_padding, ImVec2(6 * widgets.scale, 2 * widgets.scale))
    for group in groups:
        lines = [(a.title, _keys(a.keys)) for a in ACTIONS if a.group == group and a.keys] or _MOUSE
        with widgets.semibold():
            imgui.text_unformatted(group)
        with widgets.small():
            if imgui.begin_table(f"rows.{group}", 2, imgui.TableFlags_.sizing_stretch_prop):
                for share in _MOUSE_SHARES if lines is _MOUSE else _SHARES:
                    imgui.table_setup_column("", imgui.TableColumnFlags_.width_stretch, share)
                for title, keys in lines:
                    imgui.table_next_row()
                    imgui.table_next_column()
                    widgets.text(title)
                    imgui.table_next_column()
                    widgets.text(keys, is_dim=True)
                imgui.end_table()
        imgui.dummy(ImVec2(0, 6 * widgets.scale))
    imgui.pop_style_var()


def _keys(keys: tuple[str, ...]) -> str:
    return " or ".join(written(key) for key in keys)
