"""Options of an output: one dataclass field is one command-line flag and one keyword argument."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any, Literal

from mockup.model.errors import Fault, InputError

Progress = Callable[[int, int, str], None]
"""Called with (done, total, what is being done)."""

MAX_SIDE_PX = 8192  # what common GL drivers render in one piece; keeps memory bounded
MIN_SIDE_PX = 16


def silent(_done: int, _total: int, _what: str) -> None:
    """Report no progress."""


@dataclass(frozen=True, kw_only=True)
class Result:
    """What an output made: file path (as text) to bytes, facts for people and programs, notes.

    `files` are in order of interest: the first one is the main one.
    """

    files: dict[str, bytes]
    facts: dict[str, Any]
    notes: tuple[str, ...] = ()


def option(
    default: Any,
    help: str,
    *,
    choices: Callable[[], tuple[str, ...]] | tuple[str, ...] | None = None,
    parse: Callable[[str], Any] | None = None,
    short: str | None = None,
    reads: Literal["layout", "file", "day"] | None = None,
    suffixes: tuple[str, ...] = (),
) -> Any:
    """Return a dataclass field that carries what a command line needs to know of it.

    `choices` may be a function, asked only when needed, so that listing costs no import. `parse`
    turns text into the value and raises `ValueError` with one plain sentence. `reads` says that the command
    line names a file: the value is then the design of that layout, or the file's name and bytes; "day" that
    it gives today's date where nothing else is given, for outputs themselves look at no clock. `suffixes` are the kinds
    of file that may be written, the usual one first. A field whose name
    is a word of the language ends in an underscore, which the flag leaves out.
    """
    told = {"help": help, "choices": choices, "parse": parse, "short": short, "reads": reads, "suffixes": suffixes}
    return field(default=default, metadata=told)


def parse_size(text: str) -> tuple[int, int]:
    """Return (width, height) in pixels from text such as ``1600x1200``."""
    match = re.fullmatch(r"\s*(\d+)\s*[x×*]\s*(\d+)\s*", text)
    if match is None:
        raise ValueError(f'{text!r} is not a size; write width x height in pixels, for example "1600x1200"')
    width, height = int(match[1]), int(match[2])
    if not all(MIN_SIDE_PX <= side <= MAX_SIDE_PX for side in (width, height)):
        raise ValueError(f"{width}x{height} is out of range; each side may be {MIN_SIDE_PX} to {MAX_SIDE_PX} pixels")
    return width, height


def bad_option(name: str, what: str, remedy: str = "") -> InputError:
    """Return the error of a wrong option value, named as the command line names it."""
    return InputError(Fault(file=f"--{name.rstrip('_').replace('_', '-')}", what=what, remedy=remedy))


def file_stem(name: str) -> str:
    """Return a pedal's name as a file name that every system takes: lower case, hyphens."""
    return re.sub(r"[^a-z0-9]+", "-", name.casefold()).strip("-") or "pedal"
