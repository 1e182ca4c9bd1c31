"""What lies on the bench: the pedals opened last, and the finished ones that come with the program."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from mockup import files
from mockup.model.errors import InputError
from mockup.window.shelf.subjects import PedalSubject, Thumbnail
from mockup.window.shell.days import day_words
from mockup.window.work import recovery
from mockup.window.work.new_project import pedal_name
from mockup.window.work.project import Project


@dataclass(frozen=True, kw_only=True)
class BenchPedal:
    """A pedal that can be opened; `day` says in words when it was worked on, "" for a finished one."""

    layout: Path
    name: str
    print: Thumbnail | None
    day: str = ""
    is_unsaved: bool = False


def recent_pedals(now: datetime) -> tuple[BenchPedal, ...]:
    """Return the pedals opened last, newest first; one with changes that were never saved shows them."""
    return tuple(_recent(layout, now) for layout in recovery.recent())


def finished_pedals() -> tuple[BenchPedal, ...]:
    """Return the examples by name."""
    found = (
        BenchPedal(layout=layout, name=pedal_name(layout), print=_print(layout, None))
        for layout in files.example_layouts()
    )
    return tuple(sorted(found, key=lambda pedal: pedal.name.casefold()))


def _recent(layout: Path, now: datetime) -> BenchPedal:
    unsaved = recovery.offered(layout)
    changed = datetime.fromtimestamp(layout.stat().st_mtime)
    return BenchPedal(
        layout=layout,
        name=pedal_name(layout),
        print=_print(layout, unsaved.text if unsaved is not None else None),
        day=day_words(changed, now.date()),
        is_unsaved=unsaved is not None,
    )


def _print(layout: Path, text: str | None) -> Thumbnail | None:
    try:
        text = files.read_text(layout) if text is None else text
    except InputError:
        return None
    return Thumbnail(subject=PedalSubject(project=Project(layout=layout), text=text))
