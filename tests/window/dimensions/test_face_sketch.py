"""A part's place drawn on its face: four numbers that a ruler would read."""

from __future__ import annotations

import math

import pytest

from mockup import hardware
from mockup.model.design import Placement
from mockup.model.enclosure import Enclosure, faces
from mockup.window.dimensions.face_sketch import place_sketch

BOX = Enclosure(width_mm=60.0, length_mm=112.0, height_mm=31.0)


def test_four_numbers_add_up_to_the_face_at_the_parts_own_height() -> None:
    """A side face 29.2 high leans 1 degree: its edges move out tan 1 degree = 0.01746 mm a millimetre down."""
    face = faces(BOX)["left"]
    part = Placement(name="IN", kind=hardware.kinds()["jack-open"], face="left", u_mm=40.0, v_mm=15.0)
    sketch = place_sketch(face, (40.0, 15.0), [part], "IN", ("top",))
    value = {each.name: each.value for each in sketch.dimensions}
    assert value["left"] + value["right"] == pytest.approx(face.width_mm + 2 * face.taper * 15.0)
    assert face.taper == pytest.approx(math.tan(math.radians(1.0)), rel=1e-3)
    assert value["top"] + value["bottom"] == pytest.approx(face.height_mm)
    assert [each.name for each in sketch.dimensions if each.is_kept] == ["top"]


def test_the_picked_hole_is_filled_and_the_others_are_not() -> None:
    kinds = hardware.kinds()
    parts = [
        Placement(name="A", kind=kinds["pot-16"], face="top", u_mm=15.0, v_mm=20.0),
        Placement(name="B", kind=kinds["lamp-3"], face="top", u_mm=30.0, v_mm=60.0),
    ]
    sketch = place_sketch(faces(BOX)["top"], (15.0, 20.0), parts, "A", ())
    assert [(hole.at, hole.is_picked) for hole in sketch.holes] == [((30.0, 60.0), False), ((15.0, 20.0), True)]
