"""The command line: arguments to api to exit status. The only module that prints.

Exit status: 0 done, 1 `check` found what stops the build, 2 bad input or a result that could not be
written, 130 stopped by the user.
"""

from __future__ import annotations

import dataclasses
import json
import sys
import types
import typing
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Literal, NoReturn

import click

from mockup import __version__
from mockup.model.errors import Fault, InputError, MockupError
from mockup.plugins import Folder, summary

if typing.TYPE_CHECKING:
    from mockup.model.design import Design
    from mockup.model.finding import Finding

OUTPUTS = Folder("mockup.outputs")


class _Commands(click.Group):
    """Fixed commands plus one command per output plug-in, loaded when it is asked for."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return sorted({*super().list_commands(ctx), *OUTPUTS.names()})

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        fixed = super().get_command(ctx, cmd_name)
        if fixed is not None or cmd_name not in OUTPUTS.names():
            return fixed
        return _output_command(cmd_name)

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        if args and not args[0].startswith("-") and args[0] not in self.list_commands(ctx):
            from mockup.model.errors import nearest

            raise InputError(
                Fault(
                    file="mockup",
                    what=f"there is no command {args[0]!r}",
                    remedy=nearest(args[0], self.list_commands(ctx)),
                )
            )
        return super().resolve_command(ctx, args)


@click.group(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, message="mockup %(version)s")
def cli() -> None:
    """See the pedal before you drill it.

    Start with: mockup new tidewater, then: mockup still tidewater/layout.toml
    """


@cli.command()
@click.argument("folder", type=click.Path(path_type=Path))
def new(folder: Path) -> None:
    """Start a project folder that already renders."""
    from mockup import api

    for path in api.new(folder):
        print(path)
    print(f"now try: mockup still {folder / api.LAYOUT_FILE}", file=sys.stderr)


@cli.command()
@click.option("-o", "--output", default="mockup-demo", show_default=True, help="folder to write to")
@click.option("--json", "is_json", is_flag=True, help="print what was made as JSON")
def demo(output: str, is_json: bool) -> None:
    """Make a sample project and picture it, end to end."""
    from mockup import api

    folder = Path(output)
    project = folder / "tidewater"
    made = [str(path) for path in api.new(project, is_replacing=True)]
    design = api.load(project / api.LAYOUT_FILE)
    facts: dict[str, Any] = {"project": made}
    jobs = (
        ("still", {"view": ("three-quarter", "above", "player", "inside"), "size": (1280, 960), "output": str(folder)}),
        (
            "turntable",
            {"frames": 24, "size": (640, 480), "keep_frames": False, "output": str(folder / "turntable.webp")},
        ),
    )
    for name, options in jobs:
        output_module = OUTPUTS.load(name)
        with _progress() as progress:
            result = api.make(output_module, design, output_module.Options(**options), progress)
        _tell(result.notes if name == "still" else ())
        facts |= result.facts
        made += list(result.files)
    _report(made, facts, is_json)


@cli.command()
def schema() -> None:
    """Print the JSON Schema of the layout file, for editors."""
    from mockup import api

    print(json.dumps(api.schema(), indent=2, ensure_ascii=False))


@cli.command()
@click.option("--json", "is_json", is_flag=True, help="print the table as JSON")
def parts(is_json: bool) -> None:
    """List the kinds of parts, knob styles and box sizes there are."""
    from mockup import api

    table = api.catalogue()
    if is_json:
        print(json.dumps(table, indent=2, ensure_ascii=False))
        return
    for heading, rows in table.items():
        print(heading)
        width = max(len(name) for name in rows)
        for name, about in rows.items():
            print(f"  {name:<{width}}  {about}")


@cli.command()
@click.argument("layout", type=click.Path(path_type=Path))
@click.option("--variant", help="a variant that the layout file names")
@click.option("--only", multiple=True, metavar="CHECK", help="run this check only; repeat for several")
@click.option("--strict", is_flag=True, help="exit with 1 on warnings too")
@click.option("--picture", type=click.Path(path_type=Path), help="PNG file to write: each finding pointed at")
@click.option("--json", "is_json", is_flag=True, help="print the findings as JSON")
def check(
    layout: Path, variant: str | None, only: tuple[str, ...], strict: bool, picture: Path | None, is_json: bool
) -> None:
    """Say what will go wrong when it is built, with figures, and what to change.

    Exit status: 0 nothing stops the build, 1 something does (--strict: or a warning), 2 bad input.
    """
    from mockup import api

    design = api.load(layout, variant)
    findings = api.check(design, only)
    if picture is not None:
        with _progress() as progress:
            api.save(api.marked(design, findings, progress=progress), picture)
    if is_json:
        print(json.dumps([dataclasses.asdict(each) for each in findings], indent=2, ensure_ascii=False))
    else:
        _show_findings(design, findings)
    bad = {"stop", "warn"} if strict else {"stop"}
    click.get_current_context().exit(1 if any(each.severity in bad for each in findings) else 0)


def _show_findings(design: Design, findings: tuple[Finding, ...]) -> None:
    """Print findings as a table as wide as the terminal; colour only where the terminal has it."""
    from rich.box import SIMPLE_HEAD
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    from mockup.checks import _report

    console = Console(highlight=False, emoji=False, markup=False)
    symbols = _report.SYMBOLS if "utf" in console.encoding.lower() else _report.PLAIN
    styles = {"stop": "bold red", "warn": "yellow", "note": "dim"}
    table = Table(box=SIMPLE_HEAD, pad_edge=False, expand=False, show_edge=False)
    table.add_column("", no_wrap=True)
    table.add_column("concerns", max_width=14)
    table.add_column("finding, and what to do", ratio=1)
    table.add_column("measured", justify="right", max_width=13)
    for finding in findings:
        row = _report.row(finding, design.units)
        said = Text.assemble(row.what, ("\n" + row.remedy, "bold"), (f"\n{row.check}: {row.source}", "dim"))
        word = Text(f"{symbols[row.severity]} {row.severity}", styles[row.severity])
        figures = Text.assemble(row.measured, (f"\nlimit {row.limit}" if row.limit else "", "dim"))
        table.add_row(word, row.subjects, said, figures, end_section=True)
    if findings:
        console.print(table)
    console.print(f"{design.name}: {_report.tally(findings) if findings else 'nothing found'}")
    own = _report.overrides(design)
    if own:
        console.print(f"limits of this layout's own: {'; '.join(own)}")


@cli.group(invoke_without_command=True)
@click.pass_context
def calibrate(ctx: click.Context) -> None:
    """Measure your own printer, ink and film with a test strip."""
    if ctx.invoked_subcommand is None:
        print(ctx.get_help())


@calibrate.command("strip")
@click.option("-o", "--output", default="strip.pdf", show_default=True, help="file to write: .pdf, .png or .svg")
@click.option("--page", type=click.Choice(["a4", "letter"]), default="a4", show_default=True, help="size of the page")
def calibrate_strip(output: str, page: Literal["a4", "letter"]) -> None:
    """Write the test strip, to print and lay over card and paint."""
    from mockup import calibrate

    print(calibrate.strip(output, page))
    print("print it at 100 %; what to do next stands on the page", file=sys.stderr)


@calibrate.command("readings")
@click.option("-o", "--output", default="readings.toml", show_default=True, help="file to write")
def calibrate_readings(output: str) -> None:
    """Write a readings file to fill in."""
    from mockup import calibrate

    print(calibrate.blank_readings(output))


@calibrate.command("fit")
@click.argument("readings", required=False, type=click.Path(path_type=Path))
@click.option("--name", required=True, help="what to call the printer")
@click.option("--photo", type=click.Path(path_type=Path), help="photograph of the strip over white card")
@click.option("--points", default="", help='where to look in it: "white=100,80 first=210,300 last=1430,520"')
@click.option("--photo-paint", type=click.Path(path_type=Path), help="photograph of the strip over the painted scrap")
@click.option("--points-paint", default="", help='the same in that, and "paint=90,700"')
@click.option("--film", default="clear", show_default=True, help="film of the photographed strip: clear or white")
@click.option("--json", "is_json", is_flag=True, help="print what was found as JSON")
def calibrate_fit(readings: Path | None, name: str, is_json: bool, **photographs: Any) -> None:
    """Fit ink, surface and film to what was read, and keep them by name.

    Give a readings file, or both photographs with their points.
    """
    from mockup import calibrate

    if readings is not None and not any(photographs[each] for each in ("photo", "photo_paint")):
        found = calibrate.printer_from_file(readings, name)
    elif readings is None:
        found = calibrate.printer_from_photos(name, **photographs)
    else:
        raise click.UsageError("give a readings file or photographs, not both")
    _tell(found.notes)
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


def _output_command(name: str) -> click.Command:
    """Return the command of one output plug-in: a flag per field of its Options."""
    module = OUTPUTS.load(name)
    hints = typing.get_type_hints(module.Options)
    fields = dataclasses.fields(module.Options)
    parameters: list[click.Parameter] = [
        click.Argument(["layout"], type=click.Path(path_type=Path)),
        click.Option(["--variant"], help="a variant that the layout file names"),
        click.Option(["--printer"], help="a calibrated printer, in place of what the layout says of ink"),
        *(_flag(field, hints[field.name]) for field in fields),
        click.Option(["--json", "is_json"], is_flag=True, help="print what was made as JSON"),
    ]

    def run(layout: Path, variant: str | None, printer: str | None, is_json: bool, **given: Any) -> None:
        from mockup import api

        design = api.load(layout, variant, printer)
        parsed = {field.name: _value(field, given[field.name]) for field in fields}
        with _progress() as progress:
            result = api.make(module, design, module.Options(**parsed), progress)
        _tell(result.notes)
        _report(list(result.files), result.facts, is_json)

    return click.Command(name, params=parameters, callback=run, help=summary(module), short_help=summary(module))


def _flag(field: dataclasses.Field[Any], hint: Any) -> click.Option:
    """Return the command-line option of one field of an Options dataclass."""
    meta = field.metadata
    long = "--" + field.name.replace("_", "-")
    names = [long, *([f"-{meta['short']}"] if meta.get("short") else [])]
    choices = meta.get("choices")
    listed = choices() if callable(choices) else choices
    is_many = typing.get_origin(hint) is tuple and meta.get("parse") is None
    plain = [each for each in typing.get_args(hint) if each is not types.NoneType] or [hint]
    default = field.default
    if hint is bool:
        return click.Option([f"{long}/--no-{long[2:]}"], default=default, show_default=True, help=meta["help"])
    if meta.get("parse"):
        shown = "x".join(str(each) for each in default) if isinstance(default, tuple) else default
        return click.Option(names, default=shown, show_default=True, help=meta["help"])
    kind: Any = click.Choice(listed) if listed else {int: int, float: float}.get(plain[0], str)
    return click.Option(
        names, type=kind, default=default, multiple=is_many, show_default=default is not None, help=meta["help"]
    )


def _value(field: dataclasses.Field[Any], given: Any) -> Any:
    parse: Callable[[str], Any] | None = field.metadata.get("parse")
    if parse is None or given is None:
        return tuple(given) if isinstance(given, list) else given
    try:
        return parse(given)
    except ValueError as error:
        raise InputError(Fault(file="--" + field.name.replace("_", "-"), what=str(error))) from None


@contextmanager
def _progress() -> Iterator[Callable[[int, int, str], None]]:
    """Show a progress bar on standard error while it is a terminal; silent otherwise."""
    if not sys.stderr.isatty():
        yield lambda _done, _total, _what: None
        return
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeElapsedColumn

    columns = (TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), TimeElapsedColumn())
    with Progress(*columns, console=Console(stderr=True), transient=True) as bars:
        task = bars.add_task("", total=None)
        yield lambda done, total, what: bars.update(task, completed=done, total=total, description=what)


def _tell(notes: tuple[str, ...]) -> None:
    for note in notes:
        print(f"note: {note}", file=sys.stderr)


def _report(paths: list[str], facts: dict[str, Any], is_json: bool) -> None:
    if is_json:
        print(json.dumps(facts, indent=2, ensure_ascii=False))
        return
    frames = [path for path in paths if "-frames" in path]
    for path in paths:
        if path not in frames:
            print(path)
    if frames:
        print(f"{Path(frames[0]).parent} ({len(frames)} frames)")


def main() -> NoReturn:
    """Run the command line; one line per mistake on standard error, never a traceback."""
    try:
        status = cli.main(prog_name="mockup", standalone_mode=False)
    except MockupError as error:
        _fail(str(error))
    except click.exceptions.Exit as error:
        sys.exit(error.exit_code)
    except click.UsageError as error:
        asked = f" (see: {error.ctx.command_path} --help)" if error.ctx else ""
        _fail(f"{error.format_message()}{asked}")
    except click.ClickException as error:
        _fail(error.format_message())
    except (KeyboardInterrupt, click.Abort):
        print("stopped; nothing was written", file=sys.stderr)
        sys.exit(130)
    except BrokenPipeError:
        sys.stderr.close()
        sys.exit(0)
    except MemoryError:
        _fail("out of memory; try a smaller --size or smaller art")
    sys.exit(status or 0)


def _fail(text: str) -> NoReturn:
    print("\n".join(f"mockup: {line}" for line in text.splitlines()), file=sys.stderr)
    sys.exit(2)
