"""What is drawn over the picture, in order, under the cards."""

from __future__ import annotations

from imgui_bundle import ImVec2, imgui

from mockup.window.desk import Desk
from mockup.window.frame import box_outline, pane_names, pointed
from mockup.window.frame.waiting import WaitingArc
from mockup.window.shell import theme
from mockup.window.station import Station


def draw(desk: Desk, station: Station, arc: WaitingArc) -> None:
    """Draw everything over the picture; the cards come on top."""
    if not desk.view.grid.rects:
        return
    canvas = imgui.get_background_draw_list()
    card = desk.view.cards.picture
    canvas.push_clip_rect(ImVec2(card.x, card.y), ImVec2(card.right, card.bottom))
    box_outline.draw(desk, canvas)
    pointed.draw_guides(desk, canvas)
    pointed.draw_measures(desk, canvas)
    pointed.draw_names(desk, canvas)
    pointed.draw_frame(desk, canvas)
    station.draw_marks(canvas)
    arc.draw(desk, canvas)
    canvas.pop_clip_rect()
    _corners(desk, canvas)
    pane_names.draw(desk, canvas)


def _corners(desk: Desk, canvas: imgui.ImDrawList) -> None:
    """Round the pictures' corners: what lies outside a round frame gets the ground's grey."""
    thick = theme.CARD_ROUND * desk.widgets.scale
    for index, rect in enumerate(desk.view.grid.rects):
        x, y = desk.view.origin(index)
        canvas.push_clip_rect(ImVec2(x, y), ImVec2(x + rect.width, y + rect.height), True)
        canvas.add_rect(
            ImVec2(x - thick, y - thick), ImVec2(x + rect.width + thick, y + rect.height + thick),
            theme.packed(desk.widgets.palette.ground), 2 * thick, thick,
        )  # fmt: skip
        canvas.pop_clip_rect()
