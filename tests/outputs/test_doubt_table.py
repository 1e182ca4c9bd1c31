"""The table of colours in doubt, and the test piece: what they say of art whose colours are known."""

from __future__ import annotations

import io
from dataclasses import replace

import numpy as np
import pytest
from PIL import Image

from mockup import api
from mockup.colour import difference, rgb
from mockup.decal.doubt import CAUSES
from mockup.films import films
from mockup.model.errors import InputError
from mockup.model.finish import InkProfile
from mockup.outputs import doubt, sheet
from mockup.outputs.pages.doubt_rows import doubt_pieces, doubts, most_doubtful

LAYOUT = '[box]\nsize = "112x60x31"\n[finish]\npaint = "#a9d3c6"\n[[decal]]\nart = "art.png"\nwidth = 40\n'
COLOURS = ["#101010", "#b02020", "#e0c020", "#2040a0"]


def design() -> api.Design:
    pixels = np.full((100, 160, 3), 255, np.uint8)
    for number, colour in enumerate(COLOURS):
        pixels[10:90, 5 + 39 * number : 35 + 39 * number] = rgb.to_8bit(rgb.parse(colour))
    out = io.BytesIO()
    Image.fromarray(pixels).save(out, "PNG", dpi=(100, 100))
    return api.loads(LAYOUT, {"art.png": out.getvalue()})


def test_each_colour_lies_between_its_darkest_and_lightest() -> None:
    rows = doubts(design())
    assert sorted(rgb.to_hex(row.drawn) for row in rows) == sorted(COLOURS)
    for row in rows:
        dark, likely, light = (difference.encoded_to_lab(each)[0] for each in (row.darkest, row.likely, row.lightest))
        assert dark <= likely + 0.1
        assert likely <= light + 0.1
        assert row.cause == CAUSES["printer"]
        assert 3 < row.radius < 30
    assert rgb.to_hex(most_doubtful(rows)[0].drawn) != "#101010"  # black is sure, colours are not


def test_a_strip_on_this_paint_makes_it_surer() -> None:
    plain = design()
    corners = [(r, g, b) for r in (0.0, 0.5, 1.0) for g in (0.0, 0.5, 1.0) for b in (0.0, 0.5, 1.0) if r + g + b < 3]
    seen = [tuple(difference.encoded_to_lab(np.array(each) * rgb.parse("#a9d3c6")).tolist()) for each in corners]
    strip = InkProfile(ground=rgb.parse("#a9d3c6"), printed=tuple(corners), read=tuple(seen))
    film = replace(films()["clear"].measured(0.0, 1.0, 0.01), profile=strip)
    known = replace(plain, decals=tuple(replace(decal, film=film) for decal in plain.decals))
    before, after = ({rgb.to_hex(row.drawn): row.radius for row in doubts(each)} for each in (plain, known))
    assert all(after[colour] < before[colour] for colour in COLOURS)
    assert {row.cause for row in doubts(known)} <= {CAUSES["strip"], CAUSES["haze"]}


def test_the_table_is_written_with_its_facts() -> None:
    made = doubt.make(design(), doubt.Options(output="d.pdf"))
    assert made.files["d.pdf"].startswith(b"%PDF-")
    assert len(made.facts["colours"]) == 4
    assert made.facts["colours"][0]["cause"] == CAUSES["printer"]
    assert made.notes[0].startswith("most in doubt (CIEDE2000): #")
    with pytest.raises(InputError, match="has no ink to be in doubt of"):
        doubt.make(api.loads('[box]\nsize = "112x60x31"\n'), doubt.Options())


def test_the_test_piece_holds_the_three_colours_most_in_doubt() -> None:
    (piece,) = doubt_pieces(design())
    assert (piece.width_mm, piece.height_mm) == (34.0, 10.0)
    worst = [rgb.to_hex(row.drawn) for row in most_doubtful(doubts(design()))]
    assert [rgb.to_hex(piece.pixels[50, x] / 255) for x in (50, 170, 290)] == worst
    made = sheet.make(design(), sheet.Options(output="t.png", dpi=100.0, test_piece=True, date=""))
    with Image.open(io.BytesIO(made.files["t.png"])) as image:
        printed = {rgb.to_hex(np.array(colour) / 255) for _, colour in image.convert("RGB").getcolors(100000)}
    assert set(worst) <= printed
    assert made.facts["decals"] == []
