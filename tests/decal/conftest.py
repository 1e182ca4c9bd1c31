"""Load the outside colour library once, quietly (it warns about plotting extras), and find the picture writer."""

from __future__ import annotations

import sys
import warnings
from importlib import resources
from pathlib import Path

import pytest

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    import colour  # noqa: F401

sys.path.append(str(Path(__file__).parent / "pictures"))  # for picture_files, which is no test


@pytest.fixture(scope="session")
def bold() -> bytes:
    """Return the bytes of a font file: capitals 1440 high in an em of 2000 units."""
    return (resources.files("font_manrope") / "files" / "Manrope-Bold.ttf").read_bytes()


sys.path.append(str(Path(__file__).parents[1] / "reference"))  # for spectra, which is no test
