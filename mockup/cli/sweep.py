"""The flags of ``mockup compare`` that picture one layout over lists of values."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from mockup.cli.terminal import progress_bar, report, tell
from mockup.model.errors import Fault, InputError

if TYPE_CHECKING:
    from mockup.comparison.sweep.axes import Axis, Combination
    from mockup.comparison.sweep.ranking import Candidate
    from mockup.model.scene import Quality

Command = TypeVar("Command", bound=Callable[..., Any])

_KEYS = {"paint": "finish.paint", "sheen": "finish.sheen", "knob": "part.*.knob.style", "film": "decal.film"}
_PLURALS = {"paint": "paints", "sheen": "sheens", "knob": "knob styles", "film": "films"}
_LISTS = (".csv", ".tsv", ".txt")
_DRAFT_FROM = 13  # pictures: from there on they are small, and a draft of each does; our choice
_ROWS = 40  # of the printed table; more are in the files


def options(command: Command) -> Command:
    """Add the flags of a sweep to a command."""
    flags = (
        click.option(
            "--paint", metavar="LIST", help="sweep: paints, such as red,#2a6f6b, or a .csv of name,colour,sheen"
        ),
        click.option("--sheen", metavar="LIST", help="sweep: sheens, such as gloss,matte"),
        click.option("--knob", metavar="LIST", help="sweep: knob styles, on every part with a knob"),
        click.option("--film", metavar="LIST", help="sweep: decal films, clear,white"),
        click.option("--set", "sets", multiple=True, metavar="KEY=LIST", help="sweep: any key, such as box.edge=1,2,3"),
        click.option(
            "--sort",
            type=click.Choice(("contrast", "findings", "given", "ink")),
            help="sweep: the figure to sort by, best first  [default: contrast]",
        ),
        click.option(
            "--wander",
            metavar="LENGTH",
            help="as hands drill it: a hole's standard deviation on each axis, such as 0.5mm",
        ),
        click.option("--seed", default=1, show_default=True, help="wander: another number, another hand"),
        click.option("--samples", default=12, show_default=True, help="wander: how many tries the worst is taken from"),
        click.option("--keep", type=click.IntRange(1), metavar="N", help="sweep: picture only the best N"),
    )
    for flag in reversed(flags):
        command = flag(command)
    return command


def is_asked(given: Mapping[str, Any]) -> bool:
    """Return whether the flags ask for a sweep."""
    return bool(given["sets"]) or any(given[name] is not None for name in (*_KEYS, "sort", "keep"))


def is_said(name: str) -> bool:
    """Return whether the user gave a flag, rather than leave it to its default."""
    source = click.get_current_context().get_parameter_source(name)
    return source is not None and source.name != "DEFAULT"


def wander(words: Sequence[str], given: Mapping[str, Any], options: Any, *, is_json: bool) -> None:
    """Show one layout as drawn and as hands may drill it, and print what that costs."""
    from mockup import api, files
    from mockup.comparison import making
    from mockup.comparison.columns import split
    from mockup.comparison.wander import report as wandering

    if is_asked(given):
        raise InputError(Fault(file="--wander", what="does not go with a sweep", remedy="give one of the two"))
    _one_layout(words, "--wander")
    making.checked(options)
    path, variant = split(words[0])
    design = api.load(path, variant or None, given["printer"])
    asked = wandering.parsed(given["wander"], design.units, given["seed"], given["samples"])
    with progress_bar() as progress:
        result = wandering.make(design, asked, options, progress)
    files.write_all({Path(name): data for name, data in result.files.items()})
    tell(result.notes)
    report(list(result.files), result.facts, is_json)
    if not is_json:
        print(result.facts["answer"])


def _one_layout(words: Sequence[str], flag: str) -> None:
    if len(words) != 1 or words[0].endswith("@*"):
        found = f"{len(words)} layouts" if len(words) != 1 else "all variants"
        remedy = "name one, such as layout.toml or layout.toml@night"
        raise InputError(Fault(file=flag, what=f"takes one layout or variant, found {found}", remedy=remedy))


def run(words: Sequence[str], given: Mapping[str, Any], *, is_json: bool) -> None:
    """Make the sweep that the flags ask for, and print its table and its answer."""
    from mockup import files
    from mockup.comparison.columns import split
    from mockup.comparison.making import paper
    from mockup.comparison.sweep import axes
    from mockup.comparison.sweep import files as contact_files
    from mockup.comparison.sweep.base import base
    from mockup.comparison.sweep.run import Stopped, sweep

    _only_what_fits(words, given)
    listed = _axes(given)
    chosen = axes.combinations(listed)
    contact_files.checked(given["output"])
    sheet = paper(given["page"])
    path, variant = split(words[0])
    layout = base(path, variant or None, given["printer"])
    settings = _settings(given, chosen)
    with progress_bar() as progress:
        try:
            swept = sweep(layout, chosen, settings, progress)
        except Stopped as stopped:
            said = str(stopped)
        else:
            said = ""
    if said:
        print(said, file=sys.stderr)
        click.get_current_context().exit(130)
    what = _what(listed, given)
    result = contact_files.made(swept, layout.drawn.name, what, given["output"], sheet, given["keep"])
    files.write_all({Path(name): data for name, data in result.files.items()})
    tell(result.notes)
    if is_json:
        print(json.dumps(result.facts, indent=2, ensure_ascii=False))
        return
    _show(swept.candidates, what)
    for name in result.files:
        print(name)
    print(result.facts["answer"])


def _only_what_fits(words: Sequence[str], given: Mapping[str, Any]) -> None:
    """Refuse what does not go with a sweep."""
    if not any(given[name] for name in _KEYS) and not given["sets"]:
        lone = "--sort" if given["sort"] is not None else "--keep"
        raise InputError(
            Fault(file=lone, what="there is nothing to sort", remedy="add a list, such as --paint red,navy")
        )
    _one_layout(words, "a sweep")
    if given["turntable"]:
        raise InputError(
            Fault(file="--turntable", what="a sweep is not turned", remedy="compare the best ones instead")
        )


def _axes(given: Mapping[str, Any]) -> list[Axis]:
    from mockup import files
    from mockup.comparison.sweep import axes

    found = []
    for name, key in _KEYS.items():
        text = given[name]
        if text is None:
            continue
        if name == "paint" and Path(text.strip()).suffix.lower() in _LISTS:
            place = Path(text.strip())
            found.append(axes.paints(files.read_text(place, "a spreadsheet, saved as CSV"), place.name))
        else:
            found.append(axes.axis(f"--{name}", key, text))
    return [*found, *(axes.setting("--set", text) for text in given["sets"])]


def _settings(given: Mapping[str, Any], chosen: Sequence[Combination]) -> Any:
    from mockup.comparison.sweep.run import Settings
    from mockup.options import parse_size
    from mockup.picture.shots import Setting
    from mockup.picture.studio import lit, named_view

    try:
        size = parse_size(given["size"]) if given["size"] else None
    except ValueError as error:
        raise InputError(Fault(file="--size", what=str(error))) from None
    views = tuple(dict.fromkeys(given["view"] or ("three-quarter",)))
    for view in views:
        named_view(view)
    lit(given["light"], given["background"])
    quality: Quality = given["quality"] if is_said("quality") or len(chosen) < _DRAFT_FROM else "draft"
    return Settings(
        view=views,
        size=size,
        by=given["sort"] or "contrast",
        setting=Setting(
            light=given["light"],
            background=given["background"],
            look=given["look"],
            quality=quality,
            engine=given["engine"],
        ),
    )


def _what(listed: Sequence[Axis], given: Mapping[str, Any]) -> str:
    """Return what varies, in the plural."""
    varying = [axis.flag for axis in listed if len(axis.values) > 1] or [axis.flag for axis in listed]
    if len(varying) > 1:
        return "combinations"
    name = varying[0].removeprefix("--")
    return _PLURALS.get(name) or f"values of {name.removeprefix('set ')}"


def _show(candidates: Sequence[Candidate], what: str) -> None:
    """Print candidates as a table as wide as the terminal, colour only where the terminal has it."""
    from rich.box import SIMPLE_HEAD
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    from mockup.comparison.sweep.files import rows

    console = Console(highlight=False, emoji=False, markup=False)
    styles = {"all read": "green", "in doubt": "yellow", "not all": "red", "no lettering": "dim"}
    head, body = rows(candidates)
    table = Table(box=SIMPLE_HEAD, pad_edge=False, show_edge=False)
    for index, name in enumerate(head):
        table.add_column(what if index == 1 else name, justify="right" if index == 0 else "left", overflow="fold")
    for candidate, row in list(zip(candidates, body, strict=True))[:_ROWS]:
        cells: list[Text] = [Text(cell) for cell in row]
        cells[2].stylize(styles[candidate.verdict])
        table.add_row(*cells)
    console.print(table)
    if len(body) > _ROWS:
        console.print(f"... and {len(body) - _ROWS} more, all of them with --json or -o table.json")
