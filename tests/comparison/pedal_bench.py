"""Hand-made pedals whose differences are known; no test itself.

The box is 112 x 60 x 31 mm; all places below are in mm from the left and far edge of its top.
"""

from __future__ import annotations

import io
from pathlib import Path

from PIL import Image, ImageDraw

from mockup import api
from mockup.model.design import Design
from mockup.model.finding import Finding, Severity, Subject

DPI = 254.0  # ten pixels to the millimetre
FILM = (50, 100)  # of the art, in mm

PLAIN = """
name = "Tidewater"
[box]
size = "112x60x31"
[finish]
paint = "#7fa8a3"
[[decal]]
art = "art.png"
[[part]]
name = "TONE"
kind = "pot-16"
left = 16
top = 20
knob = { style = "conical", diameter = 18, height = 16, pointer = 0.5 }
[[part]]
name = "LEVEL"
kind = "pot-16"
right = 16
top = 20
knob = { style = "conical", diameter = 18, height = 16, pointer = 0.5 }
[[part]]
name = "LAMP"
kind = "lamp-5"
top = 50
[[part]]
name = "IN"
kind = "jack-enclosed"
face = "right"
bottom = 14
"""
"""Four parts: two pots 16 mm from either side, a lamp in the middle, a jack on the right."""


def art(*rectangles: tuple[float, float, float, float], colour: str = "#101418") -> bytes:
    """Return art of `FILM` size with rectangles (left, top, right, bottom in mm from its corner), as a PNG file."""
    picture = Image.new("RGBA", (FILM[0] * 10, FILM[1] * 10), (0, 0, 0, 0))
    pen = ImageDraw.Draw(picture)
    for left, top, right, bottom in rectangles:
        pen.rectangle((left * 10, top * 10, right * 10 - 1, bottom * 10 - 1), fill=colour)
    out = io.BytesIO()
    picture.save(out, "PNG", dpi=(DPI, DPI))
    return out.getvalue()


ART = art((10, 60, 30, 70))
"""One bar of ink, 20 by 10 mm."""


def pedal(text: str = PLAIN, ink: bytes = ART) -> Design:
    """Return the design of a layout's text."""
    return api.loads(text, {"art.png": ink})


def changed(*pairs: tuple[str, str]) -> str:
    """Return the plain layout with words replaced, each of which is there."""
    text = PLAIN
    for old, new in pairs:
        assert old in text, old
        text = text.replace(old, new, 1)
    return text


def project(folder: Path, text: str = PLAIN, ink: bytes = ART) -> Path:
    """Write a project and return its layout file."""
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "art.png").write_bytes(ink)
    path = folder / "layout.toml"
    path.write_text(text)
    return path


def finding(check: str, severity: Severity, *subjects: str | Subject, what: str = "something") -> Finding:
    """Return a finding that somebody made up; text names a part."""
    about = tuple(Subject(kind="part", name=each) if isinstance(each, str) else each for each in subjects)
    return Finding(check=check, severity=severity, subjects=about, title="Made up", what=what)
