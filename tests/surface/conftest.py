"""Load the outside colour library once, quietly: it warns about plotting extras that nobody asked for."""

from __future__ import annotations

import warnings
from importlib import resources

import pytest

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    import colour  # noqa: F401


@pytest.fixture(scope="session")
def bold() -> bytes:
    """Return the bytes of a font file: capitals 1440 high in an em of 2000 units."""
    return (resources.files("font_manrope") / "files" / "Manrope-Bold.ttf").read_bytes()
