"""Standard output shows nothing that upsets who reads it, whatever a command prints."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from mockup.cli import streams
from mockup.model.text import MARK, printable


def test_every_character_that_cannot_be_shown_is_a_mark_but_for_tabs_and_line_ends(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    hidden = [each for each in map(chr, range(sys.maxunicode + 1)) if printable(each) != each and each not in "\t\n"]
    assert {"\x1b", "\N{ARABIC LETTER MARK}", "\N{LINE SEPARATOR}"} <= set(hidden)
    with (tmp_path / "out").open("w", encoding="utf-8", newline="") as out:
        monkeypatch.setattr(sys, "stdout", out)
        streams.settle()
        sys.stdout.write(f"a\tb\n{''.join(hidden)}")
        sys.stdout.flush()
    assert (tmp_path / "out").read_text(encoding="utf-8") == f"a\tb\n{MARK * len(hidden)}"
