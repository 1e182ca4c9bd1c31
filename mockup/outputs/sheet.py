"""Make a print sheet of decals at true size: nested, with cut marks, as PDF or PNG."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any, get_args

import numpy as np

from mockup.checks.art.sheets import Sheet
from mockup.decal import ink_over_paint
from mockup.decal.composite import paint_under
from mockup.decal.cut import film_pieces, with_margin
from mockup.decal.match import LINE_MM, match_on
from mockup.decal.pictures.formats import MAX_PIXELS
from mockup.decal.pictures.profiles import into_profile
from mockup.decal.processes import PROCESSES, process_words
from mockup.decal.white_under import white_share
from mockup.enclosure.bores import bores
from mockup.encode.pixels import resampled
from mockup.encode.png import png
from mockup.fingerprint import fingerprint
from mockup.geometry.nesting import more
from mockup.model.design import Design
from mockup.model.errors import Fault, InputError
from mockup.model.finish import INKJET, Decal, Process
from mockup.model.making import MOST_COPIES
from mockup.model.printer import RULE_MM
from mockup.model.units import MM_PER_INCH
from mockup.options import Progress, Result, bad_option, file_stem, option, require_ending, require_range, silent
from mockup.outputs.pages.doubt_rows import doubt_pieces
from mockup.outputs.pages.loose import PRINTED_AS_IS, measuring_page
from mockup.outputs.pages.match_map import match_map, tally
from mockup.outputs.pages.open_stops import mark, open_stops
from mockup.outputs.pages.open_stops import notes as stop_notes
from mockup.outputs.pages.paper_sizes import page_size
from mockup.outputs.pages.press import (
    LEAST_GAP_MM,
    NARROW,
    SEPARATION,
    DecalPiece,
    Setting,
    Spread,
    WhiteAs,
    spreads,
)
from mockup.outputs.pages.press_files import Cutter, beside, cutting, written

LEAST_DPI, MOST_DPI = 72.0, 2400.0  # what printers and scanners know: common practice, no source
_SIDES_MM = (60.0, 1000.0)  # least and most of a page: our choice
_CARE = (  # what every supplier's leaflet says: common practice, no source
    "Cut with a sharp knife, away from your hand. Spray lacquer outdoors or with ventilation and a respirator; the "
    "products' own safety sheets come first."
)
_WHITE_WORDS: dict[WhiteAs, str] = {
    "none": "White is not printed.",
    "page": "The white is a page of its own.",
    "separation": f'The white is the separation "{SEPARATION}", printed under the colours.',
    "both": f'The white is the separation "{SEPARATION}", printed under the colours, and a page of its own.',
}
_SAME_DPI = 0.005  # share by which two resolutions may differ and count as one
_SUFFIXES = (".pdf", ".png")


@dataclass(frozen=True, kw_only=True)
class Options:
    """What goes on the sheet, how it is printed, and where to put it."""

    copies: int = option(1, "how many of everything")
    with_: tuple[Design, ...] = option((), "another layout file on the same sheet; repeat for several", reads="layout")
    series: tuple[Design, ...] = option((), "designs of the copies after the first, where they differ", reads="copies")
    page: str = option("a4", 'size of the page: a4, letter, or width x height such as "100x150" or "4x6 in"')
    dpi: float | None = option(None, "dots per inch; the art's own by default, and then no pixel is changed")
    gap: float = option(6.0, "from one decal's cutting line to the next one's, mm")
    trim: float = option(2.0, "clear film from the art to its cutting line, mm")
    centres: bool = option(False, "mark the middle of every hole on the art")
    mirror: bool = option(False, "left to right, for transfer film that is laid on face down")
    white: WhiteAs | None = option(
        None,
        'white under the ink as a "page" of its own, a "separation" of the PDF by the name White, "both" or "none"; '
        "as the decal's process has it by default",
        choices=get_args(WhiteAs),
    )
    cutter: Cutter | None = option(
        None, "write each page's cutting lines for a cutter too, beside the sheet", choices=get_args(Cutter)
    )
    match: bool = option(False, "change the ink so that over this paint it comes closest to the art as drawn")
    test_piece: bool = option(False, "instead of the decals, patches of the three colours that are most in doubt")
    icc: tuple[str, bytes] | None = option(None, "your printer's RGB profile (.icc); sRGB otherwise", reads="file")
    date: str | None = option(None, 'words for the slug; today\'s date by default, "" for none', reads="day")
    rule: bool = option(False, "write the measuring page for your printer, instead of a sheet; needs no layout")
    open_stops: int = open_stops()
    output: str | None = option(None, "file to write (.pdf or .png)", short="o", suffixes=_SUFFIXES)


def make(design: Design, options: Options, progress: Progress = silent) -> Result:
    """Return the sheet, and with `match` each decal's map of what no ink can reach; `InputError` for bad options."""
    _check(options)
    name = options.output or f"{file_stem(design.name)}-sheet.pdf"
    path = str(require_ending(name, _SUFFIXES, no_jpeg=PRINTED_AS_IS))
    if design.making.is_numbered and len(options.series) + 1 != options.copies:
        raise bad_option("copies", "the copies differ in their lettering", "make the sheet of the layout file")
    designs = (design, *options.with_)
    repeats = 1 if options.series else options.copies
    printed = (design, *options.series, *options.with_ * options.copies) if options.series else designs
    decals = [(each, decal) for each in printed for decal in each.decals]
    if not decals:
        remedy = "add a [[decal]] or a [lettering] table"
        raise InputError(Fault(file=design.source, what="has no decal to print", remedy=remedy))
    setting = _setting(design, options, max(max(decal.dpi) for _, decal in decals))
    _check_picture(path, setting, options)
    pieces: list[DecalPiece] = []
    files: dict[str, bytes] = {}
    facts: list[dict[str, Any]] = []
    if options.test_piece:
        pieces += [piece for each in dict.fromkeys(designs) for piece in doubt_pieces(each)]
    for number, (each, decal) in enumerate(() if options.test_piece else decals):
        progress(number, len(decals) + 1, decal.art.name)
        piece, fact, chart = _piece(each, decal, options, setting)
        pieces.append(piece)
        facts.append(fact)
        if chart is not None:
            files[beside(path, f"match-{file_stem(each.name)}-{number + 1}")] = chart
    if not all(map(setting.takes, pieces)):
        setting = replace(setting, margins=NARROW)
    too_large = [piece for piece in pieces if not setting.takes(piece)]
    if too_large:
        raise _too_large(too_large[0], setting, options)
    progress(len(decals), len(decals) + 1, "pages")
    pages, room = _pages(designs, pieces, options, setting, repeats)
    sheets = written(path, pages, _title(designs), options.icc[1] if options.icc is not None else None)
    sheets |= cutting(path, pages, options.cutter) if options.cutter is not None else {}
    progress(len(decals) + 1, len(decals) + 1, "done")
    summary = {
        "files": [*sheets, *files],
        "page_mm": [round(setting.width_mm, 3), round(setting.height_mm, 3)],
        "dpi": setting.dpi,
        "copies": options.copies,
        "pages": len(pages),
        "stretch": [round(each, 6) for each in setting.stretch],
        "more_copies_fit": room,
        "decals": facts,
    }
    told = (*stop_notes(options.open_stops), *_notes(options, room, facts), *_art_notes(decals))
    return Result(files={**sheets, **files}, facts=summary, notes=told)


def alone(options: Options) -> Result | None:
    """Return the measuring page where it is asked for, else None."""
    if not options.rule:
        return None
    path, paper_mm = options.output or "rule.pdf", page_size(options.page, *_SIDES_MM)
    data = measuring_page(path, paper_mm)
    notes = (
        "print it at 100 %, measure A and B, and type what you found: "
        'mockup calibrate rule --measured 99.6,100.3 --name "my inkjet"',
    )
    facts = {"file": path, "page_mm": [round(each, 3) for each in sorted(paper_mm)], "length_mm": RULE_MM}
    return Result(files={path: data}, facts=facts, notes=notes)


def _check(options: Options) -> None:
    require_range("copies", options.copies, 1, MOST_COPIES)
    require_range("gap", options.gap, LEAST_GAP_MM, 50.0, " mm")
    require_range("trim", options.trim, 0.0, 20.0, " mm")
    require_range("dpi", options.dpi, LEAST_DPI, MOST_DPI)
    if options.date is not None and (len(options.date) > 60 or not options.date.isprintable()):
        raise bad_option("date", "expected at most 60 characters in one line")
    if options.icc is not None:
        into_profile(np.full((1, 1, 3), 255, np.uint8), options.icc[1], options.icc[0])


def _whole(dpi: float) -> float:
    """Return a resolution as a whole number where a file's rounding is all that it lacks."""
    return float(round(dpi)) if abs(dpi - round(dpi)) < 0.01 * max(1.0, dpi / 100.0) else dpi


def _setting(design: Design, options: Options, own_dpi: float) -> Setting:
    """Return the page as it is asked for, in the art's own dots per inch unless others are."""
    width_mm, height_mm = page_size(options.page, *_SIDES_MM)
    return Setting(
        width_mm=width_mm,
        height_mm=height_mm,
        dpi=options.dpi or _whole(own_dpi),
        gap_mm=options.gap,
        trim_mm=options.trim,
        stretch=design.rule.stretch_of(width_mm, height_mm) if design.rule is not None else (1.0, 1.0),
    )


def _check_picture(path: str, setting: Setting, options: Options) -> None:
    """Refuse what a PNG cannot hold."""
    count = setting.width_mm * setting.height_mm * setting.per_mm**2
    if path.lower().endswith(".png") and count > MAX_PIXELS:
        what = f"a page at {setting.dpi:g} dpi has {count / 1e6:.0f} million pixels; the limit is {MAX_PIXELS // 10**6}"
        raise bad_option("dpi", what, "give fewer dpi, or write a PDF")
    if options.white in ("separation", "both") and not path.lower().endswith(".pdf"):
        raise bad_option("white", "a PNG holds no separation", 'write a PDF, or give "page"')


def _too_large(piece: DecalPiece, setting: Setting, options: Options) -> InputError:
    trim = 0.0 if piece.cuts else options.trim
    width, height = (side + 2 * trim for side in (piece.width_mm, piece.height_mm))
    free = setting.free_mm
    what = (
        f"a decal of {piece.name} is {width:.1f} x {height:.1f} mm with its trim; "
        f"the page has room for {free[0]:.1f} x {free[1]:.1f} mm"
    )
    less = (tenths / 10 for tenths in range(int(trim * 10), -1, -1) if setting.takes(piece, tenths / 10))
    enough = next(less, None)
    advice = "choose a larger page" if enough is None else f"give --trim {enough:g}, or choose a larger page"
    return bad_option("page", what, advice)


def _piece(
    design: Design, decal: Decal, options: Options, setting: Setting
) -> tuple[DecalPiece, dict[str, Any], bytes | None]:
    """Return a decal as ink, facts about it, and its map of what no ink can reach."""
    decal = with_margin(decal)
    cuts = () if decal.cut is None else tuple(outline for piece in film_pieces(decal) for outline in piece)
    art, on, chart = decal.art, ink_over_paint.ground(design.finish, decal.ink_film), None
    white = white_share(decal)
    fact: dict[str, Any] = {
        "pedal": design.name,
        "art": art.name,
        "film": decal.film.name,
        "process": decal.process.name,
        "size_mm": [round(decal.width_mm, 4), round(decal.height_mm, 4)],
        "pieces": max(1, len(cuts)),
        "dpi": [round(each, 3) for each in decal.dpi],
    }
    pixels = ink_over_paint.flatten(art.pixels)
    if options.match:
        if white is not None and not isinstance(decal.white_under, str):
            what = f"white lies under a part of {art.name} alone, which has no one ground to match the ink to"
            raise bad_option("match", what, 'leave --match out, or write white_under = "drawn"')
        found = match_on(design.finish, decal, LINE_MM * min(decal.dpi) / MM_PER_INCH)
        pixels = found.pixels
        fact["match"] = tally(found)
        chart = png(
            match_map(art.pixels, found, on, paint_under(decal, design.finish)),
            text={"Title": f"{design.name}: {art.name} matched to its paint"},
        )
    if options.dpi is not None and any(abs(own / options.dpi - 1.0) > _SAME_DPI for own in decal.dpi):
        size = (round(side * setting.per_mm) for side in (decal.width_mm, decal.height_mm))
        pixels = resampled(pixels, *size)
        white = resampled(white, *size) if white is not None else None
    if options.icc is not None:
        pixels = into_profile(pixels, options.icc[1], options.icc[0])
    sheet = Sheet(decal)
    places = [sheet.to_px((bore.u_mm, bore.v_mm)) / sheet.per_mm for bore in bores(design) if bore.face == decal.face]
    inside = [(float(x), float(y)) for x, y in places if 0 <= x <= decal.width_mm and 0 <= y <= decal.height_mm]
    piece = DecalPiece(
        name=design.name,
        film=decal.film.name,
        process=decal.process.name,
        white=white,
        cuts=cuts,
        pixels=pixels,
        width_mm=decal.width_mm,
        height_mm=decal.height_mm,
        centres=tuple(inside),
    )
    return (piece.mirrored() if options.mirror else piece), fact, chart


def _pages(
    designs: Sequence[Design], pieces: Sequence[DecalPiece], options: Options, setting: Setting, repeats: int
) -> tuple[list[Spread], dict[str, int]]:
    """Return the pages, those of one film after those of another, and how many more copies fit on each film's.

    The latter is told where all copies are alike.
    """
    title = _title(designs)
    pages: list[Spread] = []
    room: dict[str, int] = {}
    for film, process in dict.fromkeys((piece.film, piece.process) for piece in pieces):
        one = [piece for piece in pieces if (piece.film, piece.process) == (film, process)]
        has_white = any(piece.white is not None for piece in one)
        white = (options.white or _usual(PROCESSES[process])) if has_white else "none"
        said = _slug(designs, options, white, PROCESSES[process])
        pages += spreads(one * repeats, setting, title=title, said=said, has_centres=options.centres, white=white)
        sizes = [setting.size(piece) for piece in one]
        called = film if process == INKJET.name else f"{film}, {process}"
        if not options.series:
            room[called] = more(sizes, options.copies, *setting.room, setting.gap, MOST_COPIES)
    return pages, room


def _title(designs: Sequence[Design]) -> str:
    return ", ".join(dict.fromkeys(each.name for each in designs))


def _usual(process: Process) -> WhiteAs:
    """Return how a process takes its white."""
    return "separation" if process.is_separation else "page"


def _slug(designs: Sequence[Design], options: Options, white: WhiteAs, process: Process) -> list[str]:
    first = designs[0]
    told = dict.fromkeys(fingerprint(each) for each in designs)
    said = [f"Design{'s' if len(told) > 1 else ''} {', '.join(told)}."]
    said += [f"{mark(options.open_stops).upper()}."] if options.open_stops else []
    said += [f"{options.date}."] if options.date else []
    said.append("Print at 100 %, not fitted to the page.")
    said.append(_WHITE_WORDS[white])
    said += [process.care, _CARE]
    if options.mirror:
        said.append("MIRRORED, for transfer film.")
    if options.match:
        said.append("Ink matched to the paint.")
    if options.test_piece:
        said.append("Test piece: the colours most in doubt.")
    if first.finish.printer is not None and first.finish.print_words:
        said.append(f'Printer "{first.finish.printer}": {first.finish.print_words}.')
    if first.rule is None:
        said.append("Not corrected for a printer.")
    else:
        said.append(first.rule.words)
    return said


def _notes(options: Options, room: dict[str, int], facts: Sequence[dict[str, Any]]) -> tuple[str, ...]:
    found = []
    fewest = min(room.values(), default=0)
    for film, count in room.items():
        name, comma, process = film.partition(",")
        where = f"the {name} film{comma}{process}" if len(room) > 1 else "the film"
        fit = "no more copy fits" if count == 0 else "1 more copy fits" if count == 1 else f"{count} more copies fit"
        # A copy has pieces on every film: as many can be added as the fullest takes.
        found.append(
            f"{fit} on {where}" + (f"; add: --copies {options.copies + fewest}" if fewest == count > 0 else "")
        )
    for fact in facts:
        if "match" in fact:
            figures = fact["match"]
            found.append(
                f"{fact['pedal']}, {fact['art']}: colour differs from the art as drawn by "
                f"{figures['before']['mean']:.1f} (CIEDE2000, mean) as it is, {figures['after']['mean']:.1f} matched; "
                f"{figures['beyond_share']:.0%} of the art is beyond any ink over this paint"
            )
    return tuple(found)


def _art_notes(decals: Sequence[tuple[Design, Decal]]) -> tuple[str, ...]:
    films = sorted({f"{decal.film.name}{process_words(decal)}" for _, decal in decals})
    several = (f"{' and '.join(films)} film go on pages of their own",) if len(films) > 1 else ()
    opaque = dict.fromkeys(
        decal.art.name
        for _, decal in decals
        if decal.process.white is not None and decal.white_under == "drawn" and decal.art.pixels[..., 3].min() == 255
    )
    return (*several, *(f"{name} has nothing transparent: white goes under all of it" for name in opaque))
