"""What mockup can do, on plain objects; the command line is a thin layer over this."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from types import ModuleType
from typing import Any

import numpy as np

from mockup import calibrate, files
from mockup.decal import typeface
from mockup.decal.artwork import decode
from mockup.decal.starter_art import DPI, starter_art
from mockup.encode.png import png
from mockup.layout import parse, resolve, starter
from mockup.layout.schema import json_schema
from mockup.model.design import Design
from mockup.model.errors import Fault, InputError
from mockup.model.finding import Finding
from mockup.model.picture import Picture
from mockup.model.printer import Printer
from mockup.model.scene import Look, Scene
from mockup.options import Progress, Result, silent
from mockup.outputs import still as still_output
from mockup.outputs import turntable as turntable_output
from mockup.picture.studio import OWN_BACKGROUND, lit
from mockup.scene.assemble import assemble

LAYOUT_FILE = "layout.toml"


def load(path: str | Path, variant: str | None = None, printer: str | None = None) -> Design:
    """Return the design of a layout file, with its art and lettering; `variant` names one of its variants.

    `printer` names a calibrated printer, which goes before what the layout says of ink.
    Raises `InputError` with one `Fault` per mistake in the file, its art or its fonts.
    """
    place = Path(path)
    layout = _read(place)
    names = resolve.assets(layout, variant)
    art = {name: decode(files.read_asset(place.parent, name, place.name), name) for name in names}
    named = resolve.font_files(layout, variant)
    fonts = {name: typeface.read(files.read_asset(place.parent, name, place.name), name) for name in named}
    is_needed = printer is not None or resolve.printer_name(layout, variant) is not None
    kept = calibrate.printers() if is_needed else {}
    chosen = calibrate.named(kept, printer) if printer is not None else None
    called = place.resolve().parent.name
    return resolve.resolve(layout, art, variant, fonts=fonts, called=called, printers=kept, printer=chosen)


def loads(
    text: str,
    art: Mapping[str, bytes] | None = None,
    variant: str | None = None,
    *,
    printers: Mapping[str, Printer] | None = None,
) -> Design:
    """Return the design of a layout given as text; `art` maps the names of pictures and fonts to file contents.

    `printers` are calibrated ones that the layout may name.
    Raises `InputError` with one `Fault` per mistake.
    """
    layout = parse.parse(text, LAYOUT_FILE)
    given = dict(art or {})
    names = resolve.assets(layout, variant)
    named = resolve.font_files(layout, variant)
    missing = [name for name in (*names, *named) if name not in given]
    if missing:
        raise InputError(Fault(file=LAYOUT_FILE, what=f"{name!r} was not given in art") for name in missing)
    pictures = {name: decode(given[name], name) for name in names}
    fonts = {name: typeface.read(given[name], name) for name in named}
    return resolve.resolve(layout, pictures, variant, fonts=fonts, printers=printers)


def variants(path: str | Path) -> tuple[str, ...]:
    """Return the names of a layout file's variants, in file order."""
    return resolve.variants(_read(Path(path)))


def others(path: str | Path, variant: str | None = None, printer: str | None = None) -> tuple[Design, ...]:
    """Return the designs of a layout file other than the one of `variant`: the plain one first, then file order."""
    names = [name for name in (None, *variants(path)) if name != variant]
    return tuple(load(path, name, printer) for name in names)


def _read(place: Path) -> parse.Layout:
    text, parts = files.read_text(place), files.read_parts(place)
    own_kinds = parse.parse_parts(parts, files.PARTS_FILE) if parts is not None else ()
    return parse.parse(text, place.name, own_kinds)


def build(design: Design, *, light: str = "bench", background: str = OWN_BACKGROUND, look: Look = "photo") -> Scene:
    """Return the finished pedal as a scene: meshes, materials and light, in no engine's terms."""
    return assemble(design, lit(light, background), look=look)


def still(design: Design, view: str = "three-quarter", **options: Any) -> Picture:
    """Return one picture; `options` are the fields of `mockup.outputs.still.Options`."""
    return still_output.picture(design, view, **options)


def turntable(design: Design, *, progress: Progress = silent, **options: Any) -> list[Picture]:
    """Return the frames of one turn; `options` are those of `mockup.outputs.turntable.Options`."""
    chosen = turntable_output.Options(**options)
    return [picture for picture, _ in turntable_output.pictures(design, chosen, progress)]


def check(design: Design, only: Sequence[str] = ()) -> tuple[Finding, ...]:
    """Return what will go wrong, or may, when the pedal is built: the worst first.

    `only` names the checks to run, none meaning all. Raises `InputError` for a name that is no check.
    """
    from mockup.checks.report.run import run

    return run(design, only)


def marked(
    design: Design, findings: Sequence[Finding], *, engine: str | None = None, progress: Progress = silent
) -> Picture:
    """Return a picture of the pedal with every finding numbered where it is and said beside it."""
    from mockup.picture.finding_picture import finding_picture

    return finding_picture(design, findings, engine=engine, progress=progress)


def save(picture: Picture, path: str | Path) -> None:
    """Write a picture as PNG, with its facts and true size; all or nothing."""
    files.write_all({Path(path): png(picture.pixels, dpi=picture.dpi, text=picture.facts)})


def make(output: ModuleType, design: Design, options: Any, progress: Progress = silent) -> Result:
    """Run an output plug-in and write its files, all or none; return what was made."""
    result: Result = output.make(design, options, progress)
    write(result)
    return result


def write(result: Result) -> None:
    """Write what an output made, all files or none."""
    files.write_all({Path(name): data for name, data in result.files.items()})


def new(folder: str | Path, *, is_replacing: bool = False) -> tuple[Path, ...]:
    """Start a project folder that already renders; return the files written.

    Raises `OutputError` where one of them is already there, unless `is_replacing`.
    """
    place = Path(folder)
    name = place.resolve().name
    text = starter.layout_text(name)
    blank = png(np.zeros((64, 64, 4), np.uint8), dpi=DPI)
    art = starter_art(loads(text, {starter.ART: blank}))
    written = {place / LAYOUT_FILE: text.encode(), place / starter.ART: png(art, dpi=DPI)}
    if not is_replacing:
        files.require_free(list(written))
    files.write_all(written)
    return tuple(written)


def schema() -> dict[str, Any]:
    """Return the JSON Schema of the layout file, for editors that complete and check it."""
    return json_schema()


def catalogue() -> dict[str, dict[str, str]]:
    """Return what a layout may name: kinds of parts, knob styles and box sizes, each with a line about it."""
    from mockup.enclosure.sizes import SIZES
    from mockup.hardware import kinds
    from mockup.knobs import STYLES

    return {
        "kinds of parts": {name: kind.about for name, kind in kinds().items()},
        "knob styles": {name: STYLES.summary(name) for name in STYLES.names()},
        "box sizes": {
            name: f"{box.width_mm:g} wide, {box.length_mm:g} long, {box.height_mm:g} high (mm, outside)"
            for name, box in SIZES.items()
        },
    }
