"""The command ``mockup compare``: pedals side by side, one over lists of values, one as hands may drill it."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import click

from mockup.cli.command import AS_JSON, Lazy, flags, json_flag, said
from mockup.cli.origins import save
from mockup.cli.terminal import print_json, progress_bar, report, say, tell

if TYPE_CHECKING:
    from mockup.comparison.sweep.files import Sweep
    from mockup.options import Result

_SWEEP = ("paint", "sheen", "knob", "film", "set_", "sort", "keep")
_ROWS = 40  # of the printed table; more are in the files
_ABOUT = """Put 2 to 12 pedals side by side: pictures, what differs, figures.

Name layout files, variants of one (layout.toml@night), or all its variants (layout.toml@*). One file
alone is shown beside all its variants. The first one is what the others are compared with.

With --paint, --sheen, --knob, --film or --set, one layout is pictured with every combination of the
values listed, up to 1000, and the table says which of them keep every label readable. With --wander, it is
shown as drawn and as hands may drill it."""


def _parameters() -> list[click.Parameter]:
    from mockup.comparison.options import CompareOptions
    from mockup.comparison.sweep.options import SweepOptions
    from mockup.comparison.wander.options import WanderOptions

    return [
        click.Argument(["layouts"], nargs=-1, metavar="LAYOUT[@VARIANT]..."),
        *flags(CompareOptions, SweepOptions, WanderOptions),
        json_flag("everything found"),
    ]


def _run(layouts: tuple[str, ...], **given: Any) -> None:
    from mockup.comparison import files
    from mockup.comparison.columns import columns, pedals
    from mockup.comparison.options import CompareOptions
    from mockup.comparison.sweep.options import SweepOptions
    from mockup.comparison.wander.options import WanderOptions
    from mockup.model.errors import Fault, InputError
    from mockup.options import file_stem

    is_sweep = any(name in said(SweepOptions) for name in _SWEEP)
    is_json = given[AS_JSON]
    if given["wander"] is not None:
        if is_sweep:
            raise InputError(Fault(file="--wander", what="does not go with a sweep", remedy="give one of the two"))
        _wander(layouts, said(WanderOptions), is_json)
    elif is_sweep:
        if given["turntable"]:
            remedy = "compare the best ones instead"
            raise InputError(Fault(file="--turntable", what="a sweep has no turntable", remedy=remedy))
        _sweep(layouts, said(SweepOptions), is_json)
    else:
        options = CompareOptions(**said(CompareOptions))
        shown = columns(pedals(layouts), options.printer, options.as_built)
        with progress_bar() as progress:
            result = files.make(shown, options.to_file(f"{file_stem(shown[0].design.name)}-compare"), progress)
        _saved(result, layouts)
        report(list(result.files), result.facts, is_json)


compare = Lazy("compare", _ABOUT, _run, _parameters)


def _saved(result: Result, layouts: Sequence[str]) -> None:
    """Write what was made of layouts, and tell its notes; it counts as the first layout's."""
    from mockup.comparison.columns import split

    tell((*result.notes, *save(result, split(layouts[0])[0])))


def _wander(layouts: Sequence[str], given: dict[str, Any], is_json: bool) -> None:
    """Show one layout as drawn and as hands may drill it, and print what that costs."""
    from mockup.comparison.api import wander

    with progress_bar() as progress:
        result = wander(layouts, progress=progress, **given)
    _saved(result, layouts)
    report(list(result.files), result.facts, is_json)
    if not is_json:
        print(result.facts["answer"])


def _sweep(layouts: Sequence[str], given: dict[str, Any], is_json: bool) -> None:
    """Make a sweep, and print its table and its answer."""
    from mockup.comparison.api import sweep
    from mockup.comparison.sweep.run import Stopped

    stopped = ""
    with progress_bar() as progress:
        try:
            result = sweep(layouts, progress=progress, **given)
        except Stopped as error:
            stopped = str(error)
    if stopped:
        print(stopped, file=sys.stderr)
        click.get_current_context().exit(130)
    _saved(result, layouts)
    if is_json:
        print_json(result.facts)
        return
    _show(result)
    for name in result.files:
        say(name)
    print(result.facts["answer"])


def _show(sweep: Sweep) -> None:
    """Print candidates as a table as wide as the terminal, colour only where the terminal has it."""
    from rich.box import SIMPLE_HEAD
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    from mockup.comparison.sweep.files import rows

    candidates = sweep.candidates
    console = Console(highlight=False, emoji=False, markup=False)
    styles = {"all read": "green", "in doubt": "yellow", "not all": "red", "no lettering": "dim"}
    head, body = rows(candidates)
    table = Table(box=SIMPLE_HEAD, pad_edge=False, show_edge=False)
    for index, name in enumerate(head):
        title = sweep.facts["what"] if index == 1 else name
        table.add_column(title, justify="right" if index == 0 else "left", overflow="fold")
    for candidate, row in list(zip(candidates, body, strict=True))[:_ROWS]:
        cells: list[Text] = [Text(cell) for cell in row]
        cells[2].stylize(styles[candidate.verdict])
        table.add_row(*cells)
    console.print(table)
    if len(body) > _ROWS:
        console.print(f"... and {len(body) - _ROWS} more, all of them with --json or -o table.json")
