"""Variants merge over the file, key by key."""

# ruff: noqa: E501  (whole messages stand on one line)
from __future__ import annotations

import pytest

from mockup.layout.parse import parse
from mockup.layout.resolve import assets, resolve
from mockup.model.errors import InputError

BASE = """
name = "Tide"
[box]
size = "112x60x31"
wall = 2.5
[finish]
paint = "teal"
sheen = "satin"
[[decal]]
art = "top.png"
width = 50
[[decal]]
art = "near.png"
face = "near"
width = 40
[[part]]
name = "TONE"
kind = "pot-16"
left = 15
top = 20
knob = { diameter = 15, pointer = 0.2 }
[[part]]
name = "ON"
kind = "footswitch"
bottom = 20
"""


@pytest.fixture
def dark(design):
    """Return a function from a variant's text to the variant's design."""
    return lambda text: design(BASE + text, variant="dark", box="")


def test_what_a_variant_does_not_name_stays(dark):
    plain = dark("[variants.dark]")
    assert (plain.name, plain.variant, plain.enclosure.wall_mm, plain.finish.sheen.name) == (
        "Tide",
        "dark",
        2.5,
        "satin",
    )
    assert [each.name for each in plain.parts] == ["TONE", "ON"]
    assert [each.face for each in plain.decals] == ["top", "near"]


def test_tables_merge_by_key(dark):
    changed = dark(
        '[variants.dark]\nname = "Ebb"\n[variants.dark.finish]\npaint = "black"\n[variants.dark.box]\nlid = 2'
    )
    assert changed.name == "Ebb"
    assert (changed.finish.paint, changed.finish.sheen.name) == ((0, 0, 0), "satin")
    assert (changed.enclosure.wall_mm, changed.enclosure.lid_mm, changed.enclosure.width_mm) == (2.5, 2, 60)


def test_a_finish_may_be_given_by_the_variant_alone(design):
    text = '[variants.dark]\nfinish = { paint = "black" }'
    assert design(text, variant="dark").finish.sheen.name == "gloss"
    assert design(text).finish.sheen.name == "bare"


def test_a_size_takes_the_place_of_the_outer_measures_but_not_of_the_wall(design):
    text = '[box]\nwidth = 70\nlength = 120\nheight = 40\nwall = 2.5\n[variants.small.box]\nsize = "112x60x31"'
    box = design(text, variant="small", box="").enclosure
    assert (box.width_mm, box.length_mm, box.height_mm, box.wall_mm) == (60, 112, 31, 2.5)


def test_parts_merge_by_name_and_a_knobs_keys_too(dark):
    tone = dark('[[variants.dark.part]]\nname = "TONE"\ntop = 30\nknob = { pointer = 0.9 }').parts[0]
    assert (tone.u_mm, tone.v_mm) == (15, 30)
    assert (tone.knob.diameter_mm, tone.knob.pointer) == (15, 0.9)


def test_the_other_side_of_an_axis_takes_the_place_of_the_first(dark):
    tone = dark('[[variants.dark.part]]\nname = "TONE"\nright = 10').parts[0]
    assert tone.u_mm == pytest.approx(58.980624 - 10, abs=1e-5)
    assert tone.v_mm == 20


def test_parts_are_added_and_taken_away(dark):
    text = (
        '[[variants.dark.part]]\nname = "TONE"\nremove = true\n[[variants.dark.part]]\nname = "LAMP"\nkind = "lamp-5"'
    )
    parts = dark(text).parts
    assert [(each.name, each.kind.name) for each in parts] == [("ON", "footswitch"), ("LAMP", "lamp-5")]


def test_decals_replace_those_on_the_same_face(dark):
    decals = dark('[[variants.dark.decal]]\nart = "night.png"\nwidth = 30').decals
    assert [(each.face, each.width_mm) for each in decals] == [("near", 40), ("top", 30)]


def test_an_empty_list_of_decals_takes_them_all_away(dark):
    assert dark("[variants.dark]\ndecal = []").decals == ()


def test_a_variant_asks_only_for_its_own_art():
    layout = parse(BASE + '[[variants.dark.decal]]\nart = "night.png"\nwidth = 30', "layout.toml")
    assert assets(layout) == ("top.png", "near.png")
    assert assets(layout, "dark") == ("near.png", "night.png")


def test_the_file_itself_is_not_changed_by_its_variants(design):
    plain = design(
        BASE + '[[variants.dark.part]]\nname = "TONE"\nremove = true\n[variants.dark.finish]\npaint = "red"', box=""
    )
    assert [each.name for each in plain.parts] == ["TONE", "ON"]
    assert plain.finish.paint == pytest.approx((0, 128 / 255, 128 / 255))


MISTAKES = [
    ('[[variants.dark.part]]\nname = "TOEN"\ntop = 3', 'layout.toml: [[variants.dark.part]] "TOEN" name: there is no part '
     "of this name to change; give it a kind to add a new part; did you mean 'TONE'?"),
    ('[[variants.dark.part]]\nname = "TOEN"\nremove = true', 'layout.toml: [[variants.dark.part]] "TOEN" name: there is '
     "no part of this name to remove; did you mean 'TONE'?"),
    ('[[variants.dark.part]]\nname = "ON"\ntop = 3\n[[variants.dark.part]]\nname = "ON"\nleft = 3', "layout.toml: "
     '[[variants.dark.part]] "ON" name: this variant changes the part twice; write all its changes in one table'),
    ('[[variants.dark.part]]\nname = "TONE"\nkind = "pto-9"', 'layout.toml: [[variants.dark.part]] "TONE" kind: unknown '
     "kind \"pto-9\"; did you mean 'pot-9'?"),
    ('[[variants.dark.part]]\nname = "TONE"\nkind = "footswitch"', 'layout.toml: [[variants.dark.part]] "TONE" knob: a '
     "footswitch takes no knob; take the knob away or choose a kind with a shaft"),
    ('[[variants.dark.part]]\nname = "ON"\ntop = 3\nbottom = 3', 'layout.toml: [[variants.dark.part]] "ON" bottom: top '
     "and bottom are both given, but a part has one centre; keep one of the two"),
    ('[[variants.dark.decal]]\nart = "x.png"\ndpi = 300\nwidth = 3', "layout.toml: [[variants.dark.decal]] 1 dpi: dpi "
     "and width or height both say how large the decal is; keep one of them"),
    ("[[variants.dark.part]]\nname = \"TONE\"\nleft = 70", 'layout.toml: [[variants.dark.part]] "TONE" left: the part\'s '
     "centre lies off the top face; there left may be 0 to 58.98 mm"),
    ("[[variants.dark.decal]]\nart = \"x.png\"", 'layout.toml: [[variants.dark.decal]] 1 art: "x.png" does not say how '
     'large it is; give the decal a width, or its dpi: width = "55.0 mm" (dpi = 249) fits the flat of the top face'),
]  # fmt: skip


@pytest.mark.parametrize(("text", "line"), MISTAKES)
def test_a_mistake_in_a_variant_is_placed_there(complaint, text, line):
    assert complaint(BASE + text, variant="dark", box="") == line


def test_a_thicker_shaft_in_a_variant_may_be_too_thick_for_the_files_knob(complaint):
    text = '[[kind]]\nname = "crank"\nhole = 21\nshaft = { diameter = 20, top = 15 }\n[[variants.dark.part]]\nname = "TONE"\n'
    assert complaint(BASE + text + 'kind = "crank"', variant="dark", box="") == (
        'layout.toml: [[variants.dark.part]] "TONE" knob.diameter: the knob is no wider than its 20 mm shaft; make it wider'
    )


def test_mistakes_of_a_finish_and_a_box_given_by_a_variant(complaint):
    text = '[box]\nsize = "112x60x31"\n[variants.a.finish]\nsheen = "matte"\n[variants.b.box]\nwall = 40'
    assert complaint(text, variant="b", box="").startswith("layout.toml: [variants.a.finish] paint: missing; ")
    text = '[box]\nsize = "112x60x31"\n[variants.b.box]\nwall = 40'
    assert complaint(text, variant="b", box="").startswith("layout.toml: [variants.b.box] ")


def test_an_unknown_variant_is_told_the_nearest():
    layout = parse(BASE + "[variants.dark]", "layout.toml")
    with pytest.raises(InputError) as caught:
        assets(layout, "drak")
    assert str(caught.value) == "layout.toml: has no variant \"drak\"; did you mean 'dark'?"
    with pytest.raises(InputError) as caught:
        resolve(parse(BASE, "layout.toml"), {}, "dark")
    assert str(caught.value) == 'layout.toml: has no variant "dark"; the file has no [variants.NAME] table'
