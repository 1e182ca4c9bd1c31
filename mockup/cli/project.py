"""Commands round a project: start one, see a demo, look things up."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import click

from mockup import files
from mockup.cli.command import command
from mockup.cli.terminal import print_json, progress_bar, report, say, tell
from mockup.model.text import in_shell
from mockup.options import option


@click.command()
@click.argument("folder", type=click.Path(path_type=Path))
def new(folder: Path) -> None:
    """Start a project folder that already renders."""
    from mockup import api

    for path in api.new(folder).files:
        say(path)
    say(f"now try: mockup still {in_shell(folder / files.LAYOUT_FILE)}", is_aside=True)


@dataclass(frozen=True, kw_only=True)
class DemoOptions:
    """Where the sample project goes."""

    output: str = option("mockup-demo", "folder to write to", short="o")


def _demo(options: DemoOptions, as_json: bool) -> None:
    from mockup import api

    with progress_bar() as progress:
        result = api.demo(options.output, progress=progress)
    tell(result.notes)
    report(list(result.files), result.facts, as_json)


demo = command(
    "demo", "Make a sample project and picture it, end to end.", _demo, lambda: DemoOptions, json="what was made"
)


@click.command()
def schema() -> None:
    """Print the JSON Schema of the layout file, for editors."""
    from mockup import api

    print_json(api.schema())


@click.command()
@click.option("--json", "is_json", is_flag=True, help="print the table as JSON")
def parts(is_json: bool) -> None:
    """List the kinds of parts, knob styles and box sizes there are."""
    from mockup import api

    table = api.parts()
    if is_json:
        print_json(table)
        return
    for heading, rows in table.items():
        print(heading)
        width = max(len(name) for name in rows)
        for name, about in rows.items():
            print(f"  {name:<{width}}  {about}")
