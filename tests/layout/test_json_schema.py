"""The printed JSON Schema against an independent validator."""

from __future__ import annotations

import json
import tomllib

import jsonschema
import pytest

from mockup import hardware, knobs
from mockup.enclosure.sizes import SIZES
from mockup.layout.json_schema import json_schema
from mockup.layout.starter import layout_text

BOX = '[box]\nsize = "112x60x31"\n'
SCHEMA = json_schema()
VALIDATOR = jsonschema.Draft202012Validator(SCHEMA)


def is_accepted(text: str) -> bool:
    """Return whether the schema lets a layout through."""
    return bool(VALIDATOR.is_valid(json.loads(json.dumps(tomllib.loads(text)))))


def test_it_is_a_valid_schema_of_its_own_dialect():
    jsonschema.Draft202012Validator.check_schema(SCHEMA)
    assert SCHEMA["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert json.loads(json.dumps(SCHEMA)) == SCHEMA


def test_every_reference_leads_somewhere_and_nothing_is_left_over():
    text = json.dumps(SCHEMA)
    for name in SCHEMA["$defs"]:
        assert f'"#/$defs/{name}"' in text
    for reference in text.split('"#/$defs/')[1:]:
        assert reference.partition('"')[0] in SCHEMA["$defs"]


def test_every_key_is_explained():
    for name, table in {**SCHEMA["$defs"], "file": SCHEMA}.items():
        assert table["description"], name
        for key, entry in table.get("properties", {}).items():
            assert entry.get("description"), (name, key)
            assert "null" not in json.dumps(entry), (name, key)


def test_names_are_offered_for_completion():
    tables = SCHEMA["$defs"]
    assert tables["BoxTable"]["properties"]["size"]["enum"] == list(SIZES)
    assert set(knobs.styles()) < set(tables["KnobTable"]["properties"]["style"]["enum"])
    assert tables["PartTable"]["properties"]["kind"]["anyOf"][0]["enum"] == list(hardware.kinds())
    assert {"gloss", "satin", "matte", "hammered", "flake", "bare"} <= set(
        tables["FinishTable"]["properties"]["sheen"]["enum"]
    )


@pytest.mark.parametrize(
    "text",
    [
        layout_text("Tidewater"),
        BOX,
        '[box]\nwidth = 60\nlength = "4 1/2 in"\nheight = "31mm"',
        BOX + '[[part]]\nname = "A"\nkind = "of-my-own"\nleft = -3\ntop = ".5in"',
        BOX + '[[kind]]\nname = "A"\nthread = "3/8-32"\n[[kind.above]]\ndiameter = 3\nfrom = "-1 mm"\nto = 3',
        BOX + "[variants.dark]\ndecal = []\n[variants.dark.box]\nwall = 3",
        BOX
        + '[lettering]\nfont = "a.ttf"\nsize = "8 pt"\nshadow = [0.2, "1/64 in"]\n[[label]]\npart = "A"\nside = "left"',
        BOX + '[[scale]]\nmarks = 7\nnumbers = true\n[[border]]\ncorner = "8 %"\n[limits]\nweb_mm = "2 mm"',
        BOX + "[variants.dark]\nlabel = []\n[variants.dark.lettering]\nsize = 3",
    ],
)
def test_good_layouts_pass(text):
    assert is_accepted(text)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "[box]",
        "[box]\nwidth = 60\nlength = 112",
        '[box]\nsize = "112x60x32"',
        BOX + "wall = 0",
        BOX + 'wall = "-2 mm"',
        BOX + 'wall = "2 furlong"',
        BOX + "wall = true",
        BOX + "wal = 2",
        BOX + "draft = 40",
        'units = "cm"\n' + BOX,
        BOX + "[finsh]",
        BOX + '[finish]\nsheen = "glos"',
        BOX + '[finish]\nclear_coat = "yes"',
        BOX + "[[decal]]",
        BOX + '[[decal]]\nart = "a.png"\nleft = 1\nright = 2',
        BOX + '[[decal]]\nart = "a.png"\nface = "back"',
        BOX + "[part]",
        BOX + '[[part]]\nname = "A"',
        BOX + '[[part]]\nkind = "pot-16"',
        BOX + '[[part]]\nname = ""\nkind = "pot-16"',
        BOX + '[[part]]\nname = "A"\nkind = "pot-16"\nknob = { pointer = 1.5 }',
        BOX + '[[part]]\nname = "A"\nkind = "pot-16"\nknob = { style = "banjo" }',
        BOX + '[[part]]\nname = "A"\nkind = "pot-16"\ntop = 1\nbottom = 2',
        BOX + '[[kind]]\nname = "A"\nthread = "seven"',
        BOX + '[variants.dark]\nunits = "in"',
        BOX + "[[label]]\nheight = 3",
        BOX + '[[label]]\ntext = "A"\nleft = 1\nright = 2',
        BOX + '[[label]]\ntext = "A"\nsize = "8 px"',
        BOX + '[[label]]\ntext = "A"\nside = "bellow"',
        BOX + "[lettering]\nshadow = [1]",
        BOX + "[[scale]]\nmarks = 1",
        BOX + "[[scale]]\nmarks = 7.5",
        BOX + '[[border]]\ncorner = "8 &"',
        BOX + "[limits]\nweb_mm = -1",
        BOX + "[limits]\nwbe_mm = 1",
    ],
)
def test_bad_layouts_are_refused(text):
    assert not is_accepted(text)
