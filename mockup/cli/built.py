"""The command ``mockup built``."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

import click

from mockup.cli.command import command
from mockup.cli.terminal import print_json, say, tell
from mockup.options import bad_option, option


def _faces() -> tuple[str, ...]:
    from mockup.model.enclosure import FACES

    return FACES


def _scale(text: str) -> tuple[float, float]:
    """Return true millimetres in the scanner's, from text such as ``100.1,99.9``."""
    try:
        across, down = (float(word) / 100.0 for word in text.split(","))
    except ValueError:
        raise ValueError(f"{text!r} is no pair of lengths; write across and down, such as 100.1,99.9") from None
    if not (0.95 <= across <= 1.05 and 0.95 <= down <= 1.05):
        raise ValueError(f"{text!r} is more than 5 % off; measure 100 mm in the scan again")
    return across, down


def _sound(name: str, value: float | None, least: float, most: float) -> float | None:
    """Return a number, `InputError` where it is out of range."""
    if value is not None and not least <= value <= most:
        raise bad_option(name, f"{value:g} is out of range", f"expected {least:g} to {most:g}")
    return value


@dataclass(frozen=True, kw_only=True)
class BuiltOptions:
    """What is to be done with the holes as built."""

    variant: str | None = option(None, "a variant that the layout file names")
    start: bool = option(False, "write the file built.toml to fill in by hand, with every hole of the design")
    scan: tuple[str, ...] = option(
        (), "read the holes off a flatbed scan of the drilled face; give two, turned by half"
    )
    face: str = option("top", "the face that was scanned", choices=_faces, noun="face")
    dpi: float | None = option(None, "resolution of the scan, where its file does not say it")
    scale: tuple[float, float] | None = option(
        None, "true millimetres of 100 in the scan, across and down, such as 100.1,99.9", parse=_scale
    )
    turn: float | None = option(None, "how the face lay on the glass, degrees clockwise; found by itself, as a rule")


def _run(options: BuiltOptions, layout: Path, as_json: bool) -> None:
    from mockup import as_built

    if options.start:
        say(str(as_built.start(layout, options.variant)))
        return
    if options.scan:
        request = as_built.ScanRequest(
            scans=tuple(map(Path, options.scan)),
            face=options.face,  # type: ignore[arg-type]  # one of its choices
            dpi=_sound("dpi", options.dpi, 50.0, 4800.0),
            scale=options.scale,
            turn_deg=_sound("turn", options.turn, -360.0, 360.0),
        )
        told, notes = as_built.read_scans(layout, request, options.variant)
        tell(notes)
    else:
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
