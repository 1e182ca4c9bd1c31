"""Labels that the art holds already: where their boxes lie."""

# ruff: noqa: E501  (whole messages stand on one line)
from __future__ import annotations

import pytest

PARTS = """
[[part]]
name = "TONE"
kind = "pot-16"
left = 20
top = 30
knob = { diameter = 16 }
[[part]]
name = "ON"
kind = "footswitch"
bottom = 20
"""
# Top face of the box in conftest: half width 30 - (31 - 1.8) tan 1 deg = 29.490312, so 58.980624 wide and
# 110.980624 high; flat inset 1.5 tan 44.5 deg = 1.474047.
WIDE = 58.980624


def label(design, text, variant=None):
    """Return the labels of the file with these lines added."""
    return design(PARTS + text, variant=variant).labels


def test_it_stands_below_its_parts_knob_and_reads_its_name(design):
    (only,) = label(design, '[[label]]\npart = "TONE"\nheight = 3\nwidth = 11')
    assert (only.text, only.part, only.face, only.lettering) == ("TONE", "TONE", "top", None)
    assert (only.u_mm, only.v_mm) == pytest.approx((20, 30 + 16 / 2 + 1.2 + 3 / 2))
    assert (only.width_mm, only.height_mm, only.rotation_deg) == (11, 3, 0)


@pytest.mark.parametrize(
    ("side", "place"),
    [
        ("below", (20, 30 + 8 + 2 + 1.5)),
        ("above", (20, 30 - 8 - 2 - 1.5)),
        ("left", (20 - 8 - 2 - 5.5, 30)),
        ("right", (20 + 8 + 2 + 5.5, 30)),
    ],
)
def test_every_side_counts_from_the_knobs_edge(design, side, place):
    (only,) = label(design, f'[[label]]\npart = "TONE"\nheight = 3\nwidth = 11\nside = "{side}"\ngap = 2')
    assert (only.u_mm, only.v_mm) == pytest.approx(place)


def test_an_edge_places_a_parts_label_along_its_axis_alone(design):
    """3 mm high with its top 45 mm down, its middle is 46.5 mm down; across it still stands under its part."""
    (only,) = label(design, '[[label]]\npart = "TONE"\nheight = 3\nwidth = 11\ntop = 45')
    assert (only.text, only.part) == ("TONE", "TONE")
    assert (only.u_mm, only.v_mm) == pytest.approx((20, 46.5))


def test_a_turned_label_keeps_its_gap(design):
    (only,) = label(design, '[[label]]\npart = "TONE"\nheight = 3\nwidth = 11\nside = "left"\nrotation = -90\ngap = 2')
    assert only.u_mm == pytest.approx(20 - 8 - 2 - 1.5)
    assert only.rotation_deg == -90


def test_without_a_knob_the_hardwares_edge_counts(design):
    kind = """
[[kind]]
name = "plate"
holes = [{ shape = "circle", diameter = 6 }]
above = [{ shape = "rectangle", width = 20, height = 8, from = 0, to = 2, up = 3 }]
[[part]]
name = "P"
kind = "plate"
left = 30
top = 60
rotation = 90
[[label]]
part = "P"
height = 2
width = 4
gap = 1
[[label]]
part = "P"
height = 2
width = 4
gap = 1
side = "right"
"""
    below, right = label(design, kind)
    # Turned clockwise by 90 degrees the plate reaches 10 mm down; what was up, 3 + 4 mm, is right.
    assert (below.u_mm, below.v_mm) == pytest.approx((30, 60 + 10 + 1 + 1))
    assert (right.u_mm, right.v_mm) == pytest.approx((30 + 7 + 1 + 2, 60))


def test_a_leaning_lever_moves_no_label(design):
    text = '[[part]]\nname = "S"\nkind = "toggle"\ntop = 55\n'
    text += "".join(f'[[label]]\npart = "S"\nheight = 2\nside = "{side}"\n' for side in ("above", "below"))
    above, below = label(design, text)
    assert 55 - above.v_mm == pytest.approx(below.v_mm - 55)


def test_its_width_is_estimated_from_its_letters(design):
    (only,) = label(design, '[[label]]\npart = "TONE"\nheight = 2')
    assert only.width_mm == pytest.approx(4 * 0.9 * 2)


def test_a_shared_size_is_the_height_where_none_is_given(design):
    (only,) = label(design, '[lettering]\nsize = "1/8 in"\n[[label]]\ntext = "A"')
    assert only.height_mm == pytest.approx(3.175)


def test_a_rectangle_on_a_face_is_placed_by_its_edges(design):
    text = '[[label]]\ntext = "TIDE"\nwidth = 20\nheight = 4\n'
    (middle,), (corner,) = label(design, text), label(design, text + "right = 5\nbottom = 6")
    assert (middle.u_mm, middle.v_mm) == pytest.approx((WIDE / 2, 110.980624 / 2), abs=1e-5)
    assert (corner.u_mm, corner.v_mm) == pytest.approx((WIDE - 5 - 10, 110.980624 - 6 - 2), abs=1e-5)
    assert middle.part is None
    (side,) = label(design, text + 'face = "near"\nleft = 3\ntop = 4')
    assert side.face == "near"
    assert side.v_mm == pytest.approx(6)


def test_a_variant_replaces_all_labels_or_takes_them_away(design):
    base = '[[label]]\npart = "TONE"\nheight = 2\n[[label]]\ntext = "TIDE"\nheight = 2\n'
    other = base + '[[variants.x.label]]\ntext = "EBB"\nheight = 3\n[variants.none]\nlabel = []\n[variants.same]\n'
    assert [each.text for each in label(design, other)] == ["TONE", "TIDE"]
    assert [each.text for each in label(design, other, "x")] == ["EBB"]
    assert label(design, other, "none") == ()
    assert [each.text for each in label(design, other, "same")] == ["TONE", "TIDE"]


def test_a_part_that_a_variant_does_without_takes_its_labels_along(design):
    text = '[[label]]\npart = "TONE"\nheight = 2\n[[label]]\npart = "ON"\nheight = 2\n'
    text += '[[scale]]\npart = "TONE"\n[[variants.x.part]]\nname = "TONE"\nremove = true'
    assert [each.text for each in label(design, text, "x")] == ["ON"]


LINES = [
    ("[[label]]\nheight = 3", "layout.toml: [[label]] 1 text: missing; say what the label reads, or name the part that it belongs to"),
    ('[[label]]\npart = "TOEN"\nheight = 3', "layout.toml: [[label]] \"TOEN\" part: there is no part \"TOEN\"; did you mean 'TONE'?"),
    ('[[label]]\npart = "TONE"', 'layout.toml: [[label]] "TONE" height: missing; say how high its capitals are, for example height = 3'),
    ('[[label]]\npart = "TONE"\nheight = 3\nface = "far"', 'layout.toml: [[label]] "TONE" face: a part\'s label lies on its part\'s face; take face away, or the part'),
    ('[[label]]\ntext = "A"\nheight = 3\nside = "left"', 'layout.toml: [[label]] "A" side: it counts from a part, and the label names none; name the part, or place the label with left, right, top and bottom'),
    ('[[label]]\ntext = "A"\nheight = 3\nleft = 4\nright = 4', 'layout.toml: [[label]] "A" right: left and right are both given, but a label is as large as its letters; keep one of the two'),
    ('[[label]]\npart = "TONE"\nheight = 3\nside = "bellow"', "layout.toml: [[label]] \"TONE\" side: unknown name \"bellow\"; did you mean 'below'?"),
    ('[[label]]\npart = "TONE"\nheight = 3\nsize = 2', 'layout.toml: [[label]] "TONE" size: height and size both say how high its capitals are; keep one of them'),
    ('[[label]]\npart = "TONE"\nsize = "8 pt"', 'layout.toml: [[label]] "TONE" height: missing; a size in points says nothing without the font; give its height'),
    ('[[label]]\npart = "TONE"\nsize = "0 pt"', 'layout.toml: [[label]] "TONE" size: expected more than 0 and at most 1000 pt, found "0 pt"'),
    ('[[label]]\npart = "TONE"\nheight = 3\noutline = 0.2', 'layout.toml: [[label]] "TONE" outline: only drawn lettering takes this, and this label is not drawn; give it a font file, or take this away where the art holds it'),
    ('[[label]]\npart = "TONE"\nheight = 3\ndrawn = true', 'layout.toml: [[label]] "TONE" font: missing; a label that is drawn needs a font file; write for example font = "bold.ttf"'),
    ('[[label]]\npart = "TONE"\nheight = 3\nfont = "a.ttf"\ndrawn = false', 'layout.toml: [[label]] "TONE" font: drawn = false says that the label is on the art already; take the font away'),
    ('[[label]]\npart = "TONE"\nwidth = 3\nfont = "a.ttf"', 'layout.toml: [[label]] "TONE" width: drawn lettering is as large as its font makes it; give its size instead, or write drawn = false where the art holds it'),
    ('[lettering]\nfont = "a.ttf"\nshadow = [1]', "layout.toml: [lettering] shadow: expected two lengths, right and down, such as [0.2, 0.2], found a list of 1"),
    ('[lettering]\nfont = "../a.ttf"', 'layout.toml: [lettering] font: "../a.ttf" leads out of the layout\'s folder; copy the file next to the layout'),
    ('[lettering]\ncolor = "red"', "layout.toml: [lettering] color: unknown key; did you mean 'colour'?"),
    ('[[scale]]\npart = "ON"', 'layout.toml: [[scale]] "ON" part: a footswitch has no shaft to turn; name a control that has one'),
    ("[[scale]]\nmarks = 1", "layout.toml: [[scale]] 1 marks: expected a whole number from 2 to 101, found 1"),
    ("[[scale]]\nmarks = 7.5", "layout.toml: [[scale]] 1 marks: expected a whole number from 2 to 101, found 7.5"),
    ("[[scale]]\nnumbers = true", 'layout.toml: [[scale]] 1 font: missing; numbers need a font file; write for example font = "bold.ttf"'),
    ('[[scale]]\nfont = "a.ttf"', "layout.toml: [[scale]] 1 font: only numbers take this; write numbers = true, or take it away"),
    ('[[border]]\ncorner = "60 %"', 'layout.toml: [[border]] 1 corner: expected at most 50 %, found "60 %"'),
    ('[[border]]\nface = "tpo"', "layout.toml: [[border]] 1 face: unknown name \"tpo\"; did you mean 'top'?"),
    ("[border]", "layout.toml: [border] expected a list of tables, found a table; write it as [[border]]"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "line"), LINES)
def test_each_mistake_gives_exactly_this_line(complaint, text, line):
    assert complaint(PARTS + text) == line


def test_a_mistake_that_variants_make_of_the_files_scale_is_told_once(complaint):
    change = '[[variants.{}.part]]\nname = "TONE"\nkind = "footswitch"\nknob = {{ style = "none" }}\n'
    text = '[[scale]]\npart = "TONE"\n' + change.format("x") + change.format("y")
    assert complaint(PARTS + text, variant="x").count("has no shaft to turn") == 1
