"""A picture as paint that is stretched: its width and height do not go with the face's."""

from __future__ import annotations

import base64
from collections.abc import Iterator

from mockup.checks import Case
from mockup.checks.art.stretch import Stretch
from mockup.checks.panel.built import Built
from mockup.model.finding import Finding, Mark, Subject

LIMITS = """
[paint_stretch_percent]
value = 4.0
unit = "%"
about = "how much more a picture as paint may be stretched one way than the other"
source = "common practice, no source"
"""
READS = ("enclosure", "finish")
_PAINT = '[finish]\npaint = "art.png"\n'
_SQUARE = "iVBORw0KGgoAAAANSUhEUgAAACQAAAAkAQAAAADJe6U1AAAAD0lEQVR42mMIBQGGYUcCADj/O8UzBdTNAAAAAElFTkSuQmCC"
_TALL = "iVBORw0KGgoAAAANSUhEUgAAACQAAABEAQAAAADBj6pvAAAAEElEQVR42mMIBQGGUXKQkQD8f3DlxzBe0wAAAABJRU5ErkJggg=="
# 36 by 36 and 36 by 68 pixels, on a face of about 59 by 111 mm
PLANTED = Case(_PAINT, base64.b64decode(_SQUARE))
SOUND = Case(_PAINT, base64.b64decode(_TALL))


def check(built: Built) -> Iterator[Finding]:
    """Yield one note where all of a picture lies on a face of another shape."""
    picture, top = built.design.finish.picture, built.faces["top"]
    if picture is None or picture.file_px is None:
        return
    limit = built.limits["paint_stretch_percent"]
    columns, rows = picture.file_px
    stretch = Stretch(size_px=picture.file_px, size_mm=(top.width_mm, top.height_mm))
    if not stretch.exceeds(limit):
        return
    kept = (columns, rows / stretch.ratio) if stretch.ratio > 1 else (columns * stretch.ratio, rows)
    yield Finding(
        severity="note",
        title="Picture of the paint is stretched",
        what="{first} comes out {measured} {way} than in its file: {pixels} pixels on a face {width} by {height}",
        subjects=(Subject(kind="file", name=picture.name),),
        remedy="Crop it to {kept} pixels; or, where it is a photograph of your box, say with paint_corners where the "
        "corners of the face are",
        measured=stretch.measured(limit),
        limit=limit,
        facts={**stretch.facts, "kept": f"{kept[0]:.0f} by {kept[1]:.0f}"},
        marks=(Mark(face="top", u_mm=top.width_mm / 2, v_mm=top.height_mm / 2),),
    )
