"""What mockup can do, on plain objects; the command line is a thin layer over this."""

from __future__ import annotations

import datetime
import inspect
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np

from mockup import cache, files, reader, records
from mockup.decal.starter_art import DPI, starter_art
from mockup.encode.picture_file import picture_file
from mockup.encode.png import png
from mockup.layout import parse, resolve, starter
from mockup.layout.json_schema import json_schema
from mockup.layout_source import in_folder, layout_source, read_layout
from mockup.model.design import Design
from mockup.model.errors import Fault, InputError
from mockup.model.finding import Finding
from mockup.model.picture import Picture
from mockup.model.printer import Printer
from mockup.model.scene import Scene
from mockup.model.units import Unit
from mockup.options import (
    DesignRequest,
    OptionField,
    Origin,
    Progress,
    Result,
    bad_option,
    option_fields,
    require_choices,
    silent,
)
from mockup.outputs import OUTPUTS
from mockup.picture.options import PictureRequest
from mockup.scene.assemble import assemble


def load(
    path: str | Path, variant: str | None = None, printer: str | None = None, as_built: bool | None = False
) -> Design:
    """Return the design of a layout file, with its art and lettering; `variant` names one of its variants.

    `printer` names a calibrated printer, which goes before what the layout says of ink; `as_built` puts the holes where
    the file built.toml beside the layout says that they were drilled, parts and drawn lettering with them.
    Raises `InputError` with one `Fault` per mistake in the file, its art or its fonts.
    """
    return layout_source(path, variant, printer, as_built).drawn


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
    layout = parse.parse(text, files.LAYOUT_FILE)
    given = dict(art or {})
    names = resolve.assets(layout, variant)
    named = resolve.font_files(layout, variant)
    missing = [name for name in (*names, *named) if name not in given]
    if missing:
        raise InputError(Fault(file=files.LAYOUT_FILE, what=f"{name!r} was not given in art") for name in missing)
    wanted = resolve.art_pictures(layout, variant)
    pictures = {each.key: reader.picture(given[each.name], each.name, hide=each.hide) for each in wanted}
    fonts = {name: reader.font(given[name], name) for name in named}
    return resolve.resolve(layout, pictures, variant, fonts=fonts, printers=printers)


def variants(path: str | Path) -> tuple[str, ...]:
    """Return the names of a layout file's variants, in file order."""
    return resolve.variants(read_layout(in_folder(path)))


def others(
    path: str | Path, variant: str | None = None, printer: str | None = None, as_built: bool | None = False
) -> tuple[Design, ...]:
    """Return the designs of a layout file other than the one of `variant`: the plain one first, then file order."""
    names = [name for name in (None, *variants(path)) if name != variant]
    return tuple(load(path, name, printer, as_built) for name in names)


def series(
    path: str | Path,
    count: int,
    variant: str | None = None,
    printer: str | None = None,
    as_built: bool | None = False,
) -> tuple[Design, ...]:
    """Return the designs of the second to the last of `count` copies; none where their lettering does not differ.

    Raises `InputError` where the layout has fewer [[copy]] tables than that.
    """
    source = layout_source(path, variant, printer, as_built)
    made = source.drawn.making
    if not made.is_numbered:
        return ()
    made.require(count, source.path.name)
    return tuple(replace(source, copy=number).drawn for number in range(1, count))


def build(design: Design, request: PictureRequest | None = None) -> Scene:
    """Return the finished pedal as a scene: meshes, materials and light, in no engine's terms."""
    asked = request or PictureRequest()
    return assemble(asked.finished(design), asked.lighting, look=asked.look)


def output(
    name: str, layout: Design | str | Path | None = None, *, progress: Progress = silent, **options: Any
) -> Result:
    """Return what the output plug-in called `name` makes of a design, as files that are not written yet.

    `layout` is a design, or a layout file whose variant and printer `options` may name; None for what an output
    makes of no design. `options` are the fields of the plug-in's Options. Raises `InputError`.
    """
    module = OUTPUTS.load(name)
    cache.attach()
    chosen = {each.name: options.pop(each.name, None) for each in option_fields(DesignRequest)}
    if isinstance(layout, Design) and any(chosen.values()):
        flag = next(name for name, value in chosen.items() if value)
        raise bad_option(flag, "goes with a layout file, not with a design", "give it to mockup.load")
    fields = {each.name: each for each in option_fields(module.Options)}
    known = {name: None for name, each in fields.items() if each.reads == "day"} | options
    known = {
        name: option_value(fields[name], value, chosen["printer"]) if name in fields else value
        for name, value in known.items()
    }
    made = module.Options(**known)
    require_choices(made)
    alone = getattr(module, "alone", None)
    loose: Result | None = alone(made) if alone is not None else None
    if loose is not None:
        if isinstance(layout, str | Path):
            raise InputError(Fault(file=str(layout), what="belongs to no page of this kind", remedy="leave it out"))
        return loose
    if layout is None:
        raise InputError(Fault(file=name, what="missing LAYOUT", remedy="name a layout file"))
    if isinstance(layout, Design):
        design = layout
    else:
        layout = in_folder(layout)
        design = load(layout, **chosen)
        wanted = [name for name, each in fields.items() if each.reads == "variants" and name not in options]
        made = replace(made, **{name: others(layout, **chosen) for name in wanted})
        numbered = [name for name, each in fields.items() if each.reads == "copies" and name not in options]
        if numbered and made.copies > 1:
            made = replace(made, **dict.fromkeys(numbered, series(layout, made.copies, **chosen)))
    marked_with = [name for name, each in fields.items() if each.reads == "stops" and name not in options]
    if marked_with:
        from mockup.checks.report.accepted import counted

        made = replace(made, **dict.fromkeys(marked_with, counted(check(design))["stop"]))
    result: Result = module.make(design, made, progress)
    # Nobody drills by a picture, and no layout says how the holes came out: neither leaves a record.
    if isinstance(layout, Design) or result.pictures or chosen["as_built"]:
        return result
    beside = [each for name, field in fields.items() if field.reads == "variants" for each in getattr(made, name)]
    return replace(result, made_of=Origin(layout=Path(layout), designs=(design, *beside)))


def door(name: str) -> Callable[..., Result]:
    """Return the function that makes an output: the Python door of its plug-in, with its options and their help."""
    options = OUTPUTS.load(name).Options

    def make(layout: Design | str | Path | None = None, **given: Any) -> Result:
        return output(name, layout, **given)

    fields = {each.name: each for each in (*option_fields(DesignRequest), *option_fields(options))}
    kind = inspect.Parameter
    make.__name__ = make.__qualname__ = name.replace("-", "_")
    make.__module__ = "mockup"
    make.__signature__ = inspect.Signature(  # type: ignore[attr-defined]
        [
            kind("layout", kind.POSITIONAL_OR_KEYWORD, default=None, annotation="Design | str | Path | None"),
            *(
                kind(each.name, kind.KEYWORD_ONLY, default=each.default, annotation=each.type)
                for each in fields.values()
            ),
            kind("progress", kind.KEYWORD_ONLY, default=silent, annotation="Progress"),
        ],
        return_annotation="Result",
    )
    told = "\n".join(f"    {each.name}: {each.help}{_listed(each)}" for each in fields.values())
    make.__doc__ = f"""{OUTPUTS.summary(name)}

    `layout` is a design, or a layout file, whose variant and printer may be named. The files made are in
    the result's `files`; `mockup.save` writes them. Raises `InputError`.

{told}
    """
    return make


def _listed(field: OptionField) -> str:
    return f" ({', '.join(field.choices)})" if field.choices else ""


def option_value(field: OptionField, value: Any, printer: str | None = None) -> Any:
    """Return an option's value with what stands behind the name of a file, and today where a day is not given."""
    if field.is_many and not isinstance(value, str):
        return tuple(option_value(replace(field, is_many=False), each, printer) for each in value)
    if field.reads == "layout" and isinstance(value, str | Path):
        return load(Path(value).expanduser(), None, printer)
    if field.reads == "file" and isinstance(value, str | Path):
        place = Path(value).expanduser()
        return place.name, files.read_bytes(place)
    if field.reads == "day":
        return datetime.date.today().isoformat() if value is None else value or None
    return value


def check(design: Design, only: Sequence[str] = ()) -> tuple[Finding, ...]:
    """Return what will go wrong, or may, when the pedal is built: the worst first.

    `only` names the checks to run, none meaning all. Raises `InputError` for a name that is no check.
    """
    from mockup.checks.report.run import run

    cache.attach()
    return run(design, only)


def sentences(finding: Finding, units: Unit = "mm") -> tuple[str, str]:
    """Return what a finding says is wrong, and what to do about it (empty where nothing is), lengths in `units`."""
    from mockup.checks.report.sentences import remedy, what

    return what(finding, units), remedy(finding, units)


def marked(
    design: Design, findings: Sequence[Finding], *, engine: str | None = None, progress: Progress = silent
) -> Picture:
    """Return a picture of the pedal with every finding numbered where it is and said beside it."""
    from mockup.picture.finding_picture import finding_picture

    return finding_picture(design, findings, engine=engine, progress=progress)


def save(made: Result | Picture, place: str | Path = "") -> tuple[Path, ...]:
    """Write a result's files, or a picture (PNG, JPEG) with facts and true size, all or nothing; return the paths.

    What a page was made of is kept beside its layout file (`mockup.records`), so that `mockup which` knows the page.

    `place` is the folder that a result's files go into, or the file that a picture goes into.
    """
    if isinstance(made, Picture):
        written = {Path(place): picture_file(place, made.pixels, dpi=made.dpi, text=made.facts)}
    else:
        written = {Path(place) / name: data for name, data in made.files.items()}
    files.write_all(written)
    if isinstance(made, Result) and made.made_of is not None:
        records.keep(made.made_of.layout, made.made_of.designs)
    return tuple(written)


def new(folder: str | Path, *, is_replacing: bool = False) -> Result:
    """Write a project folder that already renders.

    Raises `OutputError` where one of its files is already there, unless `is_replacing`.
    """
    place = Path(folder)
    name = files.title(place / files.LAYOUT_FILE)
    text = starter.layout_text(name)
    blank = png(np.zeros((64, 64, 4), np.uint8), dpi=DPI)
    art = starter_art(loads(text, {starter.ART: blank}))
    written = {place / files.LAYOUT_FILE: text.encode(), place / starter.ART: png(art, dpi=DPI)}
    if not is_replacing:
        files.require_free(list(written))
    files.write_all(written)
    return Result(files={str(path): data for path, data in written.items()}, facts={"project": list(map(str, written))})


def demo(folder: str | Path, *, progress: Progress = silent) -> Result:
    """Write a sample project and pictures of it, as one makes them: a project, stills, a turntable."""
    place = Path(folder)
    project = new(place / "tidewater", is_replacing=True)
    design = load(place / "tidewater" / files.LAYOUT_FILE)
    stills = output(
        "still",
        design,
        view=("three-quarter", "above", "player", "inside"),
        size=(1280, 960),
        output=str(place),
        progress=progress,
    )
    turn = output(
        "turntable",
        design,
        frames=24,
        size=(640, 480),
        quality="draft",  # a first look is not to be waited for
        keep_frames=False,
        output=str(place / "turntable.webp"),
        progress=progress,
    )
    made = Result(
        files=project.files | stills.files | turn.files,
        facts=project.facts | stills.facts | turn.facts,
        notes=stills.notes,
        pictures=stills.pictures,
    )
    save(made)
    return made


def schema() -> dict[str, Any]:
    """Return the JSON Schema of the layout file, for editors that complete and check it."""
    return json_schema()


def parts() -> dict[str, dict[str, str]]:
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
