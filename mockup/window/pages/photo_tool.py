"""What a press on the photograph takes in hand: a line's end or its middle, or the place of the white card."""

from __future__ import annotations

from mockup.window import photo_flow
from mockup.window.photograph.photo_place import PhotoPlace, photo_place
from mockup.window.tools.tool import PointerMove, PointerTool

_REACH = 12.0  # units, how near a handle is taken hold of: by eye


class PhotoTool(PointerTool):
    """Moves the handle that was pressed; where a click asks for the white card, puts it there."""

    def place(self) -> PhotoPlace:
        """Return where the photograph lies in the window."""
        desk = self._desk
        rect = desk.view.grid.rects[0]
        return photo_place(desk.photo.size_px, desk.view.origin(0), (float(rect.width), float(rect.height)))

    def press(self, x: float, y: float) -> None:
        """Pick the handle that is under the pointer, none where none is."""
        photo, place = self._desk.photo, self.place()
        at = place.to_photo((x, y))
        if photo.is_card_asked:
            photo.is_card_asked = False
            photo_flow.change(self._desk, photo.lines.with_card(at))
        is_shown = self._desk.view.state.photo_shown == "lines"
        reach = _REACH * self._desk.window.scale / place.scale
        handle = photo.lines.handle_at(at, reach) if is_shown else None
        photo_flow.change(self._desk, photo.lines.picking(handle))

    def drag(self, move: PointerMove) -> None:
        """Move the handle with the pointer."""
        lines, per_px = self._desk.photo.lines, 1.0 / self.place().scale
        if lines.picked is not None:
            photo_flow.change(
                self._desk, lines.shifted(lines.picked, move.dx * per_px, move.dy * per_px), is_quick=True
            )

    def drop(self) -> None:
        """Leave it where it is, and look for the camera from everywhere."""
        photo_flow.change(self._desk, self._desk.photo.lines)
