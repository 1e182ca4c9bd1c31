"""The window's front: the panel's pages, questions and the picture, joined to the host that shows them."""

from __future__ import annotations

import time
from pathlib import Path

from imgui_bundle import ImVec2, imgui

from mockup.model.errors import MockupError
from mockup.window.actions import action_of
from mockup.window.doing import Doing
from mockup.window.editing import ClashError, Prefer
from mockup.window.panel import check, finish, head, help_page, look, questions, start_page
from mockup.window.panel.part import PartPage
from mockup.window.panel.save import SavePage
from mockup.window.pointer.picture import Hands
from mockup.window.shell import screen_scale
from mockup.window.shell.dialog import Dialog
from mockup.window.shell.native_window import NativeWindow
from mockup.window.shell.widgets import Widgets
from mockup.window.trace import WindowTrace
from mockup.window.view import overlay
from mockup.window.view.scene_view import App
from mockup.window.work import layout_file, recovery

_FIXED = (
    imgui.WindowFlags_.no_title_bar
    | imgui.WindowFlags_.no_resize
    | imgui.WindowFlags_.no_move
    | imgui.WindowFlags_.no_collapse
    | imgui.WindowFlags_.no_saved_settings
    | imgui.WindowFlags_.no_bring_to_front_on_focus
)
_TABS = (
    ("look", "Look", "Variants, view, what is shown, light"),
    ("finish", "Finish", "Paint, sheen, film, clear coat"),
    ("part", "Part", "The selected part: what it is and where"),
    ("check", "Check", "Findings and measuring"),
    ("save", "Save", "The layout, pictures, template, sheet"),
)


class Application:
    """Answers the host: lays out the interface and hands events on."""

    def __init__(self, host: NativeWindow) -> None:
        self.host = host
        self.app = App(host)
        self.kit = Widgets(host)
        self.hands = Hands(self.app, self._settle)
        self.doing = Doing(self.app, self.hands, self._asked)
        self._asking = Dialog(self.kit)
        self._parts = PartPage(self.app, self.kit)
        self._save = SavePage(self.app, self.kit, self.doing)
        self._start = start_page.StartPage(self.app, self.kit, self._open)
        self._trace = WindowTrace()
        self._settle_at = 0.0
        self._is_focused = False
        self._wants_focus = False
        self._has_help, self._is_help_new = False, False

    def work(self) -> float | None:
        """Do what waits; return seconds until there is more."""
        until = self.app.work()
        if self._settle_at:
            left = self._settle_at - time.perf_counter()
            if left <= 0:
                self._settle_at = 0.0
                self.hands.pause()
            else:
                until = left if until is None else min(until, left)
        return until

    def interface(self) -> None:
        """Lay out panel, overlay and questions."""
        self.kit.places.clear()
        if self.app.project is None:
            self._start.draw()
        else:
            overlay.draw(self.app, self.kit, self.hands)
            if self.app.state.has_panel:
                self._panel()
        self._asking.draw()
        if self._has_help:
            self._has_help = help_page.draw(self.kit, self._is_help_new)
            self._is_help_new = False
        self._trace.tell(
            self.app,
            self.kit,
            tab=self.app.tab,
            is_asking=self._asking.is_open,
            has_help=self._has_help,
            is_making=self._save.is_busy,
            slips=self.host.slips,
            let_go=self.host.let_go,
        )

    def picture(self) -> None:
        """Copy the pictures to the window."""
        if self.app.project is None:
            self.app.stage.blank(self.host.size)
        self.app.stage.show(0)

    def is_panel(self, x: float, _y: float) -> bool:
        """True right of the picture, and anywhere on the start page or while something is asked."""
        if self.app.project is None or self._asking.is_open or self._has_help:
            return True
        return x >= self.app.area().width or bool(imgui.is_popup_open("", imgui.PopupFlags_.any_popup))

    def pressed(self, x: float, y: float, button: str, key: str) -> None:
        """Hand on; keys go to the picture again."""
        self._is_focused = False
        self.hands.pressed(x, y, button, key)

    def dragged(self, x: float, y: float, dx: float, dy: float, key: str) -> None:
        """Hand on."""
        self.hands.dragged(x, y, dx, dy, key)

    def released(self, x: float, y: float) -> None:
        """Hand on."""
        self.hands.released(x, y)

    def hovered(self, x: float, y: float) -> None:
        """Hand on."""
        self.hands.hovered(x, y)

    def scrolled(self, x: float, y: float, lines: float, key: str) -> None:
        """Hand on."""
        self.hands.scrolled(x, y, lines, key)

    def key(self, key: str) -> bool:
        """Do what is on a key."""
        if key in ("escape", "panel-escape") and self._escaped():
            return True
        if self._asking.is_open or self._has_help:
            return False
        action = action_of(key)
        return self.doing.act(action) if action is not None else False

    def is_panel_focused(self) -> bool:
        """True while keys go through the panel: on the start page, in a question, after F6."""
        return self._is_focused or self.app.project is None or self._asking.is_open or self._has_help

    def resized(self, _width: int, _height: int) -> None:
        """The next piece of work lays everything out again."""

    def slipped(self, error: Exception) -> None:
        """Tell what went wrong, in one line."""
        self.app.say(f"that did not work ({type(error).__name__}: {error}); please report it", is_fault=True)

    def closing(self) -> bool:
        """Ask first where something is unsaved."""
        if not self.app.is_changed:
            return True
        self._unsaved(self.host.close)
        return False

    def shut(self) -> None:
        """End what runs beside the window."""
        self._save.close()
        self.app.close()

    # Panel

    def _panel(self) -> None:
        app, kit = self.app, self.kit
        area, (width, height) = app.area(), self.host.size
        imgui.set_next_window_pos(ImVec2(area.width, 0))
        imgui.set_next_window_size(ImVec2(width - area.width, height))
        if self._wants_focus:
            imgui.set_next_window_focus()
        imgui.begin("panel", None, _FIXED)
        head.draw(app, kit, self.doing)
        if app.wanted_tab:
            app.tab, app.wanted_tab = app.wanted_tab, ""
        actions = [f"tab-{name}" for name, _, _ in _TABS]
        rows, tips = [(name, label) for name, label, _ in _TABS], [tip for _, _, tip in _TABS]
        pushed = kit.choose("tab", rows, app.tab, tips=tips, actions=actions)
        if pushed is not None:
            app.tab = pushed
        imgui.separator()
        foot = imgui.get_text_line_height() + 12 * kit.scale
        imgui.begin_child(f"page.{app.tab}", ImVec2(0, -foot))
        if self._wants_focus:
            imgui.set_keyboard_focus_here()
            self._wants_focus = False
        match app.tab:
            case "look":
                look.draw(app, kit, self.doing)
            case "finish":
                finish.draw(app, kit)
            case "part":
                self._parts.draw()
            case "check":
                check.draw(app, kit, self.doing)
            case _:
                self._save.draw()
        imgui.end_child()
        with kit.small():
            hint = "Esc: back to the picture" if self._is_focused else "F1: all keys   F6: keys into this panel"
            kit.text(hint, is_dim=True)
        imgui.end()

    # What is asked of the front

    def _settle(self, seconds: float) -> None:
        self._settle_at = time.perf_counter() + seconds

    def _asked(self, what: str) -> None:
        app = self.app
        match what:
            case "help":
                self._has_help, self._is_help_new = True, True
            case "quit":
                if self.closing():
                    self.host.close()
            case "open" | "start-page":
                self._safely(self._go_to_start)
            case "save":
                self._save_layout()
            case "measure-screen":
                self._asking.measure_screen(app.host.px_per_mm, self._keep_screen)
            case "type-position":
                app.wanted_tab, self._parts.wants_typing, self._is_focused = "part", True, True
            case "make-still" | "make-turntable" | "make-template" | "make-sheet":
                kinds = {"still": "picture"}
                kind = what.removeprefix("make-")
                self._save.make(kinds.get(kind, kind))  # type: ignore[arg-type]
            case "cancel":
                self._save.stop()
            case "focus-panel":
                self._is_focused = self._wants_focus = True
            case _ if what.startswith("tab-"):
                app.wanted_tab = what.removeprefix("tab-")

    def _escaped(self) -> bool:
        """Leave what lies over the picture; False where nothing does."""
        if self._has_help:
            self._has_help = False
            return True
        if self._asking.is_open:
            return self._asking.dismiss()
        if self._is_focused:
            self._is_focused = False
            imgui.set_window_focus(None)
            return True
        return False

    def _go_to_start(self) -> None:
        self.app.leave()
        self._start.refresh()
        self._start.wants_path = True

    def _open(self, path: str | Path) -> None:
        app = self.app
        if not app.open(path):
            return
        self._is_focused = False
        assert app.project is not None
        kept = recovery.offered(app.project.layout)
        if kept is not None:
            self._offer(kept)

    def open_first(self, path: Path) -> None:
        """Open what the command line named."""
        self._open(path)

    def _offer(self, kept: recovery.Unsaved) -> None:
        app = self.app

        def take() -> None:
            try:
                put()
            except ClashError as error:
                self._asking.ask(questions.conflict(kept.layout.name, error, put))

        def put(prefer: Prefer | None = None) -> None:
            if app.document is not None:
                app.edit(kept.onto(app.document, prefer=prefer))
                app.say("your unsaved changes are back; save the layout to keep them")

        self._asking.ask(questions.offer(kept, take))

    def _safely(self, then: object) -> None:
        """Do something that would lose unsaved changes, after asking about them."""
        if self.app.is_changed:
            self._unsaved(then)
        else:
            then()  # type: ignore[operator]

    def _unsaved(self, then: object) -> None:
        app = self.app
        assert app.project is not None
        layout = app.project.layout

        def save() -> None:
            self._save_layout(then)

        def drop() -> None:
            if app.document is not None:
                app.document = app.document.reverted()
                app.keeper.changed(layout, app.document)
            recovery.drop(layout)
            then()  # type: ignore[operator]

        count = len(app.document.unsaved) if app.document is not None else 0
        self._asking.ask(questions.unsaved(layout.name, count, save, drop))

    def _save_layout(self, then: object = None) -> None:
        """Write the changes; ask where the file was changed to something else meanwhile."""
        app = self.app
        if app.document is None or app.project is None:
            return
        try:
            layout_file.ready(app.project.layout, app.document)
        except ClashError as error:
            self._conflict(error, then)
            return
        except MockupError as error:
            app.say(str(error).splitlines()[0], is_fault=True)
            return
        if app.save() and then is not None:
            then()  # type: ignore[operator]

    def _conflict(self, error: ClashError, then: object) -> None:
        app = self.app

        def keep(prefer: Prefer) -> None:
            if app.save(prefer) and then is not None:
                then()  # type: ignore[operator]

        assert app.project is not None
        self._asking.ask(questions.conflict(app.project.layout.name, error, keep))

    def _keep_screen(self, px_per_mm: float) -> None:
        try:
            screen_scale.keep(self.host.screen_name, px_per_mm)
        except MockupError as error:
            self.app.say(str(error))
        self.doing.at_true_size(px_per_mm)
