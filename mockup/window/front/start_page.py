"""The start page: projects opened last, examples, a path to type, a new project."""

from __future__ import annotations

from pathlib import Path

from imgui_bundle import ImVec2, imgui

from mockup import api
from mockup.model.errors import MockupError
from mockup.window.desk import Desk
from mockup.window.project_flow import open_project
from mockup.window.shell import theme
from mockup.window.work import recovery
from mockup.window.work.project import LAYOUT_FILE

_EXAMPLES = Path(__file__).parents[3] / "examples"  # there in a checkout; an installed copy has none


class StartPage:
    """The page, with what is being typed in it."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._path = ""
        self._new = str(Path.cwd() / "my-pedal")
        self._recent: tuple[Path, ...] = ()
        self._examples: tuple[Path, ...] = ()

    def _refresh(self) -> None:
        """Look again for what can be opened."""
        self._recent = recovery.recent()
        self._examples = tuple(sorted(path.parent for path in _EXAMPLES.glob(f"*/{LAYOUT_FILE}")))

    def draw(self) -> None:
        """Lay out the page over the whole window."""
        widgets = self._desk.widgets
        view = imgui.get_main_viewport()
        wide = min(760 * widgets.scale, view.size.x - 40 * widgets.scale)
        imgui.set_next_window_pos(ImVec2((view.size.x - wide) / 2, 0))
        imgui.set_next_window_size(ImVec2(wide, view.size.y))
        flags = imgui.WindowFlags_.no_decoration | imgui.WindowFlags_.no_move | imgui.WindowFlags_.no_saved_settings
        imgui.begin("start", None, flags & ~imgui.WindowFlags_.no_scrollbar | imgui.WindowFlags_.no_background)
        if imgui.is_window_appearing():
            self._refresh()
        imgui.dummy(ImVec2(0, max(view.size.y * 0.07 - 10 * widgets.scale, 0)))
        with widgets.font(widgets.faces.bold, theme.NAME_PX):
            imgui.text_unformatted("mockup")
        widgets.text("See the pedal before you drill it.", is_dim=True)
        imgui.dummy(ImVec2(0, 12 * widgets.scale))
        self._typed()
        if self._recent:
            widgets.title("Opened last")
            for index, path in enumerate(self._recent[:8]):
                self._row(f"recent.{index}", path.parent.name, str(path), path)
        if self._examples:
            widgets.title("Examples")
            for path in self._examples:
                self._row(f"example.{path.name}", path.name.replace("_", " "), str(path), path)
        self._begin_new()
        self._fault()
        imgui.end()

    def dropped(self, paths: tuple[Path, ...]) -> bool:
        """Take what was let go over the page; False where it is to be opened."""
        return False

    def _typed(self) -> None:
        widgets = self._desk.widgets
        widgets.title("Open", is_first=True)
        widgets.focus.take("open.path")
        tip = "A layout file, or the folder that it is in"
        is_asked, self._path = self._path_row("open", "Open", self._path, tip, "a layout file, or its folder")
        if is_asked:
            open_project(self._desk, self._path.strip() or ".")

    def _path_row(self, name: str, label: str, path: str, tip: str, hint: str = "") -> tuple[bool, str]:
        """Lay out a path to type and its button; return whether it was pushed, or Enter pressed, and the path."""
        widgets = self._desk.widgets
        room = 90 * widgets.scale
        imgui.set_next_item_width(widgets.wide - room - 8 * widgets.scale)
        done, path = imgui.input_text_with_hint(f"##{name}", hint, path, imgui.InputTextFlags_.enter_returns_true)
        widgets.mark(f"{name}.path")
        imgui.same_line()
        return widgets.button(label, name, wide=room, tip=tip) or done, path

    def _row(self, name: str, label: str, said: str, path: Path) -> None:
        widgets = self._desk.widgets
        start = imgui.get_cursor_screen_pos()
        tall = imgui.get_text_line_height() + 10 * widgets.scale
        if imgui.selectable(f"##{name}", False, 0, ImVec2(0, tall))[0]:
            open_project(self._desk, path)
        widgets.mark(name)
        after = imgui.get_cursor_screen_pos()
        draw = imgui.get_window_draw_list()
        y = start.y + 5 * widgets.scale
        draw.add_text(ImVec2(start.x + 8 * widgets.scale, y), theme.packed(widgets.palette.text), label)
        imgui.push_font(widgets.faces.plain, theme.TEXT_PX - 2)
        left = start.x + 190 * widgets.scale
        draw.push_clip_rect(ImVec2(left, start.y), ImVec2(start.x + widgets.wide, start.y + tall + 4), True)
        draw.add_text(ImVec2(left, y + 1.5 * widgets.scale), theme.packed(widgets.palette.faint), said)
        draw.pop_clip_rect()
        imgui.pop_font()
        imgui.set_cursor_screen_pos(after)

    def _begin_new(self) -> None:
        desk = self._desk
        desk.widgets.title("New project")
        tip = "A folder with a layout and art that already render"
        is_asked, self._new = self._path_row("new", "Begin", self._new, tip)
        if is_asked:
            folder = Path(self._new.strip()).expanduser()
            try:
                api.new(folder)
                open_project(desk, folder)
            except MockupError as error:
                desk.messages.say_error(error)

    def _fault(self) -> None:
        widgets, line = self._desk.widgets, self._desk.messages.now
        if line is None:
            return
        imgui.dummy(ImVec2(0, 10 * widgets.scale))
        widgets.text(line.text, colour=widgets.palette.stop if line.is_fault else None)
        widgets.mark("line")
