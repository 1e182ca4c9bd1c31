"""From a layout and its art to a design: defaults chosen, names looked up, everything placed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from mockup import films, finishes, knobs
from mockup.colour import rgb
from mockup.decal.cut import trimmed
from mockup.decal.painting import mean_colour
from mockup.decal.typeface import Typeface
from mockup.enclosure.bores import moved
from mockup.enclosure.shell import shell_problem
from mockup.enclosure.sizes import SIZES
from mockup.layout.decals import Picture, film_size, pictures, placed_decal, white_problems
from mockup.layout.fields import Loc, Problem, describe
from mockup.layout.lettering import labels
from mockup.layout.making import credit_problems, making
from mockup.layout.paint import named_picture, paint_picture
from mockup.layout.parse import Layout
from mockup.layout.pedal_tables import PedalTables, pedal_tables
from mockup.layout.places import order
from mockup.layout.ruler import centre, reach
from mockup.layout.schema import NO_KNOB, BoxKeys, FinishTable, KnobTable, PartTable
from mockup.layout.series import copies, is_numbered, series_problems
from mockup.model.design import Design, Placement
from mockup.model.enclosure import Enclosure, Face, FaceName, faces
from mockup.model.errors import Fault, InputError, nearest
from mockup.model.finish import Artwork, Decal, Finish
from mockup.model.paint_picture import PaintPicture
from mockup.model.part import Kind, Knob, Lamp
from mockup.model.printer import Printer
from mockup.model.shape import Point
from mockup.model.units import Unit, format_length

# Defaults: our taste, common practice, no source.
FAVOURITE_STYLE = "scalloped"
LAMP_COLOUR = "#ff2418"
UNPAINTED = (1.0, 1.0, 1.0)  # stands in where there is no paint; nothing shows it


def variants(layout: Layout) -> tuple[str, ...]:
    """Return the names of the layout's variants, in file order."""
    return tuple(layout.file.variants)


def assets(layout: Layout, variant: str | None = None) -> tuple[str, ...]:
    """Return the names of the picture files that the layout (or one variant of it) needs, each once."""
    return tuple(dict.fromkeys(each.name for each in art_pictures(layout, variant)))


def art_pictures(layout: Layout, variant: str | None = None) -> tuple[Picture, ...]:
    """Return the pictures that the layout (or one variant of it) needs, each once, with what is left out of them."""
    chosen = _tables(layout, variant)
    painted = named_picture(chosen.finish[1])
    found = [each for _, decal in chosen.decals for each in pictures(decal)]
    return tuple(dict.fromkeys(found if painted is None else [*found, painted]))


def font_files(layout: Layout, variant: str | None = None) -> tuple[str, ...]:
    """Return the names of the font files that the layout (or one variant of it) needs, each once."""
    return tuple(dict.fromkeys(name for _, name in labels.fonts(_tables(layout, variant))))


def named_files(layout: Layout, variant: str | None = None) -> tuple[str, ...]:
    """Return the names of the pictures and fonts that the layout (or one variant of it) needs, each once."""
    return tuple(dict.fromkeys((*assets(layout, variant), *font_files(layout, variant))))


def printer_name(layout: Layout, variant: str | None = None) -> str | None:
    """Return the name of the calibrated printer that the layout (or one variant of it) asks for, if any."""
    table = _tables(layout, variant).finish[1]
    return table.printer if table is not None else None


def resolve(
    layout: Layout,
    art: Mapping[str, Artwork],
    variant: str | None = None,
    *,
    fonts: Mapping[str, Typeface] | None = None,
    called: str = "",
    printers: Mapping[str, Printer] | None = None,
    printer: Printer | None = None,
    off: Mapping[str, Point] | None = None,
    copy: int = 0,
) -> Design:
    """Return the design that a layout, or one variant of it, describes.

    `art` holds the decoded pictures by the keys of `art_pictures`, `fonts` the typefaces by those
    of `font_files`; `called` names the pedal where the layout does not; `printers` are the user's own, by
    name, and `printer` is one that goes before what the layout says of ink; `off` says how far right and down of
    their places parts sit as built, drawn lettering with them; `copy` is which
    pedal of a series, counted from 0. Raises `InputError` with every
    mistake in file order: a box that cannot be made, a part off its face, a picture that is not there
    or has no size; and, where there is none of these, lettering that cannot be drawn. Lettering and art that lie
    off their face are no mistake here: checks tell of them.
    """
    chosen, units = _tables(layout, variant), layout.file.units
    box = enclosure_of(chosen.box[1])
    found = [*_credited(layout), *series_problems(chosen.labels, layout.file.copies)]
    series = copies(layout.file.copies)
    bad_box = shell_problem(box)
    if bad_box is not None:
        found.append((chosen.box[0], Problem((), bad_box, "change the box's measures")))
    sides = faces(box) if bad_box is None else {}
    decals, wrong_decals = _decals(chosen, art, sides, units)
    parts, wrong_parts = _parts(chosen, layout.kinds, sides, units, off or {})
    found += [*wrong_decals, *wrong_parts]
    where, finish = chosen.finish
    used = _printer(finish, printer, printers or {})
    painted = paint_picture(finish, art, box) if bad_box is None else None
    found += [(where, each) for each in (used, painted) if isinstance(each, Problem)]
    if not found:
        written = labels.place_labels(
            chosen, parts, sides, decals, fonts or {}, units, fields=series[copy].values if series else {}
        )
        found += written.found
    if found or isinstance(used, Problem) or isinstance(painted, Problem):
        found.sort(key=lambda entry: order((*entry[0], *entry[1].path), layout.raw, layout.lines))
        raise InputError(layout.fault(loc, problem) for loc, problem in found)
    return Design(
        name=chosen.name or called or layout.source.rpartition("/")[2].removesuffix(".toml"),
        source=layout.source,
        enclosure=box,
        finish=_printed_by(_finish(finish, painted), used),
        decals=tuple(trimmed(_film_of(decal, used)) for decal in written.decals),
        parts=tuple(parts),
        labels=written.labels,
        lost=written.lost,
        limits=chosen.limits,
        accepted=chosen.accepted,
        drills_mm=chosen.drills_mm,
        making=replace(
            making(layout.file.making, layout.file.credit, named_files(layout, variant)),
            copies=series,
            is_numbered=is_numbered([label for _, label in chosen.labels], series),
        ),
        variant=variant,
        units=units,
        rule=used.rule if used is not None else None,
    )


def refinish(
    design: Design,
    layout: Layout,
    art: Mapping[str, Artwork],
    variant: str | None = None,
    *,
    printers: Mapping[str, Printer] | None = None,
    printer: Printer | None = None,
) -> Design:
    """Return a design as `resolve` makes it of a layout that differs from the design's own in its finish alone.

    Raises `InputError` where the layout names a printer or a picture as paint that there is not.
    """
    where, table = _tables(layout, variant).finish
    used = _printer(table, printer, printers or {})
    painted = paint_picture(table, art, design.enclosure)
    if isinstance(used, Problem) or isinstance(painted, Problem):
        raise InputError(layout.fault(where, each) for each in (used, painted) if isinstance(each, Problem))
    return replace(
        design,
        finish=_printed_by(_finish(table, painted), used),
        decals=tuple(_film_of(decal, used) for decal in design.decals),
        rule=used.rule if used is not None else None,
    )


def _tables(layout: Layout, variant: str | None) -> PedalTables:
    if variant is not None and variant not in layout.file.variants:
        known = variants(layout)
        remedy = nearest(variant, known) if known else "the file has no [variants.NAME] table"
        raise InputError(Fault(file=layout.source, what=f'has no variant "{variant}"', remedy=remedy))
    return pedal_tables(layout.raw, variant)


def enclosure_of(box: BoxKeys) -> Enclosure:
    """Return the box that a table describes: the named size, or its own measures, each key over the size's."""
    given = {
        f"{key}_{'deg' if key == 'draft' else 'mm'}": value for key, value in box if value is not None and key != "size"
    }
    return replace(SIZES[box.size], **given) if box.size is not None else Enclosure(**given)


def _finish(table: FinishTable | None, picture: PaintPicture | None) -> Finish:
    if table is None or (table.paint is None and table.sheen is None):
        table = (table or FinishTable.model_construct()).model_copy(update={"sheen": finishes.UNPAINTED})
    sheen = finishes.sheens()[table.sheen or finishes.USUAL]
    colour = mean_colour(picture.pixels) if picture is not None else table.paint
    return Finish(
        paint=colour if isinstance(colour, tuple) else UNPAINTED,
        sheen=sheen,
        picture=picture if sheen.is_painted else None,
        has_clear_coat=bool(table.clear_coat) if table.clear_coat is not None else sheen.is_painted,
        lacquer=finishes.sheens()[table.clear_coat] if isinstance(table.clear_coat, str) else None,
        coat_under_film=finishes.sheens()[finishes.USUAL] if table.gloss_under_film else None,
        is_swatch_coated=table.swatch != "uncoated",
        ink_strength=table.ink_strength if table.ink_strength is not None else 1.0,
        orange_peel=table.orange_peel if table.orange_peel is not None else 1.0,
        casting_texture=table.casting_texture if table.casting_texture is not None else 1.0,
        edge_wear=table.edge_wear or 0.0,
    )


def _printed_by(finish: Finish, printer: Printer | None) -> Finish:
    """Return a finish with the ink and film of a calibrated printer; as it is where there is none."""
    if printer is None or not printer.has_ink:
        return finish
    return replace(finish, printer=printer.name, print_words=printer.print_words, ink_strength=1.0)


def _film_of(decal: Decal, printer: Printer | None) -> Decal:
    """Return a decal with its film as a calibrated printer's strip showed it; as it is where that tells nothing."""
    is_known = printer is not None and printer.has_ink and printer.film.name == decal.film.name
    film = printer.film if printer is not None and is_known else films.films()[decal.film.name]
    return decal if film == decal.film else replace(decal, film=film)


def _printer(
    table: FinishTable | None, chosen: Printer | None, printers: Mapping[str, Printer]
) -> Printer | Problem | None:
    """Return the calibrated printer that counts: the chosen one, else what the layout asks for, if anything."""
    asked = table.printer if table is not None else None
    if chosen is not None or asked is None or asked in printers:
        return chosen or printers.get(asked or "")
    remedy = nearest(asked, printers) if printers else "calibrate it first: mockup calibrate strip"
    return Problem(("printer",), f"there is no calibrated printer {describe(asked)}", remedy)


def _credited(layout: Layout) -> Iterator[tuple[Loc, Problem]]:
    """Yield what is wrong with the credits of a layout's pictures and fonts."""
    extra = layout.file.making.files if layout.file.making is not None else ()
    pedals = (None, *variants(layout)) if layout.file.credit else ()
    known = dict.fromkeys((*(name for each in pedals for name in named_files(layout, each)), *extra))
    return credit_problems(layout.file.credit, known)


def _decals(
    chosen: PedalTables, art: Mapping[str, Artwork], sides: Mapping[FaceName, Face], units: Unit
) -> tuple[list[Decal], list[tuple[Loc, Problem]]]:
    """Return the decals on faces that are there, and what is wrong with any."""
    decals: list[Decal] = []
    found: list[tuple[Loc, Problem]] = []
    for loc, table in chosen.decals:
        size = film_size(table, art, sides.get(table.face), units)
        if isinstance(size, Problem):
            found.append((loc, size))
        elif table.face in sides:
            decals.append(placed_decal(table, art, size, sides[table.face]))
            found += [(loc, each) for each in white_problems(table, art, decals[-1])]
    return decals, found


def _parts(
    chosen: PedalTables,
    kinds: Mapping[str, Kind],
    sides: Mapping[FaceName, Face],
    units: Unit,
    off: Mapping[str, Point],
) -> tuple[list[Placement], list[tuple[Loc, Problem]]]:
    """Return the parts on faces that are there, moved as they are built, and what is wrong with them."""
    parts: list[Placement] = []
    found: list[tuple[Loc, Problem]] = []
    for loc, part in chosen.parts:
        face = sides.get(part.face or "top")
        if face is not None:
            parts.append(moved(_placement(part, kinds[part.kind], face), off))
            found += [(loc, each) for each in _part_problems(part, parts[-1], face, units)]
    return parts, found


def _part_problems(part: PartTable, placed: Placement, face: Face, units: Unit) -> Iterator[Problem]:
    """Yield a centre off the face and holes larger than the face."""
    u, v = placed.u_mm, placed.v_mm
    if not 0 <= v <= face.height_mm:
        yield _off("top" if part.top is not None else "bottom", face.name, face.height_mm, units)
        return
    width = face.right_edge(v) - face.left_edge(v)
    if not face.left_edge(v) <= u <= face.right_edge(v):
        yield _off("left" if part.left is not None else "right", face.name, width, units)
    for cutout in placed.kind.cutouts:
        across, down = reach(cutout.outline, cutout.rotation_deg + placed.rotation_deg)
        for hole, room, how in ((across, width, "across"), (down, face.height_mm, "down")):
            if hole >= room:
                what = (
                    f"the {cutout.purpose} hole of a {placed.kind.name} measures {format_length(hole, units)} {how}, "
                    f"the {face.name} face only {format_length(room, units)}"
                )
                yield Problem(("kind",), what, "choose a smaller kind or a larger box")


def _off(key: str, face: FaceName, room: float, units: Unit) -> Problem:
    what = f"the part's centre lies off the {face} face"
    return Problem((key,), what, f"there {key} may be 0 to {format_length(room, units)}")


def _placement(part: PartTable, kind: Kind, face: Face) -> Placement:
    u, v = centre(face, left=part.left, right=part.right, top=part.top, bottom=part.bottom)
    colour = part.colour if part.colour is not None else rgb.parse(LAMP_COLOUR)
    return Placement(
        name=part.name,
        kind=kind,
        face=face.name,
        u_mm=u,
        v_mm=v,
        rotation_deg=part.rotation or 0.0,
        knob=_knob(part.knob or KnobTable.model_construct(), kind),
        lamp=Lamp(colour=rgb.linear_colour(colour), is_lit=part.lit is not False) if kind.is_lamp else None,
        depth_mm=part.depth or 0.0,
    )


def favourite_style() -> str:
    """Return the style of a knob that names none."""
    styles = knobs.styles()
    return FAVOURITE_STYLE if FAVOURITE_STYLE in styles else styles[0]


def _knob(table: KnobTable, kind: Kind) -> Knob | None:
    if kind.shaft is None or table.style == NO_KNOB:
        return None
    usual = knobs.default(table.style or favourite_style())
    line = table.pointer_colour
    return Knob(
        style=usual.style,
        diameter_mm=table.diameter or usual.diameter_mm,
        height_mm=table.height or usual.height_mm,
        colour=usual.colour if table.colour is None else rgb.linear_colour(table.colour),
        pointer_colour=usual.pointer_colour if line is None else rgb.linear_colour(line),
        pointer=0.5 if table.pointer is None else table.pointer,
    )
