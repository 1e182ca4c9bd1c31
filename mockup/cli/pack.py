"""The commands ``mockup pack`` and ``mockup unpack``."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from mockup.cli.command import command, path_argument
from mockup.cli.terminal import report, tell
from mockup.options import option


@dataclass(frozen=True, kw_only=True)
class PackOptions:
    """Where a project goes."""

    output: str | None = option(None, "zip to write; named after the project's folder by default", short="o")


@dataclass(frozen=True, kw_only=True)
class UnpackOptions:
    """Where a project is restored."""

    output: str | None = option(None, "folder to restore into; named after the zip by default", short="o")


def _pack(options: PackOptions, layout: Path, as_json: bool) -> None:
    from mockup import archive

    made = archive.pack(layout, options.output)
    tell(made.notes)
    report(list(made.files), made.facts, as_json)


def _unpack(options: UnpackOptions, packed: Path, as_json: bool) -> None:
    from mockup import archive

    made = archive.unpack(packed, options.output)
    report(list(made.files), made.facts, as_json)


pack = command(
    "pack",
    "Put a project with its art and fonts into one zip.",
    _pack,
    lambda: PackOptions,
    path_argument("layout"),
    json="what was packed",
)
unpack = command(
    "unpack",
    "Restore a packed project, every file checked.",
    _unpack,
    lambda: UnpackOptions,
    path_argument("packed", metavar="ZIP"),
    json="what was written",
)
