"""Where a photograph lies in the window, as large as it fits, and its camera for the whole of that room."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from mockup.model.scene import Camera

Size = tuple[float, float]
Point = tuple[float, float]


@dataclass(frozen=True, kw_only=True)
class PhotoPlace:
    """The photograph's top left corner in the window, and how many pixels of the window one of its own takes."""

    left: float
    top: float
    scale: float

    def to_window(self, at: Point) -> Point:
        """Return where a pixel of the photograph is seen."""
        return self.left + at[0] * self.scale, self.top + at[1] * self.scale

    def to_photo(self, at: Point) -> Point:
        """Return the pixel of the photograph at a place of the window."""
        return (at[0] - self.left) / self.scale, (at[1] - self.top) / self.scale


def photo_place(photo: Size, corner: Point, room: Size) -> PhotoPlace:
    """Return where a photograph lies in a room of the window: whole, in its middle."""
    scale = min(room[0] / photo[0], room[1] / photo[1])
    return PhotoPlace(
        left=corner[0] + (room[0] - photo[0] * scale) / 2, top=corner[1] + (room[1] - photo[1] * scale) / 2, scale=scale
    )


def camera_of_room(camera: Camera, photo: Size, room: Size) -> Camera:
    """Return a photograph's camera for a picture of a whole room, in which it lies as `photo_place` says."""
    higher = room[1] / (photo[1] * min(room[0] / photo[0], room[1] / photo[1]))
    half = math.atan(math.tan(math.radians(camera.fov_deg) / 2) * higher)
    return replace(camera, fov_deg=math.degrees(2 * half))
