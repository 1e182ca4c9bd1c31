"""The command ``mockup built``."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

import click

from mockup.cli.command import command
from mockup.cli.terminal import print_json, say
from mockup.options import option


@dataclass(frozen=True, kw_only=True)
class BuiltOptions:
    """What is to be done with the holes as built."""

    variant: str | None = option(None, "a variant that the layout file names")
    start: bool = option(False, "write the file built.toml to fill in by hand, with every hole of the design")


def _run(options: BuiltOptions, layout: Path, as_json: bool) -> None:
    from mockup import as_built

    if options.start:
        say(str(as_built.start(layout, options.variant)))
        return
    told = as_built.as_built(layout, options.variant)
    if as_json:
        print_json(_facts(told))
        return
    for line in as_built.lines(told):
        say(line)


def _facts(told: Any) -> dict[str, Any]:
    return {
        "holes": [
            {
                "name": each.bore.name,
                "face": each.bore.face,
                "right_mm": round(each.right_mm, 4),
                "down_mm": round(each.down_mm, 4),
                "doubt_mm": each.built.doubt_mm,
                "diameter_mm": each.built.diameter_mm,
                "by": each.built.by,
            }
            for each in told.holes
        ],
        "faces": [
            {
                "face": each.face,
                "shift_mm": [round(value, 4) for value in each.move.shift],
                "turn_deg": round(each.move.turn_deg, 4),
                "worst_left_mm": round(each.worst_left_mm, 4),
            }
            for each in told.faces
        ],
        "decals": [
            {
                "art": each.decal.art.name,
                "face": each.decal.face,
                "shift_mm": [round(value, 4) for value in each.shift_mm],
                "turn_deg": round(each.move.turn_deg, 4),
                "left_mm": {hole.bore.name: round(off, 4) for hole, off in zip(each.holes, each.left_mm, strict=True)},
            }
            for each in told.decals
        ],
        "unmeasured": [each.name for each in told.unmeasured],
    }


built = command(
    "built",
    "Say how far the drilled holes are off the design, and how the decal is best laid.",
    _run,
    lambda: BuiltOptions,
    click.Argument(["layout"], type=click.Path(path_type=Path)),
    json="what was measured",
)
