"""A word being written in its place on the pedal: what is typed goes into the layout with every key."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from mockup.layout.edit.undo import LayoutDocument
from mockup.model.edit import Edit, PutValue, RemoveTable, RemoveValue
from mockup.window.pointer.face_things import FaceThing

if TYPE_CHECKING:
    from mockup.window.desk import Desk


def step_of(way: tuple[str | int, ...]) -> str:
    """Return what makes the writing of one word one step of undo."""
    return f"write {way}"


class Writing:
    """Holds the word that has the caret; `text` is what stands there, which may be nothing while it is typed."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self.way: tuple[str | int, ...] | None = None
        self.text = ""
        self.caret = 0
        self.is_new = False
        self._before: LayoutDocument | None = None
        self._is_made = False

    @property
    def is_on(self) -> bool:
        """Whether a word has the caret."""
        return self.way is not None

    @property
    def thing(self) -> FaceThing | None:
        """The word that has the caret, as it lies."""
        found = self._desk.tools.lying.picked
        return found if found is not None and found.way == self.way else None

    def begin(self, way: tuple[str | int, ...], text: str, *, is_made: bool = False) -> None:
        """Put the caret behind a word; one that was only just made goes again where nothing is written."""
        self.end()
        self._desk.view.change(self._desk.view.state.picking(way))
        self.way, self.text, self.caret, self.is_new, self._is_made = way, text, len(text), True, is_made
        self._before = self._desk.work.document

    def type(self, text: str) -> None:
        """Take what now stands there; the pedal follows."""
        way, work = self.way, self._desk.work
        if way is None or text == self.text:
            return
        self.text = text
        if text.strip():
            edits = self._edits(text.strip())
            work.edit(
                lambda document, _scope: document.edited(f"write {text.strip()}", edits, merge=step_of(way)),
                is_step=False,
            )

    def end(self) -> None:
        """Take the caret away; a word with nothing in it goes."""
        way, self.way = self.way, None
        if way is None:
            return
        if not self.text.strip():
            self._desk.view.change(self._desk.view.state.picking())
            address = self._desk.tools.lying.changes.address(way)
            remove: Edit = RemoveTable(address=address)
            self._desk.work.edit(lambda document, _scope: document.edited("take off a word", (remove,)))
        self._desk.work.end_step()
        self._desk.widgets.focus.leave_panel()

    def cancel(self) -> None:
        """Put back what stood there before."""
        way, self.way = self.way, None
        if way is None:
            return
        if self._is_made and self._before is not None:
            self._desk.view.change(self._desk.view.state.picking())
            self._desk.work.take(self._before.undone())
        else:
            self._desk.work.take(self._before)
        self._desk.widgets.focus.leave_panel()

    def _edits(self, text: str) -> tuple[Edit, ...]:
        assert self.way is not None
        changes = self._desk.tools.lying.changes
        table: dict[str, Any] = changes.table(self.way)
        address = changes.address(self.way).inside("text")
        if text == table.get("part"):
            return (RemoveValue(address=address),)  # a part's own name is what its label says by itself
        return (PutValue(address=address, value=text),)
