"""The use case of mending a layout file: the least change that clears what stops or warns, and its new text."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from mockup import files
from mockup.arrange.least_concession import has_too_little_room, least_concession
from mockup.arrange.mending import Mending, mending
from mockup.arrange.told import refusal
from mockup.layout.edit.apply import apply
from mockup.layout_source import layout_source
from mockup.model.design import Design
from mockup.model.edit import Edit
from mockup.model.errors import Fault, InputError, nearest
from mockup.options import Progress, silent


@dataclass(frozen=True, kw_only=True, eq=False)
class MendedLayout:
    """A layout file's least change: `plain` by moves and turns alone, and `conceding` where those are not enough.

    Both are `mockup.arrange.mending.Mending`; `conceding` is None where nothing has to be given up, or nothing helps.
    """

    path: Path
    text: str
    plain: Mending
    conceding: Mending | None = None

    @property
    def is_stuck(self) -> bool:
        """Whether moves alone leave parts without the room that they need."""
        return has_too_little_room(self.plain.design)

    def chosen(self, *, concede: bool = False) -> Mending:
        """Return the change by moves alone, or with `concede` the one that gives something up, where there is one."""
        return self.conceding if concede and self.conceding is not None else self.plain

    def written(self, *, concede: bool = False) -> str:
        """Return the layout's text with the change made, the concession with `concede`."""
        return apply(self.text, self.chosen(concede=concede).edits, self.path.name)


def mend(
    path: str | Path,
    variant: str | None = None,
    printer: str | None = None,
    *,
    pinned: Iterable[str] = (),
    progress: Progress = silent,
) -> MendedLayout:
    """Return the least change of a layout file that clears every stop and warning, proven by the checks.

    `pinned` names parts that stay where they are. Nothing is written: `mockup.write_mended` does. Raises `InputError`
    with one `Fault` per mistake in the file.
    """
    source = layout_source(path, variant, printer)
    text = files.read_text(source.path)
    known = [part.name for part in source.drawn.parts]
    unknown = [name for name in pinned if name not in known]
    if unknown:
        raise InputError(
            Fault(file="--pin", what=f"there is no part {name!r}", remedy=nearest(name, known)) for name in unknown
        )

    def after(edits: Sequence[Edit]) -> Design:
        return source.changed(apply(text, edits, source.path.name))

    plain = mending(source.drawn, after, pinned=pinned, progress=progress)
    given = None
    if has_too_little_room(plain.design):
        given = least_concession(source.drawn, after, plain, pinned=pinned, progress=progress)
    return MendedLayout(path=source.path, text=text, plain=plain, conceding=given)


def write_mended(mended: MendedLayout, *, concede: bool = False) -> Path:
    """Write a layout file's least change into the file, the concession too with `concede`; return its path.

    Raises `InputError` for a change with which something stops or warns that did not before: that is no cure.
    """
    if (fault := refusal(mended, concede=concede)) is not None:
        raise InputError(fault)
    files.write_all({mended.path: mended.written(concede=concede).encode()})
    return mended.path
