"""Text as it can be shown: from outside, such as names of files and words in a layout, and our own in a sentence."""

from __future__ import annotations

import os
import re
import shlex
import sys
from pathlib import PurePath

HIDDEN = (
    r"\0-\x1f\x7f-\x9f\ud800-\udfff\u2028\u2029"  # Unicode 15 table 4-4: controls, halves of pairs, ends of lines
    r"\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069"  # Unicode annex 9: marks that turn the direction of writing
    r"\ufffe\uffff"  # XML 1.0 2.2: no characters
)
"""What cannot be shown or would upset what shows it, as the inside of a regular expression's brackets."""
_HIDDEN = re.compile(f"[{HIDDEN}]")
MARK = "?"


def printable(text: str) -> str:
    """Return text with a question mark for each character that cannot be shown, or would upset what shows it.

    Those are controls (tabs and ends of lines among them), marks that turn the direction of writing, and what stands
    for a byte of a file's name that is no text.
    """
    return _HIDDEN.sub(MARK, text)


def printable_lines(text: str) -> str:
    """Return text of several lines, each as `printable` returns it."""
    return "\n".join(printable(line) for line in text.split("\n"))


def capitalized(text: str) -> str:
    """Return text as it stands at the beginning of a sentence; the rest of it is kept as it is."""
    return text[:1].upper() + text[1:]


def uncapitalized(text: str) -> str:
    """Return text as it stands inside a sentence; the rest of it is kept as it is."""
    return text[:1].lower() + text[1:]


def in_shell(path: str | PurePath) -> str:
    """Return a path as it is typed in a shell: quoted where it has to be, and never taken for an option."""
    text = str(path)
    text = f".{os.sep}{text}" if text.startswith("-") else text
    if sys.platform == "win32":
        import subprocess  # needed here alone, and slow to load

        return subprocess.list2cmdline([text])
    return shlex.quote(text)
