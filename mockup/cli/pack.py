"""The commands ``mockup pack`` and ``mockup unpack``."""

from __future__ import annotations

from pathlib import Path

import click

from mockup.cli.terminal import report, tell


@click.command()
@click.argument("layout", type=click.Path(path_type=Path))
@click.option("-o", "--output", help="zip to write; named after the project's folder by default")
@click.option("--json", "is_json", is_flag=True, help="print what was packed as JSON")
def pack(layout: Path, output: str | None, is_json: bool) -> None:
    """Put a project with its art and fonts into one zip."""
    from mockup import archive

    made = archive.pack(layout, output)
    tell(made.notes)
    report(list(made.files), made.facts, is_json)


@click.command()
@click.argument("packed", metavar="ZIP", type=click.Path(path_type=Path))
@click.option("-o", "--output", help="folder to restore into; named after the zip by default")
@click.option("--json", "is_json", is_flag=True, help="print what was written as JSON")
def unpack(packed: Path, output: str | None, is_json: bool) -> None:
    """Restore a packed project, every file checked."""
    from mockup import archive

    made = archive.unpack(packed, output)
    report(list(made.files), made.facts, is_json)
