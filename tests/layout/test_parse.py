"""Bad layout files: one line each, that names file, table, key and remedy."""

# ruff: noqa: E501  (whole messages stand on one line)
from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from mockup.layout.parse import parse, parse_parts
from mockup.layout.starter import layout_text
from mockup.model.errors import InputError

BOX = '[box]\nsize = "112x60x31"\n'


def refusal(text: str) -> str:
    """Return the message that a text is refused with."""
    with pytest.raises(InputError) as caught:
        parse(text, "layout.toml")
    return str(caught.value)


def part(keys: str) -> str:
    """Return a layout with one part."""
    return f'{BOX}[[part]]\nname = "TONE"\nkind = "pot-16"\n{keys}\n'


TONE = 'layout.toml: [[part]] "TONE" '
WHOLE_LINES = [
    # TOML itself
    ("[box\n", "layout.toml: line 1, column 5: not valid TOML: expected ']' at the end of a table declaration; "
     "correct that line first"),
    ("[box]\nsize = 112x60x31\n", "layout.toml: line 2, column 11: not valid TOML: expected newline or end of document "
     "after a statement; correct that line first"),
    ("[box]\nsize = pot\n", "layout.toml: line 2, column 8: not valid TOML: this is not a value that TOML knows "
     "(text needs quotes); correct that line first"),
    ("[box]\nwall = 2\nwall = 3\n", "layout.toml: line 3, column 9: not valid TOML: this key is given twice; "
     "correct that line first"),
    ('a = """', "layout.toml: line 1, column 8: not valid TOML: unterminated string; correct that line first"),
    ("a = " + "[" * 100_000, "layout.toml: lists or tables are nested too deeply"),
    ("a = " + "9" * 5000, "layout.toml: not valid TOML: a number is too long to read; correct that line first"),
    # the whole file
    ("", 'layout.toml: [box] missing; add [box] with a size such as "112x60x31", or with width, length and height'),
    ('units = "furlong"\n' + BOX, 'layout.toml: units: unknown name "furlong"; use one of: in, mm'),
    ("colour = 3\n" + BOX, "layout.toml: colour: unknown key; use one of: accept, bench, border, box, copy, credit, decal, "
     "finish, kind, label, lettering, limits, making, name, part, scale, units, variants"),
    (BOX + "[finsh]\n", "layout.toml: [finsh] unknown table; did you mean 'finish'?"),
    (BOX + "[[parts]]\n", "layout.toml: [[parts]] unknown table; did you mean 'part'?"),
    ('name = ""\n' + BOX, "layout.toml: name: expected text, found nothing between the quotes"),
    ('name = "a\\u001b[1m"\n' + BOX, "layout.toml: name: expected one line of text; take out line breaks and control "
     "characters"),
    (f'name = "{81 * "x"}"\n' + BOX, "layout.toml: name: expected at most 80 characters, found 81; shorten it"),
    # box
    ("box = 3", "layout.toml: [box] expected a table, found 3"),
    ('[[box]]\nsize = "112x60x31"', "layout.toml: [[box]] expected a table, found a list; write it once, in single "
     "brackets"),
    ("[box]", 'layout.toml: [box] size: missing; write a size such as "112x60x31", or width, length and height'),
    ('[box]\nsize = "112-60-31"', 'layout.toml: [box] size: unknown name "112-60-31"; did you mean \'112x60x31\'?'),
    (BOX + "[[scale]]\nsweep = 280", "layout.toml: [[scale]] 1 sweep: this key is now called travel; write travel "
     "instead of sweep"),
    (BOX + "boss = 7", "layout.toml: [box] boss: this key is now called post; write post instead of boss"),
    ("boss = 7\n" + BOX, "layout.toml: boss: unknown key; use one of: accept, bench, border, box, copy, credit, decal, "
     "finish, kind, label, lettering, limits, making, name, part, scale, units, variants"),
    (BOX + "wal = 2", "layout.toml: [box] wal: unknown key; did you mean 'wall'?"),
    (BOX + "wall = -2", "layout.toml: [box] wall: expected a size greater than 0, found -2 mm"),
    ('units = "in"\n' + BOX + "wall = -2", "layout.toml: [box] wall: expected a size greater than 0, found -2 in"),
    (BOX + "wall = 0", "layout.toml: [box] wall: expected a size greater than 0, found 0 mm"),
    (BOX + 'wall = "0 in"', 'layout.toml: [box] wall: expected a size greater than 0, found "0 in"'),
    (BOX + "wall = 1e-5", "layout.toml: [box] wall: expected at least 0.01 mm, found 1e-05"),
    (BOX + "wall = nan", "layout.toml: [box] wall: a length must be a finite number, not NaN or infinity"),
    (BOX + "wall = inf", "layout.toml: [box] wall: a length must be a finite number, not NaN or infinity"),
    (BOX + "wall = 4000", "layout.toml: [box] wall: expected at most 1000 mm, found 4000 mm"),
    (BOX + "wall = true", 'layout.toml: [box] wall: expected a length such as 19, "19 mm" or "3/4 in", found true'),
    (BOX + "wall = [2]", 'layout.toml: [box] wall: expected a length such as 19, "19 mm" or "3/4 in", found a list'),
    (BOX + 'wall = "thick"', "layout.toml: [box] wall: 'thick' is not a length; write for example \"19 mm\" or "
     '"3/4 in"'),
    (BOX + 'wall = "2 furlong"', "layout.toml: [box] wall: unknown unit 'furlong' in '2 furlong'; "
     'use "mm", "cm" or "in"'),
    (BOX + "corner = -1", "layout.toml: [box] corner: expected 0 or more, found -1 mm"),
    (BOX + "draft = 40", "layout.toml: [box] draft: expected 0 to 15, found 40"),
    (BOX + 'draft = "1"', 'layout.toml: [box] draft: expected a number, found "1"'),
    (BOX + "draft = false", "layout.toml: [box] draft: expected a number, found false"),
    (BOX + f"draft = {9 * 10**399}", "layout.toml: [box] draft: expected a finite number, not NaN or infinity"),
    (BOX + "draft = nan", "layout.toml: [box] draft: expected a finite number, not NaN or infinity"),
    # finish
    (BOX + '[finish]\npaint = "tael"', "layout.toml: [finish] paint: 'tael' is not a colour; did you mean 'teal'?"),
    (BOX + "[finish]\npaint = 3", 'layout.toml: [finish] paint: expected a colour such as "#2a6f6b" or "teal", found 3'),
    (BOX + '[finish]\npaint = "red"\nsheen = "glos"', 'layout.toml: [finish] sheen: unknown name "glos"; did you mean '
     "'gloss'?"),
    (BOX + '[finish]\nsheen = "satin"', "layout.toml: [finish] paint: missing; a satin finish needs a colour; give a "
     'colour such as "#2a6f6b" or "teal", or write sheen = "bare"'),
    (BOX + '[finish]\nclear_coat = "yes"', 'layout.toml: [finish] clear_coat: expected true or false, or "gloss", '
     '"satin" or "matte" where it shines otherwise than the paint, found "yes"'),
    (BOX + "[finish]\nink_strength = 9", "layout.toml: [finish] ink_strength: expected 0.2 to 3, found 9"),
    # decal
    (BOX + "[[decal]]", 'layout.toml: [[decal]] 1 art: missing; add the picture file, for example art = "art.png"'),
    (BOX + '[[decal]]\nart = "/home/me/art.png"', 'layout.toml: [[decal]] 1 art: "/home/me/art.png" is an absolute path; '
     "copy the file next to the layout and name it alone"),
    (BOX + "[[decal]]\nart = 'C:\\art.png'", 'layout.toml: [[decal]] 1 art: "C:\\art.png" is an absolute path; '
     "copy the file next to the layout and name it alone"),
    (BOX + '[[decal]]\nart = "../art.png"', 'layout.toml: [[decal]] 1 art: "../art.png" leads out of the layout\'s '
     "folder; copy the file next to the layout"),
    (BOX + "[[decal]]\nart = 'a\\art.png'", 'layout.toml: [[decal]] 1 art: "a\\art.png" has a backslash; write "/" '
     "between folder and file"),
    (BOX + '[[decal]]\nart = "."', 'layout.toml: [[decal]] 1 art: expected a file\'s name, found "."'),
    (BOX + '[[decal]]\nart = "a.png"\nface = "back"', 'layout.toml: [[decal]] 1 face: unknown name "back"; use one of: '
     "far, left, lid, near, right, top"),
    (BOX + '[[decal]]\nart = "a.png"\nfilm = 3', 'layout.toml: [[decal]] 1 film: expected "clear" or "white", found 3'),
    (BOX + '[[decal]]\nart = "a.png"\nwidth = 0', "layout.toml: [[decal]] 1 width: expected a size greater than 0, "
     "found 0 mm"),
    (BOX + '[[decal]]\nart = "a.png"\ndpi = 0', "layout.toml: [[decal]] 1 dpi: expected 1 to 10000, found 0"),
    (BOX + '[[decal]]\nart = "a.png"\ndpi = 600\nwidth = 50', "layout.toml: [[decal]] 1 dpi: dpi and width or height "
     "both say how large the decal is; keep one of them"),
    (BOX + '[[decal]]\nart = "a.png"\ntop = 1\nbottom = 2', "layout.toml: [[decal]] 1 bottom: top and bottom are both "
     "given, but a decal's size comes from width, height or dpi; keep one of the two"),
    # part
    (BOX + "[part]", "layout.toml: [part] expected a list of tables, found a table; write it as [[part]]"),
    ("part = 3\n" + BOX, "layout.toml: part: expected a list of tables, found 3; write it as [[part]]"),
    ("part = [3]\n" + BOX, "layout.toml: [[part]] 1 expected a table, found 3"),
    (BOX + '[[part]]\nname = "TONE"', TONE + 'kind: missing; add one, for example kind = "pot-16"'),
    (BOX + '[[part]]\nkind = "pot-16"', "layout.toml: [[part]] 1 name: missing; give it a name of its own"),
    (BOX + '[[part]]\nkind = "pot-16"\nname = 5', "layout.toml: [[part]] 1 name: expected text, found 5; put it in "
     "quotes"),
    (BOX + '[[part]]\nname = "TONE"\nkind = "footswich"', TONE + "kind: unknown kind \"footswich\"; did you mean "
     "'footswitch'?"),
    (part('face = "fat"'), TONE + "face: unknown name \"fat\"; did you mean 'far'?"),
    (part("left = 1979-05-27"), TONE + 'left: expected a length such as 19, "19 mm" or "3/4 in", found the date or '
     "time 1979-05-27"),
    (part("left = 3\nright = 4"), TONE + "right: left and right are both given, but a part has one centre; keep one of "
     "the two"),
    (part("left = 1" + 30 * "0"), TONE + "left: expected at most 1000 mm, found a huge number"),
    (part("rotation = 400"), TONE + "rotation: expected -360 to 360, found 400"),
    (part("depth = 3"), TONE + "depth: a pot-16 goes through the panel and takes no depth; take it away"),
    (part("lit = true"), TONE + "lit: only a lamp can be lit, and a pot-16 is none; take it away"),
    (part('colour = "red"'), TONE + "colour: only a lamp takes a colour here, and a pot-16 is none; write the knob's "
     "colour as knob = { colour = ... }"),
    (part("knob = 3"), TONE + "knob: expected a table, found 3"),
    (part("knob = { pointer = 1.5 }"), TONE + "knob.pointer: expected 0 to 1, found 1.5"),
    (part('knob = { color = "red" }'), TONE + "knob.color: unknown key; did you mean 'colour'?"),
    (part("knob = { diameter = 4 }"), TONE + "knob.diameter: the knob is no wider than its 6 mm shaft; make it wider"),
    (BOX + '[[part]]\nname = "ON"\nkind = "footswitch"\nknob = {}', 'layout.toml: [[part]] "ON" knob: a footswitch takes '
     "no knob; take the knob away or choose a kind with a shaft"),
    (part('[[part]]\nname = " TONE"\nkind = "pot-9"'), 'layout.toml: [[part]] " TONE" name: number 1 has the same name; '
     "give each a name of its own"),
    # variants
    (BOX + "[variants]\ndark = 3", "layout.toml: [variants.dark] expected a table, found 3"),
    (BOX + "[variants.dark.bx]\nwall = 3", "layout.toml: [variants.dark.bx] unknown table; did you mean 'box'?"),
    (BOX + '[variants.dark]\nunits = "in"', "layout.toml: [variants.dark] units: unknown key; use one of: border, box, "
     "decal, finish, label, lettering, limits, name, part, scale"),
    (BOX + "[variants.box.box]\nwal = 3", "layout.toml: [variants.box.box] wal: unknown key; did you mean 'wall'?"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "line"), WHOLE_LINES)
def test_each_mistake_gives_exactly_this_line(text, line):
    assert refusal(text) == line


def test_an_unknown_knob_style_is_refused_with_the_nearest_one():
    message = refusal(part('knob = { style = "nones" }'))
    assert message == TONE + "knob.style: unknown name \"nones\"; did you mean 'none'?"


def test_width_alone_asks_for_the_other_two_measures():
    assert refusal("[box]\nwidth = 60").splitlines() == [
        "layout.toml: [box] length: missing; give all of width, length and height, or a size",
        "layout.toml: [box] height: missing; give all of width, length and height, or a size",
    ]


def test_every_mistake_is_listed_at_once_in_file_order():
    text = """
units = "inches"
[[part]]
name = "A"
kind = "pot-17"
left = nan
[finish]
paint = "blurple"
[[decal]]
art = "a.png"
dpi = 300
height = 20
[box]
wall = "2"
[[part]]
name = "B"
kind = "footswitch"
knob = { pointer = 0.5 }
[[part]]
name = "A"
kind = "pot-9"
[variants.dark.finish]
sheen = "shiny"
"""
    lines = refusal(text).splitlines()
    places = [line.split(": ")[1] if "[" not in line else line[len("layout.toml: ") :].split(":")[0] for line in lines]
    assert places == [
        "units",
        '[[part]] "A" kind',
        '[[part]] "A" left',
        "[finish] paint",
        "[[decal]] 1 dpi",
        "[box] size",
        '[[part]] "B" knob',
        '[[part]] "A" name',
        "[variants.dark.finish] sheen",
    ]


def test_a_kind_that_cannot_be_read_is_not_reported_as_unknown_too():
    text = BOX + '[[kind]]\nname = "mine"\nhole = "x"\n[[part]]\nname = "A"\nkind = "mine"'
    assert refusal(text).splitlines() == [
        'layout.toml: [[kind]] "mine" hole: \'x\' is not a length; write for example "19 mm" or "3/4 in"'
    ]


def test_a_parts_file_has_the_same_rules():
    with pytest.raises(InputError) as caught:
        parse_parts('[[kind]]\nname = "pot-16"\nhoel = 3\n[[kind]]\nname = "pot-16"\n[box]', "parts.toml")
    assert str(caught.value).splitlines() == [
        "parts.toml: [[kind]] \"pot-16\" hoel: unknown key; did you mean 'hole'?",
        'parts.toml: [[kind]] "pot-16" name: there is a kind "pot-16" in the parts table already; give it another name',
        "parts.toml: [box] unknown table; use one of: kind, units",
    ]


def test_two_kinds_of_one_name_are_refused():
    with pytest.raises(InputError) as caught:
        parse_parts('[[kind]]\nname = "eye"\nhole = 3\n[[kind]]\nname = "eye"\nhole = 4', "parts.toml")
    assert str(caught.value) == (
        'parts.toml: [[kind]] "eye" name: number 1 has the same name; give each a name of its own'
    )


def test_kinds_from_a_parts_file_are_known_to_the_layout():
    own = parse_parts('units = "in"\n[[kind]]\nname = "brass-eye"\nhole = "1/2"', "parts.toml")
    layout = parse(BOX + '[[part]]\nname = "EYE"\nkind = "brass-eye"', "layout.toml", own)
    assert layout.kinds["brass-eye"].cutouts[0].outline.width_mm == pytest.approx(12.7)


def test_a_kind_in_both_files_is_refused():
    own = parse_parts('[[kind]]\nname = "brass-eye"\nhole = 8', "parts.toml")
    with pytest.raises(InputError, match='there is a kind "brass-eye" in the parts table already'):
        parse(BOX + '[[kind]]\nname = "brass-eye"\nhole = 9', "layout.toml", own)


JUNK = st.sampled_from(
    [
        "-1",
        "0",
        "nan",
        "inf",
        "true",
        '""',
        '"x; y"',
        "[]",
        "{}",
        "[[1]]",
        "{ a = 1 }",
        "2020-01-01",
        '"\\u0000"',
        "1e400",
        "9" * 400,
        '"9/0"',
        "'''\n[box]\n'''",
        "[box]",
        "=",
        "#",
        '"🎸"',
        '"../x"',
        "-0.0",
        '"1 1/2 in"',
    ]
)
HARM = st.sampled_from(["value", "key", "drop", "twice", "line"])
LINES = layout_text("fuzz").splitlines()


@settings(max_examples=300, suppress_health_check=[HealthCheck.too_slow])
@given(st.lists(st.tuples(st.integers(0, len(LINES) - 1), HARM, JUNK), min_size=1, max_size=4))
def test_no_damage_to_a_file_ever_gives_anything_but_plain_lines(damages):
    lines = list(LINES)
    for index, sort, junk in damages:
        key, equals, _ = lines[index].partition(" = ")
        lines[index] = {
            "value": f"{key} = {junk}" if equals else junk,
            "key": f"x{lines[index]}",
            "drop": "",
            "twice": f"{lines[index]}\n{lines[index]}",
            "line": f"{lines[index]}\n{junk}",
        }[sort]
    try:
        parse("\n".join(lines), "layout.toml")
    except InputError as error:
        assert error.faults
        for line in str(error).split("\n"):
            assert line.startswith("layout.toml: ")
            assert line.isprintable()
            for jargon in ("Input should", "Value error", "validat", "pydantic", "dict", "tuple", "None"):
                assert jargon not in line


PARTS_MM = "".join(
    f'[[part]]\nname = "{name}"\nkind = "pot-16"\nleft = {left}\ntop = {top}\n'
    for name, left, top in (("A", 15, 21), ("B", 44, 21), ("C", 30, 80.5))
)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('units = "in"\n[box]\nsize = "112x60x31"\n' + PARTS_MM, "top = 80.5 in"),
        ('units = "in"\n[box]\nwidth = 60\nlength = 112\nheight = 31\n', "a box of 112 in"),
        ('[box]\nsize = "112x60x31"\n' + PARTS_MM.replace("15", "0.6").replace("44", "1.7").replace("30", "1.2").replace("21", "0.8").replace("80.5", "3.2"), "3.2 mm"),
        ("[box]\nwidth = 2.4\nlength = 4.4\nheight = 1.2\n", "a box of 4.4 mm"),
    ],
)  # fmt: skip
def test_figures_in_the_other_unit_are_one_mistake(text: str, said: str) -> None:
    """A box 112 mm long is 4.41 in: no part lies 80 in from its edge, and none only 3 mm from every edge."""
    with pytest.raises(InputError) as caught:
        parse(text, "layout.toml")
    (line,) = caught.value.lines
    assert said in line
    assert f'write units = "{"mm" if "in" in said.split()[-1] else "in"}"' in line


def test_figures_that_suit_the_unit_are_no_mistake() -> None:
    parse('[box]\nsize = "112x60x31"\n' + PARTS_MM, "layout.toml")
    parse('units = "in"\n[box]\nsize = "112x60x31"\n' + PARTS_MM.replace("15", '"15 mm"').replace("44", "1.7").replace("30", "1.2").replace("21", "0.8").replace("80.5", "3.2"), "layout.toml")  # fmt: skip


@pytest.mark.parametrize("line", ["left = 15,75", 'left = "15,75"', "knob = { diameter = 15,75 }"])
def test_a_decimal_comma_is_told_with_the_figure_to_write(line: str) -> None:
    with pytest.raises(InputError) as caught:
        parse(f'[box]\nsize = "112x60x31"\n[[part]]\nname = "A"\nkind = "pot-16"\n{line}\n', "layout.toml")
    (said,) = caught.value.lines
    assert "decimal comma" in said
    assert "write 15.75" in said
