"""Pedals side by side for a script: the sheet as a picture or a file, and what differs as data."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path, PurePath
from typing import Any

from mockup.comparison import making
from mockup.comparison.columns import Column, Wanted, captions
from mockup.comparison.differences.change import Change
from mockup.comparison.differences.figures import Figures
from mockup.comparison.request import VIEWS_SHOWN, Options
from mockup.comparison.room import take as usual
from mockup.comparison.sheet.grid import LEAST, MOST
from mockup.comparison.sheet.pages import Compared
from mockup.model.design import Design
from mockup.model.errors import Fault, InputError
from mockup.model.picture import Picture
from mockup.options import Progress, silent
from mockup.picture.shots import Setting, Take


@dataclass(frozen=True, kw_only=True, eq=False)
class Comparison:
    """Pedals compared with the first of them; everything is known by their captions."""

    shown: Compared
    options: Options

    @property
    def captions(self) -> tuple[str, ...]:
        """What the pedals are called, in order."""
        return tuple(entry.label for entry in self.shown.entries)

    @property
    def differences(self) -> dict[str, tuple[Change, ...]]:
        """What differs from the first pedal, in the order a builder meets it; the first one's is empty."""
        return dict(zip(self.captions, self.shown.changes, strict=True))

    @property
    def figures(self) -> dict[str, Figures]:
        """Findings counted, inked area, and how each label reads."""
        return {entry.label: entry.figures for entry in self.shown.entries}

    @property
    def facts(self) -> dict[str, Any]:
        """Everything known, as plain lists, numbers and texts: what ``mockup compare --json`` prints."""
        return making.described(self.shown)

    @property
    def picture(self) -> Picture:
        """The sheet for a screen: pictures, captions, differences, figures."""
        return making.pictured(self.shown, self.options)

    def file(self, name: str | Path) -> bytes:
        """Return the sheet as the file that a name asks for: .png, .pdf or .html; nothing is written.

        Raises `InputError` for a name of another kind.
        """
        paper_mm = making.checked(Options(setting=self.options.setting, page=self.options.page, output=(str(name),)))
        return making.written(self.shown, PurePath(name), paper_mm, self.options)


def compare(
    designs: Mapping[str, Design] | Sequence[Design],
    view: str | Sequence[str] = VIEWS_SHOWN,
    *,
    size: tuple[int, int] | None = None,
    page: str = "a4",
    has_marks: bool = True,
    progress: Progress = silent,
    take: Take = usual,
    **setting: Any,
) -> Comparison:
    """Return 2 to 12 pedals side by side; the first is what the others are compared with.

    A mapping gives them captions; else they are called by what tells them apart. `view` names one view or
    several, `size` is the (width, height) in pixels of each picture, `page` the paper of a PDF; `setting` are
    the fields of `mockup.picture.shots.Setting`: light, background, look, quality, engine, seconds.
    Raises `InputError` for what does not exist, before anything is rendered.
    """
    columns = _columns(designs)
    if not LEAST <= len(columns) <= MOST:
        what = f"{len(columns)} pedal{'s' * (len(columns) != 1)} cannot stand side by side"
        raise InputError(Fault(file="compare", what=what, remedy=f"give {LEAST} to {MOST} designs"))
    views = (view,) if isinstance(view, str) else tuple(view)
    options = Options(view=views, size=size, page=page, has_marks=has_marks, setting=Setting(**setting))
    making.checked(options)
    steps = making.Steps(progress, 2 * len(columns))
    shown = making.compared(columns, options, steps, take)
    steps.end()
    return Comparison(shown=shown, options=options)


def _columns(designs: Mapping[str, Design] | Sequence[Design]) -> tuple[Column, ...]:
    if isinstance(designs, Mapping):
        return tuple(Column(label=label, design=design) for label, design in designs.items())
    places = [Wanted(path=Path(design.source), variant=design.variant) for design in designs]
    labels = captions(designs, places)
    return tuple(Column(label=label, design=design) for label, design in zip(labels, designs, strict=True))
