"""Calibrating a printer: write the test strip, fit what it shows, keep it by name."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict
from pathlib import Path
from typing import Any

from mockup import files
from mockup.calibration import kept
from mockup.calibration.fit import Fit, fit
from mockup.calibration.readings import Strips, from_tables, parse, readings, template
from mockup.calibration.strip import strip_page
from mockup.encode.pdf import pdf
from mockup.encode.png import png
from mockup.encode.svg import pixels, svg
from mockup.model.errors import Fault, InputError, nearest
from mockup.model.printer import Printer
from mockup.model.sheet import Paper
from mockup.surface.artwork import decode

DPI = 600.0  # of the strip as a picture: as fine as decals are printed
LONGEST_NAME = 80  # characters, as names in a layout


def strip(path: str | Path, paper: Paper = "a4") -> Path:
    """Write the test strip page, as .pdf, .svg or .png (600 dpi) by its name's ending; return the path."""
    place = Path(path)
    page = strip_page(paper)
    suffix = place.suffix.lower()
    if suffix == ".pdf":
        data = pdf([page])
    elif suffix == ".svg":
        data = svg(page)
    elif suffix == ".png":
        data = png(pixels(page, DPI), dpi=DPI)
    else:
        raise InputError(
            Fault(file="--output", what=f"{place.name!r} is of no known kind", remedy="end it in .pdf, .png or .svg")
        )
    files.write_all({place: data})
    return place


def blank_readings(path: str | Path) -> Path:
    """Write a readings file to fill in; raises `OutputError` where there is one already."""
    place = Path(path)
    files.require_free([place])
    files.write_all({place: template().encode()})
    return place


def printer_from_file(path: str | Path, name: str) -> Fit:
    """Fit the readings file at `path`, keep the printer under `name` and return the fit.

    Photographs that it names lie in its own folder. Raises `InputError`.
    """
    place = Path(path)
    strips = parse(files.read_text(place, "mockup calibrate readings"), place.name)
    photos = {each: files.read_asset(place.parent, each, strips.source, "the readings file") for each in strips.photos}
    return _fitted(strips, photos, name)


def printer_from_photos(
    name: str, *, photo: Path | None, points: str, photo_paint: Path | None, points_paint: str, film: str = "clear"
) -> Fit:
    """Do the same for two photographs, over card and over paint, with points such as "white=100,80 first=210,300"."""
    if photo is None or photo_paint is None:
        what = "nothing to read; expected a readings file, or --photo and --photo-paint"
        raise InputError(Fault(file="mockup calibrate fit", what=what, remedy="start with: mockup calibrate readings"))
    tables = {
        "film": film,
        "card": {"photo": str(photo), **_points(points, "--points")},
        "scrap": [{"photo": str(photo_paint), **_points(points_paint, "--points-paint")}],
    }
    photos = {
        str(each): files.read_asset(each.parent, each.name, "--photo", "the other files")
        for each in (photo, photo_paint)
    }
    return _fitted(from_tables(tables, "photographs"), photos, name)


def _points(text: str, flag: str) -> dict[str, list[float]]:
    """Return points written as "name=x,y name=x,y"."""
    found: dict[str, list[float]] = {}
    for word in text.split():
        name, _, place = word.partition("=")
        try:
            found[name] = [float(each) for each in place.split(",")]
        except ValueError:
            what = f'{word!r} is no point; expected for example "white=100,80"'
            raise InputError(Fault(file=flag, what=what, remedy="count pixels from the top left")) from None
    return found


def _fitted(strips: Strips, photos: Mapping[str, bytes], name: str) -> Fit:
    name = name.strip()
    if not name or not name.isprintable() or len(name) > LONGEST_NAME:
        what = f"expected 1 to {LONGEST_NAME} characters in one line"
        raise InputError(Fault(file="--name", what=what, remedy='such as "inkjet on clear film"'))
    before = printers()  # first, so that broken settings are told before any work
    found = fit(readings(strips, {each: decode(data, each) for each, data in photos.items()}), name)
    _keep(before | {name: found.printer})
    return found


def facts(found: Fit) -> dict[str, Any]:
    """Return a fit for a program to read."""
    return asdict(found)


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

    words = [
        figure("ink strength", "ink_strength", printer.ink_strength),
        figure("k", "internal_reflection", printer.internal_reflection),
    ]
    if printer.white_film is not None:
        words += [
            figure("film reflects", "reflectance", printer.white_film.reflectance),
            figure("lets through", "transmittance", printer.white_film.transmittance),
        ]
    return f"{printer.name}: {printer.film} film, {', '.join(words)}"


def printers() -> dict[str, Printer]:
    """Return the user's calibrated printers by name; raises `InputError` where the settings are broken."""
    text = files.read_printers()
    return kept.parse(text, str(files.printers_file())) if text is not None else {}


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
