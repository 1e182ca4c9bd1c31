"""A paint taken from a photograph: the white card is clicked, then the paint."""

from __future__ import annotations

from pathlib import Path

import numpy as np
from imgui_bundle import ImVec2, imgui
from numpy.typing import NDArray
from PIL import Image

from mockup import files, reader
from mockup.colour import rgb
from mockup.engines.gl.resources import ImageTexture
from mockup.measure.card import paint_in
from mockup.model.errors import MockupError
from mockup.model.finish import Artwork
from mockup.model.material import Colour
from mockup.model.text import capitalized
from mockup.window.desk import Desk
from mockup.window.shell import theme
from mockup.window.shell.native_dialogs import PHOTOGRAPHS
from mockup.window.widgets.picture_texture import PictureTexture

_LONG_PX = 1400  # longer side of what is shown: our choice
_WIDE, _TALL = 0.72, 0.8  # share of the window that the card takes: by eye
_POPUP = "eye-dropper"
Spot = tuple[float, float]


class EyeDropper:
    """The card with the photograph; nothing of it is kept."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._photo: Artwork | None = None
        self._texture = PictureTexture()
        self._shown: NDArray[np.uint8] | None = None
        self._card: Spot | None = None
        self._paint: Spot | None = None
        self._found: Colour | None = None
        self._said = ""
        self._is_asked = False

    def ask(self) -> None:
        """Have a photograph chosen; its card opens then."""
        project = self._desk.work.project
        folder = project.folder if project is not None else Path.home()
        self._desk.chooser.file("A photograph with a white card in it", folder, [PHOTOGRAPHS], self.take)

    def take(self, path: Path) -> None:
        """Show a photograph."""
        try:
            photo = reader.picture(files.read_bytes(path), path.name)
        except MockupError as error:
            self._desk.messages.say_error(error)
            return
        self._photo, self._card, self._paint, self._found, self._said = photo, None, None, None, ""
        picture = Image.fromarray(np.ascontiguousarray(photo.pixels[..., :3]))
        picture.thumbnail((_LONG_PX, _LONG_PX))
        self._shown = np.asarray(picture)
        self._is_asked = True
        self._desk.window.touch()

    def draw(self) -> Colour | None:
        """Draw the card where it is open; return the paint that was taken."""
        if self._is_asked:
            imgui.open_popup(_POPUP)
            self._is_asked = False
        if self._photo is None or self._shown is None:
            return None
        view, scale = imgui.get_main_viewport(), self._desk.widgets.scale
        size = ImVec2(view.size.x * _WIDE, view.size.y * _TALL)
        imgui.set_next_window_pos(view.get_center(), imgui.Cond_.always, ImVec2(0.5, 0.5))
        imgui.set_next_window_size(size)
        imgui.push_style_var(imgui.StyleVar_.window_padding, ImVec2(16 * scale, 16 * scale))
        flags = imgui.WindowFlags_.no_decoration | imgui.WindowFlags_.no_move | imgui.WindowFlags_.no_saved_settings
        is_open = imgui.begin_popup(_POPUP, flags)
        imgui.pop_style_var()
        if not is_open:
            return None
        chosen = self._filled(self._photo, self._texture.of(self._shown))
        if chosen is not None:
            imgui.close_current_popup()
        imgui.end_popup()
        return chosen

    def _filled(self, photo: Artwork, texture: ImageTexture) -> Colour | None:
        widgets, scale = self._desk.widgets, self._desk.widgets.scale
        with widgets.font(widgets.faces.title):
            imgui.text_unformatted(
                "Click the white card" if self._card is None else "Now click the paint" if self._found is None else
                "This is the paint"
            )  # fmt: skip
        widgets.note(self._said or "A sheet of white paper in the same light does. Keep away from shine and shadow.")
        widgets.space(8)
        room = imgui.get_content_region_avail()
        low, high = self._picture(photo, texture, ImVec2(room.x, room.y - 56 * scale))
        self._spots(photo, low, high)
        widgets.space(12)
        return self._foot()

    def _picture(self, photo: Artwork, texture: ImageTexture, room: ImVec2) -> tuple[ImVec2, ImVec2]:
        """Draw the photograph as large as it goes, and take a click on it; return its corners."""
        factor = min(room.x / texture.width, room.y / texture.height)
        size = ImVec2(texture.width * factor, texture.height * factor)
        at = imgui.get_cursor_screen_pos()
        low = ImVec2(at.x + (room.x - size.x) / 2, at.y)
        high = ImVec2(low.x + size.x, low.y + size.y)
        imgui.set_cursor_screen_pos(low)
        pushed = imgui.invisible_button("##photograph", size, imgui.ButtonFlags_.enable_nav)
        self._desk.widgets.mark("dropper.photograph")
        imgui.get_window_draw_list().add_image(imgui.ImTextureRef(texture.id), low, high)
        if pushed:
            mouse = imgui.get_mouse_pos()
            self._clicked(
                photo,
                ((mouse.x - low.x) / size.x * photo.width_px, (mouse.y - low.y) / size.y * photo.height_px),
            )
        return low, high

    def _clicked(self, photo: Artwork, at: Spot) -> None:
        if self._card is None:
            self._card = at
            return
        self._paint = at
        try:
            seen = paint_in(photo, [self._card], [at])
            self._found, self._said = seen.colour, capitalized(seen.problem)
        except ValueError as error:
            self._said = capitalized(str(error))
            self._paint = self._found = None
            if self._said.startswith("The white card"):
                self._card = None

    def _spots(self, photo: Artwork, low: ImVec2, high: ImVec2) -> None:
        canvas, scale = imgui.get_window_draw_list(), self._desk.widgets.scale
        for spot in (self._card, self._paint):
            if spot is not None:
                x = low.x + spot[0] / photo.width_px * (high.x - low.x)
                y = low.y + spot[1] / photo.height_px * (high.y - low.y)
                for grey, thick in ((0.0, 4.0), (1.0, 2.0)):
                    canvas.add_circle(ImVec2(x, y), 9 * scale, theme.grey(grey), 32, thick * scale)

    def _foot(self) -> Colour | None:
        widgets, scale = self._desk.widgets, self._desk.widgets.scale
        chosen = None
        if self._found is not None:
            at, side = imgui.get_cursor_screen_pos(), 32 * scale
            imgui.get_window_draw_list().add_rect_filled(
                at, ImVec2(at.x + 2 * side, at.y + side), theme.packed(self._found), 6 * scale
            )
            imgui.dummy(ImVec2(2 * side, side))
            imgui.same_line(0, 8 * scale)
            imgui.align_text_to_frame_padding()
            imgui.text_unformatted(rgb.to_hex(self._found))
            imgui.same_line(0, 16 * scale)
        if widgets.button("Leave", "dropper.leave", tip="Nothing is changed"):
            imgui.close_current_popup()
        imgui.same_line(0, 8 * scale)
        if widgets.button("Again", "dropper.again", tip="Click the card and the paint once more"):
            self._card = self._paint = self._found = None
        imgui.same_line(0, 8 * scale)
        if widgets.button("Use this paint", "dropper.use", look="chalk", is_enabled=self._found is not None):
            chosen = self._found
        return chosen
