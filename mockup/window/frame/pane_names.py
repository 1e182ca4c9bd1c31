"""What each picture shows where there are several, which one gets changes, and the wipe's line."""

from __future__ import annotations

from imgui_bundle import ImVec2, imgui

from mockup.window.desk import Desk
from mockup.window.frame import readiness, wipe_line
from mockup.window.shell import theme
from mockup.window.variants.variant_page import AS_DESIGNED
from mockup.window.widgets.marks import MARK_PX, draw_mark
from mockup.window.widgets.tags import draw_tag, tag_size


def draw(desk: Desk, canvas: imgui.ImDrawList) -> None:
    """Name what each pane shows, mark the active one, draw the wipe's line."""
    widgets = desk.widgets
    state, names = desk.view.state, [name or AS_DESIGNED for name in desk.view.state.variants]
    gap = 12 * widgets.scale
    if state.has_wipe_line:
        rect = desk.view.grid.rects[0]
        left, top = desk.view.origin(0)
        x = wipe_line.draw(desk, canvas)
        if state.page == "photograph":
            names = [desk.photo.path.name if desk.photo.path is not None else "Photograph", names[0]]
        wide = tag_size(widgets, names[0])[0]
        if x - gap - wide > left + gap:
            draw_tag(widgets, canvas, left + gap, top + gap, names[0], is_bold=state.active == 0)
        wide = tag_size(widgets, names[1])[0] + 6
        draw_tag(widgets, canvas, left + rect.width - gap - wide, top + gap, names[1], is_bold=state.active == 1)
        return
    if len(names) == 1:
        if names[0] != AS_DESIGNED:
            left, top = desk.view.origin(0)
            draw_tag(widgets, canvas, left + gap, top + gap, names[0])
        return
    for index, (name, rect) in enumerate(zip(names, desk.view.grid.rects, strict=False)):
        _strip(desk, canvas, index, name, float(rect.width))
        if index == state.active:
            x, y = desk.view.origin(index)
            thick = 2 * widgets.scale
            low = ImVec2(x + thick / 2, y + thick / 2)
            high = ImVec2(x + rect.width - thick / 2, y + rect.height - thick / 2)
            canvas.add_rect(low, high, theme.packed(widgets.palette.chalk), theme.CARD_ROUND * widgets.scale, thick)


def _strip(desk: Desk, canvas: imgui.ImDrawList, index: int, name: str, wide: float) -> None:
    """Name a pane over its picture, and say whether what it shows can be built: by its own findings alone."""
    widgets, scale, palette = desk.widgets, desk.widgets.scale, desk.widgets.palette
    x, low = desk.view.origin(index)
    tall = desk.view.strip_tall * scale
    found = desk.work.found.of(desk.work.question_of(desk.view.state.contents[index]))
    kind, number, words = readiness.said(found or ())
    middle = low - tall / 2
    right = x + wide - 4 * scale
    if found is None:
        radius = 8 * scale
        readiness.draw_arc(canvas, ImVec2(right - radius, middle), radius, theme.packed(palette.second), scale)
        right -= 2 * radius
    else:
        size = widgets.text_size(words, widgets.faces.text)
        title = widgets.text_size(name, widgets.faces.strong)[0]
        if size[0] + title + (MARK_PX + 36) * scale < wide:
            place = (right - size[0], middle - size[1] / 2)
            widgets.draw_text(canvas, place, words, widgets.faces.text, palette.second)
            right -= size[0] + 8 * scale
        at = ImVec2(right - MARK_PX / 2 * scale, middle)
        draw_mark(widgets, canvas, at, kind, str(number or ""))
        right -= MARK_PX * scale
    said = widgets.shortened(name, right - x - 16 * scale, widgets.faces.strong)
    size = widgets.text_size(said, widgets.faces.strong)
    is_on = index == desk.view.state.active
    colour = palette.text if is_on else palette.second
    widgets.draw_text(canvas, (x + 4 * scale, middle - size[1] / 2), said, widgets.faces.strong, colour)
    widgets.places[f"pane.{index}"] = (x, low - tall, x + wide, low)
