"""The window's application: its parts joined, drawn each frame, and given the events of the native window."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from imgui_bundle import ImVec2, imgui

from mockup.window.actions import act, action_of
from mockup.window.desk import Desk
from mockup.window.panel import action_buttons, check, head, help_page, look, overlay, save
from mockup.window.panel.finish import FinishPage
from mockup.window.panel.part import PartPage
from mockup.window.panel.start_page import StartPage
from mockup.window.project_flow import close_window, open_project
from mockup.window.shell.mailbox import Mailbox
from mockup.window.shell.native_window import NativeWindow
from mockup.window.state import Tab
from mockup.window.trace import WindowTrace

_PANEL = (
    imgui.WindowFlags_.no_title_bar
    | imgui.WindowFlags_.no_resize
    | imgui.WindowFlags_.no_move
    | imgui.WindowFlags_.no_collapse
    | imgui.WindowFlags_.no_saved_settings
    | imgui.WindowFlags_.no_bring_to_front_on_focus
)
_TABS = ("tab-look", "tab-finish", "tab-part", "tab-check", "tab-save")


class Application:
    """Answers the native window: works, lays out the interface and hands events on."""

    def __init__(self, window: NativeWindow) -> None:
        self._mailbox = Mailbox(window.wake)
        self.desk = Desk(window, self._mailbox)
        self.pointer = self.desk.tools
        finish, part, self._start = FinishPage(self.desk), PartPage(self.desk), StartPage(self.desk)
        self._pages: dict[Tab, Callable[[], None]] = {
            "look": lambda: look.draw(self.desk),
            "finish": finish.draw,
            "part": part.draw,
            "check": lambda: check.draw(self.desk),
            "save": lambda: save.draw(self.desk),
        }
        self._trace = WindowTrace()
        self._had_help = False

    def open(self, path: Path) -> None:
        """Open a layout or a folder."""
        open_project(self.desk, path)

    # What the native window calls

    def work(self) -> float | None:
        """Do what waits; return seconds until there is more."""
        desk = self.desk
        if self._mailbox.collect():
            desk.window.touch()
        waits = [desk.messages.expire(), desk.tools.carry.build_when_still(), desk.shelf.work()]
        if desk.work.project is not None:
            desk.view.lay_out()
            desk.camera.frame()
            waits.append(desk.view.draw(desk.camera.camera) if desk.camera.is_framed else None)
        return min((wait for wait in waits if wait is not None), default=None)

    def interface(self) -> None:
        """Lay out panel, overlay and questions."""
        desk = self.desk
        desk.widgets.places.clear()
        if desk.work.project is None:
            self._start.draw()
        else:
            overlay.draw(desk)
            if desk.view.state.has_panel:
                self._panel()
        desk.dialog.draw()
        has_help = desk.view.state.has_help
        if has_help:
            help_page.draw(desk, is_new=not self._had_help)
        self._had_help = has_help
        self._trace.tell(desk)

    def picture(self) -> None:
        """Copy the pictures to the window."""
        desk = self.desk
        if desk.work.project is None:
            desk.view.grid.blank(desk.window.size)
        desk.view.grid.show(desk.window.palette.ground)

    def is_panel(self, x: float, _y: float) -> bool:
        """True right of the picture, and anywhere on the start page or while something is asked."""
        if self._is_covered:
            return True
        return x >= self.desk.view.area().width or bool(imgui.is_popup_open("", imgui.PopupFlags_.any_popup))

    def is_panel_focused(self) -> bool:
        """True while keys go through the panel: on the start page, in a question, after F6."""
        return self._is_covered or self.desk.widgets.focus.is_in_panel

    @property
    def _is_covered(self) -> bool:
        return self.desk.work.project is None or self.desk.dialog.is_open or self.desk.view.state.has_help

    def key(self, key: str) -> bool:
        """Do what is on a key."""
        if key in ("escape", "panel-escape") and self._uncover():
            return True
        action = action_of(key)
        if action is None or self.desk.dialog.is_open or self.desk.view.state.has_help:
            return False
        act(self.desk, action)
        return True

    def _uncover(self) -> bool:
        """Leave what lies over the picture; False where nothing does."""
        desk = self.desk
        if desk.view.state.has_help:
            desk.view.show_help(False)
        elif desk.dialog.is_open:
            desk.dialog.dismiss()
        elif desk.widgets.focus.is_in_panel:
            desk.widgets.focus.leave_panel()
        else:
            return False
        return True

    def failed(self, error: Exception) -> None:
        """Report an internal error, in one line."""
        self.desk.messages.say(f"that did not work ({type(error).__name__}: {error}); please report it", is_fault=True)

    def closing(self) -> bool:
        """Ask first where something is unsaved."""
        if not self.desk.work.is_changed:
            return True
        close_window(self.desk)
        return False

    def shut(self) -> None:
        """End what runs beside the window, and free the pictures."""
        self.desk.saves.stop()
        self.desk.shelf.close()
        self.desk.work.close()
        self.desk.view.close()

    def _panel(self) -> None:
        desk, widgets = self.desk, self.desk.widgets
        area, (width, height) = desk.view.area(), desk.window.size
        imgui.set_next_window_pos(ImVec2(area.width, 0))
        imgui.set_next_window_size(ImVec2(width - area.width, height))
        if widgets.focus.is_asked("page"):
            imgui.set_next_window_focus()
        imgui.begin("panel", None, _PANEL)
        head.draw(desk)
        action_buttons.row(desk, _TABS, page="tab")
        imgui.separator()
        tab = desk.view.state.tab
        foot = imgui.get_text_line_height() + 12 * widgets.scale
        imgui.begin_child(f"page.{tab}", ImVec2(0, -foot))
        widgets.focus.take("page")
        self._pages[tab]()
        imgui.end_child()
        with widgets.small():
            is_in_panel = widgets.focus.is_in_panel
            hint = "Esc: back to the picture" if is_in_panel else "F1: help, all keys   F6: keys into this panel"
            widgets.text(hint, is_dim=True)
        imgui.end()
