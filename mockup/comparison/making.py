"""The use case: pedals in, one sheet out, as PNG, PDF or a page for a browser, and turning if wanted."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import PurePath
from typing import Any

from mockup import __version__
from mockup.checks.report.rows import data
from mockup.checks.report.sentences import named
from mockup.comparison.columns import Column
from mockup.comparison.differences.designs import differences
from mockup.comparison.differences.items import items
from mockup.comparison.entry import Entry
from mockup.comparison.request import PX_PER_MM, SCREEN, Options, across, framed
from mockup.comparison.room import take as usual
from mockup.comparison.sheet import pages as sheet
from mockup.comparison.sheet import turning
from mockup.comparison.sheet import web_page as page
from mockup.comparison.sheet.pages import Compared, Style
from mockup.comparison.sheet.tables import letter
from mockup.comparison.together import seen
from mockup.encode.pdf import pdf
from mockup.encode.pixels import pixels
from mockup.encode.png import png
from mockup.model.design import Design
from mockup.model.picture import Picture
from mockup.options import Progress, Result, bad_option, file_stem, silent
from mockup.outputs.pages.paper_sizes import page_size
from mockup.picture.shots import Take
from mockup.picture.studio import lit, named_view

SUFFIXES = (".png", ".pdf", ".html", ".htm")
LEAST_PAGE_MM, MOST_PAGE_MM = 140.0, 2000.0  # as for a template: captions still fit; no printer is wider
_PAPER = Style(text_mm=2.7, margin_mm=10.0)


def make(columns: Sequence[Column], options: Options, progress: Progress = silent, take: Take = usual) -> Result:
    """Return the files of a comparison; the first column is what the others are compared with.

    Raises `InputError` for a bad option before anything is rendered.
    """
    size_mm = checked(options)
    targets = _targets(options, columns[0].design)
    steps = Steps(progress, len(columns) * (2 + bool(options.turntable)) + len(targets))
    is_shown = bool(targets)
    shown = compared(columns, options, steps, take) if is_shown else None
    files: dict[str, bytes] = {}
    for target in targets:
        assert shown is not None
        steps(f"write {target.name}")
        files[str(target)] = written(shown, target, size_mm, options)
    facts = described(shown) if shown is not None else {}
    notes = list(shown.notes) if shown is not None else []
    if options.turntable:
        data, said = turning.turning(columns, options, steps, take)
        files[options.turntable] = data
        notes += said
    steps.end()
    return Result(files=files, facts={"files": list(files)} | facts, notes=tuple(dict.fromkeys(notes)))


def compared(columns: Sequence[Column], options: Options, step: Callable[[str], None], take: Take = usual) -> Compared:
    """Return pedals studied and pictured."""
    sights = framed([column.design for column in columns], options)
    entries: list[Entry] = []
    changes = []
    notes: dict[str, None] = {}
    for column, (entry, taken) in zip(columns, seen(columns, sights, options.setting, step, take), strict=True):
        pictures = {sight.view: picture for sight, picture in zip(sights, taken.pictures, strict=True)}
        entries.append(replace(entry, pictures=pictures, near_mm=column.near_mm))
        notes.update(dict.fromkeys(taken.notes))
        first = entries[0]
        changes.append(differences(first.design, entry.design, first.findings, entry.findings, column.near_mm))
    return Compared(entries=tuple(entries), changes=tuple(changes), sights=sights, notes=tuple(notes))


def written(shown: Compared, target: PurePath, paper_mm: tuple[float, float], options: Options) -> bytes:
    """Return the sheet as the kind of file that a target's name ends in, one of `SUFFIXES`."""
    suffix = target.suffix.lower()
    if suffix == ".pdf":
        laid = sheet.pages(shown, paper_mm, replace(_PAPER, has_marks=options.has_marks))
        return pdf(laid, title=laid[0].title)
    if suffix == ".png":
        whole = pictured(shown, options)
        return png(whole.pixels, text=whole.facts)
    return page.html_page(shown, options.setting.light, has_marks=options.has_marks)


def pictured(shown: Compared, options: Options) -> Picture:
    """Return the sheet as one picture for a screen, as long as it needs to be."""
    style = replace(SCREEN, has_marks=options.has_marks)
    wide = shown.sights[0].width_px / PX_PER_MM
    whole = sheet.one_page(shown, across(len(shown.entries), shown.ratios), wide, style)
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
                "variant": entry.variant,
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


def checked(options: Options) -> tuple[float, float]:
    """Return the paper that options ask for, in mm; raise `InputError` for whatever is wrong with them."""
    for name in options.view:
        named_view(name)
    lit(options.setting.light, options.setting.background)
    for name in options.output:
        suffix = PurePath(name).suffix.lower()
        if suffix not in SUFFIXES:
            remedy = "end the name in " + ", ".join(SUFFIXES[:3])
            raise bad_option("output", f"{PurePath(name).name!r} is of no known kind", remedy)
        if suffix in SUFFIXES[2:]:
            page.require_ground(options.setting.light)
        if options.output.count(name) > 1:
            raise bad_option("output", f"{name!r} is named twice", "give each file a name of its own")
    if options.turntable is not None:
        turning.checked(options)
    return paper(options.page)


def _targets(options: Options, first: Design) -> tuple[PurePath, ...]:
    """Return the files to write: those named, or a picture where nothing is."""
    names = options.output
    if not names and options.turntable is None:
        names = (f"{file_stem(first.name)}-compare.png",)
    return tuple(PurePath(name) for name in names)


def paper(text: str) -> tuple[float, float]:
    """Return paper by its name or size in mm, or raise `InputError`."""
    try:
        sides = page_size(text)
    except ValueError as error:
        raise bad_option("page", str(error)) from None
    if not all(LEAST_PAGE_MM <= side <= MOST_PAGE_MM for side in sides):
        what = f"a page of {sides[0]:g} x {sides[1]:g} mm is out of range"
        raise bad_option("page", what, f"each side may be {LEAST_PAGE_MM:g} to {MOST_PAGE_MM:g} mm")
    return sides


class Steps:
    """Progress over all that is done, one step after the other."""

    def __init__(self, progress: Progress, total: int) -> None:
        self._progress, self._total, self._done = progress, total, 0

    def __call__(self, what: str) -> None:
        self._progress(self._done, self._total, what)
        self._done = min(self._done + 1, self._total)

    def end(self) -> None:
        """Say that all is done."""
        self._progress(self._total, self._total, "done")
