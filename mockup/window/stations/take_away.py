"""Take away: every page, picture and file that can be made of the pedal, with the real page in sight."""

from __future__ import annotations

import time
from pathlib import Path

from imgui_bundle import ImVec2, imgui

from mockup.window import save_flow
from mockup.window.actions.table import BY_NAME, act
from mockup.window.desk import Desk
from mockup.window.pages.page_card import PageCard
from mockup.window.saves import output_options, outputs_list, outside
from mockup.window.saves.outputs_list import BENCH, OutputRow
from mockup.window.saves.save_jobs import SaveProgress
from mockup.window.saves.save_worker import PACK, SaveJob
from mockup.window.shell import theme
from mockup.window.shell.cards import Cards
from mockup.window.shell.icons import icon
from mockup.window.station import RailState, Station
from mockup.window.stations.inputs import option_rows
from mockup.window.widgets.marks import draw_mark
from mockup.window.widgets.tile import tile

WORD, ICON = "Take away", "box-open"
_PAGED = {".pdf"}  # kinds of file whose pages are shown
_ROW_TALL, _BOX = 48.0, 20.0


class Page(Station):
    """The outputs in the drawer, the real page in the middle, its options and what is under way in the sheet."""

    drawer = 236.0

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._page = PageCard(desk)

    def rail_state(self) -> RailState:
        """Return how far the output is that is being made."""
        progress = self._desk.saves.progress
        if progress is not None:
            return RailState(text=f"{progress.share:.0%}")
        return RailState()

    def title(self) -> tuple[str, str]:
        """Return the chosen output and what it is."""
        row = outputs_list.row(self._desk.saves.chosen)
        return row.word, row.about

    def covers_picture(self) -> bool:
        """Return whether a page is shown: what is chosen is one, not a picture of the pedal or a solid."""
        desk = self._desk
        chosen = desk.saves.chosen
        return chosen != PACK and save_flow.suffix(desk, chosen) in _PAGED and desk.work.pane is not None

    def draw_cover(self, cards: Cards) -> None:
        """Draw the page."""
        job = save_flow.job(self._desk, self._desk.saves.chosen)
        if job is not None:
            self._page.wants(job)
        self._page.draw(cards)

    # The drawer

    def draw_drawer(self) -> None:
        """Lay out every output in its group, to be ticked, and all of those for the bench as one go."""
        widgets, scale = self._desk.widgets, self._desk.widgets.scale
        imgui.begin_child("drawer.outputs", ImVec2(0, -52 * scale), imgui.ChildFlags_.nav_flattened)
        imgui.dummy(ImVec2(0, 4 * scale))
        for group, rows in outputs_list.in_groups():
            if not rows:
                continue
            imgui.set_cursor_pos_x(16 * scale)
            with widgets.small():
                widgets.text(group, colour=widgets.palette.second)
            for row in rows:
                self._row(row)
            imgui.dummy(ImVec2(0, 4 * scale))
        imgui.end_child()
        imgui.set_cursor_pos(ImVec2(12 * scale, imgui.get_window_height() - 44 * scale))
        if widgets.button(
            "Everything for the bench", "take.bench", wide=imgui.get_window_width() - 24 * scale,
            tip="Ticks all that the workshop needs, and nothing else",
        ):  # fmt: skip
            self._desk.saves.ticked = {row.name for row in outputs_list.rows() if row.group == BENCH}

    def _row(self, row: OutputRow) -> None:
        desk, widgets, scale = self._desk, self._desk.widgets, self._desk.widgets.scale
        palette, saves = widgets.palette, desk.saves
        wide, tall = imgui.get_window_width() - 12 * scale, _ROW_TALL * scale
        imgui.set_cursor_pos_x(6 * scale)
        at, box = imgui.get_cursor_screen_pos(), 38 * scale
        imgui.set_cursor_screen_pos(ImVec2(at.x + box, at.y))
        words = tile(widgets, f"output.{row.name}", wide - box, tall)
        if words.is_pushed:
            saves.chosen = row.name
        canvas, is_chosen = words.canvas, saves.chosen == row.name
        if is_chosen or words.is_hovered:
            fill = theme.packed(palette.raised, 1.0 if is_chosen else 0.5)
            canvas.add_rect_filled(at, ImVec2(at.x + wide, at.y + tall), fill, theme.BUTTON_ROUND * scale)
        after = ImVec2(at.x, imgui.get_cursor_screen_pos().y)
        self._tick(row, ImVec2(at.x + 6 * scale, at.y + 10 * scale))
        text = ImVec2(at.x + 42 * scale, at.y + 5 * scale)
        widgets.draw_text(canvas, (text.x, text.y), row.word, widgets.faces.strong, palette.text)
        said = outputs_list.state(row.name, saves.given.get(row.name, {}), save_flow.suffix(desk, row.name))
        widgets.draw_text(canvas, (text.x, text.y + 19 * scale), said, widgets.faces.small, palette.second)
        glyph = icon(row.glyph)
        size = widgets.text_size(glyph, widgets.faces.text)
        widgets.draw_text(
            canvas, (at.x + wide - 14 * scale - size[0], at.y + (tall - size[1]) / 2), glyph, widgets.faces.text,
            palette.second,
        )  # fmt: skip
        imgui.set_cursor_screen_pos(after)

    def _tick(self, row: OutputRow, at: ImVec2) -> None:
        """The box to tick; its reach is larger than it looks."""
        widgets, saves, scale = self._desk.widgets, self._desk.saves, self._desk.widgets.scale
        reach = 28 * scale
        imgui.set_cursor_screen_pos(at)
        tip = f"Save the {row.word.lower()} with the others"
        if tile(widgets, f"tick.{row.name}", reach, reach, tip=tip).is_pushed:
            saves.ticked ^= {row.name}
        low = ImVec2(at.x + 4 * scale, at.y + 4 * scale)
        high = ImVec2(low.x + _BOX * scale, low.y + _BOX * scale)
        canvas, palette = imgui.get_window_draw_list(), widgets.palette
        if row.name not in saves.ticked:
            canvas.add_rect(low, high, theme.packed(palette.rule), 4 * scale, max(1.0, 1.5 * scale))
            return
        canvas.add_rect_filled(low, high, theme.packed(palette.chalk), 4 * scale)
        side = _BOX * scale
        canvas.path_clear()
        for x, y in ((0.24, 0.52), (0.43, 0.71), (0.77, 0.31)):
            canvas.path_line_to(ImVec2(low.x + x * side, low.y + y * side))
        canvas.path_stroke(theme.packed(palette.on_chalk), max(1.5, 2 * scale), imgui.ImDrawFlags_.none)

    # The sheet

    def draw_sheet(self) -> None:
        """Lay out the options of the chosen output, what the page will say, and what is under way or done."""
        desk, widgets, chosen = self._desk, self._desk.widgets, self._desk.saves.chosen
        has_jobs = self._jobs()
        if has_jobs:
            widgets.title("Options")
        if chosen == PACK:
            widgets.note("The pedal with its art, its fonts and its own kinds of parts, to keep or to send.")
        else:
            option_rows.draw(desk, chosen)
        self._stops()

    def _stops(self) -> None:
        """Say what stands in the way, where the page will say it."""
        desk, widgets, scale = self._desk, self._desk.widgets, self._desk.widgets.scale
        stops, chosen = save_flow.open_stops(desk), desk.saves.chosen
        if not stops or chosen == PACK or not output_options.stop_options(chosen):
            return
        widgets.hairline()
        at = imgui.get_cursor_screen_pos()
        middle = ImVec2(at.x + 10 * scale, at.y + 18 * scale)
        draw_mark(widgets, imgui.get_window_draw_list(), middle, "stop", str(stops))
        imgui.begin_group()
        imgui.indent(32 * scale)
        with widgets.semibold():
            widgets.text("1 stop is open" if stops == 1 else f"{stops} stops are open")
        widgets.note("The page will say so.")
        imgui.unindent(32 * scale)
        imgui.end_group()
        imgui.same_line(imgui.get_cursor_pos_x() + widgets.wide - 84 * scale)
        if widgets.button("See them", "take.see", look="quiet"):
            act(desk, BY_NAME["station-check"])

    def _jobs(self) -> bool:
        """Lay out what is being made, what waits and what is done; False where there is nothing."""
        desk, widgets, saves = self._desk, self._desk.widgets, self._desk.saves
        if saves.progress is None and not saves.waiting and not saves.done:
            return False
        is_busy = saves.progress is not None or bool(saves.waiting)
        if is_busy:
            widgets.title("Under way", is_first=True)
        if saves.progress is not None:
            self._progress(saves.progress)
        for number, job in enumerate(saves.waiting):
            self._waiting(number, job)
        if saves.done:
            widgets.title("Done", is_first=not is_busy)
        for index, done in enumerate(saves.done):
            self._done(index, done)
        if saves.progress is not None:
            desk.window.touch(1)
        return True

    def _progress(self, progress: SaveProgress) -> None:
        widgets, saves = self._desk.widgets, self._desk.saves
        left = progress.left_s(time.monotonic())
        said = progress.what if left is None else f"{progress.what}, about {max(round(left), 1)} s"
        widgets.pair(outputs_list.row(progress.job.output).word, said, at=0.45)
        widgets.bar(progress.share)
        widgets.mark("take.progress")
        if widgets.button("Stop", "take.stop", glyph="xmark", look="quiet", key="ctrl+period"):
            saves.stop()

    def _waiting(self, number: int, job: SaveJob) -> None:
        """A job that has not begun, which may still be left out."""
        widgets, scale = self._desk.widgets, self._desk.widgets.scale
        left, wide = imgui.get_cursor_pos_x(), widgets.wide
        imgui.align_text_to_frame_padding()
        widgets.text(outputs_list.row(job.output).word, colour=widgets.palette.second)
        imgui.same_line(left + 0.45 * wide)
        imgui.align_text_to_frame_padding()
        widgets.text("waits")
        imgui.same_line(left + wide - 28 * scale)
        if widgets.icon_button("xmark", f"take.leave.{number}", tip="Leave it out"):
            self._desk.saves.leave_out(number)

    def _done(self, index: int, done: SaveProgress) -> None:
        widgets = self._desk.widgets
        word = outputs_list.row(done.job.output).word
        if done.fault:
            widgets.text(f"{word}: {done.fault}", colour=widgets.palette.second)
            return
        name = done.files[0].name if done.files else ""
        widgets.pair(word, widgets.shortened(name, 0.55 * widgets.wide, widgets.faces.text), at=0.45)
        widgets.tip(name)
        if widgets.button("Open", f"take.open.{index}", glyph="arrow-up-right-from-square", look="quiet"):
            self._outside(done.files[0], is_located=False)
        imgui.same_line()
        if widgets.button("Show in folder", f"take.show.{index}", glyph="folder-open", look="quiet"):
            self._outside(done.files[0], is_located=True)

    def _outside(self, path: Path, *, is_located: bool) -> None:
        """Open a file in the program that the system has for it, or the folder that it lies in."""
        if not path.exists():
            self._desk.messages.say(f"{path.name} is no longer there.")
        elif not (outside.show_in_folder(path) if is_located else outside.open_file(path)):
            self._desk.messages.say(f"Nothing here opens {path.name if not is_located else 'a folder'}.")

    def foot_height(self) -> float:
        """Return the height of the folder's row and the button."""
        return 108.0

    def draw_foot(self) -> None:
        """Say where files go, and save what is ticked."""
        desk, widgets, scale = self._desk, self._desk.widgets, self._desk.widgets.scale
        folder = save_flow.folder(desk)
        words = widgets.shortened(" / ".join(folder.parts[-3:]), widgets.wide - 110 * scale, widgets.faces.text)
        imgui.align_text_to_frame_padding()
        widgets.text(icon("folder-open"), colour=widgets.palette.second)
        imgui.same_line()
        imgui.align_text_to_frame_padding()
        widgets.text(words, colour=widgets.palette.second)
        widgets.tip(str(folder))
        imgui.same_line(imgui.get_cursor_pos_x() + widgets.wide - 72 * scale)
        if widgets.button("Change", "take.folder", look="quiet"):
            desk.chooser.folder("Where pages go", folder, self._move)
        ticked = frozenset(desk.saves.ticked) or frozenset({desk.saves.chosen})
        if widgets.button(
            outputs_list.counted(ticked), "take.save", look="chalk", wide=widgets.wide, tall=theme.CHALK_BUTTON * scale
        ):
            save_flow.save_outputs(desk, [row.name for row in outputs_list.rows() if row.name in ticked])

    def _move(self, folder: Path) -> None:
        self._desk.saves.folder = folder
