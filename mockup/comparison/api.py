"""Use cases of pedals side by side: two to twelve compared, one over lists of values, one as hands may drill it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from mockup import api, files, reader
from mockup.comparison import files as comparison_files
from mockup.comparison.beside import report as beside_report
from mockup.comparison.beside.landmarks import Found
from mockup.comparison.beside.options import BesideOptions
from mockup.comparison.beside.photograph import Beside, OpenedPhotograph, held_beside, opened
from mockup.comparison.columns import Column, Pedal, captions, columns, pedals, split
from mockup.comparison.files import Comparison
from mockup.comparison.options import CompareOptions
from mockup.comparison.sheet.grid import LEAST, MOST
from mockup.comparison.sweep import axes
from mockup.comparison.sweep import files as sweep_files
from mockup.comparison.sweep.axes import Axis
from mockup.comparison.sweep.files import Sweep
from mockup.comparison.sweep.options import SweepOptions
from mockup.comparison.sweep.run import sweep as swept
from mockup.comparison.wander import report as wander_report
from mockup.comparison.wander.hand import asked_hand
from mockup.comparison.wander.options import WanderOptions
from mockup.layout_source import layout_source
from mockup.model.design import Design
from mockup.model.errors import Fault, InputError
from mockup.model.finish import Artwork
from mockup.model.text import printable
from mockup.options import Progress, Result, file_stem, silent
from mockup.picture import open_engine
from mockup.picture.shots import Take

_KEYS = {"paint": "finish.paint", "sheen": "finish.sheen", "knob": "part.*.knob.style", "film": "decal.film"}
_PLURALS = {"paint": "paints", "sheen": "sheens", "knob": "knob styles", "film": "films"}
_LISTS = (".csv", ".tsv", ".txt")
_DRAFT_FROM = 13  # pictures: from there on they are small, and a draft of each does; our choice


def compare(
    layouts: Mapping[str, Design] | Sequence[Design | str | Path],
    *,
    progress: Progress = silent,
    take: Take = open_engine.take,
    **options: Any,
) -> Comparison:
    """Return 2 to 12 pedals side by side; the first is what the others are compared with.

    `layouts` are designs, or layout files as the command line names them: FILE, FILE@VARIANT, FILE@* for all
    variants. A mapping gives them captions; else they are called by what tells them apart. `options` are the
    fields of `CompareOptions`. Nothing is written; `Comparison.files` holds the files that `output` and
    `turntable` name. Raises `InputError` for what does not exist, before anything is rendered.
    """
    asked = CompareOptions(**options)
    shown = _columns(layouts, asked)
    if not LEAST <= len(shown) <= MOST:
        what = f"{len(shown)} pedal{'s' * (len(shown) != 1)} cannot stand side by side"
        raise InputError(Fault(file="compare", what=what, remedy=f"give {LEAST} to {MOST} designs"))
    return comparison_files.make(shown, asked, progress, take)


def _columns(
    layouts: Mapping[str, Design] | Sequence[Design | str | Path], options: CompareOptions
) -> tuple[Column, ...]:
    if isinstance(layouts, Mapping):
        return tuple(Column(label=printable(label), design=design) for label, design in layouts.items())
    words = [str(each) for each in layouts if not isinstance(each, Design)]
    designs = [each for each in layouts if isinstance(each, Design)]
    if words and designs:
        raise InputError(Fault(file="compare", what="takes designs or layout files, not both", remedy="load the files"))
    if not designs:
        return columns(pedals(words), options.printer, options.as_built)
    labels = captions(designs, [Pedal(path=Path(each.source), variant=each.variant) for each in designs])
    return tuple(Column(label=label, design=design) for label, design in zip(labels, designs, strict=True))


def sweep(layout: str | Path | Sequence[str], *, progress: Progress = silent, **options: Any) -> Sweep:
    """Return one layout pictured with every combination of the values listed, measured and ranked, the best first.

    `layout` is FILE or FILE@VARIANT; `options` are the fields of `SweepOptions`. From 13 combinations on they
    are pictured as drafts unless `quality` is given. Nothing is written but the kept pictures. Raises `InputError`,
    and `Stopped` where the user stops it.
    """
    asked = SweepOptions(**options)
    listed = _axes(asked)
    if not listed:
        lone = "--sort" if "sort" in options else "--keep"
        remedy = "add a list, such as --paint red,navy"
        raise InputError(Fault(file=lone, what="there is nothing to sort", remedy=remedy))
    path, variant = _one_layout(layout, "a sweep")
    chosen = axes.combinations(listed)
    if "quality" not in options and len(chosen) >= _DRAFT_FROM:
        asked = replace(asked, quality="draft")
    drawn = layout_source(path, variant, asked.printer, asked.as_built)
    return sweep_files.sheets(swept(drawn, chosen, asked, progress), drawn.drawn.name, _what(listed), asked)


def wander(layout: str | Path | Sequence[str], wander: str, *, progress: Progress = silent, **options: Any) -> Result:
    """Return one layout as drawn beside how hands may drill it, and what that costs.

    `layout` is FILE or FILE@VARIANT; `wander` a hole's standard deviation along each axis, such as "0.5mm", or "own"
    for the hand that the layout's holes as built show; `options` are the other fields of `WanderOptions`. Nothing is
    written. Raises `InputError`.
    """
    asked = WanderOptions(wander=wander, **options)
    path, variant = _one_layout(layout, "--wander")
    design = api.load(path, variant, asked.printer, asked.as_built)
    hand = asked_hand(asked, path, variant, design.units)
    return wander_report.make(design, hand, asked.to_file(f"{file_stem(design.name)}-wander"), progress)


def beside(
    layout: str | Path,
    photo: str | Path,
    *,
    options: BesideOptions | None = None,
    progress: Progress = silent,
    **given: Any,
) -> Result:
    """Return the page of a photograph of the finished pedal beside its picture, taken with the photograph's camera.

    `given` are the fields of `BesideOptions`, if not `options` as a whole. Nothing is written. Raises `InputError`.
    """
    asked = options or BesideOptions(**given)
    if asked.places is not None:
        asked = asked.with_places(files.read_text(Path(asked.places), "a text editor"))
    picture = _photograph(Path(photo))
    design = api.load(layout, asked.variant, asked.printer, asked.as_built)
    return beside_report.make(design, picture, Path(photo).name, asked, progress)


def open_photograph(design: Design, photo: Path) -> OpenedPhotograph:
    """Return a photograph of a finished pedal to be shown, with its camera where printed marks tell it."""
    return opened(design, _photograph(photo))


def hold_photograph(design: Design, photo: Path, options: BesideOptions, near: Found | None) -> Beside:
    """Return a photograph held beside its picture, as on the page of `beside`; `near` is where its camera may be."""
    return held_beside(design, _photograph(photo), options, near=near)


def photograph_page(design: Design, photo: Path, options: BesideOptions, near: Found | None) -> Result:
    """Return the page of `beside` for a design and a photograph; `near` is where its camera may be."""
    return beside_report.make(design, _photograph(photo), photo.name, options, near=near)


def _photograph(place: Path) -> Artwork:
    return reader.picture(files.read_asset(place.parent, place.name, place.name, "the other files"), place.name)


def _one_layout(layout: str | Path | Sequence[str], flag: str) -> tuple[Path, str | None]:
    """Return the layout file and variant that is named; raises `InputError` where several are."""
    words = [str(layout)] if isinstance(layout, str | Path) else list(layout)
    if len(words) != 1 or words[0].endswith("@*"):
        found = f"{len(words)} layouts" if len(words) != 1 else "all variants"
        remedy = "name one, such as layout.toml or layout.toml@night"
        raise InputError(Fault(file=flag, what=f"takes one layout or variant, found {found}", remedy=remedy))
    path, variant = split(words[0])
    return path, variant or None


def _axes(options: SweepOptions) -> list[Axis]:
    found = []
    for name, key in _KEYS.items():
        text = getattr(options, name)
        if text is None:
            continue
        if name == "paint" and Path(text.strip()).suffix.lower() in _LISTS:
            place = Path(text.strip())
            found.append(axes.paints(files.read_text(place, "a spreadsheet, saved as CSV"), place.name))
        else:
            found.append(axes.axis(f"--{name}", key, text))
    return [*found, *(axes.setting("--set", text) for text in options.set_)]


def _what(listed: Sequence[Axis]) -> str:
    """Return what varies, in the plural."""
    varying = [axis.flag for axis in listed if len(axis.values) > 1] or [axis.flag for axis in listed]
    if len(varying) > 1:
        return "combinations"
    name = varying[0].removeprefix("--")
    return _PLURALS.get(name) or f"values of {name.removeprefix('set ')}"
