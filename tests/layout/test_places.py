"""Where tables stand in a file, and what a builder calls the place."""

from __future__ import annotations

import tomllib

import pytest

from mockup.layout.places import key_text, named, order, table_lines

TEXT = '''\
units = "mm"
[box] # the box
size = "x"
[[part]]
name = "A"
[part.knob]
style = "bar"
[[ part ]]
note = """
[not a table!]
"""
[variants."two tone".box]
wall = 2
[[variants."two tone".part]]
name = "A"
[[kind]]
[[kind.above]]
[[kind.above]]
to = 3
'''
RAW = tomllib.loads(TEXT)


def test_headers_are_found_by_line():
    assert table_lines(TEXT) == {
        ("box",): 2,
        ("part", 0): 4,
        ("part", 0, "knob"): 6,
        ("part", 1): 8,
        ("variants", "two tone", "box"): 12,
        ("variants", "two tone", "part", 0): 14,
        ("kind", 0): 16,
        ("kind", 0, "above", 0): 17,
        ("kind", 0, "above", 1): 18,
    }


def test_places_sort_as_they_stand_and_what_is_missing_comes_last():
    places = [
        ("units",),
        ("box", "size"),
        ("box", "wall"),  # missing: last in its table
        ("part", 0, "name"),
        ("part", 0, "knob", "style"),
        ("part", 1, "name"),
        ("variants", "two tone", "box", "wall"),
        ("kind", 0, "above", 1, "to"),
        ("finish",),  # missing: last of all
    ]
    lines = table_lines(TEXT)
    assert sorted(places[4:] + places[:4], key=lambda loc: order(loc, RAW, lines)) == places


@pytest.mark.parametrize(
    ("loc", "table", "key"),
    [
        (("units",), "", "units"),
        (("box",), "[box]", ""),
        (("box", "size"), "[box]", "size"),
        (("finish",), "[finish]", ""),
        (("part", 0, "knob", "style"), '[[part]] "A"', "knob.style"),
        (("part", 1, "name"), "[[part]] 2", "name"),
        (("part",), "[[part]]", ""),
        (("variants", "two tone"), "[variants.two tone]", ""),
        (("variants", "two tone", "units"), "[variants.two tone]", "units"),
        (("variants", "two tone", "box", "wall"), "[variants.two tone.box]", "wall"),
        (("variants", "two tone", "part", 0), '[[variants.two tone.part]] "A"', ""),
        (("kind", 0, "above", 1, "to"), "[[kind]] 1", "above 2, to"),
    ],
)
def test_places_are_named_as_they_are_written(loc, table, key):
    assert named(loc, RAW) == (table, key)


def test_keys_inside_lists_are_counted_from_one():
    assert key_text(("holes", 0)) == "holes 1"
    assert key_text(()) == ""
