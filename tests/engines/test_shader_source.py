"""Loops of shaders that are written out before GL sees them."""

import re
from importlib import resources

from mockup.engines.gl.shader_source import shader_source, unrolled


def test_a_loop_over_soft_boxes_is_written_out():
    other = "for (int k = 0; k < WALLS; ++k) { add(i, k); }"
    found = unrolled("for (int i = 0; i < BOXES; ++i) {\n" + other + "\n}\nlast;", 3)
    assert found.count(other) == 3
    assert re.findall(r"const int i = (\d)", found) == ["0", "1", "2"]
    assert found.endswith("last;")


def test_without_soft_boxes_nothing_is_left():
    assert unrolled("a;for (int i = 0; i < BOXES; ++i) { if (i > 0) { b; } }c;", 0) == "a;c;"


def test_no_shader_keeps_a_loop_over_soft_boxes():
    for file in resources.files("mockup.engines.gl").joinpath("shaders").iterdir():
        assert not re.search(r"< BOXES\b", shader_source(file.name, {"BOXES": 4})), file.name


def test_a_lamp_written_out_reads_no_shadow_map_past_the_last():
    """Compilers refuse an index that they know to be past an array, reached or not (GLSL 3.30, 4.1.9, from memory)."""
    source = shader_source("surface.frag", {"BOXES": 4, "SHADED": 1})
    assert source.count("lit(layer, ") == source.count("int layer = min(i, max(SHADED - 1, 0));") == 4
    assert "lit(i, " not in source
