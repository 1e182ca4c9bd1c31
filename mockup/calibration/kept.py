"""Calibrated printers as the text that is kept under the user's settings, and back."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from typing import Any

from mockup import films
from mockup.calibration.fit import K_LIMITS, STRENGTHS
from mockup.layout.fields import alternatives
from mockup.model.errors import Fault, InputError
from mockup.model.finish import INTERNAL_REFLECTION
from mockup.model.printer import RULE_MM, Printer, Rule

RULE_LIMITS = (0.95 * RULE_MM, 1.05 * RULE_MM)  # beyond it the page was scaled or misread: common practice, no source
_REMEDY = "correct it or remove it, and calibrate again"


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
    return {name: _printer(name, entry, source) for name, entry in table.items()}


def ruled(rule: Rule) -> Printer:
    """Return a printer of which only the measuring page is known; its ink is the usual one."""
    return Printer(
        name=rule.printer,
        film=films.films()[films.USUAL],
        ink_strength=1.0,
        internal_reflection=INTERNAL_REFLECTION,
        rule=rule,
        has_ink=False,
    )


def _entry(printer: Printer) -> dict[str, Any]:
    rule = printer.rule
    lengths = {"rule": {"across_mm": rule.across_mm, "down_mm": rule.down_mm}} if rule is not None else {}
    if not printer.has_ink:
        return lengths
    entry: dict[str, Any] = {
        **lengths,
        "film": printer.film.name,
        "ink_strength": printer.ink_strength,
        "internal_reflection": printer.internal_reflection,
        "errors": dict(printer.errors),
        "mean_difference": printer.mean_difference,
        "worst_difference": printer.worst_difference,
    }
    film = printer.film
    if not film.is_clear:
        entry["white_film"] = {"reflectance": film.reflectance, "transmittance": film.transmittance}
    return entry


def _printer(name: str, entry: Any, source: str) -> Printer:
    def number(table: Any, key: str, low: float, high: float) -> float:
        value = table.get(key) if isinstance(table, dict) else None
        if isinstance(value, bool) or not isinstance(value, int | float) or not low <= value <= high:
            what = f"expected a number from {low:g} to {high:g}"
            raise InputError(Fault(file=source, table=f'printer "{name}"', key=key, what=what, remedy=_REMEDY))
        return float(value)

    rule = None
    if isinstance(entry, dict) and "rule" in entry:
        across, down = (number(entry["rule"], key, *RULE_LIMITS) for key in ("across_mm", "down_mm"))
        rule = Rule(printer=name, across_mm=across, down_mm=down)
        if entry.keys() == {"rule"}:
            return ruled(rule)
    film: Any = entry.get("film") if isinstance(entry, dict) else None
    if film not in tuple(films.films()):
        what = f"expected {alternatives(films.films())}"
        raise InputError(Fault(file=source, table=f'printer "{name}"', key="film", what=what, remedy=_REMEDY))
    shown = films.films()[film]
    if "white_film" in entry:
        shown = shown.measured(
            number(entry["white_film"], "reflectance", 0.0, 0.999),
            number(entry["white_film"], "transmittance", 0.0, 1.0),
        )
    errors = entry.get("errors", {})
    return Printer(
        name=name,
        film=shown,
        ink_strength=number(entry, "ink_strength", *STRENGTHS),
        internal_reflection=number(entry, "internal_reflection", *K_LIMITS),
        errors={key: number(errors, key, 0.0, math.inf) for key in errors} if isinstance(errors, dict) else {},
        mean_difference=number(entry, "mean_difference", 0.0, 1000.0),
        worst_difference=number(entry, "worst_difference", 0.0, 1000.0),
        rule=rule,
    )
