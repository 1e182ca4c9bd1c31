"""The finished pedal beside its picture: lines on the box's edges, both over one another, and what that tells."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
from imgui_bundle import ImVec2, imgui
from numpy.typing import NDArray

from mockup.engines.gl.context import make_current
from mockup.engines.gl.resources import ImageTexture
from mockup.model.material import Colour
from mockup.window import built_flow, photo_flow
from mockup.window.desk import Desk
from mockup.window.dimensions import lines as strokes
from mockup.window.pages.photo_tool import PhotoTool
from mockup.window.photograph.photo_place import PhotoPlace
from mockup.window.photograph.side_lines import CARD, Handle
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
_LOUPE, _TIMES = 150.0, 4.0  # units of its side, and how many pixels of the window one of the photograph is: by eye
_HALF = 0.5  # of the photograph over the picture
_END, _MIDDLE = 6.0, 4.5  # units, radius of handles: by eye


class PhotographPage(Station):
    """The sheet beside the photograph; it belongs to no station, and any station closes it."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._tool = PhotoTool(desk)
        self._texture: ImageTexture | None = None
        self._texture_of: NDArray[np.uint8] | None = None

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
        said = widgets.shortened(name[0].upper() + name[1:], room, faces.text)
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

    # Over the picture

    def draw_marks(self, canvas: imgui.ImDrawList) -> None:
        """Draw the photograph over the picture, and its lines."""
        desk, photo = self._desk, self._desk.photo
        rect, (x, y) = desk.view.grid.rects[0], desk.view.origin(0)
        if photo.pixels is None:
            canvas.add_rect_filled(
                ImVec2(x, y), ImVec2(x + rect.width, y + rect.height), theme.packed(desk.widgets.palette.ground)
            )
            return
        place = self._tool.place()
        low = ImVec2(*place.to_window((0.0, 0.0)))
        high = ImVec2(*place.to_window((float(photo.size_px[0]), float(photo.size_px[1]))))
        right, bottom, ground = x + rect.width, y + rect.height, theme.packed(desk.widgets.palette.ground)
        for left, top, to_x, to_y in (
            (x, y, right, low.y), (x, high.y, right, bottom), (x, y, low.x, bottom), (high.x, y, right, bottom),
        ):  # fmt: skip  # beside the photograph there is nothing to compare
            canvas.add_rect_filled(ImVec2(left, top), ImVec2(to_x, to_y), ground)
        desk.widgets.places["photo"] = (low.x, low.y, high.x, high.y)
        texture, state = self._uploaded(photo.told.photo if photo.told is not None else photo.pixels), desk.view.state
        image = imgui.ImTextureRef(texture.id)
        is_over = state.photo_shown == "both" and photo.found is not None
        is_wiped = state.photo_shown == "wipe" and photo.found is not None
        end = ImVec2(x + rect.width * state.wipe if is_wiped else x + rect.width, y + rect.height)
        canvas.push_clip_rect(ImVec2(x, y), end, True)
        corner = ImVec2(0, 0), ImVec2(1, 1)
        canvas.add_image(image, low, high, *corner, theme.grey(1.0, _HALF if is_over else 1.0))
        canvas.pop_clip_rect()
        if state.photo_shown == "lines":
            self._lines(canvas, place)
            self._loupe(canvas, place, low, high, image)

    def _uploaded(self, pixels: NDArray[np.uint8]) -> ImageTexture:
        if self._texture is None or self._texture_of is not pixels:
            make_current()
            if self._texture is not None:
                self._texture.delete()
            self._texture, self._texture_of = ImageTexture(pixels, is_encoded=True), pixels
        return self._texture

    def _lines(self, canvas: imgui.ImDrawList, place: PhotoPlace) -> None:
        """Draw the lines from end to end, each a little further, with their handles."""
        photo, scale = self._desk.photo, self._desk.widgets.scale
        casing, chalk = theme.grey(0.0, 0.5), theme.grey(1.0)
        for name, (first, second) in photo.lines.lines.items():
            is_picked = photo.lines.picked is not None and photo.lines.picked.name == name
            way = (second[0] - first[0], second[1] - first[1])
            ends = [
                place.to_window((at[0] + share * way[0], at[1] + share * way[1]))
                for at, share in ((first, -0.3), (second, 0.3))
            ]
            thick = max(1.0, (2.0 if is_picked else 1.2) * scale)
            strokes.draw(canvas, [ends], chalk, thick, casing=casing, case=max(1.0, scale))
        for handle, at in photo.lines.handles().items():
            self._handle(canvas, handle, place.to_window(at))

    def _handle(self, canvas: imgui.ImDrawList, handle: Handle, at: tuple[float, float]) -> None:
        scale, is_picked = self._desk.widgets.scale, self._desk.photo.lines.picked == handle
        radius = (9.0 if handle.name == CARD else _MIDDLE if handle.end == "middle" else _END) * scale
        spot = ImVec2(*at)
        canvas.add_circle(spot, radius, theme.grey(0.0, 0.6), 24, 4 * scale)
        canvas.add_circle(spot, radius, theme.grey(1.0), 24, 2 * scale)
        if is_picked:
            canvas.add_circle_filled(spot, max(radius - 2.5 * scale, 1.5), theme.grey(1.0), 24)
        self._desk.widgets.places[f"photo.{handle.name}.{handle.end}"] = (
            at[0] - radius, at[1] - radius, at[0] + radius, at[1] + radius,
        )  # fmt: skip

    def _loupe(
        self, canvas: imgui.ImDrawList, place: PhotoPlace, low: ImVec2, high: ImVec2, image: imgui.ImTextureRef
    ) -> None:
        """Draw what is round the picked handle enlarged, in the corner that is farther from it."""
        photo, scale = self._desk.photo, self._desk.widgets.scale
        picked = photo.lines.picked
        at = photo.lines.handles().get(picked) if picked is not None else None
        if at is None or picked is None:
            return
        side, inset = _LOUPE * scale, 12 * scale
        middle = place.to_window(at)
        is_left = middle[0] > (low.x + high.x) / 2
        top = self._desk.view.origin(0)[1]  # beside the photograph where that leaves room
        corner = ImVec2(low.x + inset if is_left else high.x - inset - side, top + inset)
        across, down = (side / _TIMES / place.scale / each / 2 for each in photo.size_px)
        u, v = at[0] / photo.size_px[0], at[1] / photo.size_px[1]
        end = ImVec2(corner.x + side, corner.y + side)
        canvas.add_rect_filled(corner, end, theme.packed(self._desk.widgets.palette.ground))
        canvas.push_clip_rect(corner, end, True)
        canvas.add_image(image, corner, end, ImVec2(u - across, v - down), ImVec2(u + across, v + down))
        centre = (corner.x + side / 2, corner.y + side / 2)
        for name, ends in photo.lines.lines.items():
            if name == picked.name:
                moved = [
                    tuple(c + (value - o) * place.scale * _TIMES for c, value, o in zip(centre, each, at, strict=True))
                    for each in ends
                ]
                strokes.draw(canvas, [[(m[0], m[1]) for m in moved]], theme.grey(1.0), 1.0, casing=theme.grey(0.0, 0.5))
        canvas.pop_clip_rect()
        canvas.add_rect(corner, end, theme.grey(1.0), 0.0, max(1.0, 1.5 * scale))
