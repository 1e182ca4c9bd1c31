"""From tables to a design: defaults, places, sizes, and what geometry forbids.

The box is 60 x 112 x 31 mm, lid 1.8, draft 1 degree, edge 1.5: the wall moves in by
29.2 * tan 1 = 0.509688 mm on its way up, so the top is 58.980624 x 110.980624 mm and begins to
be flat 1.5 * tan 44.5 = 1.474046 mm from its edges (see the tests of the faces).
"""

# ruff: noqa: E501  (whole messages stand on one line)
from __future__ import annotations

import pytest

from mockup import knobs
from mockup.decal.ink_over_paint import ground
from mockup.decal.paint import paint_material
from mockup.finishes import sheens
from mockup.layout.parse import parse
from mockup.layout.resolve import assets, resolve, variants
from mockup.model.errors import InputError

BOX = '[box]\nsize = "112x60x31"\ndraft = 1\nlid = 1.8\nheight = 31\nedge = 1.5\n'
TOP_WIDTH, TOP_HEIGHT = 58.980624208, 110.980624208


def part(keys: str, kind: str = "pot-16") -> str:
    """Return the text of one part."""
    return f'[[part]]\nname = "TONE"\nkind = "{kind}"\n{keys}\n'


def art(keys: str) -> str:
    """Return the text of one decal."""
    return f'[[decal]]\nart = "art.png"\n{keys}\n'


def centre(thing) -> tuple[float, float]:
    """Return where something lies on its face."""
    return thing.u_mm, thing.v_mm


@pytest.mark.parametrize(
    ("keys", "expected"),
    [
        ("", (TOP_WIDTH / 2, TOP_HEIGHT / 2)),
        ("left = 12\ntop = 20", (12, 20)),
        ('left = "1/2 in"\ntop = "2 cm"', (12.7, 20)),
        ("right = 12\nbottom = 20", (TOP_WIDTH - 12, TOP_HEIGHT - 20)),
        # near: 29.2 / cos 1 = 29.204448 high, edges run out by sin 1 = 0.0174524 per mm
        ('face = "near"\nleft = 10\ntop = 14', (10 - 0.244333689, 14)),
        ('face = "near"\nright = 10\nbottom = 14', (TOP_WIDTH - 10 + 0.265354, 15.204448)),
        ('face = "left"', (TOP_HEIGHT / 2, 29.204448 / 2)),
    ],
)
def test_parts_lie_where_the_ruler_says(design, keys, expected):
    assert centre(design(part(keys)).parts[0]) == pytest.approx(expected, abs=1e-5)


def test_a_bare_layout_is_a_bare_box(design):
    plain = design("")
    assert (plain.name, plain.source, plain.variant, plain.units) == ("layout", "layout.toml", None, "mm")
    assert (plain.finish.sheen.name, plain.finish.has_clear_coat) == ("bare", False)
    assert plain.parts == () and plain.decals == ()


def test_paint_is_glossy_and_lacquered_unless_said_otherwise(design):
    finish = design('[finish]\npaint = "#ff8000"').finish
    assert finish.paint == pytest.approx((1.0, 128 / 255, 0.0))
    assert (finish.sheen.name, finish.has_clear_coat, finish.is_swatch_coated, finish.ink_strength) == (
        "gloss",
        True,
        True,
        1.0,
    )
    finish = design(
        '[finish]\npaint = "teal"\nsheen = "matte"\nclear_coat = false\nswatch = "uncoated"\nink_strength = 1.5'
    ).finish
    assert (finish.sheen.name, finish.has_clear_coat, finish.is_swatch_coated, finish.ink_strength) == (
        "matte",
        False,
        False,
        1.5,
    )


def test_lacquer_may_shine_otherwise_than_the_paint(design):
    """A matte paint under gloss lacquer mirrors as gloss does and lifts no black; a gloss coat before the film shows
    beside it, where nothing lies over it."""
    start = '[finish]\npaint = "teal"\nsheen = "matte"\n'
    gloss, matte = sheens()["gloss"], sheens()["matte"]
    for keys, coat, words in (
        ("", matte, "yes"), ('clear_coat = "gloss"', gloss, "yes, gloss"), ("clear_coat = false", None, "no"),
        ("clear_coat = false\ngloss_under_film = true", gloss, "no"),
        ("gloss_under_film = true", matte, "yes"), ('clear_coat = "matte"\ngloss_under_film = true', matte, "yes, matte"),
    ):  # fmt: skip
        finish = design(start + keys).finish
        assert (finish.coat, finish.coat_words) == (coat, words)
        material = paint_material(finish)
        assert material.coat == (coat is not None)
        assert coat is None or material.coat_roughness == coat.coat_roughness
        assert ground(finish).veil == (coat or matte).veil


def test_every_measure_of_the_box_may_be_overridden(design):
    keys = "width = 61\nlength = 113\nheight = 32\nwall = 2.1\ntop = 2.2\ndraft = 1.5\ncorner = 6\nedge = 1\nlid = 1.9"
    box = design("", box=f'[box]\nsize = "112x60x31"\n{keys}\npost = 6\nscrew = 2.5\n').enclosure
    outer = (box.width_mm, box.length_mm, box.height_mm, box.wall_mm, box.top_mm, box.lid_mm)
    assert outer == (61, 113, 32, 2.1, 2.2, 1.9)
    assert (box.draft_deg, box.corner_mm, box.edge_mm, box.post_mm, box.screw_mm) == (1.5, 6, 1, 6, 2.5)


def test_a_size_is_length_by_width_by_height(design):
    box = design("", box='[box]\nsize = "121x66x39"\n').enclosure
    assert (box.length_mm, box.width_mm, box.height_mm) == (121, 66, 39)


def test_a_knob_is_as_chosen_and_its_colours_are_linear(design):
    style = knobs.styles()[-1]
    keys = f'knob = {{ style = "{style}", diameter = 20, height = 12, colour = "#808080", pointer_colour = "white", pointer = 0 }}'
    knob = design(part(keys)).parts[0].knob
    assert (knob.style, knob.diameter_mm, knob.height_mm, knob.pointer) == (style, 20, 12, 0)
    assert knob.colour == pytest.approx(3 * (0.21586050,), abs=1e-7)  # code 128, IEC 61966-2-1
    assert knob.pointer_colour == pytest.approx((1, 1, 1))


def test_a_shaft_has_a_knob_unless_it_is_told_to_stay_bare(design):
    knob = design(part("")).parts[0].knob
    assert knob.style in knobs.styles()
    assert knob.pointer == 0.5
    assert design(part('knob = { style = "none" }')).parts[0].knob is None
    assert design(part('knob = { style = "none" }', "footswitch")).parts[0].knob is None
    assert design(part("", "footswitch")).parts[0].knob is None


def test_a_lamp_is_lit_unless_it_is_told_not_to(design):
    lamp = design(part('colour = "lime"', "lamp-5")).parts[0].lamp
    assert lamp.is_lit and lamp.colour == pytest.approx((0, 1, 0))
    assert not design(part("lit = false", "lamp-5")).parts[0].lamp.is_lit
    assert design(part("")).parts[0].lamp is None


def test_a_part_inside_has_a_depth(design):
    battery = design(part('depth = "2 mm"\nrotation = 90', "battery-9v")).parts[0]
    assert (battery.depth_mm, battery.rotation_deg) == (2, 90)


@pytest.mark.parametrize(
    ("keys", "dpi", "size"),
    [
        ("width = 50\nheight = 20", None, (50, 20)),
        ("width = 50", None, (50, 100)),
        ("height = 50", None, (25, 50)),
        ("", (600.0, 600.0), (12.7, 25.4)),
        ("", (300.0, 600.0), (25.4, 25.4)),
        ("dpi = 300", (600.0, 600.0), (25.4, 50.8)),
        ("dpi = 300", None, (25.4, 50.8)),
        ("width = 50", (600.0, 600.0), (50, 100)),
    ],
)
def test_a_decal_of_300_by_600_pixels_takes_its_size_from_key_pixels_or_dpi(design, keys, dpi, size, picture):
    decal = design(art(keys), picture(300, 600, dpi)).decals[0]
    assert (decal.width_mm, decal.height_mm) == pytest.approx(size)


def test_two_and_three_tenths_by_four_and_a_tenth_inches_at_600_dpi(design, picture):
    decal = design(art(""), picture(1380, 2460, (600.0, 600.0))).decals[0]
    assert (decal.width_mm, decal.height_mm) == pytest.approx((58.42, 104.14))
    assert decal.dpi == pytest.approx((600, 600))


@pytest.mark.parametrize(
    ("keys", "expected"),
    [
        ("", (TOP_WIDTH / 2, TOP_HEIGHT / 2)),
        ("left = 3\ntop = 4", (13, 24)),
        ("right = 3\nbottom = 4", (TOP_WIDTH - 13, TOP_HEIGHT - 24)),
        ("left = 3\ntop = 4\nrotation = 90", (23, 14)),  # turned: 40 across, 20 down
        ("left = -3\ntop = 4", (7, 24)),  # overhangs
        ('face = "near"', (TOP_WIDTH / 2, (1.474046 + 29.204448) / 2)),  # middle of the flat
    ],
)
def test_a_decal_of_20_by_40_mm_lies_where_its_edges_say(design, keys, expected):
    assert centre(design(art(f"width = 20\nheight = 40\n{keys}")).decals[0]) == pytest.approx(expected, abs=1e-5)


def test_decals_keep_their_order_film_and_turn(design):
    text = art('width = 20\nfilm = "white"\nrotation = -90') + '[[decal]]\nart = "b.png"\nwidth = 9\nface = "far"\n'
    first, second = design(text).decals
    assert (first.film.name, first.rotation_deg, first.face) == ("white", -90, "top")
    assert (second.film.name, second.rotation_deg, second.face) == ("clear", 0, "far")


def test_an_inch_file_means_the_same_as_a_millimetre_file(design):
    text = """
[[part]]
name = "A"
kind = "pot-16"
left = {a}
top = "20 mm"
knob = {{ diameter = {b}, height = "1/2 in" }}
[[decal]]
art = "art.png"
width = {c}
"""
    mm = design(text.format(a=12.7, b=19.05, c=50.8), box='units = "mm"\n[box]\nsize = "112x60x31"\nwall = 2.54\n')
    inch = design(text.format(a=0.5, b=0.75, c=2), box='units = "in"\n[box]\nsize = "112x60x31"\nwall = 0.1\n')
    assert inch.units == "in"
    assert inch.enclosure.wall_mm == pytest.approx(mm.enclosure.wall_mm)
    assert centre(inch.parts[0]) == pytest.approx(centre(mm.parts[0]))
    assert inch.parts[0].knob.diameter_mm == pytest.approx(mm.parts[0].knob.diameter_mm)
    assert inch.parts[0].knob.height_mm == pytest.approx(mm.parts[0].knob.height_mm)
    assert inch.decals[0].width_mm == pytest.approx(mm.decals[0].width_mm)


BIG = '[[kind]]\nname = "big"\nhole = 59\n'
GEOMETRY = [
    (part("left = 70"), 'layout.toml: [[part]] "TONE" left: the part\'s centre lies off the top face; '
     "there left may be 0 to 58.98 mm"),
    (part("right = -0.5"), 'layout.toml: [[part]] "TONE" right: the part\'s centre lies off the top face; '
     "there right may be 0 to 58.98 mm"),
    (part('face = "far"\ntop = 30'), 'layout.toml: [[part]] "TONE" top: the part\'s centre lies off the far face; '
     "there top may be 0 to 29.2 mm"),
    (part("bottom = 120"), 'layout.toml: [[part]] "TONE" bottom: the part\'s centre lies off the top face; '
     "there bottom may be 0 to 110.98 mm"),
    (BIG + part("", "big"), 'layout.toml: [[part]] "TONE" kind: the bushing hole of a big measures 59 mm across, the top '
     "face only 58.98 mm; choose a smaller kind or a larger box"),
    (art(""), 'layout.toml: [[decal]] 1 art: "art.png" does not say how large it is; give the decal a width, or its '
     'dpi: width = "55.0 mm" (dpi = 249) fits the flat of the top face'),
    (art("dpi = 10"), 'layout.toml: [[decal]] 1 art: "art.png" comes out 1371.6 mm by 2692.4 mm large; '
     "give the decal another width, height or dpi"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "line"), GEOMETRY)
def test_what_geometry_forbids_gives_exactly_this_line(complaint, text, line):
    assert complaint(text) == line


def test_limits_are_told_in_the_files_own_units(complaint):
    message = complaint(part("left = 3"), box='units = "in"\n' + BOX.replace("= 1.8", '= "1.8 mm"').replace(
        "= 31\n", '= "31 mm"\n').replace("= 1.5", '= "1.5 mm"'))  # fmt: skip
    assert message.endswith("there left may be 0 to 2.322 in")  # 58.980624 / 25.4


def test_a_hole_larger_than_a_side_both_ways(complaint):
    # half-way down the near face is 58.980624 + 2 * 0.0174524 * 14.602224 = 59.490312 mm wide
    lines = complaint(BIG.replace("59", "60") + part('face = "near"', "big")).splitlines()
    assert [line.split("measures ")[1].split(";")[0] for line in lines] == [
        "60 mm across, the near face only 59.49 mm",
        "60 mm down, the near face only 29.2 mm",
    ]


def test_a_long_slot_fits_only_the_long_way(design, complaint):
    slot = '[[kind]]\nname = "long"\nholes = [{ shape = "slot", width = 70, height = 3 }]\n'
    assert design(slot + part("rotation = 90", "long")).parts[0].rotation_deg == 90
    assert "hole of a long measures 70 mm across, the top face only 58.98 mm" in complaint(slot + part("", "long"))


@pytest.mark.parametrize("keys", ["wall = 30.5", "lid = 31", "wall = 40\nlid = 40"])
def test_an_impossible_box_is_one_line_and_hides_nothing_else(complaint, keys):
    text = part("left = 500") + art("") + art("width = 20\nleft = 500")
    lines = complaint(text, box=f'[box]\nsize = "112x60x31"\n{keys}\n').splitlines()
    assert lines[0].startswith("layout.toml: [box] ")
    assert lines[0].endswith("; change the box's measures")
    assert lines[1:] == [GEOMETRY[5][1].partition(": width")[0]]  # no face that a width could fit


def test_faults_are_listed_together_in_file_order(complaint):
    text = part("left = 70") + art("") + '[[part]]\nname = "B"\nkind = "pot-9"\ntop = -1\n'
    places = [line.split(": ")[1].split(":")[0] for line in complaint(text).splitlines()]
    assert places == ['[[part]] "TONE" left', "[[decal]] 1 art", '[[part]] "B" top']


def test_missing_art_is_named_with_its_table():
    layout = parse(BOX + art("width = 20"), "layout.toml")
    with pytest.raises(InputError) as caught:
        resolve(layout, {})
    assert str(caught.value) == (
        'layout.toml: [[decal]] 1 art: there is no picture "art.png"; put it next to the layout or correct the name'
    )


def test_one_pixel_is_a_decal_of_one_colour(design, picture):
    decal = design(art("width = 20"), picture(1, 1)).decals[0]
    assert (decal.width_mm, decal.height_mm) == (20, 20)


def test_assets_are_listed_once_each_and_variants_in_order():
    text = art("width = 9") + art('width = 9\nface = "far"') + '[[decal]]\nart = "b.png"\n[variants.z]\n[variants.a]\n'
    layout = parse(BOX + text, "layout.toml")
    assert assets(layout) == ("art.png", "b.png")
    assert variants(layout) == ("z", "a")


def test_the_name_falls_back_on_the_files_own():
    layout = parse(BOX, "pedals/tidewater.toml")
    assert resolve(layout, {}).name == "tidewater"
    assert resolve(parse('name = "Tide"\n' + BOX, "layout.toml"), {}).name == "Tide"


def test_the_drills_on_the_bench_are_known_in_order() -> None:
    text = 'name = "A"\n[box]\nsize = "112x60x31"\n[bench]\ndrills = [7.5, "1/4 in"]\n'
    assert resolve(parse(text, "layout.toml"), {}).drills_mm == (6.35, 7.5)
