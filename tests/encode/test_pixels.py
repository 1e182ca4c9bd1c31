"""A page drawn as pixels."""

from __future__ import annotations

from scipy import ndimage

from mockup.encode.pixels import layer
from mockup.model.sheet import Page, Text


def test_two_hyphens_of_an_option_stay_two() -> None:
    """The font joins them to one dash, as no option begins: drawn alone they are two separate strokes."""
    page = Page(width_mm=20.0, height_mm=10.0, marks=(Text(x_mm=2.0, y_mm=8.0, text="--", size_mm=8.0),))
    _, count = ndimage.label(layer(page, 10.0)[..., 3] > 128)
    assert count == 2
