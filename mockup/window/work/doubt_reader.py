"""Which colours of a pedal's art are most in doubt over its paint, worked out beside the window."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from mockup.model.design import Design
from mockup.model.errors import MockupError
from mockup.window.work.newest_job import NewestJobThread

if TYPE_CHECKING:
    from mockup.outputs.pages.doubt_rows import Doubt

_REST_S = 0.4  # a pedal stays as it is for so long before its colours are worked out: by eye


class DoubtReader:
    """Reads the colours of the newest pedal on a thread of its own; `post` has a call made on the window's thread."""

    def __init__(self, post: Callable[[Callable[[], None]], None]) -> None:
        self._post = post
        self._asked: Design | None = None
        self._read: tuple[Design, tuple[Doubt, ...]] | None = None
        self._jobs: NewestJobThread[Design] = NewestJobThread(self._work, "doubts")

    def worst(self, design: Design, decal: int) -> tuple[Doubt, ...] | None:
        """Return the colours of a decal that are most in doubt, the worst first, as they were read last.

        None while nothing is known of its picture; a pedal that is new is read meanwhile.
        """
        from mockup.outputs.pages.doubt_rows import most_doubtful

        if design is not self._asked:
            self._asked = design
            self._jobs.request(design)
        if self._read is None:
            return None
        of, rows = self._read
        if decal >= len(of.decals) or of.decals[decal].art.name != design.decals[decal].art.name:
            return None
        return most_doubtful([row for row in rows if row.decal == decal])

    def close(self) -> None:
        """End the thread."""
        self._jobs.close()

    def _work(self, design: Design) -> None:
        from mockup.outputs.pages.doubt_rows import doubts

        if self._jobs.wait(_REST_S):
            return
        try:
            rows = doubts(design)
        except MockupError:  # the checks say what is wrong with the art
            rows = ()
        self._post(lambda: self._take(design, rows))

    def _take(self, design: Design, rows: tuple[Doubt, ...]) -> None:
        self._read = design, rows
