"""The program's own sign, for the window and the system's menu: a pedal seen from above, drawn by numbers."""

from __future__ import annotations

import io
from typing import Any, Literal

from PIL import Image, ImageDraw

from mockup.colour import rgb

IconKind = Literal["png", "ico", "icns"]
SIDE_PX = 256
_FINER = 4  # drawn so many times larger, then brought down, for clean edges
_SIDES_PX = (16, 24, 32, 48, 64, 128, 256)  # what a Windows icon file holds: common practice
_WINDOW_PX = (16, 32, 64)  # for lists and for switching between windows: common practice
_BOX, _EDGE, _DARK, _LIGHT = (rgb.parse(code) for code in ("#8fb39b", "#5d7f69", "#242424", "#f1f0ec"))
_LAMP = rgb.parse("#e2553d")


def icon(side_px: int = SIDE_PX) -> Image.Image:
    """Return the sign, transparent round the pedal."""
    side = side_px * _FINER
    image = Image.new("RGBA", (side, side))
    draw = ImageDraw.Draw(image)

    def at(*shares: float) -> tuple[int, ...]:
        return tuple(round(share * side) for share in shares)

    def disc(x: float, y: float, radius: float, colour: tuple[float, float, float]) -> None:
        draw.ellipse(at(x - radius, y - radius, x + radius, y + radius), fill=_code(colour))

    draw.rounded_rectangle(at(0.19, 0.03, 0.81, 0.97), round(0.09 * side), fill=_code(_EDGE))
    draw.rounded_rectangle(at(0.19, 0.03, 0.81, 0.94), round(0.09 * side), fill=_code(_BOX))
    for x, turn in ((0.365, -0.055), (0.635, 0.055)):
        disc(x, 0.24, 0.115, _DARK)
        draw.line(at(x, 0.24, x + turn, 0.155), fill=_code(_LIGHT), width=round(0.028 * side))
    disc(0.5, 0.47, 0.042, _LAMP)
    disc(0.5, 0.73, 0.125, _DARK)
    disc(0.5, 0.73, 0.085, _LIGHT)
    return image.resize((side_px, side_px), Image.Resampling.LANCZOS)


def icon_file(kind: IconKind) -> bytes:
    """Return the sign as a file of the kind that a system wants."""
    out = io.BytesIO()
    if kind == "ico":
        icon().save(out, "ICO", sizes=[(side, side) for side in _SIDES_PX])
    else:
        icon(512 if kind == "icns" else SIDE_PX).save(out, kind.upper())
    return out.getvalue()


def window_icons(pyglet: Any) -> tuple[Any, ...]:
    """Return the sign in the sizes of a window's lists, as pyglet wants it: rows from the bottom."""
    return tuple(pyglet.image.ImageData(side, side, "RGBA", icon(side).tobytes(), -4 * side) for side in _WINDOW_PX)


def _code(colour: tuple[float, float, float]) -> tuple[int, int, int, int]:
    red, green, blue = (round(255 * part) for part in colour)
    return red, green, blue, 255
