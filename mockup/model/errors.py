"""The one error family. Whatever a user can put right is one of these, in one line each.

::

    MockupError
    |- InputError     something the user wrote or named is wrong; carries one Fault per mistake
    |- EngineError    no render engine, or the one asked for cannot run here
    `- OutputError    a result could not be written
"""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from dataclasses import dataclass

from mockup.model.text import printable

MOST_LINES = 10  # of mistakes said one by one: what still fits on a screen. Our choice
LONGEST_LINE = 300  # characters of one that is said: three lines of a usual terminal. Our choice
_LONGEST_PLACE = 80  # of them for each of file, table and key, so that what is wrong has room too
LONGEST_LIST, FEW_NAMES = 250, 6  # signs of names that a remedy lists; of more, so many of the closest: our choice
DEBUG = "MOCKUP_DEBUG"
"""The environment variable under which it is also shown where in the program something went wrong."""


@dataclass(frozen=True, kw_only=True)
class Fault:
    """One mistake: where it is, what it is, and what to do about it.

    `file` is the file's name as the user knows it, `table` the TOML table (for example
    ``[[part]] "TONE"``), `key` the key inside it; either may be empty. `what` is one sentence
    that says what was found and what was expected; `remedy` one that says what to do.
    """

    file: str
    what: str
    table: str = ""
    key: str = ""
    remedy: str = ""

    def __str__(self) -> str:
        file, table, key = (shortened(part, _LONGEST_PLACE) for part in (self.file, self.table, self.key))
        place = " ".join(part for part in (f"{file}:", table, key and f"{key}:") if part)
        text = f"{place} {self.what}" + (f"; {self.remedy}" if self.remedy else "")
        return shortened(printable(" ".join(text.split())))


class MockupError(Exception):
    """Base of every error that a user can put right.

    `typed` is what to do about it on a command line, in words that no other door has; "" where all is said.
    """

    typed: str = ""

    @property
    def lines(self) -> tuple[str, ...]:
        """What to show of it, a line for each mistake: the first ones, and how many more there are."""
        every = str(self).splitlines()
        shown = tuple(shortened(line) for line in every[:MOST_LINES])
        return shown if len(every) == len(shown) else (*shown, f"and {len(every) - len(shown)} more")


class InputError(MockupError):
    """What the user gave is wrong; `faults` holds every mistake found, in file order."""

    def __init__(self, faults: Iterable[Fault] | Fault) -> None:
        self.faults: tuple[Fault, ...] = (faults,) if isinstance(faults, Fault) else tuple(faults)
        super().__init__("\n".join(str(fault) for fault in self.faults))

    def __reduce__(self) -> tuple[type[InputError], tuple[tuple[Fault, ...]]]:
        """Return how another process makes it again."""
        return type(self), (self.faults,)


class EngineError(MockupError):
    """A picture cannot be rendered on this machine in the way that was asked for."""


class OutputError(MockupError):
    """A result could not be written; nothing half-written is left behind."""

    def __init__(self, what: str, *, typed: str = "") -> None:
        self.typed = typed
        super().__init__(what)


def reason(error: OSError) -> str:
    """Return what the system says against a file, as the middle of a sentence."""
    return (error.strerror or str(error)).lower()


def shortened(line: str, most: int = LONGEST_LINE) -> str:
    """Return a line that can still be read: a long one without its middle, since what to do stands at the end."""
    if len(line) <= most:
        return line
    end = most // 3
    return f"{line[: most - end - 5]} ... {line[-end:]}"


def refused(name: str, error: ValueError) -> InputError:
    """Return a plain sentence about a file as its error: what is wrong, and behind a semicolon what to do."""
    what, _, remedy = str(error).partition("; ")
    return InputError(Fault(file=name, what=what, remedy=remedy))


def nearest(name: str, known: Iterable[str], listed_by: str = "") -> str:
    """Return a remedy that suggests the known name closest to `name`, or lists them all; of very many the closest few.

    `listed_by` is the command that lists them all.

    The comparison ignores case, hyphens, underscores and spaces.
    """
    plain = {_plain(each): each for each in known}
    close = difflib.get_close_matches(_plain(name), plain, n=1, cutoff=0.6)
    if close:
        return f"did you mean {plain[close[0]]!r}?"
    if len(", ".join(plain)) > LONGEST_LIST:
        few = difflib.get_close_matches(_plain(name), plain, n=FEW_NAMES, cutoff=0.0)
        told = f"use one of {len(plain)}, such as " + ", ".join(sorted(plain[each] for each in few))
        return f"{told}; {listed_by} lists them" if listed_by else told
    return "use one of: " + ", ".join(sorted(plain.values()))


def _plain(name: str) -> str:
    return name.casefold().replace("-", "").replace("_", "").replace(" ", "")
