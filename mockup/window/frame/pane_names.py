"""What each picture shows where there are several, which one gets changes, and the wipe's line."""

from __future__ import annotations

from imgui_bundle import ImVec2, imgui

from mockup.window.desk import Desk
from mockup.window.shell import theme
from mockup.window.shell.tags import draw_tag, tag_size
from mockup.window.variants.variant_page import AS_DESIGNED


def draw(desk: Desk, canvas: imgui.ImDrawList) -> None:
    """Name what each pane shows, mark the active one, draw the wipe's line."""
    widgets = desk.widgets
    state, names = desk.view.state, [name or AS_DESIGNED for name in desk.view.state.variants]
    gap = 12 * widgets.scale
    if state.is_wipe:
        rect = desk.view.grid.rects[0]
        left, top = desk.view.origin(0)
        x = left + round(rect.width * state.wipe) + 0.5
        canvas.add_line(ImVec2(x, top), ImVec2(x, top + rect.height), theme.grey(0.05, 0.8), 3 * widgets.scale)
        canvas.add_line(ImVec2(x, top), ImVec2(x, top + rect.height), theme.grey(0.97), max(1.0, 1.2 * widgets.scale))
        y, r = top + rect.height / 2, 11 * widgets.scale
        canvas.add_circle_filled(ImVec2(x, y), r, theme.grey(0.97), 32)
        for side in (-1, 1):
            tip = x + side * 0.62 * r
            canvas.add_triangle_filled(
                ImVec2(tip, y), ImVec2(x + side * 0.22 * r, y - 0.36 * r), ImVec2(x + side * 0.22 * r, y + 0.36 * r),
                theme.grey(0.15),
            )  # fmt: skip
        widgets.places["wipe.line"] = (x - r, y - r, x + r, y + r)
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
        x, y = desk.view.origin(index)
        _, tall = draw_tag(widgets, canvas, x + gap, y + gap, name, is_bold=index == state.active)
        if not desk.view.grid.has_picture(index):
            draw_tag(widgets, canvas, x + gap, y + gap + tall + 4 * widgets.scale, "The picture is on its way")
        if index == state.active:
            thick = 2 * widgets.scale
            low = ImVec2(x + thick / 2, y + thick / 2)
            canvas.add_rect(
                low,
                ImVec2(x + rect.width - thick / 2, y + rect.height - thick / 2),
                theme.grey(0.96),
                theme.CARD_ROUND * widgets.scale,
                thick,
            )
