"""The window's own browser for files and folders, for systems that have no dialog for them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from imgui_bundle import ImVec2, imgui

from mockup import files
from mockup.model.errors import OutputError
from mockup.window.shell import theme
from mockup.window.shell.icons import icon
from mockup.window.shell.native_dialogs import FileKind
from mockup.window.widgets.widgets import Widgets

_WIDE, _TALL = 640.0, 480.0  # units; smaller in a small window: our choice
_PLACES_WIDE = 140.0
_MOST_CRUMBS = 4


class FileBrowser:
    """Shows a folder at a time; `chosen` gets the file, or the folder where no `kinds` are given, None for none."""

    def __init__(
        self, widgets: Widgets, title: str, start: Path, kinds: Sequence[FileKind] | None,
        chosen: Callable[[Path | None], None],
    ) -> None:  # fmt: skip
        self._widgets, self._title, self._kinds, self._chosen = widgets, title, kinds, chosen
        self._is_new = True
        self._new_name: str | None = None
        self._problem = ""
        self._folders: tuple[Path, ...] = ()
        self._files: tuple[Path, ...] = ()
        self._picked: Path | None = None
        self._go(next((each for each in (start, *start.parents) if each.is_dir()), Path.home()))

    def draw(self) -> None:
        """Lay out the browser over the window."""
        widgets, scale = self._widgets, self._widgets.scale
        view = imgui.get_main_viewport().size
        size = (min(_WIDE * scale, view.x - 24 * scale), min(_TALL * scale, view.y - 24 * scale))
        is_new, self._is_new = self._is_new, False
        answer: Path | None = None
        is_left = False
        with widgets.dialog("browser", *size, is_new=is_new):
            with widgets.font(widgets.faces.title):
                imgui.text_unformatted(self._title)
            self._crumbs()
            foot = (theme.BUTTON + 12) * scale
            imgui.begin_child("browser.places", ImVec2(_PLACES_WIDE * scale, -foot))
            self._places()
            imgui.end_child()
            imgui.same_line()
            imgui.begin_child("browser.list", ImVec2(0, -foot))
            answer = self._list(is_new=is_new)
            imgui.end_child()
            imgui.dummy(ImVec2(0, 0))
            pushed, is_left = self._foot()
            answer = answer or pushed
        if answer is not None or is_left:
            self._chosen(answer)

    def _go(self, folder: Path) -> None:
        self._folder, self._picked, self._new_name, self._problem = folder, None, None, ""
        self._folders, found = files.listed(folder)
        suffixes = tuple(suffix for kind in self._kinds or () for suffix in kind.suffixes)
        self._files = tuple(path for path in found if path.suffix.lower() in suffixes)

    def _crumbs(self) -> None:
        """The way to the folder: each step goes there."""
        trail = [self._folder, *self._folder.parents][:_MOST_CRUMBS]
        for index, folder in enumerate(reversed(trail)):
            if index:
                imgui.same_line(0, 0)
            place = f"browser.step.{len(trail) - 1 - index}"
            if self._widgets.button(folder.name or str(folder), place, look="quiet", tall=theme.QUIET_BUTTON * self._s):
                self._go(folder)

    @property
    def _s(self) -> float:
        return self._widgets.scale

    def _places(self) -> None:
        documents = files.documents_folder()
        for name, glyph, folder in (
            ("Home", "house", Path.home()), ("Documents", "file-lines", documents),
            ("Pedals", "box-open", documents / "Pedals"), ("Desktop", "desktop", Path.home() / "Desktop"),
        ):  # fmt: skip
            if folder.is_dir() and self._widgets.button(
                name, f"browser.place.{name.lower()}", look="quiet", glyph=glyph, is_on=folder == self._folder
            ):
                self._go(folder)

    def _list(self, *, is_new: bool) -> Path | None:
        """Folders first; a double click or Enter opens a folder and takes a file."""
        widgets, chosen = self._widgets, None
        rows = [*self._folders, *self._files]
        if is_new:
            imgui.set_keyboard_focus_here()
            imgui.set_nav_cursor_visible(True)
        for index, path in enumerate(rows):
            is_folder = index < len(self._folders)
            label = f"{icon('folder' if is_folder else 'file')}   {path.name}##{index}"
            clicked, _ = imgui.selectable(
                label, path == self._picked, imgui.SelectableFlags_.allow_double_click,
                ImVec2(0, theme.QUIET_BUTTON * self._s),
            )  # fmt: skip
            widgets.mark(f"browser.{path.name}")
            is_double = imgui.is_mouse_double_clicked(0) and imgui.is_item_hovered()
            is_keyed = clicked and not imgui.is_mouse_released(0) and not imgui.is_mouse_clicked(0)
            if not clicked and not is_double:
                continue
            self._picked = path
            if (is_double or is_keyed) and is_folder:
                self._go(path)
                break
            if (is_double or is_keyed) and self._kinds is not None:
                chosen = path
        if not rows:
            widgets.note("Nothing here" if self._kinds is None else "Nothing of this kind here")
        return chosen

    def _foot(self) -> tuple[Path | None, bool]:
        """A new folder at the left, the answers at the right; return what was chosen, and whether it was left."""
        widgets, scale = self._widgets, self._s
        if self._new_name is not None:
            self._name_folder()
        elif widgets.button("New folder", "browser.new", glyph="plus", look="quiet"):
            self._new_name = ""
            widgets.focus.ask("browser.name")
        if self._problem:
            imgui.same_line()
            widgets.text(self._problem, colour=widgets.palette.stop)
        wides = (96 * scale, 120 * scale)
        imgui.same_line(imgui.get_window_width() - sum(wides) - 28 * scale)
        is_left = widgets.button("Stay here", "browser.leave", wide=wides[0], look="quiet")
        imgui.same_line()
        if self._kinds is None:
            target: Path | None = self._picked if self._picked in self._folders else self._folder
            word = "Choose folder"
        else:
            target, word = self._picked, "Open"
        if not widgets.button(word, "browser.choose", wide=wides[1], look="chalk", is_enabled=target is not None):
            return None, is_left
        if self._kinds is not None and target in self._folders and target is not None:
            self._go(target)
            return None, is_left
        return target, is_left

    def _name_folder(self) -> None:
        typed = self._widgets.field("browser.name", "", wide=160 * self._s)
        if typed is None:
            return
        name = " ".join(typed.split())
        if not name or set(name) & set('/\\:*?"<>|'):
            self._problem = "A plain name, please"
            return
        try:
            files.make_folder(self._folder / name)
        except OutputError as error:
            self._problem = str(error)
            return
        self._go(self._folder / name)
