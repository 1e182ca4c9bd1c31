"""Layers of marks to the bytes of a DXF file, for a cutter: true circles and arcs, in millimetres."""

from __future__ import annotations

import io
from collections.abc import Sequence
from typing import Any

from mockup.model.sheet import Circle, Layer, Line, Mark, Path, Text

_COLOURS = {"black": 7, "red": 1, "blue": 5}  # by number: DXF reference, colour index
_CAPITAL = 0.72  # height of a text's capitals, by which DXF sizes it, in sizes of the face: the face's own figure
_MILLIMETRES = 4  # $INSUNITS: DXF reference, HEADER section


def dxf(layers: Sequence[Layer], title: str = "") -> bytes:
    """Return a DXF file (R2010) of lines, circles, paths and text; y runs up in it, so a page's y is turned over.

    Equal layers give equal bytes, on any day. Raises `ValueError` for a mark that a cutter cannot follow.
    """
    from ezdxf._options import options

    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True  # its own way to leave out the time and random names
    try:
        return _written(layers, title)
    finally:
        options.write_fixed_meta_data_for_testing = before


def _written(layers: Sequence[Layer], title: str) -> bytes:
    from ezdxf import units
    from ezdxf.filemanagement import new

    drawing = new("R2010", units=units.MM)
    drawing.header["$INSUNITS"] = _MILLIMETRES
    drawing.header["$MEASUREMENT"] = 1  # metric: DXF reference, HEADER section
    if title:
        drawing.header.custom_vars.append("Title", title)
    space = drawing.modelspace()
    for layer in layers:
        drawing.layers.add(layer.name, color=_COLOURS[layer.colour])
        for mark in layer.marks:
            _draw(space, mark, {"layer": layer.name})
    out = io.StringIO()
    drawing.write(out)
    return out.getvalue().encode()


def _draw(space: Any, mark: Mark, look: dict[str, str]) -> None:
    if isinstance(mark, Line):
        space.add_line((mark.x1_mm, -mark.y1_mm), (mark.x2_mm, -mark.y2_mm), dxfattribs=look)
    elif isinstance(mark, Circle):
        space.add_circle((mark.x_mm, -mark.y_mm), mark.radius_mm, dxfattribs=look)
    elif isinstance(mark, Path):
        bulges = mark.bulges or (0.0,) * len(mark.points)
        points = [(x, -y, -bulge) for (x, y), bulge in zip(mark.points, bulges, strict=True)]
        space.add_lwpolyline(points, format="xyb", close=mark.is_closed, dxfattribs=look)
    elif isinstance(mark, Text):
        from ezdxf.enums import TextEntityAlignment as Align

        aligned = {"start": Align.LEFT, "middle": Align.CENTER, "end": Align.RIGHT}[mark.anchor]
        text = space.add_text(mark.text, height=_CAPITAL * mark.size_mm, dxfattribs=look)
        text.set_placement((mark.x_mm, -mark.y_mm), align=aligned)
    else:
        raise ValueError(f"a cutter cannot follow a {type(mark).__name__.lower()}")
