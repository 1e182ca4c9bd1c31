"""A picture file is of the kind that its name asks for, told by the first bytes that its standard gives it."""

from __future__ import annotations

import io
from dataclasses import fields

import numpy as np
import pytest
from PIL import Image

from mockup.comparison.options import CompareOptions
from mockup.comparison.sweep.options import SweepOptions
from mockup.encode.picture_file import picture_file
from mockup.model.errors import InputError
from mockup.options import option_fields, require_ending
from mockup.outputs import doubt, guide, sheet, still

PIXELS = np.zeros((20, 30, 4), np.uint8)
PIXELS[:, :15] = (200, 40, 40, 255)


@pytest.mark.parametrize(("name", "kind"), [("a.png", "PNG"), ("a.jpg", "JPEG"), ("A.JPEG", "JPEG"), ("a", "PNG")])
def test_the_name_says_the_kind(name: str, kind: str) -> None:
    """Read back by a library of others: size, resolution, and what is clear lies over white in a JPEG."""
    with Image.open(io.BytesIO(picture_file(name, PIXELS, dpi=300.0, text={"Title": "é"}))) as found:
        assert (found.format, found.size) == (kind, (30, 20))
        assert found.info["dpi"] == pytest.approx((300, 300), abs=0.01)
        if kind == "JPEG":
            assert found.info["comment"].decode() == "Title: é"
            assert found.convert("RGB").getpixel((25, 10)) == (255, 255, 255)
            assert np.abs(np.array(found.convert("RGB").getpixel((5, 10))) - (200, 40, 40)).max() <= 4
        else:
            assert found.getpixel((25, 10)) == (0, 0, 0, 0)


def test_more_pixels_than_a_jpeg_can_have_are_one_line() -> None:
    """Its frame header has 16 bits for a side (ISO/IEC 10918-1 B.2.2)."""
    long = np.zeros((65536, 1, 3), np.uint8)
    assert picture_file("a.png", long)
    with pytest.raises(InputError, match=r"^--output: a picture of 1 x 65536 pixels is too large for a JPEG; end"):
        picture_file("a.jpg", long)


def test_jpeg_works_wherever_png_does_but_where_it_would_harm() -> None:
    """A guide is clear, a decal sheet prints pixel for pixel; each says why a JPEG is none."""
    for output in (still, doubt, guide, sheet):
        (suffixes,) = (each.suffixes for each in option_fields(output.Options) if each.name == "output")
        assert (".jpg" in suffixes) == (".jpeg" in suffixes) == (output in (still, doubt))
        assert ".png" in suffixes
    for request in (CompareOptions, SweepOptions):
        assert "output" in {each.name for each in fields(request)}
        assert request(output=("a.jpg", "b.JPEG", "c.png")).output
    with pytest.raises(
        InputError, match=r"^--output: 'a\.jpg' has an unknown ending; end the name in \.png: it is clear$"
    ):
        require_ending("a.jpg", (".png",), no_jpeg="it is clear")
    with pytest.raises(InputError, match=r"end the name in \.png$"):
        require_ending("a.gif", (".png",), no_jpeg="it is clear")
