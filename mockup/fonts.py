"""The face of all lettering that the program sets itself: pages, pictures, the window, a new project's art."""

from __future__ import annotations

import functools
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from importlib import resources
from io import BytesIO
from pathlib import Path
from typing import Any

from mockup.memo import memoize

FAMILY = "Manrope"
MEDIUM, SEMIBOLD, BOLD = 500, 600, 700  # OpenType OS/2 usWeightClass
WEIGHTS = {False: MEDIUM, True: BOLD}
"""The weights of plain and bold lettering."""
_FILES = {MEDIUM: "Manrope-Medium.ttf", SEMIBOLD: "Manrope-SemiBold.ttf", BOLD: "Manrope-Bold.ttf"}
_EM = 1000  # pixels that an em is measured with


def data(*, is_bold: bool) -> bytes:
    """Return a font file."""
    return (resources.files("font_manrope") / "files" / _FILES[WEIGHTS[is_bold]]).read_bytes()


@contextmanager
def paths() -> Iterator[dict[bool, Path]]:
    """Give the font files, plain (False) and bold (True); they may be gone after the block."""
    with weights() as files:
        yield {is_bold: files[weight] for is_bold, weight in WEIGHTS.items()}


@contextmanager
def weights() -> Iterator[dict[int, Path]]:
    """Give the font files by weight: medium, semibold, bold; they may be gone after the block."""
    with ExitStack() as stack:
        folder = resources.files("font_manrope") / "files"
        yield {weight: stack.enter_context(resources.as_file(folder / name)) for weight, name in _FILES.items()}


def advance(text: str) -> float:
    """Return how far bold letters move the pen, in ems, without kerning; plain ones move it less."""
    return sum(map(_letter, text), 0.0)


@functools.cache  # a large sheet asks a million times: a digest for each would take longer than the answer
def _letter(letter: str) -> float:
    return float(_measured().getlength(letter)) / _EM


@memoize
def _measured() -> Any:
    from PIL import ImageFont  # here: needed only where lettering is measured

    return ImageFont.truetype(BytesIO(data(is_bold=True)), _EM, layout_engine=ImageFont.Layout.BASIC)
