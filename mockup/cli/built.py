"""The command ``mockup built``."""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from mockup.cli.command import command, path_argument
from mockup.cli.terminal import print_json, say, tell
from mockup.options import PICTURES, bad_option, file_stem, option, parse_corners, require_ending, require_range

_OF_PICTURES = ("dpi", "scale", "frame", "turn", "corners", "hole", "output")


def _faces() -> tuple[str, ...]:
    from mockup.model.enclosure import FACES

    return FACES


def _pair(text: str) -> tuple[float, float]:
    """Return two lengths, across and down."""
    try:
        across, down = (float(word) for word in text.split(","))
    except ValueError:
        across = down = math.nan
    if not (math.isfinite(across) and math.isfinite(down)):
        raise ValueError(f"{text!r} is no pair of lengths; write across and down, such as 100.1,99.9")
    return across, down


def _scale(text: str) -> tuple[float, float]:
    """Return true millimetres in the scanner's, from text such as ``100.1,99.9``."""
    across, down = (each / 100.0 for each in _pair(text))
    if not (0.95 <= across <= 1.05 and 0.95 <= down <= 1.05):
        raise ValueError(f"{text!r} is more than 5 % off; measure 100 mm in the scan again")
    return across, down


@dataclass(frozen=True, kw_only=True)
class BuiltOptions:
    """What is to be done with the holes as built."""

    variant: str | None = option(None, "a variant that the layout file names")
    start: bool = option(False, "write the file built.toml to fill in by hand, with every hole of the design")
    scan: tuple[str, ...] = option(
        (), "read the holes off a flatbed scan of the drilled face; give two, turned by half"
    )
    photo: tuple[str, ...] = option(
        (), "read the holes off a photograph of the drilled face with the frame of mockup measure on it"
    )
    face: str = option("top", "the face that is in the picture", choices=_faces, noun="face")
    dpi: float | None = option(None, "resolution of the scan, where its file does not say it")
    scale: tuple[float, float] | None = option(
        None,
        "true millimetres of 100 in the scan, across and down, such as 100.1,99.9",
        parse=_scale,
    )
    frame: tuple[float, float] | None = option(
        None, "what the printed frame measures between its corner marks, across and down: 68.8,121.3", parse=_pair
    )
    turn: float | None = option(None, "how the face lay, degrees clockwise; found by itself, as a rule")
    corners: tuple[Any, ...] | None = option(
        None,
        "the face's corners in a photograph without marks, clockwise from its top left, in pixels: \"90,80 610,84 "
        '606,420 88,415"; good to 1 mm',
        parse=parse_corners,
    )
    hole: tuple[str, ...] = option(
        (),
        "which circle a hole's rim is in the picture: 3=found, 3=rival, a nudge right and down in mm 3=+0.2,-0.1, or "
        "3=? (not told); kept with the project",
    )
    output: str | None = option(None, "file of the enlarged holes (.png or .jpg)", short="o", suffixes=PICTURES)


def _answers(words: tuple[str, ...]) -> dict[int, Any]:
    """Return answers by the hole's number, from texts such as ``3=rival``; `InputError` for what is none."""
    from mockup.model.built import read_answer

    found = {}
    for word in words:
        number, _, said = (each.strip() for each in word.partition("="))
        try:
            found[int(number)] = read_answer(said)
        except ValueError as error:
            what, _, remedy = str(error).partition("; ")
            if not number.isdecimal():
                what, remedy = f"{word!r} names no hole", "write its number first, such as 3=rival"
            raise bad_option("hole", what, remedy) from None
    return found


def _read(options: BuiltOptions, layout: Path) -> Any:
    """Read pictures, keep what they show, write the page of enlargements; return what is known then."""
    from mockup import as_built, files

    require_range("dpi", options.dpi, 50.0, 4800.0)
    require_range("turn", options.turn, -360.0, 360.0)
    answers = _answers(options.hole)
    request = as_built.FaceRequest(
        scans=tuple(map(Path, options.scan)),
        photos=tuple(map(Path, options.photo)),
        face=options.face,  # type: ignore[arg-type]  # one of its choices
        dpi=options.dpi,
        scale=options.scale,
        frame_mm=options.frame,
        turn_deg=options.turn,
        corners=options.corners or (),
    )
    if options.output is not None:
        require_ending(options.output, PICTURES)
    reading = as_built.read_face(layout, request, options.variant)
    told, notes = as_built.accept(reading, answers)
    path = Path(options.output or f"{file_stem(reading.design.name)}-{options.face}-holes.png")
    files.write_all({path: as_built.enlargements(reading, path, answers)})
    tell((*notes, f"the holes enlarged: {path}"))
    return told


def _run(options: BuiltOptions, layout: Path, as_json: bool) -> None:
    from mockup import as_built

    is_read = bool(options.scan or options.photo)
    given = next((name for name in _OF_PICTURES if getattr(options, name) not in (None, ())), None)
    if options.start and is_read:
        raise bad_option("start", "goes with no picture", "leave it out: what a picture shows is written by itself")
    if given is not None and not is_read:
        remedy = "add --scan or --photo, or type what you measured into built.toml (mockup built --start)"
        raise bad_option(given, "goes with a picture of the drilled face", remedy)
    if options.start:
        say(str(as_built.start(layout, options.variant)))
        return
    told = _read(options, layout) if is_read else as_built.as_built(layout, options.variant)
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
    path_argument("layout"),
    json="what was measured",
)
