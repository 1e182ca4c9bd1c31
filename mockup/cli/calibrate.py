"""The commands of ``mockup calibrate``."""

from __future__ import annotations

import dataclasses
import json
import sys
from pathlib import Path
from typing import Any, Literal

import click

from mockup.cli.terminal import tell


@click.group(invoke_without_command=True)
@click.pass_context
def calibrate(ctx: click.Context) -> None:
    """Measure your own printer, ink and film with a test strip."""
    if ctx.invoked_subcommand is None:
        print(ctx.get_help())


@calibrate.command("strip")
@click.option("-o", "--output", default="strip.pdf", show_default=True, help="file to write: .pdf, .png or .svg")
@click.option("--page", type=click.Choice(["a4", "letter"]), default="a4", show_default=True, help="size of the page")
@click.option("--printer", help="a printer whose page size was measured: the strip is corrected for it")
def calibrate_strip(output: str, page: Literal["a4", "letter"], printer: str | None) -> None:
    """Write the test strip, to print and lay over card and paint."""
    from mockup import calibrate

    print(calibrate.strip(output, page, printer))
    print("print it at 100 %; the page says what to do next", file=sys.stderr)


@calibrate.command("rule")
@click.option("-o", "--output", default="rule.pdf", show_default=True, help="file to write: .pdf, .png or .svg")
@click.option("--page", type=click.Choice(["a4", "letter"]), default="a4", show_default=True, help="size of the page")
@click.option("--measured", help='what A and B measured, such as "99.6,100.3"; then nothing is written')
@click.option("--name", "--printer", "name", help="the name of the printer")
def calibrate_rule(output: str, page: Literal["a4", "letter"], measured: str | None, name: str | None) -> None:
    """Write the measuring page, or keep what was measured on it."""
    from mockup import calibrate
    from mockup.model.errors import Fault, InputError

    if measured is None and name is None:
        print(calibrate.rule(output, page))
        print("print it at 100 %; the page says what to do next", file=sys.stderr)
        return
    if measured is None or name is None:
        given, missing = (
            ("--name", "--measured 99.6,100.3") if measured is None else ("--measured", '--name "my inkjet"')
        )
        raise InputError(Fault(file=given, what="is half of what is needed", remedy=f"add: {missing}"))
    found = calibrate.measured(measured, name)
    print(f"{found.printer}: {calibrate.rule_line(found)}")
    print(f'use it with mockup template, sheet and calibrate strip: --printer "{found.printer}"', file=sys.stderr)


@calibrate.command("readings")
@click.option("-o", "--output", default="readings.toml", show_default=True, help="file to write")
def calibrate_readings(output: str) -> None:
    """Write a readings file to fill in."""
    from mockup import calibrate

    print(calibrate.readings(output))


@calibrate.command("fit")
@click.argument("readings", required=False, type=click.Path(path_type=Path))
@click.option("--name", required=True, help="what to call the printer")
@click.option("--photo", type=click.Path(path_type=Path), help="photograph of the strip over white card")
@click.option("--points", default="", help='where to look in it: "white=100,80 first=210,300 last=1430,520"')
@click.option("--photo-paint", type=click.Path(path_type=Path), help="photograph of the strip over the painted scrap")
@click.option("--points-paint", default="", help='the same for that one, and "paint=90,700"')
@click.option("--film", default="clear", show_default=True, help="film of the photographed strip")
@click.option("--json", "is_json", is_flag=True, help="print what was found as JSON")
def calibrate_fit(readings: Path | None, name: str, is_json: bool, **photographs: Any) -> None:
    """Fit ink, surface and film to what was read, and keep them by name.

    Give a readings file, or both photographs with their points.
    """
    from mockup import calibrate

    if readings is not None and any(photographs[each] for each in ("photo", "photo_paint")):
        raise click.UsageError("give a readings file or photographs, not both")
    found = calibrate.fit(readings, name=name, **photographs)
    tell(found.notes)
    print(json.dumps(calibrate.facts(found), indent=2, ensure_ascii=False) if is_json else calibrate.report(found))


@calibrate.command("list")
@click.option("--json", "is_json", is_flag=True, help="print the printers as JSON")
def calibrate_list(is_json: bool) -> None:
    """List the printers that were calibrated."""
    from mockup import calibrate

    known = calibrate.printers()
    if is_json:
        print(json.dumps([dataclasses.asdict(each) for each in known.values()], indent=2, ensure_ascii=False))
        return
    for printer in known.values():
        print(calibrate.line(printer))
    if not known:
        print("none yet; start with: mockup calibrate strip", file=sys.stderr)


@calibrate.command("forget")
@click.argument("name")
def calibrate_forget(name: str) -> None:
    """Forget one calibrated printer."""
    from mockup import calibrate

    calibrate.forget(name)
    print(f"forgot {name}")
