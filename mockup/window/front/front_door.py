"""The front door: the page that the window opens on."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from pathlib import Path

from imgui_bundle import ImVec2, ImVec4, imgui

from mockup import archive
from mockup.model.errors import MockupError
from mockup.window.actions.table import BY_NAME, act
from mockup.window.art_flow import PICTURES
from mockup.window.desk import Desk
from mockup.window.front import bench
from mockup.window.front.bench import BenchPedal
from mockup.window.front.canvas import FrontCanvas
from mockup.window.front.choice import Choice
from mockup.window.front.places import PRINT_TALL, Area, FrontPlaces, front_places
from mockup.window.front.start_card import NewPedal, StartCard
from mockup.window.project_flow import open_project
from mockup.window.shelf.subjects import CARD_PX
from mockup.window.shell import theme
from mockup.window.shell.cards import Card
from mockup.window.shell.faces import TypeStyle
from mockup.window.shell.icons import icon
from mockup.window.shell.native_dialogs import FileKind
from mockup.window.work import new_project

LAYOUTS = FileKind(name="Pedals", suffixes=(".toml", ".zip"))
_PACKED = ".zip"


class FrontDoor:
    """The page, with what is chosen on it."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._start = StartCard(desk)
        self._recent: tuple[BenchPedal, ...] = ()
        self._finished: tuple[BenchPedal, ...] = ()
        self._has_all_recent = self._has_all_examples = False
        self._frame = -1

    def draw(self) -> None:
        """Lay out the page over the whole window."""
        desk, widgets = self._desk, self._desk.widgets
        width, height = desk.window.size
        frame = imgui.get_frame_count()
        if frame != self._frame + 1:
            self._refresh()  # it was not shown just now
        self._frame = frame
        widgets.focus.stops = ("front.name", *["recent.0"][: len(self._recent)], *map(_place, self._finished[:1]))
        places = front_places(
            (width / widgets.scale, height / widgets.scale), len(self._recent), len(self._finished),
            has_all_recent=self._has_all_recent, has_all_examples=self._has_all_examples,
            is_list=self._start.choice.begins_with == "list",
        )  # fmt: skip
        with widgets.card("front", Card(0, 0, width, height), "below", is_bare=True):
            imgui.push_style_color(imgui.Col_.child_bg, ImVec4(0, 0, 0, 0))
            imgui.begin_child("front.page", ImVec2(width, height))
            imgui.pop_style_color()
            canvas = FrontCanvas(widgets)
            self._head(canvas, places)
            made = self._start.draw(canvas, places)
            if made is not None:
                self._begin(made)
            self._rows(canvas, places)
            self._foot(canvas, places)
            canvas.go(0, places.foot.low)
            imgui.dummy(ImVec2(1, 1))
            imgui.end_child()

    def dropped(self, paths: Sequence[Path]) -> bool:
        """Take what was let go over the page: a picture waits for its pedal, a pack is unpacked; False for the rest."""
        first = paths[0]
        if first.suffix.lower() in PICTURES and not first.is_dir():
            self._start.take_picture(first)
            return True
        if first.suffix.lower() == _PACKED:
            self._open(first)
            return True
        return False

    def _refresh(self) -> None:
        self._recent, self._finished = bench.recent_pedals(datetime.now()), bench.finished_pedals()
        self._has_all_recent = self._has_all_examples = False
        self._desk.shelf.refresh()
        self._start.reset()

    def _head(self, canvas: FrontCanvas, places: FrontPlaces) -> None:
        widgets, palette, desk = self._desk.widgets, self._desk.widgets.palette, self._desk
        head = places.head
        middle = head.y + (44.0 if head.tall > 80 else 30.0)
        place = canvas.at(head.x, middle - 17)
        style = TypeStyle(widgets.faces.bold, theme.NAME_PX)
        widgets.draw_text(canvas.draw, (place.x, place.y), "mockup", style, palette.text)
        named = widgets.text_size("mockup", style)[0] / canvas.scale
        if not places.is_one_column:
            canvas.text(
                (head.x + named + 16, middle - 7), "See the pedal before you drill it.", theme.TEXT_PX, palette.second
            )
        x = head.right
        for name in ("help", "settings", "theme"):
            action = BY_NAME[name]
            x -= 32
            canvas.go(x, middle - 14)
            if widgets.icon_button(action.glyph, f"front.{name}", tip=action.about or action.title, key=action.key):
                act(desk, action)
        canvas.go(x - 8 - 134, middle - 16)
        if widgets.button(
            "Open a pedal", "front.open", glyph="folder-open", wide=134 * canvas.scale, key="ctrl+o",
            tip="A pedal of yours that is not on the bench",
        ):  # fmt: skip
            self.ask_which()

    def ask_which(self) -> None:
        """Have a pedal chosen, and open it."""
        self._desk.chooser.file("Open a pedal", new_project.shelf_folder(), [LAYOUTS], self._open)

    def _rows(self, canvas: FrontCanvas, places: FrontPlaces) -> None:
        palette = self._desk.widgets.palette
        if places.bench is not None:
            self._row_title(canvas, places.bench, "On your bench", "recent", len(self._recent), len(places.cards))
            for index, (area, pedal) in enumerate(zip(places.cards, self._recent, strict=False)):
                if self._card(canvas, area, pedal, f"recent.{index}"):
                    self._open(pedal.layout)
        title = "Finished ones to take apart"
        self._row_title(canvas, places.finished, title, "examples", len(self._finished), len(places.examples))
        for area, pedal in zip(places.examples, self._finished, strict=False):
            pushed = canvas.pressed(_place(pedal), area, tip=f"Your own copy of {pedal.name}")
            is_over = imgui.is_item_hovered()
            self._print(canvas, Area(area.x, area.y, area.wide, PRINT_TALL), pedal, imgui.ImDrawFlags_.round_all)
            tint = palette.text if is_over else palette.second
            canvas.text((area.x + 2, area.y + PRINT_TALL + 8), pedal.name, theme.TEXT_PX, tint)
            if pushed:
                self._take_apart(pedal)

    def _row_title(self, canvas: FrontCanvas, area: Area, title: str, name: str, count: int, shown: int) -> None:
        widgets = self._desk.widgets
        wide = canvas.text((area.x, area.y + 2), title, 16.0, widgets.palette.text, is_bold=True)
        is_all = self._has_all_recent if name == "recent" else self._has_all_examples
        if count <= shown and not is_all:
            return
        canvas.go(area.x + wide + 4, area.y - 2)
        label = "Fewer" if is_all else f"All {count}"
        if widgets.button(label, f"front.all.{name}", look="quiet", tall=theme.QUIET_BUTTON * canvas.scale):
            if name == "recent":
                self._has_all_recent = not is_all
            else:
                self._has_all_examples = not is_all

    def _card(self, canvas: FrontCanvas, area: Area, pedal: BenchPedal, name: str) -> bool:
        widgets, palette = self._desk.widgets, self._desk.widgets.palette
        pushed = canvas.pressed(name, area, tip="" if pedal.print else "Its file cannot be read")
        canvas.fill(area, palette.hover if imgui.is_item_hovered() else palette.sheet)
        self._print(canvas, Area(area.x, area.y, area.wide, PRINT_TALL), pedal, imgui.ImDrawFlags_.round_top)
        room = (area.wide - 24) * canvas.scale
        said = widgets.shortened(pedal.name, room, widgets.faces.strong)
        canvas.text((area.x + 12, area.y + PRINT_TALL + 9), said, theme.TEXT_PX, palette.text, is_bold=True)
        y = area.y + PRINT_TALL + 29
        wide = canvas.text((area.x + 12, y), pedal.day, theme.SMALL_PX, palette.second)
        if pedal.is_unsaved:
            canvas.text((area.x + 12 + wide, y), ", not saved", theme.SMALL_PX, palette.text)
        return pushed

    def _print(self, canvas: FrontCanvas, area: Area, pedal: BenchPedal, corners: int) -> None:
        low, high = canvas.at(area.x, area.y), canvas.at(area.right, area.low)
        rounding = theme.CARD_ROUND * canvas.scale
        texture = self._desk.shelf.texture(pedal.print) if pedal.print is not None else None
        if texture is None:
            canvas.draw.add_rect_filled(low, high, theme.packed(self._desk.widgets.palette.raised), rounding, corners)
            return
        cut = max(1 - area.wide / area.tall * CARD_PX[1] / CARD_PX[0], 0.0) / 2  # what a narrower card leaves out
        canvas.draw.add_image_rounded(
            texture, low, high, ImVec2(cut, 0), ImVec2(1 - cut, 1), theme.grey(1.0), rounding, corners
        )

    def _foot(self, canvas: FrontCanvas, places: FrontPlaces) -> None:
        widgets, palette = self._desk.widgets, self._desk.widgets.palette
        line = self._desk.messages.now
        text = "A folder, a layout or a picture can be dropped anywhere in this window"
        said = f"{icon('inbox')}   {text}" if line is None else line.text
        colour = palette.faint if line is None else palette.stop if line.is_fault else palette.text
        foot, style = places.foot, widgets.faces.text
        room = foot.wide * canvas.scale
        wide, tall = widgets.lines_size(said, style, room)
        at = canvas.at(foot.x + (foot.wide - wide / canvas.scale) / 2, foot.y + 16)
        widgets.draw_lines(canvas.draw, at, said, style, colour, room=room)
        if line is not None:
            widgets.places["line"] = (at.x, at.y, at.x + wide, at.y + tall)

    # What the page does

    def _begin(self, made: NewPedal) -> None:
        """Make a new pedal, and open it straight from above, at its parts."""
        desk, choice = self._desk, self._start.choice
        try:
            layout = new_project.begin(
                choice.name, made.text, new_project.shelf_folder(), picture=choice.picture, beside=made.beside
            )
        except MockupError as error:
            desk.messages.say_error(error)
            return
        open_project(desk, layout)
        desk.view.change(desk.view.state.at_station("parts"))
        desk.camera.take_view("above")
        if not desk.settings.has_walked:
            act(desk, BY_NAME["walk"])
        self._start.choice = Choice(units=desk.settings.units or "mm")
        desk.arranger.clear()

    def _take_apart(self, pedal: BenchPedal) -> None:
        desk = self._desk
        try:
            layout = new_project.take_apart(pedal.layout, new_project.shelf_folder())
        except MockupError as error:
            desk.messages.say_error(error)
            return
        open_project(desk, layout)
        desk.messages.say(f"Your own copy of {pedal.name}.")

    def _open(self, path: Path) -> None:
        desk = self._desk
        if path.suffix.lower() == _PACKED:
            try:
                target = new_project.free_folder(new_project.shelf_folder(), path.stem)
                archive.unpack(path, target)
                path = target
            except MockupError as error:
                desk.messages.say_error(error)
                return
        open_project(desk, path)


def _place(pedal: BenchPedal) -> str:
    """Return what the card of a finished pedal is called."""
    return f"example.{pedal.layout.parent.name}"
