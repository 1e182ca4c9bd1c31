"""What the steps of a calibration are asked for."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from mockup.options import option

PaperName = Literal["a4", "letter"]
_PAPERS: tuple[PaperName, ...] = ("a4", "letter")
SIZES = (22, 30)  # of a strip, in patches
_PAGE_FILE = "file to write: .pdf, .png or .svg"


@dataclass(frozen=True, kw_only=True)
class StripOptions:
    """The page of the test strip."""

    patches: int = option(SIZES[0], "22 patches cost little film, 30 are surer")
    output: str = option("strip.pdf", _PAGE_FILE, short="o")
    page: PaperName = option("a4", "size of the page", choices=_PAPERS)
    printer: str | None = option(None, "a printer whose page size was measured: the strip is corrected for it")


@dataclass(frozen=True, kw_only=True)
class RuleOptions:
    """The measuring page, or what was measured on it."""

    output: str = option("rule.pdf", _PAGE_FILE, short="o")
    page: PaperName = option("a4", "size of the page", choices=_PAPERS)
    measured: str | None = option(None, 'what A and B measured, such as "99.6,100.3"; then nothing is written')
    name: str | None = option(None, "the name of the printer", alias="printer")


@dataclass(frozen=True, kw_only=True)
class ReadingsOptions:
    """The readings file to fill in."""

    output: str = option("readings.toml", "file to write", short="o")
    patches: int = option(SIZES[0], "how many patches the strip has: 22 or 30")


@dataclass(frozen=True, kw_only=True)
class PaintOptions:
    """Where the paint and the white card lie in a picture, and the layout to write the paint into."""

    paint: tuple[str, ...] = option((), "where the paint is seen, X,Y in pixels from the top left; give several")
    card: tuple[str, ...] = option((), "where the white card is seen, X,Y; one beside each place is best")
    picture: str | None = option(
        None, "the picture to write, .png or .jpg, that is the paint itself, its card made white"
    )
    corners: str = option(
        "", "with --picture: where it shows the corners of the drilled face, clockwise from its top left, in pixels"
    )
    write: str | None = option(None, "the layout file to write the paint into")
    variant: str | None = option(None, "the variant that gets it")


@dataclass(frozen=True, kw_only=True)
class FitOptions:
    """The strip's picture, where no readings file is given, and what to remember of the print."""

    name: str | None = option(None, "what to call the printer")
    photo: str | None = option(None, "scan or photograph of the strip, with white card along its upper edge")
    black: bool = option(False, "a black scrap lies along its lower edge, its left half under bare film")
    corners: str = option("", 'middles of its four marks, clockwise from A1, in pixels: "90,80 610,84 606,420 88,415"')
    film: str = option("clear", "film of the photographed strip: clear or white")
    date: str = option("", "when it was printed; today's date if you like")
    paper: str = option("", "kind of paper chosen in the print dialog")
    settings: str = option("", "all else that was chosen there, so that the next print is made alike")
