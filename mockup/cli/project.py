"""Commands round a project: start one, see a demo, look things up."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

import click

from mockup.cli.terminal import progress_bar, report, tell
from mockup.outputs import OUTPUTS


@click.command()
@click.argument("folder", type=click.Path(path_type=Path))
def new(folder: Path) -> None:
    """Start a project folder that already renders."""
    from mockup import api

    for path in api.new(folder):
        print(path)
    print(f"now try: mockup still {folder / api.LAYOUT_FILE}", file=sys.stderr)


@click.command()
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
        with progress_bar() as progress:
            result = api.make(output_module, design, output_module.Options(**options), progress)
        tell(result.notes if name == "still" else ())
        facts |= result.facts
        made += list(result.files)
    report(made, facts, is_json)


@click.command()
def schema() -> None:
    """Print the JSON Schema of the layout file, for editors."""
    from mockup import api

    print(json.dumps(api.schema(), indent=2, ensure_ascii=False))


@click.command()
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
