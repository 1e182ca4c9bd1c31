"""A row of a station's list: a word, a scale, a border or a picture on the pedal."""

from __future__ import annotations

from mockup.window.desk import Desk
from mockup.window.state import Way
from mockup.window.widgets.tile import tile


def thing_row(desk: Desk, way: Way, name: str, said: str) -> None:
    """Draw the row of a thing by its name, and at the right what it is; a click picks it."""
    widgets, scale = desk.widgets, desk.widgets.scale
    wide = widgets.wide
    row = tile(widgets, f"{way[0]}.{way[1]}", wide, 28 * scale)
    low = row.low
    if row.is_hovered or row.is_focused:
        row.fill(widgets.palette.hover, beyond=6)
    far = widgets.text_size(said, widgets.faces.small)[0]
    shown = widgets.shortened(name, wide - far - 12 * scale, widgets.faces.strong)
    widgets.draw_text(row.canvas, (low.x, low.y + 5 * scale), shown, widgets.faces.strong, widgets.palette.text)
    widgets.draw_text(
        row.canvas, (low.x + wide - far, low.y + 7 * scale), said, widgets.faces.small,
        widgets.palette.second,
    )  # fmt: skip
    if row.is_pushed:
        desk.view.change(desk.view.state.picking(way))
