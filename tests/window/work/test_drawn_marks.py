"""Scales and borders on their faces, and the order in which the keyboard goes over all that is there."""

from __future__ import annotations

from pathlib import Path

import pytest

from mockup.layout.edit.variants import shown
from mockup.layout.toml import read_toml
from mockup.model.design import Design
from mockup.window.work.bare_design import bare_design
from mockup.window.work.drawn_marks import DrawnMark, drawn_marks, things_in_order
from mockup.window.work.project import opened

LAYOUT = """
name = "Chalk River"
[box]
size = "121x66x39"
[[part]]
name = "BANK"
kind = "pot-16"
right = 17
top = 21
knob = { diameter = 16 }
[[part]]
name = "FLOW"
kind = "pot-16"
left = 17
top = 20
knob = { diameter = 16 }
[[part]]
name = "OUT"
kind = "jack-enclosed"
face = "left"
[[scale]]
part = "FLOW"
gap = 1
major = 2
[[border]]
inset = 3
"""


@pytest.fixture
def pedal(tmp_path: Path) -> tuple[Design, tuple[DrawnMark, ...]]:
    (tmp_path / "layout.toml").write_text(LAYOUT)
    design = bare_design(LAYOUT, opened(tmp_path), None)
    return design, tuple(drawn_marks(design, shown(read_toml(LAYOUT, "layout.toml"), None)))


def test_a_scale_is_met_between_its_radii_and_a_border_on_its_line(pedal: tuple[Design, tuple[DrawnMark, ...]]) -> None:
    design, (scale, border) = pedal
    flow = next(part for part in design.parts if part.name == "FLOW")
    assert (scale.way, scale.face) == (("scale", 0), "top")
    for away, is_on in ((5.0, False), (9.5, True), (11.0, True), (13.0, False)):  # marks from 9 to 11 mm: 8 + 1, + 2
        assert scale.holds((flow.u_mm - away, flow.v_mm)) is is_on
    left, top = border.outline[0]
    assert border.way == ("border", 0)
    assert border.holds((left + 0.4, top + 30.0))
    assert border.holds((left + 20.0, top))
    assert not border.holds((left + 5.0, top + 30.0))
    assert not border.holds((left - 2.0, top + 30.0))


def test_the_keyboard_goes_row_by_row_and_face_by_face(pedal: tuple[Design, tuple[DrawnMark, ...]]) -> None:
    design, marks = pedal
    order = things_in_order(design, marks)
    assert order == (("border", 0), ("part", "FLOW"), ("scale", 0), ("part", "BANK"), ("part", "OUT"))
