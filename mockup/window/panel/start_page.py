"""The start page: projects opened last, examples, a path to type, a new project."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from imgui_bundle import ImVec2, imgui

from mockup import api
from mockup.model.errors import MockupError
from mockup.window.shell import theme
from mockup.window.shell.widgets import Widgets
from mockup.window.view.scene_view import App
from mockup.window.work import recovery
from mockup.window.work.project import LAYOUT_FILE, opened

_EXAMPLES = Path(__file__).parents[3] / "examples"  # there in a checkout; an installed copy has none


class StartPage:
    """The page, with what is being typed in it."""

    def __init__(self, app: App, kit: Widgets, open_path: Callable[[str | Path], None]) -> None:
        self._app = app
        self._kit = kit
        self._open = open_path
        self._path = ""
        self._new = str(Path.cwd() / "my-pedal")
        self._recent: tuple[Path, ...] | None = None
        self._examples: tuple[Path, ...] | None = None
        self.wants_path = False

    def refresh(self) -> None:
        """Look again for what can be opened."""
        self._recent = self._examples = None

    def draw(self) -> None:
        """Lay out the page over the whole window."""
        kit = self._kit
        if self._recent is None or self._examples is None:
            self._recent = recovery.recent()
            self._examples = tuple(sorted(path.parent for path in _EXAMPLES.glob(f"*/{LAYOUT_FILE}")))
        view = imgui.get_main_viewport()
        wide = min(760 * kit.scale, view.size.x - 40 * kit.scale)
        imgui.set_next_window_pos(ImVec2((view.size.x - wide) / 2, 0))
        imgui.set_next_window_size(ImVec2(wide, view.size.y))
        flags = imgui.WindowFlags_.no_decoration | imgui.WindowFlags_.no_move | imgui.WindowFlags_.no_saved_settings
        imgui.begin("start", None, flags & ~imgui.WindowFlags_.no_scrollbar | imgui.WindowFlags_.no_background)
        imgui.dummy(ImVec2(0, max(view.size.y * 0.07 - 10 * kit.scale, 0)))
        with kit.bold(theme.TEXT_PX + 17):
            imgui.text_unformatted("mockup")
        kit.text("See the pedal before you drill it.", is_dim=True)
        imgui.dummy(ImVec2(0, 12 * kit.scale))
        self._typed()
        if self._recent:
            kit.title("Opened last")
            for index, path in enumerate(self._recent[:8]):
                self._row(f"recent.{index}", path.parent.name, str(path), path)
        if self._examples:
            kit.title("Examples")
            for path in self._examples:
                self._row(f"example.{path.name}", path.name.replace("_", " "), str(path), path)
        self._begin_new()
        self._fault()
        imgui.end()

    def _typed(self) -> None:
        kit = self._kit
        kit.title("Open", is_first=True)
        room = 90 * kit.scale
        imgui.set_next_item_width(kit.wide - room - 8 * kit.scale)
        if self.wants_path:
            imgui.set_keyboard_focus_here()
            self.wants_path = False
        flags = imgui.InputTextFlags_.enter_returns_true
        done, self._path = imgui.input_text_with_hint("##open", "a layout file, or its folder", self._path, flags)
        kit.mark("open.path")
        imgui.same_line()
        if kit.button("Open", "open", wide=room, action="open") or done:
            self._open(self._path.strip() or ".")

    def _row(self, name: str, label: str, said: str, path: Path) -> None:
        kit = self._kit
        start = imgui.get_cursor_screen_pos()
        tall = imgui.get_text_line_height() + 10 * kit.scale
        if imgui.selectable(f"##{name}", False, 0, ImVec2(0, tall))[0]:
            self._open(path)
        kit.mark(name)
        after = imgui.get_cursor_screen_pos()
        draw = imgui.get_window_draw_list()
        y = start.y + 5 * kit.scale
        draw.add_text(ImVec2(start.x + 8 * kit.scale, y), theme.grey(0.93), label)
        imgui.push_font(kit.faces.plain, theme.TEXT_PX - 2)
        left = start.x + 190 * kit.scale
        draw.push_clip_rect(ImVec2(left, start.y), ImVec2(start.x + kit.wide, start.y + tall + 4), True)
        draw.add_text(ImVec2(left, y + 1.5 * kit.scale), theme.grey(0.52), said)
        draw.pop_clip_rect()
        imgui.pop_font()
        imgui.set_cursor_screen_pos(after)

    def _begin_new(self) -> None:
        kit, app = self._kit, self._app
        kit.title("New project")
        room = 90 * kit.scale
        imgui.set_next_item_width(kit.wide - room - 8 * kit.scale)
        done, self._new = imgui.input_text("##new", self._new, imgui.InputTextFlags_.enter_returns_true)
        kit.mark("new.path")
        imgui.same_line()
        if kit.button("Begin", "new", wide=room, tip="A folder with a layout and art that already render") or done:
            folder = Path(self._new.strip()).expanduser()
            try:
                api.new(folder)
                self._open(opened(folder).layout)
            except MockupError as error:
                app.say(str(error).splitlines()[0], is_fault=True)

    def _fault(self) -> None:
        kit, line = self._kit, self._app.line
        if line is None:
            return
        imgui.dummy(ImVec2(0, 10 * kit.scale))
        kit.text(line.text, colour=theme.FAULT if line.is_fault else None)
        kit.mark("line")
