"""Text from outside, as it can be shown: names of files and folders, fields of tables, words in a layout."""

from __future__ import annotations

import os
import shlex
import sys
import unicodedata
from pathlib import PurePath

_HIDDEN = {"Cc", "Cs", "Zl", "Zp"}  # Unicode 15 table 4-4: controls, halves of pairs, ends of lines and paragraphs
_TURNING = frozenset("\u200e\u200f\u061c\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")  # Unicode annex 9
_NONE = frozenset("\ufffe\uffff")  # XML 1.0 2.2: no characters
MARK = "?"


def printable(text: str) -> str:
    """Return text with a question mark for each character that cannot be shown, or would upset what shows it.

    Those are controls (tabs and ends of lines among them), marks that turn the direction of writing, and what stands
    for a byte of a file's name that is no text.
    """
    if text.isprintable() and not _TURNING & set(text):
        return text
    return "".join(MARK if _is_hidden(each) else each for each in text)


def printable_lines(text: str) -> str:
    """Return text of several lines, each as `printable` returns it."""
    return "\n".join(printable(line) for line in text.split("\n"))


def in_shell(path: str | PurePath) -> str:
    """Return a path as it is typed in a shell: quoted where it has to be, and never taken for an option."""
    text = str(path)
    text = f".{os.sep}{text}" if text.startswith("-") else text
    if sys.platform == "win32":
        import subprocess  # needed here alone, and slow to load

        return subprocess.list2cmdline([text])
    return shlex.quote(text)


def _is_hidden(character: str) -> bool:
    return character in _TURNING or character in _NONE or unicodedata.category(character) in _HIDDEN
