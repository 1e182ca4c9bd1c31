"""The window's front: the panel's pages, dialogs and the picture, joined to the host that shows them."""

from __future__ import annotations

from imgui_bundle import ImVec2, imgui

from mockup.window import over, theme
from mockup.window.app import App
from mockup.window.doing import Doing
from mockup.window.hands import Hands
from mockup.window.host import Host
from mockup.window.keys import action_of
from mockup.window.panel import look
from mockup.window.panel.kit import Kit
from mockup.window.trace import Trace

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
    ("save", "Save", "Pictures, template, sheet; the layout"),
)


class Front:
    """Answers the host: lays out the interface and hands events on."""

    def __init__(self, host: Host) -> None:
        self.host = host
        self.app = App(host)
        self.kit = Kit(host)
        self.hands = Hands(self.app, self._settle)
        self.doing = Doing(self.app, self.hands, self._ask)
        self._trace = Trace()
        self._settle_at = 0.0
        self._is_focused = False
        self._wants_focus = False

    def work(self) -> float | None:
        """Do what waits."""
        until = self.app.work()
        if self._settle_at:
            left = self._settle_at - imgui.get_time()
        return until

    def interface(self) -> None:
        """Lay out panel and overlay."""
        self.kit.places.clear()
        over.draw(self.app, self.kit, self.hands)
        if self.app.state.has_panel:
            self._panel()
        self._trace.tell(self.app, self.kit)

    def picture(self) -> None:
        """Copy the pictures to the window."""
        self.app.stage.show(0)

    def is_panel(self, x: float, _y: float) -> bool:
        """True right of the picture, and anywhere while a dialog is open."""
        return x >= self.app.area().width or bool(imgui.is_popup_open("", imgui.PopupFlags_.any_popup))

    def pressed(self, x: float, y: float, button: str, key: str) -> None:
        """Hand on."""
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
        action = action_of(key)
        return self.doing.act(action) if action is not None else False

    def is_panel_focused(self) -> bool:
        """True while keys go through the panel."""
        return self._is_focused

    def resized(self, _width: int, _height: int) -> None:
        """The next piece of work lays everything out again."""

    def closing(self) -> bool:
        """Ask first where something is unsaved."""
        return True

    def _settle(self, seconds: float) -> None:
        self._settle_at = seconds

    def _ask(self, what: str) -> None:
        pass

    def _panel(self) -> None:
        app, kit = self.app, self.kit
        area, (width, height) = app.area(), self.host.size
        imgui.set_next_window_pos(ImVec2(area.width, 0))
        imgui.set_next_window_size(ImVec2(width - area.width, height))
        imgui.begin("panel", None, _FIXED)
        with kit.bold(theme.TEXT_PX + 4):
            imgui.text_unformatted(app.design.name if app.design is not None else "mockup")
        self._pages()
        imgui.end()

    def _pages(self) -> None:
        app, kit = self.app, self.kit
        if app.wanted_tab:
            app.tab, app.wanted_tab = app.wanted_tab, ""
        pushed = kit.choose("tab", [(n, label) for n, label, _ in _TABS], app.tab, tips=[tip for _, _, tip in _TABS])
        if pushed is not None:
            app.tab = pushed
        imgui.begin_child("page", ImVec2(0, 0))
        if app.tab == "look":
            look.draw(app, kit, self.doing)
        imgui.end_child()
