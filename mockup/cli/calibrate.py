"""The commands of ``mockup calibrate``."""

from __future__ import annotations

import dataclasses
import sys
from pathlib import Path

import click

from mockup.calibration.options import FitOptions, PaintOptions, ReadingsOptions, RuleOptions, StripOptions
from mockup.cli.command import command, path_argument
from mockup.cli.terminal import print_json, say, tell
from mockup.options import bad_option


@click.group(invoke_without_command=True)
@click.pass_context
def calibrate(ctx: click.Context) -> None:
    """Measure your own printer, ink and film with a test strip, and your paint off a photograph."""
    if ctx.invoked_subcommand is None:
        print(ctx.get_help())


def _strip(options: StripOptions) -> None:
    from mockup import calibrate

    say(str(calibrate.strip(options.output, options.page, options.printer, options.patches)))
    print("print it at 100 %; the page says what to do next", file=sys.stderr)


def _rule(options: RuleOptions) -> None:
    from mockup import calibrate
    from mockup.model.errors import Fault, InputError

    measured, name = options.measured, options.name
    if measured is None and name is None:
        say(str(calibrate.rule(options.output, options.page)))
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


def _readings(options: ReadingsOptions) -> None:
    from mockup import calibrate

    say(str(calibrate.readings(options.output, options.patches)))


def _fit(options: FitOptions, readings: Path | None, as_json: bool) -> None:
    from mockup import calibrate

    if options.name is None:
        raise click.UsageError("Missing option '--name'.")
    found = calibrate.fit(readings, **{**dataclasses.asdict(options), "name": options.name})
    tell(found.notes)
    if as_json:
        print_json(calibrate.facts(found))
    else:
        print(calibrate.report(found))


def _paint(options: PaintOptions, photo: Path, as_json: bool) -> None:
    from mockup import calibrate
    from mockup.colour import rgb
    from mockup.layout_source import in_folder

    write = in_folder(options.write) if options.write is not None else None
    if options.picture is not None:
        _paint_picture(options, options.picture, photo, write, as_json)
        return
    if options.corners:
        raise bad_option("corners", "goes with --picture", "add --picture and the file to write")
    seen = calibrate.paint(photo, options.paint, options.card, write, options.variant)
    tell((seen.problem,) if seen.problem else ())
    if as_json:
        print_json(calibrate.paint_facts(seen))
        return
    print(calibrate.paint_line(seen))
    key = f'paint = "{rgb.to_hex(seen.colour)}"'
    say(f"{write}: {key}" if write is not None else f"use it: {key} under [finish], or add --write layout.toml")


def _paint_picture(options: PaintOptions, picture: str, photo: Path, write: Path | None, as_json: bool) -> None:
    from mockup import calibrate

    if options.paint:
        raise bad_option("paint", "goes with no --picture", "leave one of them out")
    keys = calibrate.paint_picture(photo, options.card, picture, options.corners, write, options.variant)
    if as_json:
        print_json({"picture": picture, **keys})
        return
    said = ", ".join(f'{key} = "{each}"' for key, each in keys.items())
    say(f"{write}: {said}" if write is not None else f"{picture}: use it with {said} under [finish]")


_PAINT = """Take the paint's colour off a photograph or scan of the box with a white card.

Give the places of the paint and of the card in pixels, as an image editor shows them. A sheet of white paper in
the same light does. For paint of several tones --picture writes the photograph itself, to be the paint."""
_FIT = """Read a printer off its strip, and keep it by name.

Give a scan or photograph of the strip (--photo), or a readings file."""
for _command in (
    command("strip", "Write the test strip, to print and lay over card and paint.", _strip, lambda: StripOptions),
    command("rule", "Write the measuring page, or keep what was measured on it.", _rule, lambda: RuleOptions),
    command("readings", "Write a readings file to fill in.", _readings, lambda: ReadingsOptions),
    command(
        "fit",
        _FIT,
        _fit,
        lambda: FitOptions,
        path_argument("readings", required=False),
        json="what was found",
    ),
    command(
        "paint",
        _PAINT,
        _paint,
        lambda: PaintOptions,
        path_argument("photo"),
        json="the colour",
    ),
):
    calibrate.add_command(_command)


@calibrate.command("list")
@click.option("--json", "is_json", is_flag=True, help="print the printers as JSON")
def calibrate_list(is_json: bool) -> None:
    """List the printers that were calibrated."""
    from mockup import calibrate

    known = calibrate.printers()
    if is_json:
        print_json([calibrate.printer_facts(each) for each in known.values()])
        return
    for printer in known.values():
        say(calibrate.line(printer))
    if not known:
        print("none yet; start with: mockup calibrate strip", file=sys.stderr)


@calibrate.command("forget")
@click.argument("name")
def calibrate_forget(name: str) -> None:
    """Forget one calibrated printer."""
    from mockup import calibrate

    calibrate.forget(name)
    print(f"forgot {name}")
