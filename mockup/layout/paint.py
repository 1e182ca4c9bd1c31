"""The paint of a layout: one colour, or a picture laid on the drilled face."""

from __future__ import annotations

from collections.abc import Mapping

from mockup.decal.painting import face_pixels
from mockup.layout.decals import Picture
from mockup.layout.fields import Problem, is_picture_name
from mockup.layout.schema import FinishTable
from mockup.model.enclosure import Enclosure, faces
from mockup.model.finish import Artwork
from mockup.model.paint_picture import PaintPicture


def named_picture(table: FinishTable | None) -> Picture | None:
    """Return the picture that a layout names as its paint, None where it names a colour or nothing."""
    return Picture(table.paint) if table is not None and isinstance(table.paint, str) else None


def paint_picture(
    table: FinishTable | None, art: Mapping[str, Artwork], box: Enclosure
) -> PaintPicture | Problem | None:
    """Return the picture that is the paint of a box, straightened, or why it cannot be; None where there is none.

    `art` holds the decoded pictures by their keys.
    """
    named = named_picture(table)
    if table is None or named is None:
        return None
    if named.key not in art:
        remedy = "put it next to the layout, correct the name, or give a colour"
        return Problem(("paint",), f'there is no picture "{named.name}"', remedy)
    top, drawn = faces(box)["top"], art[named.key]
    try:
        pixels = face_pixels(drawn, (top.width_mm, top.height_mm), table.paint_corners or ())
    except ValueError as error:
        what, _, remedy = str(error).partition("; ")
        return Problem(("paint_corners",), what, remedy)
    size = (drawn.width_px, drawn.height_px) if not table.paint_corners else None
    return PaintPicture(name=named.name, pixels=pixels, box=box, file_px=size)


def without_picture(finish: object) -> object:
    """Return a [finish] table, as TOML reads it, in white where a picture is its paint: for what cannot wait for it."""
    if not isinstance(finish, dict) or not is_picture_name(finish.get("paint")):
        return finish
    return {key: value for key, value in finish.items() if key != "paint_corners"} | {"paint": "white"}
