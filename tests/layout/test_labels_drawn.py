"""Lettering that the tool draws: whose box, on which decal, and what cannot be drawn."""

# ruff: noqa: E501  (whole messages stand on one line)
from __future__ import annotations

import math
from dataclasses import replace
from importlib import resources

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import mockup
from mockup.decal.label_ink import lettered
from mockup.decal.lettering import overhang, slack_mm
from mockup.decal.typeface import line
from mockup.layout.parse import parse
from mockup.layout.resolve import assets, font_files
from mockup.model.enclosure import faces
from mockup.model.errors import InputError

PARTS = """
[[part]]
name = "TONE"
kind = "pot-16"
left = 20
top = 30
knob = { diameter = 16 }
[[part]]
name = "HUM"
kind = "pot-16"
right = 15
top = 70
knob = { style = "none" }
[[part]]
name = "ON"
kind = "footswitch"
bottom = 20
"""
FONT = '[lettering]\nfont = "bold.ttf"\n'
ART = '[[decal]]\nart = "art.png"\n'
# The film of our own on the top: 56.032530 mm of flat are 1323.6 px, so 1323 px, and its edge lies at 1.486824.
# The H of the font: ink from 140 to 1303 of 2000 units, capitals 1440 high (its own tables).
H_PER_CAP = (1303 - 140) / 1440
FLAT = (1.474047, 57.506577)  # across the top face: its inset, and 58.980624 less that


@pytest.fixture
def white(picture):
    """Return white art, 50 by 100 mm at 508 dpi: 20 px a millimetre."""
    art = picture(1000, 2000, (508.0, 508.0))
    return replace(art, pixels=np.full_like(art.pixels, 255))


def dark(pixels):
    """Return how much ink lies on each pixel of white art, or of bare film, 0 to 1."""
    return pixels[..., 3] / 255 * (255 - pixels[..., 0]) / 255


def test_its_box_is_that_of_its_ink_and_stands_clear_of_its_knob(design):
    (only,) = design(PARTS + FONT + '[[label]]\npart = "TONE"\ntext = "H"').labels
    assert (only.width_mm, only.height_mm) == pytest.approx((3 * H_PER_CAP, 3.0))
    assert (only.u_mm, only.v_mm) == pytest.approx((20, 30 + 8 + 1.2 + 1.5))
    assert only.part == "TONE"
    assert (only.lettering.font, only.lettering.size_mm, only.lettering.colour) == ("bold.ttf", 3.0, (0, 0, 0))


def test_the_shared_lettering_is_the_default_and_the_labels_own_comes_first(design):
    text = FONT + 'size = "8 pt"\ncolour = "red"\noutline = 0.2\nshadow = [0.1, 0.2]\nspacing = 0.3\ngap = 2\n'
    text += '[[label]]\npart = "TONE"\n[[label]]\npart = "ON"\nsize = 4\ncolour = "blue"\noutline = 0\nshadow = [0, 0]\nspacing = 0\n'
    text += 'side = "above"\ngap = 1\noutline_colour = "lime"\nshadow_colour = "black"'
    tone, on = (label.lettering for label in design(PARTS + text).labels)
    assert tone.size_mm == pytest.approx(8 * 25.4 / 72 * 0.72)
    assert (tone.colour, tone.outline_mm, tone.shadow_mm, tone.spacing_mm) == ((1, 0, 0), 0.2, (0.1, 0.2), 0.3)
    assert (on.size_mm, on.colour, on.outline_mm, on.shadow_mm, on.spacing_mm) == (4, (0, 0, 1), 0, None, 0)
    assert (on.outline_colour, on.shadow_colour) == ((0, 1, 0), (0, 0, 0))


def test_it_is_drawn_into_the_art_at_its_place_and_its_own_resolution(design, white):
    made = design(PARTS + ART + FONT + '[[label]]\ntext = "H"\nleft = 30\ntop = 40\nsize = 6', art=white)
    (film,), (label,) = made.decals, made.labels
    assert film.art.pixels.shape == (2000, 1000, 4)
    assert (film.width_mm, film.height_mm) == pytest.approx((50, 100))
    ink = dark(film.art.pixels)
    # The film lies in the middle of the flat, 58.980624 / 2 and 110.980624 / 2, so its corner at 4.490312, 5.490312.
    left, top = (30 - 4.490312) * 20, (40 - 5.490312) * 20
    xs, ys = np.flatnonzero((ink > 0.5).any(axis=0)), np.flatnonzero((ink > 0.5).any(axis=1))
    assert (xs[0], ys[0]) == pytest.approx((left, top), abs=1)
    assert (xs[-1] + 1, ys[-1] + 1) == pytest.approx((left + 20 * 6 * H_PER_CAP, top + 120), abs=1)
    assert (label.u_mm - label.width_mm / 2, label.v_mm - 3) == pytest.approx((30, 40))


def test_a_face_without_art_gets_clear_film_of_its_own(design):
    made = design(PARTS + FONT + '[[label]]\npart = "TONE"\n[[label]]\ntext = "A"\nface = "near"')
    assert [(film.face, film.film.name) for film in made.decals] == [("top", "clear"), ("near", "clear")]
    assert made.decals[0].dpi == pytest.approx((600, 600))
    assert all(dark(film.art.pixels).max() == 1 for film in made.decals)
    assert design(PARTS + '[[label]]\npart = "TONE"\nheight = 3').decals == ()


def test_art_is_not_touched_by_labels_that_it_holds_already(design, white):
    (film,) = design(PARTS + ART + FONT + '[[label]]\npart = "TONE"\ndrawn = false\nheight = 3', art=white).decals
    assert film.art is white


def test_the_uppermost_decal_that_holds_it_whole_takes_it(design, white):
    small = '[[decal]]\nart = "badge.png"\nwidth = 20\nheight = 10\ntop = 80\n'
    text = PARTS + ART + small + FONT + '[[label]]\ntext = "H"\ntop = 83\n[[label]]\ntext = "H"\ntop = 40'
    large, badge = design(text, art=white).decals
    assert dark(large.art.pixels)[:1200].sum() > 0
    assert dark(large.art.pixels)[1200:].sum() == 0
    assert dark(badge.art.pixels).sum() > 0


@pytest.mark.parametrize(
    ("place", "drawn"),
    [
        ("width = 30", FONT + '[[label]]\npart = "ON"\nside = "right"'),
        ("width = 50", "[[border]]"),
        ("width = 30\nrotation = 30", FONT + '[[label]]\ntext = "H"\nleft = 3'),
    ],
)
def test_what_no_decal_of_its_face_holds_gets_clear_film_of_its_own(design, white, place, drawn):
    art, own = design(f"{PARTS}{ART}{place}\n{drawn}", art=white).decals
    assert art.art is white
    assert (own.face, own.film.name, own.art.file) == ("top", "clear", None)
    assert dark(own.art.pixels).max() == 1


def test_film_of_their_own_takes_only_what_the_art_does_not_hold(design, white):
    text = PARTS + ART + "width = 30\n" + FONT
    text += '[[label]]\npart = "ON"\nside = "right"\n[[label]]\ntext = "H"\ntop = 40'
    art, own = design(text, art=white).decals
    assert dark(art.art.pixels).sum() > 0
    alone = design(PARTS + FONT + '[[label]]\npart = "ON"\nside = "right"').decals[0]
    np.testing.assert_array_equal(own.art.pixels, alone.art.pixels)


def test_it_follows_a_turned_decal(design, white):
    text = PARTS + ART + "rotation = 180\n" + FONT + '[[label]]\ntext = "L"\ntop = 20\nsize = 8'
    ink = dark(design(text, art=white).decals[0].art.pixels)
    rows = np.flatnonzero(ink.any(axis=1))
    # On the film the letter is upside down, in its lower half; its foot is then the uppermost row.
    assert rows[0] > 1000
    assert ink[rows[0] + 5].sum() > 2 * ink[rows[-1] - 5].sum()


def test_every_knob_gets_the_scale_that_names_no_part_unless_one_names_it(design):
    text = FONT + '[[scale]]\n[[scale]]\npart = "HUM"\nnumbers = true\nmajor_every = 10\nmarks = 21\n'
    made = design(PARTS + text)
    assert [(label.text, label.part) for label in made.labels] == [("0", "HUM"), ("10", "HUM"), ("20", "HUM")]
    ink = dark(made.decals[0].art.pixels)
    film = made.decals[0]

    def at(u, v):
        corner = film.u_mm - film.width_mm / 2, film.v_mm - film.height_mm / 2
        return ink[int((v - corner[1]) * 600 / 25.4), int((u - corner[0]) * 600 / 25.4)]

    assert at(20, 30 - 8 - 1.2 - 0.8) == 1  # over the knob, 12 o'clock, 1.6 mm long
    assert at(20, 30 - 8 - 1.0) == 0
    assert at(20, 30 - 8 - 1.2 - 1.8) == 0
    hum = 58.980624 - 15
    washer = max(radius for radius, _ in made.parts[1].kind.above[0].profile)
    assert at(hum, 70 - washer - 1.2 - 0.8) == 1  # a bare shaft: from its washer, wider than the nut
    assert at(hum, 70 - washer - 1.0) == 0


def test_a_scale_turns_with_its_part(design):
    text = (
        PARTS.replace('name = "TONE"', 'name = "TONE"\nrotation = 90')
        + FONT
        + '[[scale]]\npart = "TONE"\nnumbers = true'
    )
    first, middle, last = design(text).labels
    assert middle.u_mm > 20 + 8 + 1.2 + 1.6
    assert middle.v_mm == pytest.approx(30)  # 12 o'clock has turned to three
    assert first.u_mm == pytest.approx(last.u_mm)
    assert first.v_mm < 30 < last.v_mm


def test_a_label_keeps_clear_of_its_own_scale_and_numbers(design):
    plain, scaled, numbered = (
        next(label for label in design(PARTS + FONT + text + '[[label]]\npart = "TONE"').labels if label.text == "TONE")
        for text in ("", '[[scale]]\npart = "TONE"\n', '[[scale]]\npart = "TONE"\nnumbers = true\n')
    )
    # The lowest ends of the marks: 8 + 1.2 + 1.6 = 10.8 mm away at 150 degrees from 12 o'clock.
    assert scaled.v_mm == pytest.approx(30 + 10.8 * math.cos(math.radians(30)) + 1.2 + 1.5)
    assert plain.v_mm < scaled.v_mm < numbered.v_mm


def test_a_border_follows_the_flat(design):
    made = design('[[border]]\ninset = 2\nline = 1\ncolour = "#000"\ncorner = 4')
    ink = dark(made.decals[0].art.pixels)
    row = ink[ink.shape[0] // 2]
    half = row[: len(row) // 2]
    # The film is up to a pixel smaller than the flat and centred on it: half a pixel of play at each side.
    assert np.flatnonzero(half)[0] * 25.4 / 600 == pytest.approx(2, abs=25.4 / 600)
    assert half.sum() * 25.4 / 600 == pytest.approx(1, abs=0.01)


def test_the_usual_border_is_1_5_mm_in_and_half_a_millimetre_wide_with_corners_of_3_mm(design):
    """The three are our choice; pixels of 25.4 / 600 mm are arithmetic."""
    ink = dark(design("[[border]]").decals[0].art.pixels)
    per_mm = 600 / 25.4
    row = ink[ink.shape[0] // 2][:200]
    assert np.flatnonzero(row > 0.5)[0] == pytest.approx(1.5 * per_mm, abs=1)
    assert row.sum() == pytest.approx(0.5 * per_mm, abs=0.1)
    radius, first = 3.0 * per_mm, round(1.5 * per_mm)
    upper = ink[: ink.shape[0] // 2] > 0.5
    columns = np.flatnonzero(upper[first + 1])  # the first row of the line but one: straight between the corners
    assert columns[0] - first == pytest.approx(radius - math.sqrt(radius**2 - (radius - 1.5) ** 2), abs=4)


def test_scales_and_borders_take_the_shared_colour(design):
    made = design(PARTS + '[lettering]\ncolour = "#ff0000"\n[[border]]\n[[scale]]\n')
    pixels = made.decals[0].art.pixels
    assert {tuple(each) for each in pixels[pixels[..., 3] == 255].tolist()} == {(255, 0, 0, 255)}


def test_a_variant_changes_the_lettering_alone(design):
    text = PARTS + FONT + '[[label]]\npart = "TONE"\n[variants.night.lettering]\ncolour = "white"\nsize = 4'
    night, day = design(text, variant="night").labels[0], design(text).labels[0]
    assert (night.lettering.colour, night.lettering.size_mm, night.lettering.font) == ((1, 1, 1), 4, "bold.ttf")
    assert (day.lettering.colour, day.lettering.size_mm) == ((0, 0, 0), 3)


def test_fonts_are_asked_for_once_and_apart_from_art():
    text = (
        '[box]\nsize = "112x60x31"\n'
        + ART
        + FONT
        + '[[label]]\ntext = "A"\nfont = "hand.otf"\n[[label]]\ntext = "B"\nfont = "bold.ttf"\n'
    )
    text += (
        '[[scale]]\nnumbers = true\nfont = "fine.ttf"\n[variants.x]\nscale = []\n[variants.x.lettering]\nfont = "x.ttf"'
    )
    layout = parse(text, "layout.toml")
    assert assets(layout) == ("art.png",)
    assert font_files(layout) == ("bold.ttf", "hand.otf", "fine.ttf")
    assert font_files(layout, "x") == ("x.ttf", "hand.otf", "bold.ttf")


LINES = [
    (FONT + '[[label]]\ntext = "A漢"', 'layout.toml: [[label]] "A漢" text: the font bold.ttf has no "漢" (U+6F22); write it another way or choose another font'),
    ('[lettering]\nfont = "absent.ttf"\n[[label]]\ntext = "A"\n[[label]]\ntext = "B"', 'layout.toml: [lettering] font: there is no font "absent.ttf"; put it next to the layout or correct the name'),
    ("[[border]]\ncorner = 40", "layout.toml: [[border]] 1 corner: the corners are rounder than the border's shorter side, 53.03 mm, allows; make the radius at most 26.51 mm"),
    ("[[border]]\ninset = 27.9\nline = 1", "layout.toml: [[border]] 1 inset: the border leaves nothing of the top face's flat inside it; make inset or line smaller"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "line"), LINES)
def test_each_mistake_is_one_line(complaint, text, line):
    said = complaint(PARTS + text)
    assert said.startswith(line)
    assert "\n" not in said
    assert said == line or line.endswith(": ")


OFF = [  # the flat begins 1.49 mm from the edge: 1.5 mm of rounding, less what the draft of a degree leaves of it
    ('[[label]]\ntext = "H"\nleft = -0.5\ntop = 20', (1.99, 0, 0, 0), ("label", "H")),
    ('[[label]]\ntext = "H"\nright = -0.5\nbottom = 1', (0, 0, 1.99, 0.49), ("label", "H")),
    ('[[label]]\npart = "HUM"\nside = "above"\ntop = 1', (0, 0.49, 0, 0), ()),
]


@pytest.mark.parametrize(("text", "past", "mover"), OFF)
def test_what_runs_past_the_flat_is_told_and_cut_off(design, text, past, mover):
    made = design(PARTS + FONT + text)
    (lost,) = made.lost
    assert lost.past_mm == pytest.approx(past, abs=0.005)
    assert (lost.kind, lost.mover) == ("label", mover)
    assert len(made.labels) == 1
    assert made.decals[-1].art.pixels[..., 3].any()  # the rest of it is printed


def test_what_is_moved_back_as_told_is_whole(design):
    assert not design(PARTS + FONT + '[[label]]\ntext = "H"\nleft = 1.49\ntop = 20').lost


def test_a_part_at_the_edge_takes_label_and_scale_off_the_flat(design):
    pot = '[[part]]\nname = "EDGE"\nkind = "pot-16"\nbottom = 6\n[[scale]]\npart = "EDGE"\n[[label]]\npart = "EDGE"\n'
    made = design(FONT + pot)
    assert [(each.kind, each.name, each.mover) for each in made.lost] == [
        ("scale", "EDGE", ("part", "EDGE")),
        ("label", "EDGE", ("part", "EDGE")),
    ]
    assert made.labels[0].v_mm > 110  # it stands where it would, for whoever moves the part back
    assert len(made.decals) == 1


def test_film_that_would_stay_empty_is_not_laid(design):
    made = design(PARTS + FONT + '[[label]]\ntext = "H"\nleft = 200')
    assert len(made.lost) == 1
    assert made.decals == ()


WORDS = st.text(st.sampled_from("ABCWij .-&gÅ"), min_size=1, max_size=12).filter(str.strip)


@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(text=WORDS, left=st.floats(-20, 80), top=st.floats(-20, 130), size=st.floats(0.5, 12), turn=st.floats(-360, 360))
def test_a_label_is_wholly_on_the_film_or_told_as_lost(design, bold, text, left, top, size, turn):
    layout = (
        f'{FONT}[[label]]\ntext = "{text}"\nleft = {left}\ntop = {top}\nsize = {size}\nrotation = {turn}\noutline = 0.2'
    )
    try:
        made = design(layout)
    except InputError as error:
        assert "draws nothing" in str(error)
        return
    (label,) = made.labels
    angle = math.radians(label.rotation_deg)
    across = label.width_mm * abs(math.cos(angle)) + label.height_mm * abs(math.sin(angle))
    assert label.u_mm - across / 2 == pytest.approx(left)
    again = lettered(line(bold, text.strip(), size), label.u_mm, label.v_mm, label.rotation_deg, label.lettering)
    if made.lost:
        (lost,) = made.lost
        flat = faces(made.enclosure)["top"].flat
        assert lost.box == pytest.approx(again.box)
        past = (flat[0] - lost.box[0], flat[1] - lost.box[1], lost.box[2] - flat[2], lost.box[3] - flat[3])
        assert lost.past_mm == pytest.approx([max(each, 0.0) for each in past], abs=0.05)  # a pixel at 600 dpi
        return
    (film,) = made.decals
    ink = film.art.pixels[..., 3] / 255
    assert ink.sum() > 0
    assert max(overhang(film, again.box)) <= slack_mm(film)  # a label says all that it takes to draw it
    assert label.height_mm == size


def font_bytes():
    """Return the bytes of a font file."""
    return (resources.files("font_manrope") / "files" / "Manrope-Bold.ttf").read_bytes()


LETTERED = '[box]\nsize = "112x60x31"\n' + FONT + '[[label]]\ntext = "TIDE"\n'


def test_a_pedal_needs_no_image_editor(tmp_path):
    (tmp_path / "layout.toml").write_text(LETTERED, encoding="utf-8")
    (tmp_path / "bold.ttf").write_bytes(font_bytes())
    made = mockup.load(tmp_path / "layout.toml")
    given = mockup.loads(LETTERED, {"bold.ttf": font_bytes()})
    np.testing.assert_array_equal(made.decals[0].art.pixels, given.decals[0].art.pixels)
    assert made.labels[0].text == "TIDE"


def test_a_font_that_is_not_there_is_one_line_with_the_nearest_file(tmp_path):
    (tmp_path / "layout.toml").write_text(LETTERED, encoding="utf-8")
    (tmp_path / "Bold-2.ttf").write_bytes(font_bytes())
    with pytest.raises(InputError) as caught:
        mockup.load(tmp_path / "layout.toml")
    assert str(caught.value) == "layout.toml: 'bold.ttf' is not in the layout's folder; did you mean 'Bold-2.ttf'?"
    with pytest.raises(InputError) as caught:
        mockup.loads(LETTERED)
    assert str(caught.value) == "layout.toml: 'bold.ttf' was not given in art"


def test_a_font_that_is_none_is_one_line(tmp_path):
    with pytest.raises(InputError) as caught:
        mockup.loads(LETTERED, {"bold.ttf": b"not a font at all"})
    assert str(caught.value).startswith("bold.ttf: is not a font, or is damaged or cut short; ")


FULL = (
    PARTS
    + ART
    + FONT
    + """size = "8 pt"
colour = "navy"
outline = 0.1
shadow = [0.1, 0.1]
spacing = 0.1
gap = 1
[[label]]
part = "TONE"
side = "above"
[[label]]
text = "TIDE"
top = 50
rotation = 20
[[label]]
text = "SET"
drawn = false
height = 3
width = 9
left = 10
[[scale]]
marks = 9
travel = 280
major_every = 4
major = 2
minor = 1
line = 0.3
numbers = true
size = 1.5
[[border]]
inset = 6
corner = "9 %"
line = 0.4
[limits]
web_mm = 3
[[variants.x.label]]
part = "ON"
[variants.x.lettering]
size = 2
"""
).splitlines()
JUNK = st.sampled_from(
    [
        "-1",
        "0",
        "nan",
        "1e400",
        "true",
        '""',
        '"; x"',
        "[]",
        "[[1]]",
        "{}",
        '"9 %"',
        '"9 pt"',
        '"0 pt"',
        "[1, 2]",
        "1e3",
    ]
    + [
        '"TONE"',
        '"ON"',
        '"absent.ttf"',
        '"left"',
        '"near"',
        "0.01",
        "1000",
        '"漢"',
        '"x" * 3',
        "2020-01-01",
        '"-0.0 in"',
    ]
)


@settings(max_examples=150, suppress_health_check=list(HealthCheck))
@given(
    harm=st.lists(
        st.tuples(st.integers(0, len(FULL) - 1), st.sampled_from(["value", "key", "drop"]), JUNK), max_size=3
    ),
    variant=st.sampled_from([None, "x"]),
)
def test_no_damage_to_a_lettered_file_gives_anything_but_plain_lines(design, white, harm, variant):
    lines = list(FULL)
    for index, sort, junk in harm:
        key, equals, _ = lines[index].partition(" = ")
        lines[index] = {"value": f"{key} = {junk}" if equals else lines[index], "key": f"x{lines[index]}", "drop": ""}[
            sort
        ]
    try:
        made = design("\n".join(lines), art=white, variant=variant)
    except InputError as error:
        for line in str(error).split("\n"):
            assert line.startswith("layout.toml: ")
            assert line.isprintable()
            for jargon in ("Input should", "Value error", "pydantic", "dict", "tuple", "None", "nan mm"):
                assert jargon not in line
    else:
        for label in made.labels:
            assert all(map(math.isfinite, (label.u_mm, label.v_mm, label.width_mm, label.height_mm)))
