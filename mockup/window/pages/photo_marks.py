"""The photograph over the picture: lines on the box's edges, a loupe round what is picked, both over one another."""

from __future__ import annotations

from imgui_bundle import ImVec2, imgui

from mockup.window.desk import Desk
from mockup.window.dimensions import lines as strokes
from mockup.window.pages.photo_tool import PhotoTool
from mockup.window.photograph.photo_place import PhotoPlace
from mockup.window.photograph.side_lines import CARD, Handle
from mockup.window.shell import theme
from mockup.window.widgets.picture_texture import PictureTexture

_LOUPE, _TIMES = 150.0, 4.0  # units of its side, and how many pixels of the window one of the photograph is: by eye
_HALF = 0.5  # of the photograph over the picture
_END, _MIDDLE = 6.0, 4.5  # units, radius of handles: by eye


class PhotoMarks:
    """Draws the photograph and its lines over the picture."""

    def __init__(self, desk: Desk, tool: PhotoTool) -> None:
        self._desk = desk
        self._tool = tool
        self._texture = PictureTexture()

    def draw(self, canvas: imgui.ImDrawList) -> None:
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
        image = imgui.ImTextureRef(self._texture.of(photo.told.photo if photo.told is not None else photo.pixels).id)
        state = desk.view.state
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
        times = place.scale * _TIMES
        line = [
            (centre[0] + (x - at[0]) * times, centre[1] + (y - at[1]) * times)
            for x, y in photo.lines.lines.get(picked.name, ())
        ]
        strokes.draw(canvas, [line] if line else [], theme.grey(1.0), 1.0, casing=theme.grey(0.0, 0.5))
        canvas.pop_clip_rect()
        canvas.add_rect(corner, end, theme.grey(1.0), 0.0, max(1.0, 1.5 * scale))
