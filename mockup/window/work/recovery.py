"""Unsaved changes kept safe from a crash, and the projects opened last."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from mockup import files
from mockup.layout.edit.merge import Difference, Prefer, differences
from mockup.layout.edit.undo import LayoutDocument
from mockup.model.errors import InputError, MockupError
from mockup.window.work.newest_job import NewestJobThread

MOST_RECENT = 12
_FORMAT = 2


@dataclass(frozen=True, kw_only=True)
class Unsaved:
    """Changes that were never saved: what the file held when they were made, the text with them, and when that was."""

    layout: Path
    before: str
    text: str
    at: datetime

    @property
    def changes(self) -> tuple[Difference, ...]:
        """What the changes are."""
        return differences(self.before, self.text, self.layout.name)

    def onto(self, document: LayoutDocument, *, prefer: Prefer | None = None) -> LayoutDocument:
        """Return a document just opened with the changes in it again, as one step that can be undone.

        `prefer` decides where the file was changed meanwhile; where it does not, raises `ClashError` with one fault
        per conflict.
        """
        return document.restored(self.before, self.text, prefer=prefer)


def keep(layout: Path, document: LayoutDocument) -> None:
    """Keep what is unsaved of a document, or remove what was kept where nothing is; `OutputError` if it cannot be."""
    if not document.is_changed:
        drop(layout)
        return
    table = {"format": _FORMAT, "layout": str(layout.resolve()), "before": document.disk, "text": document.text}
    files.write_all({_file(layout): (json.dumps(table, indent=1) + "\n").encode()})


def offered(layout: Path) -> Unsaved | None:
    """Return the unsaved changes that were kept of a layout, None where there are none that can be read."""
    text = files.read_state(_file(layout))
    try:
        table = json.loads(text) if text is not None else None
        if table is None or table["format"] != _FORMAT:
            return None
        before, now = table["before"], table["text"]
        if not isinstance(before, str) or not isinstance(now, str):
            return None
        at = datetime.fromtimestamp(_file(layout).stat().st_mtime)
        kept = Unsaved(layout=layout, before=before, text=now, at=at)
        return kept if kept.changes else None
    except (ValueError, KeyError, TypeError, RecursionError, InputError, OSError):
        return None


def drop(layout: Path) -> None:
    """Forget what was kept of a layout: it was saved, or thrown away."""
    files.forget(_file(layout))


class Keeper:
    """Keeps unsaved changes on a thread of its own, a moment after each.

    What cannot be kept is told once, and "" when it can be kept again.
    """

    def __init__(self, told: Callable[[str], None] | None = None, *, after_s: float = 0.25) -> None:
        self._told = told
        self._after_s = after_s
        self._has_told = False
        self.jobs: NewestJobThread[tuple[Path, LayoutDocument]] = NewestJobThread(self._work, "unsaved changes")

    def changed(self, layout: Path, document: LayoutDocument) -> None:
        """Keep a document's changes soon; only the newest counts. Never waits."""
        self.jobs.request((layout, document))

    def close(self) -> None:
        """Keep what waits, then end the thread."""
        self._after_s = 0.0
        self.jobs.idle(5.0)
        self.jobs.close()

    def _work(self, job: tuple[Path, LayoutDocument]) -> None:
        if self._after_s and self.jobs.wait(self._after_s):
            return
        try:
            keep(*job)
        except MockupError as error:
            if self._told is not None and not self._has_told:
                self._has_told = True
                self._told(f"Unsaved changes cannot be kept for a crash: {error}")
            return
        if self._has_told and self._told is not None:
            self._has_told = False
            self._told("")


def recent() -> tuple[Path, ...]:
    """Return the layouts opened last, newest first, those that still exist."""
    text = files.read_state(files.recent_file())
    try:
        listed = json.loads(text)["layouts"] if text is not None else []
        found = [Path(each) for each in listed if isinstance(each, str)]
    except (ValueError, KeyError, TypeError, RecursionError):
        return ()
    return tuple(path for path in found if path.is_file())[:MOST_RECENT]


def remember(layout: Path) -> None:
    """Put a layout at the head of the recent ones; raises `OutputError` where that cannot be kept."""
    first = layout.resolve()
    listed = [first, *(path for path in recent() if path != first)][:MOST_RECENT]
    text = json.dumps({"layouts": [str(path) for path in listed]}, indent=1) + "\n"
    files.write_all({files.recent_file(): text.encode()})


def _file(layout: Path) -> Path:
    key = hashlib.blake2b(str(layout.resolve()).encode("utf-8", "surrogateescape"), digest_size=12).hexdigest()
    return files.unsaved_file(key)
