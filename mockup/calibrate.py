"""Calibrating a printer: write the test strip or measuring page, fit what it shows, keep it by name; and a paint."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict, replace
from pathlib import Path
from typing import Any

from mockup import files, films, reader
from mockup.calibration import kept, profile
from mockup.calibration import readings as typed
from mockup.calibration.options import SIZES
from mockup.calibration.profile import Fit, Readings
from mockup.calibration.strip import strip_page
from mockup.colour import rgb
from mockup.colour.words import word as colour_word
from mockup.encode.picture_file import picture_file
from mockup.layout import parse
from mockup.layout.edit.apply import apply
from mockup.measure.card import SeenPaint, paint_in, white_balanced
from mockup.model.edit import Address, PutValue
from mockup.model.errors import Fault, InputError, nearest, refused
from mockup.model.printer import RULE_MM, Printer, Rule
from mockup.model.sheet import PAPERS, Paper
from mockup.model.units import parse_length
from mockup.options import PICTURES, bad_option, parse_corners, place_px, require_ending

LONGEST_NAME = 80  # characters, as names in a layout


def strip(path: str | Path, paper: Paper = "a4", printer: str | None = None, patches: int = SIZES[0]) -> Path:
    """Write the test strip page, as .pdf, .svg or .png (600 dpi) by its name's ending; return the path.

    `printer` names one whose measuring page was measured: the strip is then corrected for it. `patches` is 22 or 30.
    Raises `InputError`.
    """
    rule = named(printers(), printer).rule if printer is not None else None
    from mockup.outputs.pages.loose import loose_page  # a check of a layout needs no pages

    return _written(path, loose_page(str(path), strip_page(paper, rule, _size(patches))))


def rule(path: str | Path, paper: Paper = "a4") -> Path:
    """Write the measuring page, as .pdf, .svg or .png (600 dpi) by its name's ending; return the path."""
    from mockup.outputs.pages.loose import measuring_page

    return _written(path, measuring_page(str(path), PAPERS[paper]))


def _written(path: str | Path, data: bytes) -> Path:
    place = Path(path)
    files.write_all({place: data})
    return place


def measured(text: str, name: str) -> Rule:
    """Keep what the measuring page showed, such as "99.6,100.3" (across, down), for a printer; return it.

    Lengths are millimetres or carry their own unit. Ink that was calibrated under that name is kept.
    Raises `InputError`.
    """
    name = _plain_name(name)
    words = text.split(",")
    try:
        lengths = [parse_length(word, "mm") for word in words]
    except ValueError as error:
        raise _bad_measure(str(error)) from None
    if len(lengths) != 2:
        raise _bad_measure(f"{text!r} is not a pair of lengths")
    low, high = kept.RULE_LIMITS
    for which, length in zip("AB", lengths, strict=True):
        if not low <= length <= high:
            what = f"{which} is {length:g} mm, more than 5 % off its {RULE_MM:g}"
            raise _bad_measure(what, "print the page at 100 %, not fitted, and measure again")
    found = Rule(printer=name, across_mm=lengths[0], down_mm=lengths[1])
    before = printers()
    _keep(before | {name: replace(before[name], rule=found) if name in before else kept.ruled(found)})
    return found


def rule_line(rule: Rule) -> str:
    """Return in words how true to size a printer prints, and what is done about it."""
    across, down = rule.stretch
    return (
        f"prints {rule.across_mm:g} x {rule.down_mm:g} mm for {RULE_MM:g}; "
        f"pages are stretched by {across:.4f} x {down:.4f}"
    )


def _bad_measure(what: str, remedy: str = "write across and down, such as 99.6,100.3") -> InputError:
    return InputError(Fault(file="--measured", what=what, remedy=remedy))


def readings(path: str | Path, patches: int = SIZES[0]) -> Path:
    """Write a readings file to fill in; raises `OutputError` where there is one already."""
    place = Path(path)
    files.require_free([place])
    files.write_all({place: typed.template(_size(patches)).encode()})
    return place


def fit(
    readings: str | Path | None = None,
    *,
    name: str,
    photo: str | Path | None = None,
    black: bool = False,
    corners: str = "",
    film: str = films.USUAL,
    date: str = "",
    paper: str = "",
    settings: str = "",
) -> Fit:
    """Read a printer off a readings file, or off a scan or photograph of its strip; keep it under `name`.

    `black` says that a black scrap lies beside the strip, `corners` where its marks are, such as
    "90,80 610,84 606,420 88,415". `date`, `paper` and `settings` are remembered with it, and go before what the
    readings file says of them. Raises `InputError`.
    """
    name = _plain_name(name)
    before = printers()  # first, so that broken settings are told before any work
    words = {"date": date, "paper": paper, "settings": settings}
    for key, word in words.items():
        problem = typed.words_problem(word)
        if problem:
            raise InputError(Fault(file=f"--{key}", what=problem))
    if readings is not None and photo is not None:
        raise InputError(Fault(file=str(readings), what="goes with no photograph", remedy="leave one of them out"))
    if readings is not None:
        place = Path(readings)
        told = typed.parse(files.read_text(place, "mockup calibrate readings"), place.name)
        words = {key: word or told.words.get(key, "") for key, word in words.items()}
        read = told.readings
    elif photo is not None:
        read = _photographed(Path(photo), film, black, corners)
    else:
        what = "nothing to read; expected a readings file, or --photo"
        raise InputError(Fault(file="mockup calibrate fit", what=what, remedy="start with: mockup calibrate strip"))
    found = profile.fit(read, name, **words)
    _keep(before | {name: replace(found.printer, rule=before[name].rule if name in before else None)})
    return found


def _photographed(place: Path, film: str, has_black: bool, corners: str) -> Readings:
    """Return the readings of a picture of the strip."""
    from mockup.calibration import strip_photo

    if film not in films.films():
        raise InputError(Fault(file="--film", what=f"there is no film {film!r}", remedy=nearest(film, films.films())))
    picture = reader.picture(files.read_asset(place.parent, place.name, "--photo", "the other files"), place.name)
    try:
        seen = strip_photo.read(picture.pixels, has_black=has_black, corners=_corners(corners))
    except ValueError as error:
        raise refused(place.name, error) from None
    return Readings(
        source=place.name,
        film=films.films()[film],
        size=seen.size,
        colours=seen.colours,
        over_black=seen.over_black,
        black=seen.black,
        notes=(strip_photo.NOTE,),
    )


def paint(
    photo: str | Path,
    paint: Sequence[str],
    card: Sequence[str],
    write: str | Path | None = None,
    variant: str | None = None,
) -> SeenPaint:
    """Return a box's paint out of a photograph or scan with a white card, and write it into a layout file.

    `paint` and `card` are places such as "812,340", in pixels from the top left; several of the paint say how even it
    is. `write` is the layout file, `variant` the variant in it that gets the colour. Raises `InputError`.
    """
    place = Path(photo)
    paints, cards = _spots("paint", paint), _spots("card", card)
    if write is None and variant is not None:
        raise bad_option("variant", "goes with --write", "add --write and the layout file")
    picture = reader.picture(files.read_bytes(place), place.name)
    try:
        seen = paint_in(picture, cards, paints)
    except ValueError as error:
        raise refused(place.name, error) from None
    if write is not None:
        files.write_all(_written_paint(Path(write), variant, {"paint": rgb.to_hex(seen.colour)}))
    return seen


def paint_picture(
    photo: str | Path,
    card: Sequence[str],
    picture: str | Path,
    corners: str = "",
    write: str | Path | None = None,
    variant: str | None = None,
) -> dict[str, str]:
    """Write a photograph of a painted box as the picture that is its paint, with its card made white.

    `card` are places as for `paint`, `corners` where the drilled face is seen, such as "90,80 610,84 606,420 88,415";
    `write` is the layout file to name it in. Returns the keys of its [finish] table. Raises `InputError`.
    """
    place, target = Path(photo), Path(require_ending(picture, PICTURES, "picture"))
    cards = _spots("card", card)
    keys = {"paint": target.name} | ({"paint_corners": corners} if _corners(corners) else {})
    files.require_free([target])
    try:
        pixels = white_balanced(reader.picture(files.read_bytes(place), place.name), cards)
    except ValueError as error:
        raise refused(place.name, error) from None
    made = {target: picture_file(target, pixels)}
    if write is not None:
        layout = Path(write)
        if target.absolute().parent != layout.absolute().parent:
            raise bad_option("picture", "lies in another folder than the layout", f"write it into {layout.parent}")
        made |= _written_paint(layout, variant, keys)
    elif variant is not None:
        raise bad_option("variant", "goes with --write", "add --write and the layout file")
    files.write_all(made)
    return keys


def _written_paint(layout: Path, variant: str | None, keys: Mapping[str, str]) -> dict[Path, bytes]:
    """Return a layout file with keys of its [finish] table set; raises `InputError`."""
    edits = [PutValue(address=Address(way=("finish", key), variant=variant), value=each) for key, each in keys.items()]
    text = apply(files.read_text(layout), edits, layout.name)
    kinds = files.read_beside(layout, files.PARTS_FILE)
    parse.parse(text, layout.name, parse.parse_parts(kinds, files.PARTS_FILE) if kinds is not None else ())
    return {layout: text.encode()}


def _spots(name: str, texts: Sequence[str]) -> list[tuple[float, float]]:
    if not texts:
        raise bad_option(name, "is missing", "say where it is seen, X,Y in pixels, such as 812,340")
    return [(x, y) for x, y in (place_px(name, each) for each in texts)]


def paint_line(seen: SeenPaint) -> str:
    """Return a paint in one line, with how sure it is."""
    return (
        f"{rgb.to_hex(seen.colour)} ({colour_word(seen.colour)}), seen to differ by {seen.doubt:.1f} CIEDE2000 "
        f"at most (2 shows side by side); the card has {seen.card:.0%} of the brightest light"
    )


def paint_facts(seen: SeenPaint) -> dict[str, Any]:
    """Return a paint for a program to read."""
    return {"paint": rgb.to_hex(seen.colour), "doubt": round(seen.doubt, 2), "card": round(seen.card, 3)}


def _corners(text: str) -> tuple[tuple[float, float], ...]:
    """Return the middles of four marks, none for no text; `InputError` for anything else."""
    try:
        return parse_corners(text) if text.strip() else ()
    except ValueError as error:
        raise refused("--corners", error) from None


def _size(patches: int) -> int:
    if patches not in SIZES:
        raise InputError(Fault(file="--patches", what=f"{patches} is not a size of the strip", remedy="give 22 or 30"))
    return patches


def _plain_name(name: str) -> str:
    name = name.strip()
    if not name or not name.isprintable() or len(name) > LONGEST_NAME:
        what = f"expected 1 to {LONGEST_NAME} characters in one line"
        raise InputError(Fault(file="--name", what=what, remedy='such as "inkjet on clear film"'))
    return name


def facts(found: Fit) -> dict[str, Any]:
    """Return a fit for a program to read."""
    return {"printer": printer_facts(found.printer), "notes": list(found.notes)}


def printer_facts(printer: Printer) -> dict[str, Any]:
    """Return a printer for a program to read."""
    told = asdict(printer)
    film = told.pop("film")
    is_profiled = film.pop("profile") is not None
    return told | {"film": film, "has_profile": is_profiled}


def report(found: Fit) -> str:
    """Return a fit for people, in a few lines."""
    printer = found.printer
    return "\n".join(
        [
            line(printer),
            f'use it: printer = "{printer.name}" under [finish], or --printer "{printer.name}"',
        ]
    )


def line(printer: Printer) -> str:
    """Return what is known of a printer in one line."""
    size = (rule_line(printer.rule),) if printer.rule is not None else ()
    if not printer.has_ink:
        return "; ".join((f"{printer.name}: ink not calibrated", *size))
    film = printer.film
    figures = (
        f"haze {film.haze:.1%}"
        if film.is_clear
        else f"reflects {film.reflectance:.2f}, lets through {film.transmittance:.2f}"
    )
    if film.profile is None:
        ink = f"no profile needed (prints within {printer.plain:.1f} CIEDE2000 of the art)"
    else:
        red, green, blue = film.profile.ground
        ink = (
            f"profile of {len(film.profile.printed)} patches on {rgb.to_hex((red, green, blue))}: expect "
            f"{printer.forecast:.1f} CIEDE2000, {printer.plain:.1f} without it"
        )
    words = (printer.print_words,) if printer.print_words else ()
    return "; ".join((f"{printer.name}: {film.name} film, {figures}, {ink}", *words, *size))


def printers(project: Path | None = None) -> dict[str, Printer]:
    """Return the user's calibrated printers by name, and those that came along with a project's folder.

    Of two with one name the user's own counts. Raises `InputError` where the settings are broken.
    """
    text, came = files.read_printers(), files.read_printers(project) if project is not None else None
    beside = kept.parse(came, files.PRINTERS_FILE) if came is not None else {}
    return beside | (kept.parse(text, str(files.printers_file())) if text is not None else {})


def forget(name: str) -> None:
    """Remove one calibrated printer; raises `InputError` where there is none of that name."""
    known = printers()
    named(known, name)
    _keep({each: printer for each, printer in known.items() if each != name})


def named(known: Mapping[str, Printer], name: str) -> Printer:
    """Return a printer by name; raises `InputError` with the nearest name where there is none."""
    if name not in known:
        remedy = nearest(name, known) if known else "calibrate one: mockup calibrate strip"
        raise InputError(Fault(file="printers", what=f'there is no calibrated printer "{name}"', remedy=remedy))
    return known[name]


def _keep(known: Mapping[str, Printer]) -> None:
    files.write_all({files.printers_file(): kept.text(known).encode()})
