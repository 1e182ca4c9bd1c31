"""A layout being edited: as it stands on disk, what was changed since, and what of that can be undone.

A document is never altered: every verb returns a new one. With a variant open a value that the variant's own table
gives is changed there, any other in the layout itself, for all variants; `is_own` keeps the change to this variant by
adding the key to its table.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any, Self

from mockup.layout.edit.apply import apply
from mockup.layout.edit.merge import Difference, Prefer, differences, merged
from mockup.layout.edit.variants import home
from mockup.layout.toml import read_toml
from mockup.memo import memoize
from mockup.model.edit import Address, Edit, PutValue, Step, Value
from mockup.model.errors import Fault, InputError

BOM = b"\xef\xbb\xbf"  # UTF-8 byte order mark: Unicode 23.8


_tables = memoize(read_toml)


@dataclass(frozen=True, kw_only=True)
class UndoStep:
    """One step of undo: its title, its edits and the text after them. Steps with one `merge` become one."""

    title: str
    text: str
    edits: tuple[Edit, ...] = ()
    merge: str = ""


@dataclass(frozen=True, kw_only=True)
class LayoutDocument:
    """A layout file being edited.

    `source` is the file's name as the user knows it; `base` the text that `steps` were made on, of which
    the first `done` count (the others can be redone); `disk` is what the file holds as far as is known.
    All texts are without a byte order mark, line ends as they are in the file.
    """

    source: str
    base: str
    disk: str
    has_bom: bool = False
    steps: tuple[UndoStep, ...] = ()
    done: int = 0
    is_closed: bool = False

    @classmethod
    def opened(cls, data: bytes, source: str) -> LayoutDocument:
        """Return the document of a file's bytes; `InputError` where they are no UTF-8."""
        has_bom = data.startswith(BOM)
        try:
            text = data.removeprefix(BOM).decode("utf-8")
        except UnicodeDecodeError:
            what = "is not UTF-8 text"
            raise InputError(Fault(file=source, what=what, remedy="save it again as UTF-8")) from None
        return cls(source=source, base=text, disk=text, has_bom=has_bom)

    @property
    def text(self) -> str:
        """The text with every change in it: what is shown, and what saving writes."""
        return self.steps[self.done - 1].text if self.done else self.base

    @property
    def data(self) -> bytes:
        """The bytes that saving writes."""
        return (BOM if self.has_bom else b"") + self.text.encode()

    @property
    def is_changed(self) -> bool:
        """True where there is something to save."""
        return self.text != self.disk

    @property
    def undoes(self) -> str | None:
        """The title of the step that `undone` takes back, None for none."""
        return self.steps[self.done - 1].title if self.done else None

    @property
    def redoes(self) -> str | None:
        """The title of the step that `redone` makes again, None for none."""
        return self.steps[self.done].title if self.done < len(self.steps) else None

    @property
    def raw(self) -> dict[str, Any]:
        """The edited text as TOML reads it; `InputError` where it is none."""
        return _tables(self.text, self.source)

    @property
    def unsaved(self) -> tuple[Difference, ...]:
        """What saving would change; comments and ways of writing are not counted."""
        return differences(self.disk, self.text, self.source)

    def undone(self) -> Self:
        """Return the document without its last step; as it is where there is none."""
        return replace(self, done=max(self.done - 1, 0), is_closed=True)

    def redone(self) -> Self:
        """Return the document with the step that was last undone; as it is where there is none."""
        return replace(self, done=min(self.done + 1, len(self.steps)), is_closed=True)

    def closed(self) -> Self:
        """Return the document whose next change becomes a step of its own, whatever it is."""
        return replace(self, is_closed=True)

    def reverted(self) -> Self:
        """Return the document as it is on disk, without any change."""
        return replace(self, base=self.disk, steps=(), done=0)

    def saved(self) -> Self:
        """Return the document after its bytes were written."""
        return replace(self, disk=self.text, is_closed=True)

    def onto(self, text: str, *, prefer: Prefer | None = None) -> LayoutDocument:
        """Return the document with what is unsaved put onto a new text of the file on disk, as one step.

        Conflicts are treated as `merge.merged` treats them. Steps before the last save can no longer be undone.
        """
        fresh = LayoutDocument(source=self.source, base=text, disk=text, has_bom=self.has_bom)
        return fresh.restored(self.disk, self.text, prefer=prefer)

    def restored(self, before: str, mine: str, *, prefer: Prefer | None = None) -> LayoutDocument:
        """Return the document with what `mine` says otherwise than `before` put in as one step.

        Conflicts are treated as `merge.merged` treats them.
        """
        text = merged(before, mine, self.text, self.source, prefer=prefer)
        return self._with(UndoStep(title="take up the changes from before", text=text))

    def edited(self, title: str, edits: Sequence[Edit], *, merge: str = "") -> LayoutDocument:
        """Return the document with edits made as one step of undo; as it is where they change nothing.

        Steps that follow each other with the same `merge` become one. Raises `InputError` as `apply` does.
        """
        last = self.steps[self.done - 1] if self.done else None
        before, made = self, tuple(edits)
        if last is not None and merge and last.merge == merge and not self.is_closed:
            before, made = replace(self, done=self.done - 1), _joined((*last.edits, *edits))
        text = apply(before.text, made, self.source)
        return self._with(UndoStep(title=title, text=text, edits=made, merge=merge), done=before.done)

    def _with(self, step: UndoStep, *, done: int | None = None) -> LayoutDocument:
        """Return the document with one more step behind the first `done`; as it is where the text stays the same."""
        if step.text == self.text:
            return self
        kept = self.steps[: self.done if done is None else done]
        return replace(self, steps=(*kept, step), done=len(kept) + 1, is_closed=False)

    def put(
        self, way: tuple[Step, ...], value: Value, title: str, *, variant: str | None = None, is_own: bool = False
    ) -> LayoutDocument:
        """Return the document with a value put where the open variant takes it from; with `is_own` in the variant.

        Values put at the same place one after the other become one step.
        """
        address = Address(way=way, variant=variant)
        edit = PutValue(address=home(self.raw, address, is_own=is_own), value=value)
        return self.edited(title, [edit], merge=" ".join(map(str, way)))


def _joined(edits: Sequence[Edit]) -> tuple[Edit, ...]:
    """Return edits with only the last of several values for one address, where all of them put values."""
    if not all(isinstance(each, PutValue) for each in edits):
        return tuple(edits)
    return tuple({each.address: each for each in edits if isinstance(each, PutValue)}.values())
