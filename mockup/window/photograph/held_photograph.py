"""The photograph that is held beside the pedal: its lines, its camera, and what it told."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from mockup.model.enclosure import Enclosure
from mockup.model.errors import MockupError
from mockup.model.scene import Camera
from mockup.window.photograph.photo_place import camera_of_room
from mockup.window.photograph.side_lines import SideLines, first_lines

if TYPE_CHECKING:
    from mockup.comparison.beside.landmarks import Found
    from mockup.comparison.beside.photograph import Beside, OpenedPhotograph


class HeldPhotograph:
    """What is known of the photograph; nothing of it is kept with the project.

    `pixels` (h, w, 3) are shown, None before one is read. `found` is the camera for `size_px` of the photograph, None
    with the reason in `why`. `said` is what is under way, "" for nothing. `is_card_asked` while the next click in
    the photograph is the white card. `told` is what holding it beside the picture told last.
    """

    def __init__(self) -> None:
        self.path: Path | None = None
        self.layout: Path | None = None
        self.clear()

    def clear(self) -> None:
        """Forget the photograph."""
        self.path = self.layout = None
        self.pixels: NDArray[np.uint8] | None = None
        self.size_px = (1, 1)
        self.lines = SideLines(lines={})
        self.found: Found | None = None
        self._near: Found | None = None
        self._is_rough = False
        self.why = self.said = ""
        self.is_card_asked = False
        self.told: Beside | None = None

    def read(self, opened: OpenedPhotograph, box: Enclosure) -> None:
        """Take a photograph that was read: its marks tell the camera, or lines are laid over it to be dragged."""
        self.pixels, self.size_px, self.found, self.said = opened.pixels, opened.size_px, opened.found, ""
        self.lines = SideLines(lines={}) if opened.found is not None else first_lines(box, opened.size_px)
        if opened.found is None:
            self._is_rough = True
            self.change(self.lines, box)

    def change(self, lines: SideLines, box: Enclosure, *, is_quick: bool = False) -> None:
        """Take other lines, and the camera that follows from them; `is_quick` while one is dragged."""
        is_moved = lines.lines != self.lines.lines or (self._is_rough and not is_quick)
        self.lines = lines
        if not is_moved or (self.found is not None and self.found.is_marked):
            return
        self.told, self.found, self._is_rough = None, None, is_quick
        try:
            self.found = self._near = lines.found(box, self.size_px, self._near, is_quick=is_quick)
            self.why = ""
        except MockupError as error:
            self.why = error.lines[0].partition(": ")[2]

    def hold(self, told: Beside) -> None:
        """Take what holding it beside the picture told: the card made white, the camera nudged unless marks gave it."""
        from mockup.comparison.beside.landmarks import scaled

        self.told, self.said = told, ""
        if not told.found.is_marked:  # else it is that of the straightened photograph: the lens would be lost
            self.found = self._near = scaled(told.found, self.size_px)

    def camera(self, room: tuple[int, int]) -> Camera | None:
        """Return the camera for a picture of a whole room of the window, None where none is known."""
        return camera_of_room(self.found.camera, self.size_px, room) if self.found is not None else None
