"""What the commands say: progress, notes, what was made."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from mockup.cli.streams import is_shown
from mockup.model.errors import shortened
from mockup.model.text import printable


@contextmanager
def progress_bar() -> Iterator[Callable[[int, int, str], None]]:
    """Show a progress bar on standard error while it is a terminal; silent otherwise."""
    if not sys.stderr.isatty():
        yield lambda _done, _total, _what: None
        return
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeElapsedColumn

    columns = (TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), TimeElapsedColumn())
    with Progress(*columns, console=Console(stderr=True), transient=True) as bars:
        task = bars.add_task("", total=None)
        yield lambda done, total, what: bars.update(task, completed=done, total=total, description=what)


def say(text: str, *, is_aside: bool = False) -> None:
    """Print a line that may hold names from outside, on standard error where it `is_aside`."""
    print(printable(text), file=sys.stderr if is_aside else sys.stdout)


def print_json(told: Any) -> None:
    """Print facts as JSON; characters that would not arrive as they are, as JSON escapes them."""
    text = json.dumps(told, indent=2, ensure_ascii=False)
    print(text if is_shown(text) else json.dumps(told, indent=2))


def tell(notes: tuple[str, ...]) -> None:
    """Print notes that the user should read once, on standard error."""
    for note in notes:
        say(f"note: {shortened(note)}", is_aside=True)


def report(paths: list[str], facts: dict[str, Any], is_json: bool) -> None:
    """Print the files that were made, one a line (frames as their folder), or all facts as JSON."""
    if is_json:
        print_json(facts)
        return
    frames = [path for path in paths if "-frames" in path]
    for path in paths:
        if path not in frames:
            say(path)
    if frames:
        say(f"{Path(frames[0]).parent} ({len(frames)} frames)")
