"""Layered pictures: laid over each other as by hand, layers left out by name, what is wrong in one line."""

from __future__ import annotations

import io
import zipfile

import numpy as np
import pytest
from PIL import Image

from mockup import api
from mockup.decal.pictures.artwork import decode
from mockup.model.errors import InputError

STACK = """<?xml version="1.0"?>
<image version="0.0.5" w="40" h="60" xres="300" yres="300"><stack>
<layer name="Guide" src="data/guide.png" x="0" y="0"/>
<stack name="Words"><layer name="TIDE" src="data/word.png" x="10" y="5" opacity="0.5"/></stack>
<layer name="sketch" src="data/guide.png" visibility="hidden"/>
<layer name="Art" src="data/art.png" x="0" y="0"/>
<layer name="paint" src="data/paint.png"/>
</stack></image>"""


def png(width: int, height: int, colour: tuple[int, int, int, int]) -> bytes:
    out = io.BytesIO()
    Image.new("RGBA", (width, height), colour).save(out, "PNG")
    return out.getvalue()


def openraster(stack: str = STACK) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        archive.writestr("mimetype", "image/openraster", zipfile.ZIP_STORED)
        archive.writestr("stack.xml", stack)
        archive.writestr("data/guide.png", png(40, 2, (0, 255, 0, 255)))
        archive.writestr("data/word.png", png(8, 4, (0, 0, 0, 255)))
        archive.writestr("data/art.png", png(20, 30, (200, 40, 30, 255)))
        archive.writestr("data/paint.png", png(40, 60, (20, 40, 80, 255)))
    return out.getvalue()


SVG = b"""<svg xmlns="http://www.w3.org/2000/svg" xmlns:x="urn:x" width="40mm" height="60mm" viewBox="0 0 40 60">
<g id="paint"><rect width="40" height="60" fill="#142850"/></g>
<g x:label="My guide" id="g7"><g id="inner"><rect width="40" height="2" fill="#0f0"/></g></g>
<g id="art"><rect width="20" height="30" fill="#c8281e"/></g></svg>"""


def test_layers_lie_over_each_other_and_say_their_size() -> None:
    """The uppermost comes first in the file; half a black word over (200, 40, 30) is half of that, by hand."""
    art = decode(openraster(), "sea.ora")
    assert art.dpi == (300, 300)
    assert art.pixels[0, 0].tolist() == [0, 255, 0, 255]
    assert art.pixels[20, 5].tolist() == [200, 40, 30, 255]
    assert art.pixels[6, 12] == pytest.approx([100, 20, 15, 255], abs=1)
    assert art.pixels[50, 30].tolist() == [20, 40, 80, 255]


@pytest.mark.parametrize(("data", "name"), [(openraster(), "sea.ora"), (SVG, "sea.svg")])
def test_hidden_layers_never_print(data: bytes, name: str) -> None:
    guide = "guide" if name == "sea.ora" else "My guide"
    art = decode(data, name, svg_dpi=25.4, hide=("paint", guide))
    assert art.pixels[50, 30, 3] == 0
    assert art.pixels[0, 5, :3].tolist() == [200, 40, 30]
    assert art.pixels[0, 30, 3] == 0
    assert any("Left out" in note for note in art.notes)


def test_a_picture_tells_the_layers_that_it_shows_the_outermost_first() -> None:
    """By the files above: a layer hidden in the file is none, a group's label goes before its identifier."""
    for hide in ((), ("paint",)):  # one that is left out is told all the same: it can come back
        ora, svg = (decode(data, name, hide=hide).file for data, name in ((openraster(), "a.ora"), (SVG, "a.svg")))
        assert ora is not None
        assert ora.layers == ("Guide", "Words", "Art", "paint", "TIDE")
        assert svg is not None
        assert svg.layers == ("paint", "My guide", "art", "inner")


def test_a_group_takes_its_layers_along() -> None:
    assert decode(openraster(), "sea.ora", hide=("words",)).pixels[6, 12].tolist() == [200, 40, 30, 255]


@pytest.mark.parametrize(
    ("data", "name", "said"),
    [
        (
            openraster(),
            "sea.ora",
            'has no layer "guidez" to hide; its layers are Guide, Words, TIDE, sketch, Art, paint',
        ),
        (SVG, "sea.svg", 'has no layer "guidez" to hide; its layers are paint, My guide, g7, inner, art'),
        (png(40, 60, (0, 0, 0, 255)), "a.png", "has no layers to hide"),
        (openraster(STACK.replace("data/art.png", "data/gone.png")), "sea.ora", 'it holds no "data/gone.png"'),
        (openraster("<image/>"), "sea.ora", "lists no layers"),
        (openraster("<image"), "sea.ora", "is damaged"),
        (openraster(STACK.replace('w="40" h="60"', 'w="9000" h="9000"')), "sea.ora", "megapixels"),
        (openraster()[:300], "sea.ora", "is damaged"),
    ],
)
def test_what_cannot_be_is_one_line(data: bytes, name: str, said: str) -> None:
    with pytest.raises(InputError) as raised:
        decode(data, name, svg_dpi=25.4, hide=("guidez",) if " layer" in said else ())
    assert said in str(raised.value)
    assert "\n" not in str(raised.value)


def test_a_layer_that_blends_is_told_of() -> None:
    stack = STACK.replace('name="Art"', 'name="Art" composite-op="svg:multiply"')
    assert "svg:multiply" in decode(openraster(stack), "sea.ora").notes[0]


def test_a_layout_hides_layers_and_a_variant_shows_them() -> None:
    """Two decals of one file, one with all its layers: each is what it says."""
    text = '[box]\nsize = "112x60x31"\n'
    text += '[[decal]]\nart = "sea.svg"\nhide = ["paint"]\n[[decal]]\nart = "sea.svg"\nface = "near"\nwidth = 20\n'
    hidden, whole = api.loads(text, {"sea.svg": SVG}).decals
    assert (hidden.art.pixels[..., 3] == 0).any()
    assert np.all(whole.art.pixels[..., 3] == 255)
