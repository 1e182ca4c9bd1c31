"""The readings file: what the strip looks like over card and over painted scraps, typed or photographed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from mockup import films
from mockup.calibration import photo
from mockup.calibration.fit import Readings, Scrap
from mockup.calibration.photo import PAINT, WHITE, Point, Points
from mockup.calibration.strip import FIRST, LAST, PATCHES
from mockup.colour import rgb
from mockup.layout.fields import alternatives, describe
from mockup.layout.toml import read_toml
from mockup.model.errors import Fault, InputError, nearest
from mockup.model.finish import Artwork, Film
from mockup.model.material import Colour

_PLACES = ("first", "last")


@dataclass(frozen=True, kw_only=True)
class Strip:
    """One strip as read: colours by patch name (or "paint"), and a photograph with points, if any."""

    table: str
    colours: Mapping[str, Colour] = field(default_factory=dict)
    photo: str | None = None
    points: Points | None = None


@dataclass(frozen=True, kw_only=True)
class Strips:
    """A readings file: the film, the strip over card and those over paint. `source` is the file's name."""

    source: str
    film: Film
    card: Strip
    scraps: tuple[Strip, ...]

    @property
    def photos(self) -> tuple[str, ...]:
        """The names of the photographs that are needed, each once."""
        named = (strip.photo for strip in (self.card, *self.scraps))
        return tuple(dict.fromkeys(name for name in named if name is not None))


def parse(text: str, source: str) -> Strips:
    """Return what a readings file says; raises `InputError` with every mistake in it."""
    return from_tables(read_toml(text, source), source)


def from_tables(raw: Mapping[str, Any], source: str) -> Strips:
    """Return the strips of a readings file's tables; raises `InputError` with every mistake in them."""
    faults: list[Fault] = []

    def wrong(what: str, remedy: str = "", table: str = "", key: str = "") -> None:
        faults.append(Fault(file=source, table=table, key=key, what=what, remedy=remedy))

    for key in raw:
        if key not in ("film", "card", "scrap"):
            wrong("unknown key", nearest(key, ("film", "card", "scrap")), key=key)
    film = raw.get("film", films.USUAL)
    if film not in tuple(films.films()):
        wrong(f"expected {alternatives(films.films())}, found {describe(film)}", key="film")
    card, scraps = raw.get("card"), raw.get("scrap")
    if not isinstance(card, dict):
        wrong("missing" if card is None else f"expected a table, found {describe(card)}", "write [card]", "[card]")
    if not isinstance(scraps, list) or not scraps or not all(isinstance(each, dict) for each in scraps):
        found = "missing" if scraps is None else f"expected tables, found {describe(scraps)}"
        wrong(found, "write [[scrap]], once for each painted scrap", "[[scrap]]")
    if faults and (not isinstance(card, dict) or not isinstance(scraps, list)):
        raise InputError(faults)
    read: list[Strip] = []
    tables = [("[card]", card), *((f"[[scrap]] {number}", each) for number, each in enumerate(scraps or (), 1))]
    for name, table in tables:
        if isinstance(table, dict):
            strip, found_faults = _strip(name, table, source)
            faults += found_faults
            read.append(strip)
    if faults:
        raise InputError(faults)
    return Strips(source=source, film=films.films()[film], card=read[0], scraps=tuple(read[1:]))


def _strip(name: str, table: Mapping[str, Any], source: str) -> tuple[Strip, list[Fault]]:
    faults: list[Fault] = []
    is_scrap = name != "[card]"
    own = (*PATCHES, PAINT) if is_scrap else tuple(PATCHES)
    known = ("photo", WHITE, *_PLACES, *own)
    colours: dict[str, Colour] = {}
    points: dict[str, Point] = {}
    photo_name = table.get("photo")
    if photo_name is not None and (not isinstance(photo_name, str) or not photo_name.strip()):
        faults.append(_fault(source, name, "photo", f"expected a file's name, found {describe(photo_name)}"))
        photo_name = "photo"
    for key, value in table.items():
        if key == "photo":
            continue
        if key not in known:
            faults.append(_fault(source, name, key, "unknown patch", nearest(key, known)))
            continue
        is_point = isinstance(value, list)
        try:
            if is_point:
                points[key] = _point(value)
            else:
                colours[key] = _colour(value, must_be_point=key in (WHITE, *_PLACES))
        except ValueError as error:
            what, _, remedy = str(error).partition("; ")
            faults.append(_fault(source, name, key, what, remedy))
            continue
        if is_point and photo_name is None:
            faults.append(_fault(source, name, key, "a point needs a photograph", 'add photo = "card.jpg"'))
    faults += _missing(source, name, photo_name, {*colours, *points, *(each.key for each in faults)}, is_scrap)
    placed = None
    if photo_name is not None and WHITE in points:
        rest = {key: at for key, at in points.items() if key not in (WHITE, *_PLACES)}
        placed = Points(white=points[WHITE], first=points.get("first"), last=points.get("last"), own=rest)
        if placed.first is not None and placed.first == placed.last:
            faults.append(_fault(source, name, "last", "first and last are the same point", f"point at {LAST}"))
    return Strip(table=name, colours=colours, photo=photo_name, points=placed), faults


def _missing(source: str, name: str, photo_name: str | None, given: set[str], is_scrap: bool) -> Iterator[Fault]:
    if photo_name is not None and WHITE not in given:
        yield _fault(source, name, WHITE, "missing", "give the point of the white card: white = [x, y]")
    for here, other, patch in (("first", "last", LAST), ("last", "first", FIRST)):
        if here in given and other not in given:
            yield _fault(source, name, other, "missing", f'give the middle of the patch "{patch}" as well')
    if is_scrap and PAINT not in given:
        yield _fault(source, name, PAINT, "missing", "give the bare paint beside the film, a colour or a point")


def _point(value: list[Any]) -> Point:
    numbers = [each for each in value if isinstance(each, int | float) and not isinstance(each, bool)]
    if len(value) != 2 or len(numbers) != 2 or not np.isfinite(np.array(numbers, float)).all():
        remedy = "count pixels from the top left"
        raise ValueError(f"expected a point such as [812, 640], found {describe(value)}; {remedy}")
    return float(value[0]), float(value[1])


def _colour(value: Any, *, must_be_point: bool) -> Colour:
    if must_be_point:
        raise ValueError(f"expected a point in the photograph such as [812, 640], found {describe(value)}")
    if not isinstance(value, str):
        raise ValueError(f'expected a colour such as "#2a6f6b", or a point such as [812, 640], found {describe(value)}')
    return rgb.parse(value)


def readings(strips: Strips, photos: Mapping[str, Artwork]) -> Readings:
    """Return the colours of all strips, those of photographs picked; `photos` by the names the file uses.

    Raises `InputError` for points that cannot be picked, and patches read over paint but not over card.
    """
    faults: list[Fault] = []
    seen: list[dict[str, Colour]] = []
    for strip in (strips.card, *strips.scraps):
        colours: dict[str, Colour] = {}
        if strip.photo is not None and strip.points is not None:
            try:
                for name, picked in photo.pick(photos[strip.photo], strip.points).items():
                    red, green, blue = picked.tolist()
                    colours[name] = (red, green, blue)
            except ValueError as error:
                what, _, remedy = str(error).partition("; ")
                faults.append(Fault(file=strip.photo, table=strip.table, what=what, remedy=remedy))
        seen.append(colours | dict(strip.colours))
    names = tuple(name for name in PATCHES if name in seen[0])
    for strip, colours in zip(strips.scraps, seen[1:], strict=True):
        lone = [] if strips.card.photo is not None and faults else [n for n in colours if n not in (*names, PAINT)]
        faults += [
            _fault(strips.source, strip.table, name, "read over the scrap, but not over the card", "read it there too")
            for name in lone
        ]
    if faults:
        raise InputError(faults)
    return Readings(
        source=strips.source,
        film=strips.film,
        names=names,
        printed=np.array([PATCHES[name].printed for name in names]).reshape(-1, 3),
        card=np.array([seen[0][name] for name in names]).reshape(-1, 3),
        scraps=tuple(
            Scrap(
                paint=np.array(colours[PAINT]),
                seen=np.array([colours.get(name, (np.nan,) * 3) for name in names]).reshape(-1, 3),
            )
            for colours in seen[1:]
        ),
        notes=(photo.NOTE,) if strips.photos else (),
    )


def _fault(source: str, table: str, key: str, what: str, remedy: str = "") -> Fault:
    return Fault(file=source, table=table, key=key, what=what, remedy=remedy)


def template() -> str:
    """Return a readings file to fill in, which says in itself how."""
    rows = "\n".join(f'# {name} = "#rrggbb"' for name in PATCHES)
    photographed = "# white = [0, 0]         # the white card\n# first = [0, 0]         # the middle of the patch "
    photographed += f'"{FIRST}"\n# last = [0, 0]          # the middle of the patch "{LAST}"'
    film = f'film = "{films.USUAL}"'.ljust(27)
    return f"""\
# What the printed test strip looks like. Either type the colours that you read off it, as "#rrggbb" or a
# CSS colour name, relative to white card ("#ffffff"); or name a photograph and say where to look in it, in pixels
# from its top left corner. Leave out patches that you cannot read; six over card and scrap is the least.

{film}# the film that the strip is printed on: {alternatives(films.films())}

[card]                     # strip A, over white card
# photo = "card.jpg"
{photographed}
{rows}

[[scrap]]                  # strip B, over a painted scrap; more scraps, of other paints, make it surer
# paint = "#rrggbb"       # the bare paint beside the film, or its point: paint = [0, 0]
# photo = "scrap.jpg"
{photographed}
{rows}
"""
