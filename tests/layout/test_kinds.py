"""A builder's own kinds of part."""

# ruff: noqa: E501  (whole messages stand on one line)
from __future__ import annotations

import pytest

from mockup import hardware
from mockup.layout.parse import parse_parts
from mockup.model.errors import InputError
from mockup.model.material import BRASS, CHROME
from mockup.model.part import Kind
from mockup.model.shape import Extruded, Turned

EYE = """
[[kind]]
name = "brass-eye"
about = "A lamp behind a brass ring"
thread = "M7x0.75"
source = "caliper"
holes = [
  { diameter = 7.2 },
  { shape = "slot", width = 6, height = 2, right = 10, up = -1, rotation = 90, purpose = "anti-turn tab" },
  { shape = "d", diameter = 9, height = 8 },
]
shaft = { diameter = 6, top = 15 }
[[kind.above]]
shape = "hexagon"
width = 10
to = 2
material = "brass"
[[kind.above]]
diameter = 8
from = 2
to = 5
bevel = 0.5
lens = true
[[kind.below]]
shape = "rectangle"
width = 12
height = 9
corner = 1
from = 1
to = 20
up = 2
rotation = 45
colour = "white"
"""


def kind(text: str) -> Kind:
    """Return the one kind that a text describes."""
    (only,) = parse_parts(text, "parts.toml")
    return only


def refusal(text: str) -> str:
    """Return the message that a text is refused with."""
    with pytest.raises(InputError) as caught:
        parse_parts(text, "parts.toml")
    return str(caught.value)


def test_holes_keep_their_shape_place_and_purpose():
    circle, slot, flat = kind(EYE).cutouts
    assert (circle.outline.kind, circle.outline.width_mm, circle.at) == ("circle", 7.2, (0, 0))
    assert (slot.outline.kind, slot.outline.width_mm, slot.outline.height_mm) == ("slot", 6, 2)
    assert (slot.at, slot.rotation_deg, slot.purpose) == ((10, -1), 90, "anti-turn tab")
    assert (flat.outline.kind, flat.outline.width_mm, flat.outline.height_mm) == ("d", 9, 8)


def test_solids_above_rise_from_the_panel():
    nut, lens = kind(EYE).above
    assert isinstance(nut, Extruded)
    assert (nut.outline.kind, nut.outline.width_mm, nut.bottom_mm, nut.top_mm) == ("hexagon", 10, 0, 2)
    assert nut.material is BRASS
    assert isinstance(lens, Turned)
    # from the axis up along the outside to the axis again, 0.5 mm off the upper edge
    assert lens.profile == ((0, 2), (4, 2), (4, 4.5), (3.5, 5), (0, 5))
    assert kind(EYE).lens == (1,) and kind(EYE).is_lamp


def test_solids_below_hang_under_the_panel():
    (body,) = kind(EYE).below
    assert isinstance(body, Extruded)
    assert (body.bottom_mm, body.top_mm, body.at, body.rotation_deg) == (-20, -1, (0, 2), 45)
    assert (body.outline.width_mm, body.outline.height_mm, body.outline.corner_mm) == (12, 9, 1)
    assert body.material.base_color == pytest.approx((1, 1, 1))
    assert kind(EYE).depth_mm == 20


def test_shaft_words_and_source_are_kept():
    eye = kind(EYE)
    assert (eye.name, eye.about, eye.family, eye.mount) == ("brass-eye", "A lamp behind a brass ring", "own", "panel")
    assert (eye.shaft.diameter_mm, eye.shaft.top_mm) == (6, 15)
    assert eye.sources == {"all": "caliper"}


def test_the_shortest_kind_is_a_name_and_a_hole():
    plain = kind('[[kind]]\nname = "vent"\nhole = 4')
    assert plain.cutouts[0].outline.width_mm == 4
    assert plain.sources == {"all": "the builder's own measurement"}
    assert plain.shaft is None and not plain.is_lamp and plain.depth_mm == 0


def test_a_kind_inside_the_box():
    board = kind(
        '[[kind]]\nname = "slab"\nmount = "inside"\n[[kind.below]]\nshape="rectangle"\nwidth=40\nheight=30\nto=1.6'
    )
    assert (board.mount, board.depth_mm, board.cutouts) == ("inside", 1.6, ())


def test_a_round_of_chrome_without_bevel():
    (cap,) = kind('[[kind]]\nname = "cap"\n[[kind.above]]\ndiameter = 6\nto = 3\nmaterial = "chrome"').above
    assert cap.profile == ((0, 0), (3, 0), (3, 3), (0, 3))
    assert cap.material is CHROME


@pytest.mark.parametrize(
    ("text", "major", "pitch"),
    [
        ("M7x0.75", 7, 0.75),
        ("m12 x 0.75", 12, 0.75),
        ("3/8-32", 9.525, 0.79375),  # 3/8 * 25.4, 25.4 / 32
        ("1/4-40 UNS", 6.35, 0.635),
        ("15/32-32 UNS", 11.90625, 0.79375),
    ],
)
def test_threads_give_major_diameter_and_pitch(text, major, pitch):
    thread = kind(f'[[kind]]\nname = "t"\nthread = "{text}"').thread
    assert (thread.designation, thread.major_mm, thread.pitch_mm) == (text, pytest.approx(major), pytest.approx(pitch))


def test_a_kind_like_another_has_its_form_and_figures_of_its_own():
    text = '[[kind]]\nname = "mine"\nlike = "toggle-mini"\nhole = 6.2\nbody = 26\ndepth = 20'
    found, toggle = kind(text), hardware.kinds()["toggle-mini"]
    assert (found.name, found.family, found.is_own, found.about) == ("mine", "toggle", True, toggle.about)
    assert found.cutouts[0].outline.width_mm == 6.2
    assert found.depth_mm == pytest.approx(20)
    assert found.below[0].outline.width_mm == pytest.approx(26 / 13 * 11.8)  # 11.8 by 13 mm, as before
    assert found.above == toggle.above


def test_a_kind_may_be_like_one_of_ones_own_before_it():
    text = '[[kind]]\nname = "a"\nlike = "pot-16"\nbody = 17\n[[kind]]\nname = "b"\nlike = "a"\ndepth = 20'
    first, second = parse_parts(text, "parts.toml")
    assert second.below[0].profile[1][0] == first.below[0].profile[1][0]
    assert second.depth_mm == pytest.approx(20)


MISTAKES = [
    ('thread = "7 mm"', 'thread: "7 mm" is not a thread; write for example "M7x0.75" or "3/8-32"'),
    ("thread = 7", 'thread: expected a thread such as "M7x0.75" or "3/8-32", found 7'),
    ('thread = "1/0-32"', 'thread: "1/0-32" divides by zero'),
    ('thread = "M7x20"', 'thread: "M7x20" is not a thread that can be cut'),
    ("hole = 3\nholes = []", "hole: hole and holes are both given; keep one of the two"),
    ('hole = 3\nmount = "inside"', 'hole: a part mounted inside does not go through a panel; leave it out or drop "inside"'),
    ("holes = [{}]", "holes 1, diameter: missing; a circle needs diameter"),
    ("holes = [{ width = 3, diameter = 3 }]", "holes 1, width: a circle has no width; it takes diameter"),
    ("holes = [{ diameter = 3, corner = 1 }]", "holes 1, corner: a circle has no corner radius"),
    ('holes = [{ shape = "slot", width = 3 }]', "holes 1, height: missing; a slot needs width and height"),
    ('holes = [{ shape = "slot", width = 3, height = 4 }]', "holes 1, height: a slot is longer than it is wide; swap width and height and turn it with rotation"),
    ('holes = [{ shape = "d", diameter = 3, height = 3 }]', "holes 1, height: the height over the flat must be smaller than the diameter"),
    ('holes = [{ shape = "rectangle", width = 3, height = 4, corner = 2 }]', "holes 1, corner: the corner radius is more than half of the shorter side"),
    ('holes = [{ shape = "star" }]', "holes 1, shape: unknown name \"star\"; use one of: circle, d, hexagon, rectangle, slot"),
    ("holes = [{ diameter = 3 }, { diameter = -3 }]", "holes 2, diameter: expected a size greater than 0, found -3 mm"),
    ("[[kind.above]]\ndiameter = 3", "above 1, to: missing; say where the solid ends, counted away from the panel"),
    ("[[kind.above]]\ndiameter = 3\nto = -3", "above 1, to: `to` must be greater than `from`; count both away from the panel"),
    ("[[kind.above]]\ndiameter = 3\nto = 3\nbevel = 2", "above 1, bevel: the bevel leaves nothing of the upper edge; make it smaller"),
    ("[[kind.below]]\ndiameter = 3\nto = 3\nlens = true", "below 1, lens: unknown key; use one of: colour, corner, diameter, from, height, material, right, rotation, shape, to, up, width"),
    ('[[kind.below]]\ndiameter = 3\nto = 3\nmaterial = "chrom"', "below 1, material: unknown name \"chrom\"; did you mean 'chrome'?"),
    ("[kind.shaft]\ndiameter = 6", "shaft.top: missing"),
    ("body = 12", 'body: only a kind like another takes it; add like = "pot-16" or another kind'),
    ('like = "pot-61"', "like: there is no kind \"pot-61\" before it; did you mean 'pot-16'?"),
    ('like = "mine"', 'like: there is no kind "mine" before it; use one of 25, such as din-5, lamp-3-bare, '
     "lamp-5-bare, toggle-mini, toggle-mini-single, toggle-sub-mini; mockup parts lists them"),
    ('like = "board"\nhole = 3', 'hole: "board" goes through no hole; leave it out'),
    ('like = "pot-16"\nthread = "M7x0.75"', "thread: a kind like another has its form; leave out one of the two"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "line"), MISTAKES)
def test_each_mistake_in_a_kind_gives_exactly_this_line(text, line):
    assert refusal(f'[[kind]]\nname = "mine"\n{text}') == f'parts.toml: [[kind]] "mine" {line}'
