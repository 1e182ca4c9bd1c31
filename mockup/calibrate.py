"""Calibrating a printer: write the test strip or measuring page, fit what it shows, keep it by name."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, replace
from pathlib import Path
from typing import Any

from mockup import files, reader
from mockup.calibration import fit as model
from mockup.calibration import kept
from mockup.calibration import readings as reading
from mockup.calibration.fit import Fit
from mockup.calibration.readings import Strips
from mockup.calibration.strip import strip_page
from mockup.model.errors import Fault, InputError, nearest
from mockup.model.printer import RULE_MM, Printer, Rule
from mockup.model.sheet import PAPERS, Paper
from mockup.model.units import parse_length
from mockup.outputs.pages.loose import loose_page, measuring_page

LONGEST_NAME = 80  # characters, as names in a layout


def strip(path: str | Path, paper: Paper = "a4", printer: str | None = None) -> Path:
    """Write the test strip page, as .pdf, .svg or .png (600 dpi) by its name's ending; return the path.

    `printer` names one whose measuring page was measured: the strip is then corrected for it. Raises `InputError`.
    """
    rule = named(printers(), printer).rule if printer is not None else None
    return _written(path, loose_page(str(path), strip_page(paper, rule)))


def rule(path: str | Path, paper: Paper = "a4") -> Path:
    """Write the measuring page, as .pdf, .svg or .png (600 dpi) by its name's ending; return the path."""
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


def readings(path: str | Path) -> Path:
    """Write a readings file to fill in; raises `OutputError` where there is one already."""
    place = Path(path)
    files.require_free([place])
    files.write_all({place: reading.template().encode()})
    return place


def fit(
    readings: str | Path | None = None,
    *,
    name: str,
    photo: str | Path | None = None,
    points: str = "",
    photo_paint: str | Path | None = None,
    points_paint: str = "",
    film: str = "clear",
) -> Fit:
    """Fit a printer to a readings file, or to two photographs of the strip; keep it under `name` and return the fit.

    Photographs that a readings file names lie in its own folder. `photo` shows the strip over white card,
    `photo_paint` over the painted scrap; `points` say where to look in them, such as
    "white=100,80 first=210,300". Raises `InputError`.
    """
    if readings is not None and (photo is not None or photo_paint is not None):
        remedy = "leave one of them out"
        raise InputError(Fault(file=str(readings), what="goes with no photographs of its own", remedy=remedy))
    if readings is not None:
        place = Path(readings)
        strips = reading.parse(files.read_text(place, "mockup calibrate readings"), place.name)
        named = {
            each: files.read_asset(place.parent, each, strips.source, "the readings file") for each in strips.photos
        }
        return _fitted(strips, named, name)
    if photo is None or photo_paint is None:
        what = "nothing to read; expected a readings file, or --photo and --photo-paint"
        raise InputError(Fault(file="mockup calibrate fit", what=what, remedy="start with: mockup calibrate readings"))
    tables = {
        "film": film,
        "card": {"photo": str(photo), **_points(points, "--points")},
        "scrap": [{"photo": str(photo_paint), **_points(points_paint, "--points-paint")}],
    }
    photos = {
        str(each): files.read_asset(Path(each).parent, Path(each).name, "--photo", "the other files")
        for each in (photo, photo_paint)
    }
    return _fitted(reading.from_tables(tables, "photographs"), photos, name)


def _points(text: str, flag: str) -> dict[str, list[float]]:
    """Return points written as "name=x,y name=x,y"."""
    found: dict[str, list[float]] = {}
    for word in text.split():
        name, _, place = word.partition("=")
        try:
            found[name] = [float(each) for each in place.split(",")]
        except ValueError:
            what = f'{word!r} is not a point; expected for example "white=100,80"'
            raise InputError(Fault(file=flag, what=what, remedy="count pixels from the top left")) from None
    return found


def _fitted(strips: Strips, photos: Mapping[str, bytes], name: str) -> Fit:
    name = _plain_name(name)
    before = printers()  # first, so that broken settings are told before any work
    pictures = {each: reader.picture(data, each) for each, data in photos.items()}
    found = model.fit(reading.readings(strips, pictures), name)
    _keep(before | {name: replace(found.printer, rule=before[name].rule if name in before else None)})
    return found


def _plain_name(name: str) -> str:
    name = name.strip()
    if not name or not name.isprintable() or len(name) > LONGEST_NAME:
        what = f"expected 1 to {LONGEST_NAME} characters in one line"
        raise InputError(Fault(file="--name", what=what, remedy='such as "inkjet on clear film"'))
    return name


def facts(found: Fit) -> dict[str, Any]:
    """Return a fit for a program to read."""
    film = found.printer.film
    figures = None if film.is_clear else {"reflectance": film.reflectance, "transmittance": film.transmittance}
    told = asdict(found)
    told["printer"] |= {"film": film.name, "white_film": figures}
    return told


def report(found: Fit) -> str:
    """Return a fit for people, in a few lines."""
    printer = found.printer
    return "\n".join(
        [
            line(printer),
            f"strip over paint, read against predicted (CIEDE2000): mean {printer.mean_difference:.1f}, worst "
            f"{printer.worst_difference:.1f} ({found.worst_patch}); with the usual figures it was "
            f"{found.before_mean:.1f}, worst {found.before_worst:.1f}",
            f'use it: printer = "{printer.name}" under [finish], or --printer "{printer.name}"',
        ]
    )


def line(printer: Printer) -> str:
    """Return a printer's figures in one line, each with its standard error where it was measured."""

    def figure(name: str, key: str, value: float) -> str:
        error = printer.errors.get(key)
        return f"{name} {value:.2f}" + (f" ± {error:.2f}" if error is not None else " (not measured)")

    size = (rule_line(printer.rule),) if printer.rule is not None else ()
    if not printer.has_ink:
        return "; ".join((f"{printer.name}: ink not calibrated", *size))
    words = [
        figure("ink strength", "ink_strength", printer.ink_strength),
        figure("k", "internal_reflection", printer.internal_reflection),
    ]
    film = printer.film
    if not film.is_clear:
        words += [
            figure("film reflects", "reflectance", film.reflectance),
            figure("lets through", "transmittance", film.transmittance),
        ]
    return "; ".join((f"{printer.name}: {film.name} film, {', '.join(words)}", *size))


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
