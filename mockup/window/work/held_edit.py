"""A change that is being made live, such as a dragged number: tried again and again, one step of undo in the end."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mockup.layout.edit.undo import LayoutDocument

if TYPE_CHECKING:
    from mockup.window.work.workbench import Workbench


class HeldEdit:
    """Holds the layout as it was before, None while nothing is held; edits made meanwhile are made on that."""

    def __init__(self, work: Workbench) -> None:
        self._work = work
        self._is_held = False
        self.before: LayoutDocument | None = None

    def hold(self) -> None:
        """Make the edits of this frame, and of those before in which this was called, one: the last of them counts."""
        if self.before is None and self._work.document is not None:
            self.before = self._work.document.closed()
        self._is_held = True

    def end_frame(self) -> None:
        """Let go of what was not held in this frame."""
        if not self._is_held:
            self.let_go()
        self._is_held = False

    def let_go(self) -> None:
        """Keep what is held as it is now, as a step of its own."""
        if self.before is not None:
            self.before = None
            self._work.end_step()

    def put_back(self) -> bool:
        """Take back what is held; False where nothing was changed."""
        before, now = self.before, self._work.document
        self.before = None
        if before is None or now is None or before.text == now.text:
            return False
        self._work.take(before)
        return True
