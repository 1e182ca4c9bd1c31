"""The command ``mockup check``."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from mockup.cli.command import AS_JSON, Lazy, flags, json_flag, said
from mockup.cli.terminal import print_json, progress_bar
from mockup.options import bad_option

if TYPE_CHECKING:
    from mockup.checks.report.options import CheckOptions
    from mockup.decal.account import Account
    from mockup.model.design import Design
    from mockup.model.finding import Finding


_ABOUT = """Say what will go wrong when it is built, with figures, and what to change.

Exit status: 0 nothing stops the build, 1 something does (--strict: or a warning), 2 bad input,
3 a check failed inside the program, so that its answer is missing.
What the layout accepts is listed apart and not counted."""


def _parameters() -> list[click.Parameter]:
    from mockup.checks.report.options import CheckOptions

    layout = click.Argument(["layout"], type=click.Path(path_type=Path))
    return [layout, *flags(CheckOptions), json_flag("the findings and what was loaded")]


def _run(layout: Path, **given: Any) -> None:
    from mockup import api
    from mockup.checks.report.accepted import opened
    from mockup.checks.report.options import CheckOptions
    from mockup.decal.account import accounts

    options = CheckOptions(**said(CheckOptions))
    if options.mend:
        _mend(layout, options, given[AS_JSON])
        return
    lost = next((name for name in ("write", "concede", "pin") if getattr(options, name)), None)
    if lost is not None:
        raise bad_option(lost, "goes with --mend", "add --mend")
    design = api.load(layout, options.variant, options.printer)
    findings = api.check(design, options.only)
    if options.picture is not None:
        with progress_bar() as progress:
            api.save(api.marked(design, findings, progress=progress), options.picture)
    if given[AS_JSON]:
        from mockup.checks.report.rows import account_data, data

        told = {
            "art": [account_data(each) for each in accounts(design)],
            "findings": [data(each, design.units) for each in findings],
        }
        print_json(told)
    else:
        _show_art(accounts(design))
        _show(design, findings)
    if any(each.failure for each in findings):
        click.get_current_context().exit(3)
    bad = {"stop", "warn"} if options.strict else {"stop"}
    click.get_current_context().exit(1 if any(each.severity in bad for each in opened(findings)) else 0)


def _mend(layout: Path, options: CheckOptions, is_json: bool) -> None:
    """Say the least change of a layout that clears what stops or warns, and make it where that is asked for."""
    from mockup.arrange.told import mended_data, mended_lines
    from mockup.layout_mending import mend, write_mended

    with progress_bar() as progress:
        found = mend(layout, options.variant, options.printer, pinned=options.pin, progress=progress)
    if is_json:
        print_json(mended_data(found, concede=options.concede))
    else:
        for line in mended_lines(found, concede=options.concede):
            print(line)
    made = found.chosen(concede=options.concede)
    if options.write and made.edits:
        print(write_mended(found, concede=options.concede))
    click.get_current_context().exit(0 if made.is_complete else 1)


check = Lazy("check", _ABOUT, _run, _parameters)


def _show_art(loaded: tuple[Account, ...]) -> None:
    """Print what was loaded: a short account of each picture file."""
    from rich.console import Console
    from rich.table import Table

    console = Console(highlight=False, emoji=False, markup=False)
    for each in loaded:
        console.print(f"{each.art}, {each.face} face", style="bold")
        table = Table.grid(padding=(0, 2))
        for line in each.lines:
            table.add_row(f"  {line.name}", line.text)
        console.print(table)
        console.print()


def _show(design: Design, findings: tuple[Finding, ...]) -> None:
    """Print findings as a table as wide as the terminal; colour only where the terminal has it."""
    from rich.box import SIMPLE_HEAD
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    from mockup.checks.report.accepted import opened
    from mockup.checks.report.rows import PLAIN, SYMBOLS, overrides, row, tally

    console = Console(highlight=False, emoji=False, markup=False)
    symbols = SYMBOLS if "utf" in console.encoding.lower() else PLAIN
    styles = {"stop": "bold red", "warn": "yellow", "note": "dim"}
    table = Table(box=SIMPLE_HEAD, pad_edge=False, expand=False, show_edge=False)
    table.add_column("", no_wrap=True)
    table.add_column("concerns", max_width=14)
    table.add_column("finding, and what to do", ratio=1)
    table.add_column("measured", justify="right", max_width=13)
    for finding in opened(findings):
        shown = row(finding, design.units)
        said = Text.assemble(shown.what, (f"\n{shown.remedy}", "bold"), (f"\n{shown.check}: {shown.source}", "dim"))
        word = Text(f"{symbols[shown.severity]} {shown.severity}", styles[shown.severity])
        figures = Text.assemble(shown.measured, (f"\nlimit {shown.limit}" if shown.limit else "", "dim"))
        table.add_row(word, shown.subjects, said, figures, end_section=True)
    if opened(findings):
        console.print(table)
    for finding in findings[len(opened(findings)) :]:
        shown = row(finding, design.units)
        console.print(f"Accepted: {shown.what}", style="dim")
        console.print(f"  {finding.accepted}")
    console.print(f"{design.name}: {tally(findings) if findings else 'nothing found'}")
    own = overrides(design)
    if own:
        console.print(f"this layout's own limits: {'; '.join(own)}")
