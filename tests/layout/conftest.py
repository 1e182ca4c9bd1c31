"""A small layout and pictures without a file."""

from __future__ import annotations

from collections.abc import Callable
from importlib import resources

import numpy as np
import pytest

from mockup.decal.typeface import Typeface, read
from mockup.layout.parse import parse
from mockup.layout.resolve import assets, font_files, resolve
from mockup.model.design import Design
from mockup.model.errors import InputError
from mockup.model.finish import Artwork

BOX = '[box]\nsize = "112x60x31"\ndraft = 1\nlid = 1.8\nheight = 31\nedge = 1.5\n'


def blank(width_px: int, height_px: int, dpi: tuple[float, float] | None = None) -> Artwork:
    """Return a blank picture."""
    return Artwork(name="art.png", pixels=np.zeros((height_px, width_px, 4), np.uint8), dpi=dpi)


@pytest.fixture
def picture() -> Callable[..., Artwork]:
    """Return a function from pixels and dpi to a blank picture."""
    return blank


@pytest.fixture(scope="session")
def bold() -> Typeface:
    """Return a font whose capitals are 1440 high in an em of 2000 units."""
    return read((resources.files("font_manrope") / "files" / "Manrope-Bold.ttf").read_bytes(), "bold.ttf")


@pytest.fixture
def design(bold: Typeface) -> Callable[..., Design]:
    """Return a function from the text after the box table to a design; every font is the bold one."""

    def make(text: str, art: Artwork | None = None, variant: str | None = None, box: str = BOX) -> Design:
        layout = parse(box + text, "layout.toml")
        given = art if art is not None else blank(540, 1060)
        fonts = {name: bold for name in font_files(layout, variant) if name != "absent.ttf"}
        return resolve(layout, dict.fromkeys(assets(layout, variant), given), variant, fonts=fonts)

    return make


@pytest.fixture
def complaint(design: Callable[..., Design]) -> Callable[..., str]:
    """Return a function from text to the whole message that it is refused with."""

    def read(text: str, art: Artwork | None = None, variant: str | None = None, box: str = BOX) -> str:
        with pytest.raises(InputError) as caught:
            design(text, art=art, variant=variant, box=box)
        return str(caught.value)

    return read
