"""A comparison as files: one sheet as PNG, PDF or a page for a browser, and an animated file."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path, PurePath
from typing import Any

from mockup import __version__
from mockup.checks.report.rows import data
from mockup.checks.report.sentences import named
from mockup.comparison.columns import Column
from mockup.comparison.differences.change import Change
from mockup.comparison.differences.designs import differences
from mockup.comparison.differences.figures import Figures
from mockup.comparison.differences.items import items
from mockup.comparison.entries import entries
from mockup.comparison.options import CompareOptions
from mockup.comparison.sheet import pages, turntable, web_page
from mockup.comparison.sheet.pages import Compared
from mockup.comparison.sheet.tables import letter
from mockup.comparison.sights import PX_PER_MM, SCREEN, across, sights
from mockup.encode.pdf import pdf
from mockup.encode.picture_file import picture_file
from mockup.encode.pixels import pixels
from mockup.model.picture import Picture
from mockup.options import PICTURES, Progress, Result, silent
from mockup.outputs.pages.paper_sizes import page_size
from mockup.picture import open_engine
from mockup.picture.options import PictureRequest
from mockup.picture.shots import Take

_PAPER = pages.style(text_mm=2.7, margin_mm=10.0)


@dataclass(frozen=True, kw_only=True, eq=False)
class Comparison(Result):
    """Pedals compared with the first of them; everything is known by their captions.

    `shown` is None where nothing but an animated file was asked for.
    """

    shown: Compared | None
    options: CompareOptions

    @property
    def captions(self) -> tuple[str, ...]:
        """What the pedals are called, in order."""
        return tuple(entry.label for entry in self._shown.entries)

    @property
    def differences(self) -> dict[str, tuple[Change, ...]]:
        """What differs from the first pedal, in the order a builder meets it; the first one's is empty."""
        return dict(zip(self.captions, self._shown.changes, strict=True))

    @property
    def figures(self) -> dict[str, Figures]:
        """Findings counted, inked area, and how each label reads."""
        return {entry.label: entry.figures for entry in self._shown.entries}

    @property
    def picture(self) -> Picture:
        """The sheet for a screen: pictures, captions, differences, figures."""
        return pictured(self._shown, self.options)

    def file(self, name: str | Path) -> bytes:
        """Return the sheet as the file that a name asks for: .png, .pdf or .html; nothing is written.

        Raises `InputError` for a name of another kind.
        """
        return written(self._shown, PurePath(name), replace(self.options, output=(str(name),)))

    @property
    def _shown(self) -> Compared:
        if self.shown is None:
            raise ValueError("only an animated file was asked for; leave turntable out, or name an output too")
        return self.shown


def make(
    columns: Sequence[Column], options: CompareOptions, progress: Progress = silent, take: Take = open_engine.take
) -> Comparison:
    """Return a comparison with the files that were asked for; the first column is what the others are compared with."""
    is_shown = bool(options.output) or options.turntable is None
    steps = ProgressSteps(progress, len(columns) * (2 * is_shown + bool(options.turntable)) + len(options.output))
    shown = compared(columns, options, steps, take) if is_shown else None
    files: dict[str, bytes] = {}
    notes: list[str] = []
    facts: dict[str, Any] = {}
    if shown is not None:
        facts, notes = described(shown), list(shown.notes)
        for name in options.output:
            steps(f"write {PurePath(name).name}")
            files[name] = written(shown, PurePath(name), options)
    if options.turntable:
        files[options.turntable], said = turntable.turning(columns, options, steps, take)
        notes += said
    steps.end()
    return Comparison(
        files=files,
        facts={"files": list(files)} | facts,
        notes=tuple(dict.fromkeys(notes)),
        shown=shown,
        options=options,
    )


def compared(
    columns: Sequence[Column], options: CompareOptions, step: Callable[[str], None], take: Take = open_engine.take
) -> Compared:
    """Return pedals studied and pictured."""
    framed = sights([column.design for column in columns], options)
    found, notes = entries(columns, framed, options.rendering(), step, take)
    first = found[0]
    changes = (differences(first.design, each.design, first.findings, each.findings, each.near_mm) for each in found)
    return Compared(entries=found, changes=tuple(changes), sights=framed, notes=notes)


def written(shown: Compared, target: PurePath, options: CompareOptions) -> bytes:
    """Return the sheet as the kind of file that a target's name ends in, one of `options.SUFFIXES`."""
    suffix = target.suffix.lower()
    if suffix == ".pdf":
        laid = pages.pages(shown, page_size(options.page), _PAPER, has_marks=options.marks)
        return pdf(laid, title=laid[0].title)
    if suffix in PICTURES:
        whole = pictured(shown, options)
        return picture_file(target, whole.pixels, text=whole.facts)
    return web_page.html_page(shown, PictureRequest(light=options.light).lighting, has_marks=options.marks)


def pictured(shown: Compared, options: CompareOptions) -> Picture:
    """Return the sheet as one picture for a screen, as long as it needs to be."""
    wide = shown.sights[0].width_px / PX_PER_MM
    whole = pages.one_page(shown, across(len(shown.entries), shown.ratios), wide, SCREEN, has_marks=options.marks)
    return Picture(pixels=pixels(whole, PX_PER_MM), facts={"Software": f"mockup {__version__}", "Title": whole.title})


def described(shown: Compared) -> dict[str, Any]:
    """Return everything a comparison knows, for programs: plain lists, numbers and texts."""
    return {
        "title": shown.title,
        "views": [sight.view for sight in shown.sights],
        "pedals": [
            {
                "letter": letter(index),
                "label": entry.label,
                "name": entry.design.name,
                "source": entry.design.source,
                "variant": entry.design.variant,
                "figures": dataclasses.asdict(entry.figures)
                | {
                    "inked_mm2": entry.figures.inked_mm2,
                    "worst_contrast": entry.figures.worst_contrast,
                    "most_hidden": entry.figures.most_hidden,
                    "labels": [
                        dataclasses.asdict(each)
                        | {
                            "name": named(each.subject, entry.design.units),
                            "reading": each.reading,
                            "hidden": each.hidden,
                        }
                        for each in entry.figures.labels
                    ],
                },
                "findings": [data(each, entry.design.units) for each in entry.findings],
                "differences": [
                    {"number": item.number, "text": item.text, "changes": [dataclasses.asdict(e) for e in item.changes]}
                    for item in items(shown.changes[index])
                ],
            }
            for index, entry in enumerate(shown.entries)
        ],
    }


class ProgressSteps:
    """Progress over all that is done, one step after the other."""

    def __init__(self, progress: Progress, total: int) -> None:
        self._progress, self._total, self._done = progress, total, 0

    def __call__(self, what: str) -> None:
        self._progress(self._done, self._total, what)
        self._done = min(self._done + 1, self._total)

    def end(self) -> None:
        """Say that all is done."""
        self._progress(self._total, self._total, "done")
