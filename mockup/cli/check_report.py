"""The report of the checks for people: what was loaded, then each finding in a few lines."""

from __future__ import annotations

from collections.abc import Iterator

from rich.console import Console, Group, RenderableType
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from mockup.checks.report.accepted import opened
from mockup.checks.report.rows import PLAIN, SYMBOLS, Row, overrides, row, tally
from mockup.decal.account import Account
from mockup.model.design import Design
from mockup.model.finding import SEVERITY_WORDS, Finding, Severity

_STYLES: dict[Severity, str] = {"stop": "bold red", "warn": "yellow", "note": "dim"}
_INDENT = 10  # columns: the mark and the longest word beside it


def show(
    design: Design,
    loaded: tuple[Account, ...],
    findings: tuple[Finding, ...],
    advice: str = "",
    *,
    has_sources: bool = False,
) -> None:
    """Print the report, as wide as the terminal; colour only where the terminal has it."""
    console = Console(highlight=False, emoji=False, markup=False)
    for each in loaded:
        _show_account(console, each)
    symbols = SYMBOLS if "utf" in console.encoding.lower() else PLAIN
    for finding in opened(findings):
        shown = row(finding, design.units)
        _print(console, Group(_head(finding, shown, symbols), *_lines(shown, has_sources=has_sources)))
        _print(console, "")
    for finding in findings[len(opened(findings)) :]:
        _print(console, Text(f"Accepted: {row(finding, design.units).what}", "dim"))
        _print(console, Padding(finding.accepted, (0, 0, 0, 2)))
    _print(console, f"{design.name}: {tally(findings) if findings else 'nothing found'}")
    own = overrides(design)
    if own:
        _print(console, f"this layout's own limits: {'; '.join(own)}")
    if advice:
        _print(console, Text(advice, "dim"))


def _print(console: Console, what: RenderableType) -> None:
    """Print something without the blanks that fill its lines up, which a file would keep."""
    with console.capture() as lines:
        console.print(what)
    for line in lines.get().splitlines():
        print(line.rstrip())


def _head(finding: Finding, shown: Row, symbols: dict[Severity, str]) -> Table:
    """Return a finding's first line: how bad, its title, and the figure with what it has to keep."""
    line = Table.grid(expand=True)
    line.add_column(width=_INDENT)
    line.add_column(ratio=1)
    line.add_column(justify="right", no_wrap=True)
    figure = shown.measured + (f", limit {shown.limit}" if shown.measured and shown.limit else "")
    if shown.measured.startswith("-"):
        figure = f"{shown.measured[1:]} too little" if shown.limit.startswith("0 ") else f"{shown.measured[1:]} overlap"
    word = f"{symbols[finding.severity]} {SEVERITY_WORDS[finding.severity]}"
    line.add_row(Text(word, _STYLES[finding.severity]), Text(finding.title, "bold"), Text(figure, "dim"))
    return line


def _lines(shown: Row, *, has_sources: bool) -> Iterator[RenderableType]:
    """Yield what is wrong, what to do, and with `has_sources` what names the finding and where its limit is from."""
    yield Padding(shown.sentence, (0, 0, 0, _INDENT))
    if shown.remedy:
        yield Padding(Text(shown.remedy, "bold"), (0, 0, 0, _INDENT))
    if has_sources:
        about = f" about {shown.subjects}" if shown.subjects else ""
        yield Padding(Text(f"{shown.check}{about}; {shown.source}", "dim"), (0, 0, 0, _INDENT))


def _show_account(console: Console, loaded: Account) -> None:
    """Print what was loaded: a short account of one picture file."""
    _print(console, Text(f"{loaded.art}, {loaded.face} face", "bold"))
    table = Table.grid(padding=(0, 2))
    for each in loaded.lines:
        table.add_row(f"  {each.name}", each.text)
    _print(console, table)
    _print(console, "")
