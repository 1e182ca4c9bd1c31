"""The overlay that lists every key."""

from __future__ import annotations

import sys

from imgui_bundle import ImVec2, imgui

from mockup.window import theme
from mockup.window.keys import ACTIONS, GROUPS, shown
from mockup.window.panel.kit import Kit

_MOUSE = (
    ("Go round", "drag"),
    ("Shift the picture", "Shift and drag, or middle button"),
    ("Nearer, farther", "wheel, about the pointer"),
    ("Select a part", "click it"),
    ("Move a part", "drag it along its face; Alt: freely"),
)
_COLUMNS = 3


def draw(kit: Kit, is_new: bool) -> bool:
    """Show the overlay; False once it is closed."""
    view = imgui.get_main_viewport()
    wide, tall = min(view.size.x * 0.94, 1180 * kit.scale), min(view.size.y * 0.94, 760 * kit.scale)
    with kit.dialog("help", wide, tall, is_new=is_new):
        with kit.bold(theme.TEXT_PX + 4):
            imgui.text_unformatted("Keys and mouse")
        imgui.same_line(imgui.get_window_width() - 104 * kit.scale)
        is_open = not kit.button("Close", "help.close", wide=84 * kit.scale)
        imgui.begin_child("keys", ImVec2(0, 0))
        if imgui.begin_table("keys", _COLUMNS):
            imgui.table_next_row()
            for column in range(_COLUMNS):
                imgui.table_next_column()
                _column(kit, column)
            imgui.end_table()
        imgui.end_child()
    return is_open


def _column(kit: Kit, column: int) -> None:
    """Fill one of the columns: groups in order, shared so that all are about equally long."""
    rows = {group: [(a.title, _keys(a.keys)) for a in ACTIONS if a.group == group and a.keys] for group in GROUPS}
    rows = {"Mouse": list(_MOUSE), **rows}
    total = sum(len(each) + 2 for each in rows.values())
    start = 0
    for group, lines in rows.items():
        middle = start + (len(lines) + 2) // 2
        if min(middle * _COLUMNS // total, _COLUMNS - 1) == column:
            with kit.bold():
                imgui.text_unformatted(group)
            with kit.small():
                if imgui.begin_table(f"rows.{group}", 2, imgui.TableFlags_.sizing_stretch_prop):
                    for title, keys in lines:
                        imgui.table_next_row()
                        imgui.table_next_column()
                        kit.text(title)
                        imgui.table_next_column()
                        kit.text(keys, is_dim=True)
                    imgui.end_table()
            imgui.dummy(ImVec2(0, 8 * kit.scale))
        start += len(lines) + 2


def _keys(keys: tuple[str, ...]) -> str:
    return " or ".join(shown(key, sys.platform == "darwin") for key in keys)
