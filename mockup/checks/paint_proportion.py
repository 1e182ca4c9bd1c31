"""A picture as paint that is stretched: its width and height do not go with the face's."""

from __future__ import annotations

import base64
from collections.abc import Iterator

from mockup.checks import Case
from mockup.checks.panel.built import Built
from mockup.model.finding import Finding, Mark, Quantity, Subject, mm

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
    stretch = (top.width_mm / columns) / (top.height_mm / rows)
    percent = 100 * (max(stretch, 1 / stretch) - 1)
    if percent <= limit.value + 100 * (1 / columns + 1 / rows):  # a side is a whole number of pixels
        return
    kept = (columns, rows / stretch) if stretch > 1 else (columns * stretch, rows)
    yield Finding(
        severity="note",
        title="Picture of the paint is stretched",
        what="{first} comes out {measured} {way} than in its file: {pixels} pixels on a face {width} by {height}",
        subjects=(Subject(kind="file", name=picture.name),),
        remedy="Crop it to {kept} pixels; or, where it is a photograph of your box, say with paint_corners where the "
        "corners of the face are",
        measured=Quantity(round(percent, 1), limit.unit),
        limit=limit,
        facts={
            "way": "wider" if stretch > 1 else "taller",
            "pixels": f"{columns} by {rows}",
            "width": mm(top.width_mm),
            "height": mm(top.height_mm),
            "kept": f"{kept[0]:.0f} by {kept[1]:.0f}",
        },
        marks=(Mark(face="top", u_mm=top.width_mm / 2, v_mm=top.height_mm / 2),),
    )
