"""The readings file: what the strip looks like, patch by patch, as a measuring device or a patient eye has it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from mockup import films
from mockup.calibration.options import SIZES
from mockup.calibration.profile import Readings
from mockup.calibration.strip import patches
from mockup.colour import rgb
from mockup.layout.fields import alternatives, describe
from mockup.layout.toml import read_toml
from mockup.model.errors import Fault, InputError, nearest

_OVER_BLACK, _BLACK, _PAINT = "film_over_black", "black", "paint"
_WORDS = ("date", "paper", "settings")
_LONGEST = 120  # characters of words about a print: our choice


@dataclass(frozen=True, kw_only=True, eq=False)
class Typed:
    """A readings file: the readings, and its owner's words about the print."""

    readings: Readings
    words: Mapping[str, str]


def parse(text: str, source: str) -> Typed:
    """Return what a readings file says; raises `InputError` with every mistake in it."""
    raw = read_toml(text, source)
    faults: list[Fault] = []

    def wrong(key: str, what: str, remedy: str = "") -> None:
        faults.append(Fault(file=source, key=key, what=what, remedy=remedy))

    known = (*patches(SIZES[-1]), _OVER_BLACK, _BLACK, _PAINT, "film", *_WORDS)
    film = raw.get("film", films.USUAL)
    if film not in tuple(films.films()):
        wrong("film", f"expected {alternatives(films.films())}, found {describe(film)}")
    words: dict[str, str] = {}
    colours: dict[str, Any] = {}
    for key, value in raw.items():
        if key == "film":
            continue
        if key not in known:
            wrong(key, "unknown key", nearest(key, known))
        elif key in _WORDS:
            problem = words_problem(value)
            if problem:
                wrong(key, problem)
            words[key] = value
        else:
            try:
                colours[key] = rgb.decode(np.array(_colour(value)))
            except ValueError as error:
                what, _, remedy = str(error).partition("; ")
                wrong(key, what, remedy)
    for one, other in ((_OVER_BLACK, _BLACK), (_BLACK, _OVER_BLACK)):
        if one in raw and other not in raw:
            wrong(other, "missing", f"{one} says nothing without it")
    if faults:
        raise InputError(faults)
    size = next(size for size in SIZES if all(key in patches(size) for key in colours if key in patches(SIZES[-1])))
    readings = Readings(
        source=source,
        film=films.films()[film],
        size=size,
        over_black=colours.pop(_OVER_BLACK, None),
        black=colours.pop(_BLACK, None),
        paint=colours.pop(_PAINT, None),
        colours=colours,
    )
    return Typed(readings=readings, words=words)


def words_problem(value: Any) -> str:
    """Return what is wrong with words about a print, "" for nothing."""
    if isinstance(value, str) and len(value) <= _LONGEST and (value.isprintable() or not value):
        return ""
    return f"expected at most {_LONGEST} characters in one line, found {describe(value)}"


def _colour(value: Any) -> tuple[float, float, float]:
    if not isinstance(value, str):
        raise ValueError(f'expected a colour such as "#2a6f6b", found {describe(value)}')
    return rgb.parse(value)


def template(size: int = SIZES[0]) -> str:
    """Return a readings file to fill in, which says in itself how."""
    rows = "\n".join(
        f'# {name} = "#rrggbb"'.ljust(24) + f"# printed {rgb.to_hex(patch.printed)}"
        for name, patch in patches(size).items()
    )
    film = f'film = "{films.USUAL}"'.ljust(24)
    return f"""\
# What the printed test strip looks like: the colours that you read off it, as "#rrggbb" or a CSS colour name,
# relative to white card ("#ffffff"). a1 is the bare film. Leave out patches that you cannot read.

{film}# the film that the strip is printed on: {alternatives(films.films())}
# date = "2026-11-28"     # when it was printed, and how, so that the next print is made alike
# paper = ""              # what was chosen in the print dialog: the kind of paper
# settings = ""           # and all else: quality, colour management, ink density

# film_over_black = "#rrggbb"   # a bare piece of the film on a black scrap: how hazy it is
# black = "#rrggbb"             # and the black scrap beside it
# paint = "#rrggbb"             # the scrap's own paint beside the strip, for white film

{rows}
"""
