"""The window's application: its parts joined, drawn each frame, and given the events of the native window."""

from __future__ import annotations

import math
import time
from dataclasses import replace
from pathlib import Path

from imgui_bundle import imgui

from mockup import failure
from mockup.window import remedies
from mockup.window.actions.table import act, action_of
from mockup.window.desk import Desk
from mockup.window.frame import foot, head, net, overlay, rail, sheet, strip
from mockup.window.frame.drawer_slide import SLIDE_S, DrawerSlide
from mockup.window.frame.help_page import HelpPage
from mockup.window.frame.settings_card import SettingsCard
from mockup.window.frame.waiting import WaitingArc
from mockup.window.frame.walk import Walk
from mockup.window.front.front_door import FrontDoor
from mockup.window.pages.photograph_page import PhotographPage
from mockup.window.project_flow import close_window, open_other, open_project
from mockup.window.shell.cards import Card, Cards, cards, is_tight
from mockup.window.shell.mailbox import Mailbox
from mockup.window.shell.native_window import NativeWindow
from mockup.window.state import PageName
from mockup.window.station import Station
from mockup.window.stations import rail as stations
from mockup.window.trace import WindowTrace
from mockup.window.variants.variant_page import VariantPage


class Application:
    """Answers the native window: works, lays out the interface and hands events on."""

    def __init__(self, window: NativeWindow) -> None:
        self._mailbox = Mailbox(window.wake)
        self.desk = Desk(window, self._mailbox)
        self.pointer = self.desk.tools
        self.pointer.first = lambda x, y: self._station.tool_at(x, y)
        self._rail = stations(self.desk)
        self._start = FrontDoor(self.desk)
        self._pages: dict[PageName, Station] = {
            "variants": VariantPage(self.desk),
            "photograph": PhotographPage(self.desk),
        }
        self._trace = WindowTrace()
        self._arc = WaitingArc()
        self._help = HelpPage(self.desk)
        self._settings = SettingsCard(self.desk)
        self._walk = Walk(self.desk)
        self._slide = DrawerSlide()
        self._opened: tuple[Station, float] | None = None
        self._leaving: tuple[Station, Card] | None = None
        self._shown = self.desk.view.state

    def open(self, path: Path) -> None:
        """Open a layout or a folder."""
        open_project(self.desk, path)

    # What the native window calls

    def work(self) -> float | None:
        """Do what waits; return seconds until there is more."""
        desk = self.desk
        self._lay_cards()
        if self._mailbox.collect():
            desk.window.touch()
        waits = [
            desk.tools.still_s if 0.0 < desk.tools.still_s < math.inf else None,
            desk.messages.expire(),
            desk.tools.carry.build_when_still(),
            desk.tools.lying.build_when_still(),
            desk.shelf.work(),
            desk.chooser.work(),
        ]
        if desk.work.project is not None:
            desk.view.lay_out()
            desk.camera.frame()
            waits.append(desk.camera.move())
            waits.append(desk.view.draw(desk.camera.camera) if desk.camera.is_framed else None)
        return min((wait for wait in waits if wait is not None), default=None)

    def interface(self) -> None:
        """Lay out the cards, what lies over the picture, and questions."""
        desk = self.desk
        placed = desk.view.cards
        desk.widgets.begin_frame()
        if desk.work.project is None:
            self._start.draw()
        else:
            picture = placed.picture
            desk.widgets.places["picture"] = (picture.x, picture.y, picture.right, picture.bottom)
            if not self._station.covers_picture():
                overlay.draw(desk, self._station, self._arc)
            head.draw(desk, placed)
            if desk.work.project is not None:  # the way to the front door is in the head
                rail.draw(desk, placed, self._rail)
                if self._station.covers_picture():
                    self._station.draw_cover(placed)
                else:
                    foot.draw(desk, placed)
                    net.draw(desk, placed)
                strip.draw(desk, placed)
                is_left = not self._station.drawer and self._opened is not None  # the drawer goes in the next frame
                sheet.draw(desk, placed, self._station, self._opened[0] if is_left and self._opened else self._station)
                if self._leaving is not None:
                    sheet.draw_leaving(desk, self._leaving[1], self._leaving[0])
        desk.chooser.draw()
        desk.dialog.draw()
        self._walk.draw(placed)
        state, shown = desk.view.state, self._shown
        if state.has_help:
            self._help.draw(placed, is_new=not shown.has_help)
        if state.has_settings:
            self._settings.draw(is_new=not shown.has_settings)
        self._shown = state
        desk.work.held.end_frame()
        desk.widgets.tips.draw(desk.widgets.faces, desk.widgets.scale, is_busy=desk.tools.is_holding)
        self._trace.tell(desk)

    def picture(self) -> None:
        """Copy the pictures to the window."""
        desk = self.desk
        if desk.work.project is None:
            desk.view.grid.blank(desk.window.size)
        desk.view.grid.show(desk.window.palette.ground)

    def is_panel(self, x: float, y: float) -> bool:
        """True beside the picture, and anywhere on the start page or while something is asked."""
        if self._is_covered or self._station.covers_picture() or imgui.is_popup_open("", imgui.PopupFlags_.any_popup):
            return True
        placed = self.desk.view.cards
        boxes = [self.desk.widgets.places.get(name) for name in ("line", "over", "walk")]
        is_over = any(box is not None and box[0] <= x < box[2] and box[1] <= y < box[3] for box in boxes)
        return not placed.picture.holds(x, y) or placed.covers_picture(x, y) or placed.net.holds(x, y) or is_over

    def is_panel_focused(self) -> bool:
        """True while keys go to a card: after F6, and anywhere on the start page or while something is asked."""
        return self._is_covered or self.desk.widgets.focus.is_in_panel

    def is_asking(self) -> bool:
        """True while a question waits for its answer."""
        return self.desk.dialog.is_open

    @property
    def _is_covered(self) -> bool:
        desk = self.desk
        is_asked = desk.dialog.is_open or desk.chooser.is_open or desk.view.state.is_covered
        return desk.work.project is None or is_asked

    def key(self, key: str) -> bool:
        """Do what is on a key."""
        if key == "escape" and self._uncover():
            return True
        action = action_of(key)
        if not self._is_covered and self._station.took_key(key):
            return True
        if action is None or self.desk.dialog.is_open or self.desk.chooser.is_open or self.desk.view.state.is_covered:
            return False
        act(self.desk, action)
        return True

    def _uncover(self) -> bool:
        """Leave what lies over the picture; False where nothing does."""
        desk = self.desk
        if desk.dialog.is_open:
            desk.dialog.dismiss()
        elif desk.chooser.is_open:
            desk.chooser.dismiss()
        elif desk.view.state.is_covered:
            desk.view.show_help(False)
        elif desk.tools.writing.is_on:
            desk.tools.writing.cancel()
        elif desk.work.held.put_back() or remedies.put_back(desk):
            pass
        elif desk.widgets.focus.is_in_panel:
            desk.widgets.focus.leave_panel()
        else:
            return False
        return True

    def dropped(self, x: float, y: float, paths: tuple[Path, ...]) -> None:
        """Take what was let go over the window: art goes to its station, a pedal is opened."""
        desk = self.desk
        desk.window.touch()
        if not paths or desk.chooser.is_open or desk.dialog.is_open:
            if paths and not desk.chooser.is_open:
                desk.dialog.dropped(paths)
            return
        if desk.work.project is not None and (
            self._station.dropped(x, y, paths) or self._rail["art"].page.dropped(x, y, paths)
        ):
            return
        if desk.work.project is None and self._start.dropped(paths):
            return
        open_other(desk, paths[0])

    def failed(self, error: Exception) -> None:
        """Report an internal error, in one line that stays."""
        self.desk.messages.fault("mockup itself", failure.noted(error, "that went wrong"))

    def closing(self) -> bool:
        """Ask first where something is unsaved."""
        if not self.desk.work.is_changed:
            return True
        close_window(self.desk)
        return False

    def shut(self) -> None:
        """End what runs beside the window, and free the pictures."""
        self.desk.saves.stop()
        self.desk.arranger.stop()
        self.desk.preview.close()
        self.desk.try_outs.close()
        self.desk.doubts.close()
        self.desk.pages.close()
        self.desk.pictures.close()
        self.desk.mender.stop()
        self.desk.rooms.stop()
        self.desk.shelf.close()
        self.desk.work.close()
        self.desk.view.close()

    @property
    def _station(self) -> Station:
        state = self.desk.view.state
        return self._pages[state.page] if state.page is not None else self._rail[state.station].page

    def _lay_cards(self) -> None:
        """Place the cards; the picture does not jump from under the pointer because of what a press on it opens."""
        desk, placed = self.desk, self._cards()
        now, carried = desk.view.cards, desk.view.carried
        is_out_of_drawer = carried is not None and carried.is_new
        desk.view.is_held = placed != now and desk.tools.still_s > 0.0 and not is_out_of_drawer
        if placed != now and (not desk.view.is_held or placed.window != now.window):
            desk.view.cards = placed
            desk.window.touch()

    def _cards(self) -> Cards:
        window, state = self.desk.window, self.desk.view.state
        drawer, is_sheet_open = self._station.drawer, state.is_sheet_open
        if is_tight(window.size, window.scale) and state.station in ("parts", "art") and state.page is None:
            is_sheet_open &= bool(state.picked)  # both would hide it all
            drawer = 0.0 if is_sheet_open else drawer
        is_page = state.station == "take-away"  # it keeps clear of the drawer by itself, and the picture its size
        placed = cards(window.size, window.scale, drawer, is_sheet_open=is_sheet_open, is_page=is_page)
        carried = self.desk.view.carried
        if placed.is_drawer_over and carried is not None and carried.is_new:  # it gives way to what came out of it
            placed = cards(window.size, window.scale, is_sheet_open=state.is_sheet_open)
        seconds = 0.0 if self.desk.settings.has_less_motion else SLIDE_S
        share = self._slide.share(is_open=placed.drawer is not None, now=time.perf_counter(), seconds=seconds)
        is_moving, shown = 0.0 < share < 1.0 or (placed.drawer is not None and share == 0.0), placed.drawer
        if is_moving:
            window.touch()
        self._leaving = None
        if shown is not None:
            self._opened = self._station, drawer
            return replace(placed, drawer=_drawn_in(shown, share)) if is_moving else placed
        if is_moving and self._opened is not None:
            station, wide = self._opened
            left = cards(window.size, window.scale, wide).drawer
            self._leaving = (station, _drawn_in(left, share)) if left is not None else None
        return placed


def _drawn_in(card: Card, share: float) -> Card:
    """Return a drawer that is so far out, 0 to 1."""
    return replace(card, x=card.x - round((1.0 - share) * card.width))
