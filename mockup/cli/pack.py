"""The commands ``mockup pack`` and ``mockup unpack``."""

from __future__ import annotations

import json
from pathlib import Path

import click

from mockup.cli.terminal import tell


@click.command()
@click.argument("layout", type=click.Path(path_type=Path))
@click.option("-o", "--output", help="zip to write; by default called as the project's folder")
@click.option("--json", "is_json", is_flag=True, help="print what was packed as JSON")
def pack(layout: Path, output: str | None, is_json: bool) -> None:
    """Put a project with its art and fonts into one zip."""
    from mockup import pack as packing

    made = packing.pack(layout, output)
    tell(made.notes)
    print(json.dumps({"pack": str(made.path), "files": made.names}, indent=2) if is_json else made.path)


@click.command()
@click.argument("packed", metavar="ZIP", type=click.Path(path_type=Path))
@click.option("-o", "--output", help="folder to restore into; by default called as the zip")
@click.option("--json", "is_json", is_flag=True, help="print what was written as JSON")
def unpack(packed: Path, output: str | None, is_json: bool) -> None:
    """Restore a packed project, every file checked."""
    from mockup import pack as packing

    made = packing.unpack(packed, output)
    paths = [str(made.path / name) for name in made.names]
    print(json.dumps({"folder": str(made.path), "files": paths}, indent=2) if is_json else "\n".join(paths))
