"""Printers as the text that is kept under the user's settings, and back."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from mockup import films
from mockup.calibration.readings import words_problem
from mockup.layout.fields import alternatives
from mockup.model.errors import Fault, InputError
from mockup.model.finish import Film, InkProfile
from mockup.model.printer import RULE_MM, Printer, Rule

RULE_LIMITS = (0.95 * RULE_MM, 1.05 * RULE_MM)  # beyond it the page was scaled or misread: common practice, no source
_REMEDY = "correct it or remove it, and calibrate again"
_WORDS = ("date", "paper", "settings")
_MOST_PATCHES = 200  # that one profile may hold: far beyond any strip; our choice
_LAB = (-300.0, 300.0)  # far beyond any colour: our choice


def text(printers: Mapping[str, Printer]) -> str:
    """Return the settings text of printers, in order of name."""
    table = {name: _entry(printers[name]) for name in sorted(printers)}
    return json.dumps({"printers": table}, indent=2, ensure_ascii=False) + "\n"


def parse(text: str, source: str) -> dict[str, Printer]:
    """Return the printers in a settings text; raises `InputError` in one line where it is broken."""
    try:
        raw = json.loads(text)
    except RecursionError:
        raise InputError(Fault(file=source, what="is nested too deeply", remedy=_REMEDY)) from None
    except ValueError as error:
        where = f"line {error.lineno}" if isinstance(error, json.JSONDecodeError) else "a number is too long"
        raise InputError(Fault(file=source, what=f"is not valid JSON ({where})", remedy=_REMEDY)) from None
    table = raw.get("printers") if isinstance(raw, dict) else None
    if not isinstance(table, dict):
        raise InputError(Fault(file=source, what="holds no printers", remedy=_REMEDY))
    return {name: _Entry(name, entry, source).printer() for name, entry in table.items()}


def ruled(rule: Rule) -> Printer:
    """Return a printer of which only the measuring page is known; its ink is the usual one."""
    return Printer(name=rule.printer, film=films.films()[films.USUAL], rule=rule, has_ink=False)


def _entry(printer: Printer) -> dict[str, Any]:
    rule, film, strip = printer.rule, printer.film, printer.strip
    lengths = {"rule": {"across_mm": rule.across_mm, "down_mm": rule.down_mm}} if rule is not None else {}
    if not printer.has_ink:
        return lengths
    figures = {"reflectance": film.reflectance, "transmittance": film.transmittance, "haze": film.haze}
    entry: dict[str, Any] = {
        **lengths,
        "film": film.name,
        "film_figures": figures,
        **{word: getattr(printer, word) for word in _WORDS},
        "forecast": printer.forecast,
        "plain": printer.plain,
    }
    if strip is not None:
        rows = [[*printed, *read] for printed, read in zip(strip.printed, strip.read, strict=True)]
        entry["strip"] = {"ground": list(strip.ground), "patches": rows, "is_used": film.profile is not None}
    return entry


class _Entry:
    """One printer's table, read with every figure looked at."""

    def __init__(self, name: str, table: Any, source: str) -> None:
        self._name, self._source = name, source
        self._table: dict[str, Any] = table if isinstance(table, dict) else {}

    def printer(self) -> Printer:
        rule = self._rule()
        if rule is not None and self._table.keys() == {"rule"}:
            return ruled(rule)
        strip = self._strip()
        return Printer(
            name=self._name,
            film=self._film(strip),
            strip=strip,
            forecast=self._number(self._table.get("forecast"), "forecast", 0.0, 1000.0),
            plain=self._number(self._table.get("plain"), "plain", 0.0, 1000.0),
            date=self._word("date"),
            paper=self._word("paper"),
            settings=self._word("settings"),
            rule=rule,
        )

    def _rule(self) -> Rule | None:
        if "rule" not in self._table:
            return None
        lengths: Any = self._table["rule"] if isinstance(self._table["rule"], dict) else {}
        across, down = (self._number(lengths.get(key), key, *RULE_LIMITS) for key in ("across_mm", "down_mm"))
        return Rule(printer=self._name, across_mm=across, down_mm=down)

    def _film(self, strip: InkProfile | None) -> Film:
        name: Any = self._table.get("film")
        if name not in tuple(films.films()):
            raise self._wrong("film", f"expected {alternatives(films.films())}")
        figures: Any = self._table.get("film_figures")
        figures = figures if isinstance(figures, dict) else {}
        film = films.films()[name].measured(
            self._number(figures.get("reflectance"), "reflectance", 0.0, 0.999),
            self._number(figures.get("transmittance"), "transmittance", 0.0, 1.0),
            self._number(figures.get("haze"), "haze", 0.0, 0.5),
        )
        is_used = strip is not None and self._table["strip"].get("is_used") is True
        return replace(film, profile=strip) if is_used else film

    def _strip(self) -> InkProfile | None:
        table: Any = self._table.get("strip")
        if table is None:
            return None
        ground: Any = table.get("ground") if isinstance(table, dict) else None
        rows: Any = table.get("patches") if isinstance(table, dict) else None
        if not isinstance(rows, list) or not 0 < len(rows) <= _MOST_PATCHES:
            raise self._wrong("strip", f"expected 1 to {_MOST_PATCHES} patches")
        read = [self._numbers(row, 6) for row in rows]
        red, green, blue = (self._number(each, "ground", 0.0, 1.0) for each in self._numbers(ground, 3))
        printed = [tuple(self._number(each, "patches", 0.0, 1.0) for each in row[:3]) for row in read]
        return InkProfile(
            ground=(red, green, blue),
            printed=tuple((r, g, b) for r, g, b in printed),
            read=tuple((row[3], row[4], row[5]) for row in read),
        )

    def _numbers(self, row: Any, count: int) -> list[float]:
        if not isinstance(row, list) or len(row) != count:
            raise self._wrong("strip", f"expected {count} numbers in a row")
        return [self._number(each, "strip", *_LAB) for each in row]

    def _number(self, value: Any, key: str, low: float, high: float) -> float:
        if isinstance(value, bool) or not isinstance(value, int | float) or not low <= value <= high:
            raise self._wrong(key, f"expected a number from {low:g} to {high:g}")
        return float(value)

    def _word(self, key: str) -> str:
        value = self._table.get(key, "")
        problem = words_problem(value)
        if problem:
            raise self._wrong(key, problem)
        return str(value)

    def _wrong(self, key: str, what: str) -> InputError:
        return InputError(Fault(file=self._source, table=f'printer "{self._name}"', key=key, what=what, remedy=_REMEDY))
