"""The command ``mockup which``."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path

import click

from mockup.cli.command import AS_JSON, Lazy, json_flag
from mockup.cli.terminal import print_json, say

_ABOUT = """Say whether a page in hand is today's design, and if not, what has changed since.

CODE stands on every page as "design K7QM2X"; spaces and small letters do not matter. LAYOUT is a layout file or a
folder with one, here where none is named.

Exit status: 0 it is today's design, 1 it is not, 2 bad input."""


def _parameters() -> list[click.Parameter]:
    return [click.Argument(["words"], nargs=-1, required=True, metavar="CODE [LAYOUT]"), json_flag("what it shows")]


def _run(words: tuple[str, ...], **given: bool) -> None:
    from mockup.comparison.page_origin import which

    *code, last = words
    is_layout = bool(code) and (Path(last).exists() or "." in last or "/" in last)
    found = which(" ".join(code) if is_layout else " ".join(words), last if is_layout else ".")
    if given[AS_JSON]:
        print_json(asdict(found) | {"is_today": found.is_today})
    else:
        for line in found.lines:
            say(line)
    click.get_current_context().exit(0 if found.is_today else 1)


which = Lazy("which", _ABOUT, _run, _parameters)
