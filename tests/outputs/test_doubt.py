"""A proof beside the darkest and the lightest it may be: three panels at one scale, by the ink model's own figures."""

from __future__ import annotations

import io
from dataclasses import replace

import numpy as np
import pytest
from PIL import Image

import mockup
from mockup import api
from mockup.colour import rgb
from mockup.decal import ink_over_paint as ink
from mockup.films import films
from mockup.model.errors import InputError
from mockup.model.picture import Picture
from mockup.outputs import still
from mockup.picture.doubt import side_by_side, versions

PAINT, ART = "#c8a23a", "#2a6fb0"
LAYOUT = f"""
[box]
size = "112x60x31"
[finish]
paint = "{PAINT}"
[[decal]]
art = "art.png"
film = "white"
width = 40
"""


def art() -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (64, 64), ART).save(out, "PNG", dpi=(300, 300))
    return out.getvalue()


def test_versions_run_from_the_least_to_the_most_and_keep_all_else() -> None:
    design = api.loads(LAYOUT, {"art.png": art()})
    found = versions(design)
    assert [caption for caption, _ in found] == ["darkest", "likely", "lightest"]
    assert [each.finish.end for _, each in found] == [-1.0, 0.0, 1.0]
    assert all(replace(each.finish, end=0.0) == design.finish for _, each in found)


def test_panels_keep_their_pixels_and_their_scale() -> None:
    flat = [np.full((60, 80, 3), code, np.uint8) for code in (10, 20, 30)]
    captions = ("darkest", "likely", "lightest")
    panels = [
        (caption, Picture(pixels=each, dpi=99.0, facts={"Ink": caption}))
        for caption, each in zip(captions, flat, strict=True)
    ]
    sheet = side_by_side(panels)
    assert sheet.dpi == 99.0
    assert sheet.facts["Ink"] == "likely"
    assert sheet.facts["Doubt"] == "from left to right: " + "; ".join(captions)
    for code in (10, 20, 30):
        rows, columns = np.nonzero((sheet.pixels == code).all(axis=2))
        found = (np.ptp(rows) + 1, np.ptp(columns) + 1)
        assert found == (60, 80)
    left = [np.nonzero((sheet.pixels == code).all(axis=2))[1].min() for code in (10, 20, 30)]
    assert left[1] - left[0] == left[2] - left[1] > 80
    below = sheet.pixels[64:]
    assert (below < 100).any()  # letters


def test_only_a_proof_shows_its_doubt() -> None:
    design = api.loads(LAYOUT, {"art.png": art()})
    with pytest.raises(InputError, match=r"^--doubt: only a proof can show its doubt; add: --look proof$"):
        mockup.still(design, view="above", doubt=True)


@pytest.mark.gl
def test_the_three_panels_are_what_the_model_says_and_the_file_says_its_limits() -> None:
    design = api.loads(LAYOUT, {"art.png": art()})
    film = films()["white"].measured(0.6, 0.1)
    finish = replace(design.finish, printer="inkjet", ink_strength=1.2)
    design = replace(design, finish=finish, decals=(replace(design.decals[0], film=film),))
    options = still.Options(view=("above",), size=(120, 90), look="proof", quality="draft", doubt=True)
    result = still.make(design, options)
    with Image.open(io.BytesIO(next(iter(result.files.values())))) as image:
        pixels, text = np.asarray(image.convert("RGB")), dict(image.text)
    gap = 3  # 120 // 40
    for place, end in enumerate((-1.0, 0.0, 1.0)):
        wanted = ink.predict(rgb.parse(ART), ink.Ground(paint=rgb.parse(PAINT), film=film, ink_strength=1.2, end=end))
        middle = pixels[gap + 45, gap + place * (120 + gap) + 60].astype(int)
        assert np.abs(middle - 255 * wanted).max() <= 1.5, end  # 1 code, and the lookup's half
    assert text["Printer"] == "inkjet"
    assert text["Ink"] == ("strength 1.2, lacquer of index 1.5, white film reflects 0.6 and lets through 0.1")
    assert 'the strip of "inkjet"' in text["Limits"]
    assert "D65" in text["Limits"]
    assert "reproduces sRGB" not in text["Limits"]
    assert "estimate" not in text["Limits"]  # the film was measured
    assert "likely" in text["Doubt"]
