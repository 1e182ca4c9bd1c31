"""The face that pages are lettered in, as font files."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from importlib import resources
from pathlib import Path

FAMILY = "Manrope"
_FILES = {False: "Manrope-Medium.ttf", True: "Manrope-Bold.ttf"}
WEIGHTS = {False: 500, True: 700}  # of those files: OpenType OS/2 usWeightClass


def bold() -> bytes:
    """Return the bold font file."""
    return (resources.files("font_manrope") / "files" / _FILES[True]).read_bytes()


@contextmanager
def font_files() -> Iterator[dict[bool, Path]]:
    """Give the font files, plain (False) and bold (True); they may be gone after the block."""
    with ExitStack() as stack:
        folder = resources.files("font_manrope") / "files"
        yield {is_bold: stack.enter_context(resources.as_file(folder / name)) for is_bold, name in _FILES.items()}
