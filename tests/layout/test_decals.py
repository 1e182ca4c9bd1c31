"""Keys of a decal that ask for what its process or its pictures cannot give."""

from __future__ import annotations

import io

import numpy as np
import pytest
from PIL import Image

from mockup import api
from mockup.decal.white_under import white_share
from mockup.model.errors import InputError


def picture(width: int, height: int, alpha: int = 0) -> bytes:
    out = io.BytesIO()
    Image.fromarray(np.full((height, width, 4), alpha, np.uint8)).save(out, "PNG", dpi=(50, 50))
    return out.getvalue()


ART = {
    "a.png": picture(40, 60), "shape.png": picture(20, 30), "wide.png": picture(60, 40), "all.png": picture(20, 30, 255)
}  # fmt: skip


def layout(keys: str) -> str:
    return f'[box]\nsize = "112x60x31"\n[[decal]]\nart = "a.png"\n{keys}\n'


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        ('white_under = "drawn"', "the process inkjet prints no white"),
        ('process = "white-toner"\nwhite_under = "gone.png"', "'gone.png' was not given in art"),
        ('process = "white-toner"\nwhite_under = "wide.png"', '"wide.png" is 1.50 times as wide as it is high'),
        ('process = "white-toner"\nwhite_under = "all.png"', "has nothing transparent"),
        ('process = "white-toner"\nwhite_under = "all"', 'expected "drawn" or "everything" or a picture'),
        ('process = "white-toner"\nwhite_under = 3', 'expected "drawn" or "everything" or a picture'),
        ('process = "white"', 'unknown name "white"'),
    ],
)
def test_white_that_cannot_be_printed_is_said(keys: str, said: str) -> None:
    with pytest.raises(InputError, match=said):
        api.loads(layout(keys), ART)


def test_a_shape_of_another_resolution_lies_under_the_art() -> None:
    (decal,) = api.loads(layout('process = "white-toner"\nwhite_under = "shape.png"'), ART).decals
    share = white_share(decal)
    assert share is not None
    assert share.shape == (60, 40)
