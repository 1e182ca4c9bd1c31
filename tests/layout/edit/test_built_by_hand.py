"""A pedal begun by hand, with comments, and built on in the window: each kind of edit of a whole build keeps them."""

from __future__ import annotations

import tomllib

import numpy as np

from mockup import hardware, knobs
from mockup.enclosure.sizes import SIZES
from mockup.layout.edit import decals, parts, words
from mockup.layout.edit.undo import LayoutDocument
from mockup.model.design import Placement
from mockup.model.edit import Address, MakeVariant, Move, PutValue
from mockup.model.enclosure import faces
from mockup.model.finish import Artwork

TEXT = """\
# Chalk River, for the band room
name = "Chalk River"

[box]
size = "121x66x39"   # the last one in the drawer

[finish]
paint = "#e7cdc6"    # mixed on Sunday
# two thin coats

[[part]]             # the important one
name = "FLOW"        # volume, really
kind = "pot-16"
left = 17            # clears the post
top = 20

# nothing may stand near the battery
[[part]]
name = "BYPASS"
kind = "footswitch"
bottom = 21.7
# the end
"""
SIDES = faces(SIZES["121x66x39"])
TOP = SIDES["top"]


def stood(name: str, kind: str, u_mm: float, v_mm: float) -> Placement:
    """Return a part on the top."""
    found = hardware.kinds()[kind]
    knob = knobs.default("barrel") if found.shaft is not None else None
    return Placement(name=name, kind=found, face="top", u_mm=u_mm, v_mm=v_mm, knob=knob)


def test_every_comment_stays_and_the_file_says_what_was_built() -> None:
    document = LayoutDocument.opened(TEXT.encode(), "layout.toml")
    art = Artwork(name="river.png", pixels=np.zeros((300, 400, 4), np.uint8), dpi=(300.0, 300.0))
    for title, edits in (
        ("add BANK", lambda raw: parts.inserted(raw, stood("KNOB", "pot-16", 48.0, 20.0), TOP)),
        ("rename", lambda raw: parts.renamed(raw, "KNOB", "BANK")),
        ("add LAMP", lambda raw: parts.inserted(raw, stood("LAMP", "lamp-3", 32.35, 36.0), TOP)),
        ("knobs", lambda raw: parts.knobbed(raw, ["FLOW", "BANK"], "style", "stepped")),
        ("width", lambda raw: parts.knobbed(raw, ["FLOW", "BANK"], "diameter", 17.0)),
        ("scales", lambda raw: parts.scaled(raw, ["FLOW", "BANK"])),
        ("label", lambda raw: words.labelled(raw, "FLOW", "bold.ttf")),
        ("word", lambda raw: words.written(raw, "CHALK RIVER", TOP, "hand.ttf")),
        ("art", lambda raw: decals.laid(raw, art, TOP)),
        ("move", lambda raw: parts.moved(raw, {"FLOW": (TOP, 24.5, 20.0)})),
        ("variant", lambda _: (MakeVariant(name="Moss"),)),
        ("paint", lambda _: (PutValue(address=Address(way=("finish", "paint"), variant="Moss"), value="#8fb39b"),)),
        ("remedy", lambda _: (Move(address=Address(way=("part", "FLOW")), right_mm=-7.3),)),
    ):  # fmt: skip
        before = document
        document = document.edited(title, edits(document.raw))
        assert document.text != before.text, title
    comments = [line.partition("# ")[2] for line in TEXT.splitlines() if "# " in line]
    assert len(comments) == 9
    said = [line.partition("# ")[2] for line in document.text.splitlines()]
    assert [each for each in comments if each not in said] == []
    raw = tomllib.loads(document.text)
    assert [part["name"] for part in raw["part"]] == ["FLOW", "BYPASS", "BANK", "LAMP"]
    assert raw["part"][0]["knob"] == {"style": "stepped", "diameter": 17.0}
    assert raw["variants"] == {"Moss": {"finish": {"paint": "#8fb39b"}}}
    for _ in range(13):
        document = document.undone()
    assert document.text == TEXT
