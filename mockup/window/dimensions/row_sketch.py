"""Several parts of one face drawn on it, with the distances between neighbours to type."""

from __future__ import annotations

from collections.abc import Sequence

from mockup.arrange.groups import gaps, is_across
from mockup.model.design import Placement
from mockup.model.enclosure import Face
from mockup.window.dimensions.face_sketch import holes, outline
from mockup.window.dimensions.sketch import Dimension, Sketch, line

MOST_GAPS = 3  # fields that have room under a sheet's drawing: our choice


def row_sketch(face: Face, parts: Sequence[Placement], picked: Sequence[Placement]) -> Sketch:
    """Return a face with its holes, those of the picked parts filled, and how far their middles are apart.

    `parts` are all on this face. A distance is called ``gap.0`` and so on; of many gaps one field shows them all.
    """
    middle = face.width_mm / 2
    return Sketch(
        strokes=(outline(face), line((middle, 0.0), (middle, face.height_mm), "chain")),
        holes=holes(parts, [part.name for part in picked]),
        dimensions=_dimensions(face, picked) if len(picked) > 1 else (),
    )


def _dimensions(face: Face, picked: Sequence[Placement]) -> tuple[Dimension, ...]:
    pairs, across = gaps(picked), is_across(picked)
    if len(pairs) > MOST_GAPS:
        value = pairs[0][2] if max(each[2] for each in pairs) - min(each[2] for each in pairs) < 0.05 else None
        pairs = ((pairs[0][0], pairs[-1][1], value or 0.0),)
        return tuple(_dimension(face, 0, one, two, value, across=across) for one, two, _ in pairs)
    return tuple(
        _dimension(face, index, one, two, apart, across=across) for index, (one, two, apart) in enumerate(pairs)
    )


def _dimension(
    face: Face, index: int, one: Placement, two: Placement, apart: float | None, *, across: bool
) -> Dimension:  # fmt: skip
    if across:
        ends = ((one.u_mm, face.height_mm), (two.u_mm, face.height_mm))
    else:
        ends = ((face.width_mm, one.v_mm), (face.width_mm, two.v_mm))
    return Dimension(
        name=f"gap.{index}", side="bottom" if across else "right", value=apart, start=ends[0], end=ends[1], least=0.5,
        most=500.0, tip=f"From the middle of {one.name} to that of {two.name}; the same for all",
    )  # fmt: skip
