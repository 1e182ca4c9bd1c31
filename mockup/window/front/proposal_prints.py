"""The layouts that a list of controls may have: a print of each with what it is like; a click takes one."""

from __future__ import annotations

from imgui_bundle import ImVec2, ImVec4, imgui

from mockup.model.text import capitalized
from mockup.model.units import format_length
from mockup.window.desk import Desk
from mockup.window.front.canvas import FrontCanvas
from mockup.window.front.choice import Choice
from mockup.window.front.places import Area
from mockup.window.shelf.subjects import CARD_PX, PedalSubject, Thumbnail
from mockup.window.shell import theme
from mockup.window.work.arranging import Arranged, ArrangeResult, dressed, has_white_under
from mockup.window.work.new_project import called

_LEAST_WIDE, _GAP = 128.0, 12.0
_MOST_PRINT, _WORDS = 128.0, 88.0  # height of a print, and of the words under it


class ProposalPrints:
    """The prints, side by side; they wear the paint that is chosen."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk

    def draw(self, canvas: FrontCanvas, area: Area, choice: Choice) -> tuple[str, dict[str, bytes]] | None:
        """Lay out the prints; return the layout that was clicked with the files that it needs."""
        widgets, scale, result = self._desk.widgets, canvas.scale, self._desk.arranger.result
        assert result is not None
        canvas.go(area.x, area.low - 30)
        if widgets.button("Change the list", "front.again", look="quiet", glyph="pencil", tall=28 * scale):
            self._desk.arranger.clear()
            return None
        canvas.go(area.x, area.y)
        imgui.push_style_color(imgui.Col_.child_bg, ImVec4(0, 0, 0, 0))
        size = ImVec2(area.wide * scale, (area.tall - 36) * scale)
        imgui.begin_child("front.proposals", size, imgui.ChildFlags_.nav_flattened)
        imgui.pop_style_color()
        inner = FrontCanvas(widgets)
        room = area.wide - 12  # beside what scrolls
        columns = min(len(result.found), max(int((room + _GAP) // (_LEAST_WIDE + _GAP)), 1))
        wide = min((room - (columns - 1) * _GAP) / columns, 264.0)
        tall = min(wide * 0.75, _MOST_PRINT) + _WORDS
        taken = None
        for index, each in enumerate(result.found):
            place = Area(index % columns * (wide + _GAP), index // columns * (tall + _GAP), wide, tall)
            if self._print(inner, place, result, each, choice, index):
                taken = dressed(each.text, called(choice.name), choice.paint), dict(result.files)
        imgui.end_child()
        return taken

    def _print(
        self, canvas: FrontCanvas, area: Area, result: ArrangeResult, each: Arranged, choice: Choice, index: int
    ) -> bool:
        widgets, palette = self._desk.widgets, self._desk.widgets.palette
        text = dressed(each.text, called(choice.name), choice.paint)
        white = "; its words want white under them on this paint, from a print service" if has_white_under(text) else ""
        pushed = canvas.pressed(f"front.proposal.{index}", area, tip=f"Make this one{white}")
        canvas.fill(area, palette.hover if imgui.is_item_hovered() else palette.raised, theme.BUTTON_ROUND)
        subject = PedalSubject(project=self._desk.arranger.project(), text=text)
        texture = self._desk.shelf.texture(Thumbnail(subject=subject, size=CARD_PX), slot=f"front.proposal.{index}")
        low, high = canvas.at(area.x, area.y), canvas.at(area.right, area.low - _WORDS)
        rounding, corners = theme.BUTTON_ROUND * canvas.scale, imgui.ImDrawFlags_.round_top
        if texture is None:
            canvas.draw.add_rect_filled(low, high, theme.packed(palette.chosen), rounding, corners)
        else:
            shown = (area.tall - _WORDS) / area.wide * CARD_PX[0] / CARD_PX[1]  # of the print's height: the middle
            cut = max(1.0 - shown, 0.0) / 2
            canvas.draw.add_image_rounded(
                texture, low, high, ImVec2(0, cut), ImVec2(1, 1 - cut), theme.grey(1.0), rounding, corners
            )
        left = area.x + 10
        words = [(capitalized(each.about), palette.text)]
        if each.fingers_mm is not None:
            words.append(
                (f"{format_length(round(each.fingers_mm, 1), choice.units)} between the knobs", palette.second)
            )
        y, room = area.low - _WORDS + 8, (area.right - 8 - left) * canvas.scale
        for said, colour in words:
            widgets.draw_lines(canvas.draw, canvas.at(left, y), said, widgets.faces.small, colour, room=room)
            y += widgets.lines_size(said, widgets.faces.small, room)[1] / canvas.scale + 2
        return pushed
