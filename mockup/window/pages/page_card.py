"""The real page, over the picture: as large as it fits or as large as it is, one of several."""

from __future__ import annotations

from imgui_bundle import ImVec2, ImVec4, imgui

from mockup.model.errors import MockupError
from mockup.model.units import MM_PER_INCH
from mockup.window.desk import Desk
from mockup.window.saves.page_preview import PageImage, PreviewResult
from mockup.window.saves.save_worker import SaveJob
from mockup.window.shell import screen_scale, theme
from mockup.window.shell.cards import GAP, Card, Cards
from mockup.window.widgets.picture_texture import PictureTexture

_USUAL_DPI = 96.0  # of a screen that nobody measured: common practice, no source
_MARGIN = 24.0
_LEAST_WIDE = 120.0  # units, of a page that tells anything: by eye


class PageCard:
    """Shows the pages that came last; `wants` says what they are to be of."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._asked: tuple[object, ...] | None = None
        self._shown: PreviewResult | None = None
        self._texture = PictureTexture()
        self._page = 0
        self._is_true_size = False

    def wants(self, job: SaveJob) -> None:
        """Ask for the pages of a job, unless they are those that were asked for last."""
        text = job.text if job.text is not None else self._desk.work.document.text if self._desk.work.document else ""
        key = (job.output, job.suffix, job.variant, job.project, text, tuple(sorted(job.given.items())), job.stops)
        if key != self._asked:
            if self._asked is None or key[:4] != self._asked[:4]:
                self._shown, self._page = None, 0
            self._asked = key
            self._desk.preview.request(job)
        found = self._desk.shown_pages
        if found is not None and (found.job.output, found.job.variant) == (job.output, job.variant):
            self._shown = found

    def draw(self, cards: Cards) -> None:
        """Lay out the page, and the row of buttons under it."""
        widgets, scale = self._desk.widgets, self._desk.widgets.scale
        area, foot = _in_sight(cards, scale)
        low, high = ImVec2(cards.picture.x, cards.picture.y), ImVec2(cards.picture.right, cards.picture.bottom)
        imgui.get_background_draw_list().add_rect_filled(low, high, theme.packed(widgets.palette.ground))
        if area.width < _LEAST_WIDE * scale:
            return
        pages = self._shown.pages if self._shown is not None else ()
        page = pages[min(self._page, len(pages) - 1)] if pages else None
        imgui.push_style_color(imgui.Col_.window_bg, ImVec4(*theme.BEHIND, 1.0))
        with widgets.card("page", area, "above"):
            imgui.pop_style_color()
            imgui.push_style_color(imgui.Col_.child_bg, ImVec4(*theme.BEHIND, 1.0))
            imgui.begin_child("page.view", ImVec2(0, 0), 0, imgui.WindowFlags_.horizontal_scrollbar)
            if page is not None:
                self._draw_page(page, (float(area.width), float(area.height)))
            else:
                said = self._shown.fault if self._shown is not None else "The page is being made"
                size = imgui.calc_text_size(said)
                imgui.set_cursor_pos(ImVec2((area.width - size.x) / 2, (area.height - size.y) / 2))
                imgui.text_colored(ImVec4(0.08, 0.08, 0.08, 1.0), said)
            imgui.end_child()
            imgui.pop_style_color()
            widgets.places["page"] = (area.x, area.y, area.right, area.bottom)
        with widgets.card("foot", foot, "above", is_bare=True):
            if page is None:
                return
            imgui.set_cursor_screen_pos(ImVec2(foot.x, foot.y + 6 * scale))
            for index in range(len(pages) if len(pages) > 1 else 0):
                if widgets.button(
                    str(index + 1), f"page.{index + 1}", look="quiet", wide=30 * scale, is_on=index == self._page
                ):
                    self._page = index
                imgui.same_line(0, 2 * scale)
            words = f"Sheet {self._page + 1} of {len(pages)}   {self._times(page, area.width, area.height)}"
            imgui.same_line(0, 10 * scale)
            with widgets.small():
                imgui.align_text_to_frame_padding()
                widgets.text(words, colour=widgets.palette.second)
            imgui.set_cursor_screen_pos(ImVec2(foot.right - 150 * scale, foot.y + 6 * scale))
            if widgets.button("Fit", "page.fit", look="quiet", is_on=not self._is_true_size):
                self._is_true_size = False
            imgui.same_line(0, 2 * scale)
            if widgets.button("True size", "page.true-size", look="quiet", is_on=self._is_true_size):
                self._is_true_size = True

    def _draw_page(self, page: PageImage, room: tuple[float, float]) -> None:
        wide, tall = self._size(page, room)
        margin = _MARGIN * self._desk.widgets.scale
        at = ImVec2(max((room[0] - wide) / 2, margin), max((room[1] - tall) / 2, margin))
        imgui.set_cursor_pos(at)
        corner = imgui.get_cursor_screen_pos()
        canvas = imgui.get_window_draw_list()
        for step in range(1, 5):  # a soft shadow
            low = ImVec2(corner.x - step, corner.y - step + 3)
            high = ImVec2(corner.x + wide + step, corner.y + tall + step + 3)
            canvas.add_rect_filled(low, high, theme.grey(0.0, 0.06))
        imgui.image(imgui.ImTextureRef(self._texture.of(page.pixels).id), ImVec2(wide, tall))

    def _size(self, page: PageImage, room: tuple[float, float]) -> tuple[float, float]:
        if self._is_true_size:
            px = self._px_per_mm()
            return page.width_mm * px, page.height_mm * px
        margin = _MARGIN * self._desk.widgets.scale
        px = min((room[0] - 2 * margin) / page.width_mm, (room[1] - 2 * margin) / page.height_mm)
        return page.width_mm * px, page.height_mm * px

    def _times(self, page: PageImage, wide: float, tall: float) -> str:
        times = self._size(page, (wide, tall))[0] / page.width_mm / self._px_per_mm()
        return f"{times:.2f} × true size"

    def _px_per_mm(self) -> float:
        try:
            known = screen_scale.measured(self._desk.window.screen_name)
        except MockupError:
            known = None
        return known or self._desk.window.px_per_mm or _USUAL_DPI / MM_PER_INCH


def _in_sight(cards: Cards, scale: float) -> tuple[Card, Card]:
    """Return where the page and the row under it lie, beside what lies over the picture."""
    gap, left, right = round(GAP * scale), cards.picture.x, cards.picture.right
    if cards.is_drawer_over and cards.drawer is not None:
        left = cards.drawer.right + gap
    if cards.is_sheet_over and cards.sheet is not None:
        right = min(right, cards.sheet.x - gap)
    wide = max(right - left, 1)
    area = Card(left, cards.picture.y, wide, cards.picture.height)
    return area, Card(left, cards.foot.y, wide, cards.foot.height)
