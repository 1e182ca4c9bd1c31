"""The sheet of the finished pedal beside its picture: its lines, its white card, and what holding it there tells."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from imgui_bundle import ImVec2, imgui

from mockup.model.material import Colour
from mockup.model.text import capitalized
from mockup.window import built_flow, photo_flow
from mockup.window.desk import Desk
from mockup.window.pages.photo_marks import PhotoMarks
from mockup.window.pages.photo_tool import PhotoTool
from mockup.window.shell import theme
from mockup.window.shell.messages import in_window
from mockup.window.shell.native_dialogs import PHOTOGRAPHS
from mockup.window.station import Station
from mockup.window.tools.tool import PointerTool

if TYPE_CHECKING:
    from mockup.comparison.beside.photograph import Lesson

_WAYS = {"left": (-1.0, 0.0), "right": (1.0, 0.0), "up": (0.0, -1.0), "down": (0.0, 1.0)}
_STEPS_PX = {"": 1.0, "shift+": 10.0, "alt+": 0.2}  # of the photograph: our choice
_SHOWN = (("wipe", "Wipe"), ("both", "Both"))
_FEET = (("near-foot", "Near"), ("far-foot", "Far"), ("left-foot", "Left"), ("right-foot", "Right"))


class PhotographPage(Station):
    """The sheet beside the photograph; it belongs to no station, and any station closes it."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._tool = PhotoTool(desk)
        self._marks = PhotoMarks(desk, self._tool)

    def title(self) -> tuple[str, str]:
        """Return what it is and the photograph's name."""
        path = self._desk.photo.path
        return "Finished pedal", path.name if path is not None else "no photograph yet"

    def dropped(self, _x: float, _y: float, paths: Sequence[Path]) -> bool:
        """Take another photograph."""
        if paths[0].suffix.lower() not in PHOTOGRAPHS.suffixes:
            return False
        photo_flow.take(self._desk, paths[0])
        return True

    def tool_at(self, x: float, y: float) -> PointerTool | None:
        """Return the tool that moves lines; nothing else is done by a press beside a photograph."""
        if self._desk.photo.pixels is not None:
            self._tool.press(x, y)
        return self._tool

    def took_key(self, key: str) -> bool:
        """Move the picked handle by an arrow."""
        held, _, way = key.rpartition("+")
        picked = self._desk.photo.lines.picked
        step = _STEPS_PX.get(f"{held}+" if held else "")
        if way not in _WAYS or step is None or picked is None or self._desk.view.state.photo_shown != "lines":
            return False
        across, down = _WAYS[way]
        photo_flow.change(self._desk, self._desk.photo.lines.shifted(picked, across * step, down * step))
        return True

    def draw_marks(self, canvas: imgui.ImDrawList) -> None:
        """Draw the photograph over the picture, and its lines."""
        self._marks.draw(canvas)

    # The sheet

    def draw_sheet(self) -> None:
        """Lay out how both are shown, the lines, the white card, and what was told."""
        desk, widgets, photo = self._desk, self._desk.widgets, self._desk.photo
        if photo.pixels is None:
            widgets.note(f"{photo.said} ..." if photo.said else "Bring a photograph, or drop one here.")
            return
        state = desk.view.state
        first = "Lines" if photo.lines.lines else "Photograph"
        pushed = widgets.choose("photo.shown", (("lines", first), *_SHOWN), state.photo_shown)
        shown = next((value for value in ("lines", "wipe", "both") if value == pushed), None)
        if shown is not None:
            desk.view.change(state.photo_as(shown))
        widgets.space(theme.SPACES[1])
        self._camera()
        self._card()
        if photo.told is not None:
            self._told()
            if widgets.button(
                "Save as a page", "photo.save", tip="The wipe, the colours and what they teach, to keep or to post",
                is_enabled=not photo.said,
            ):  # fmt: skip
                photo_flow.save_page(desk)

    def _camera(self) -> None:
        """Say how well the camera is known, and offer lines along the lower edges."""
        from mockup.comparison.beside.photograph import lens_words  # loads what reads photographs

        desk, widgets, photo = self._desk, self._desk.widgets, self._desk.photo
        found = photo.found
        if found is not None and found.is_marked:
            widgets.note(f"The printed marks gave the camera, to {found.off_px:.1f} pixels. {lens_words(found)}")
            return
        widgets.note(
            "Drag each line onto its edge of the top, where two faces would meet if it were sharp: its ends turn it, "
            "its middle moves it. Arrow keys move what is picked by a pixel, with Shift by ten, with Alt by a fifth."
        )
        if found is None:
            widgets.text(f"No camera yet: {photo.why}.", colour=widgets.palette.warn)
        else:
            widgets.note(f"The camera sees the edges {found.off_px:.1f} pixels off. {lens_words(found)}")
        widgets.space(theme.SPACES[0])
        widgets.text("Lower edges, where they are seen", colour=widgets.palette.second)
        laid = [name for name, _ in _FEET if name in photo.lines.lines]
        for index, wide in widgets.side_by_side(len(_FEET)):
            name, label = _FEET[index]
            is_on = name in laid
            if widgets.button(
                label, f"photo.edge.{name}", wide=wide, is_on=is_on, is_enabled=is_on or found is not None
            ):
                self._lay(name, is_on=is_on)
                desk.view.change(desk.view.state.photo_as("lines"))

    def _lay(self, name: str, *, is_on: bool) -> None:
        """Lay a line where the camera has a lower edge, or take it away."""
        from mockup.comparison.beside import landmarks

        photo, design = self._desk.photo, self._desk.work.design
        if is_on:
            photo_flow.change(self._desk, photo.lines.without_edge(name))
        elif photo.found is not None and design is not None:
            ends = photo.found.fit.pixels(landmarks.edges(design.enclosure)[name])
            photo_flow.change(self._desk, photo.lines.with_edge(name, ends))

    def _card(self) -> None:
        widgets, photo = self._desk.widgets, self._desk.photo
        widgets.title("White card")
        if photo.is_card_asked:
            widgets.note("Click the white card in the photograph.")
        elif photo.lines.card is None:
            widgets.note("A sheet of white paper in the photograph lets colours be compared. Say where it is.")
        else:
            widgets.note("The ring shows where it is. Keep it away from shine and shadow.")
        label = "Point at it" if photo.lines.card is None else "Point at it again"
        if widgets.button(label, "photo.card", is_on=photo.is_card_asked):
            photo.is_card_asked = not photo.is_card_asked
            self._desk.view.change(self._desk.view.state.photo_as("lines"))

    def _told(self) -> None:
        """Colours by area, where the parts stand, and what that teaches."""
        from mockup.comparison.beside.photograph import LIT_WORDS, lessons

        desk, widgets, told = self._desk, self._desk.widgets, self._desk.photo.told
        assert told is not None
        if told.areas:
            widgets.title("Colours", hint="predicted, photographed")
            for area in told.areas:
                self._area(area.name, area.predicted, area.seen, f"{area.difference:.1f}", area.words)
            widgets.note(f"{LIT_WORDS} Metal is left out.")
        if told.places:
            widgets.title("Parts off their places", hint="mm, right and down")
            for each in told.places:
                widgets.pair(each.name, f"{each.right_mm:+z.1f}   {each.down_mm:+z.1f}", at=0.6)
        design = desk.work.design
        taught = list(lessons(design, told.areas, told.places)) if design is not None else []
        if taught:
            widgets.title("What it teaches")
        for lesson in taught:
            self._lesson(lesson)
            widgets.space(theme.SPACES[1])

    def _lesson(self, lesson: Lesson) -> None:
        """Say it, with a button for what can be done about it here."""
        desk, widgets = self._desk, self._desk.widgets
        if lesson.paint is not None:
            widgets.text(f"{lesson.text} {lesson.limit}")
            if widgets.button("Take this paint", "photo.paint"):
                photo_flow.take_paint(desk, lesson.paint)
        elif lesson.is_hand:
            widgets.text(f"{lesson.text} That is too rough to be kept as your own hand, which the drilled box tells.")
            if widgets.button("Holes as drilled", "photo.hand"):
                built_flow.ask(desk)
        else:
            widgets.text(f"{lesson.text} {in_window(lesson.order).rstrip('.')}.")

    def _area(self, name: str, predicted: Colour, seen: Colour, apart: str, words: str) -> None:
        widgets, scale, palette = self._desk.widgets, self._desk.widgets.scale, self._desk.widgets.palette
        at, side, canvas = imgui.get_cursor_screen_pos(), 30 * scale, imgui.get_window_draw_list()
        for index, colour in enumerate((predicted, seen)):
            low = ImVec2(at.x + index * side, at.y + 2 * scale)
            canvas.add_rect_filled(low, ImVec2(low.x + side, low.y + side), theme.packed(colour))
        canvas.add_rect(
            ImVec2(at.x, at.y + 2 * scale), ImVec2(at.x + 2 * side, at.y + 2 * scale + side), theme.packed(palette.rule)
        )
        left, faces = at.x + 2 * side + 10 * scale, widgets.faces
        room = widgets.wide - 2 * side - 50 * scale
        said = widgets.shortened(capitalized(name), room, faces.text)
        widgets.draw_text(canvas, (left, at.y), said, faces.text, palette.text)
        size = widgets.text_size(apart, faces.strong)
        widgets.draw_text(canvas, (at.x + widgets.wide - size[0], at.y), apart, faces.strong, palette.text)
        widgets.draw_text(canvas, (left, at.y + 18 * scale), words, faces.small, palette.second)
        imgui.dummy(ImVec2(widgets.wide, 40 * scale))

    def foot_height(self) -> float:
        """Return the height of two rows."""
        return 108.0

    def draw_foot(self) -> None:
        """Compare, bring another photograph, or leave."""
        desk, widgets, photo = self._desk, self._desk.widgets, self._desk.photo
        if widgets.button("Another photograph", "photo.choose", look="quiet"):
            photo_flow.choose(desk)
        imgui.same_line(imgui.get_cursor_pos_x() + widgets.wide - 64 * widgets.scale)
        if widgets.button("Leave", "photo.leave", look="quiet"):
            photo_flow.leave(desk)
        is_ready = photo.found is not None and not photo.said
        label = f"{photo.said} ..." if photo.said and photo.pixels is not None else "Compare"
        if widgets.button(
            label, "photo.compare", look="chalk", wide=widgets.wide, tall=theme.CHALK_BUTTON * widgets.scale,
            is_enabled=is_ready,
        ):  # fmt: skip
            photo_flow.compare(desk)
