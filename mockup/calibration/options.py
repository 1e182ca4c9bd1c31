"""What the steps of a calibration are asked for."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from mockup.options import option

PaperName = Literal["a4", "letter"]
_PAPERS: tuple[PaperName, ...] = ("a4", "letter")
_PAGE_FILE = "file to write: .pdf, .png or .svg"


@dataclass(frozen=True, kw_only=True)
class StripOptions:
    """The page of the test strip."""

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


@dataclass(frozen=True, kw_only=True)
class FitOptions:
    """Photographs of the strip to fit a printer to, where no readings file is given."""

    name: str | None = option(None, "what to call the printer")
    photo: str | None = option(None, "photograph of the strip over white card")
    points: str = option("", 'where to look in it: "white=100,80 first=210,300 last=1430,520"')
    photo_paint: str | None = option(None, "photograph of the strip over the painted scrap")
    points_paint: str = option("", 'the same for that one, and "paint=90,700"')
    film: str = option("clear", "film of the photographed strip: clear or white")
