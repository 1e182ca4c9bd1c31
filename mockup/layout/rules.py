"""What one table must not say, although every single value in it is fine. No geometry here."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from mockup.finishes import UNPAINTED, sheens
from mockup.layout.fields import Problem, describe
from mockup.layout.lettering.tables import LabelTable
from mockup.layout.schema import NO_KNOB, BoxKeys, DecalTable, FinishTable, PartTable
from mockup.model.errors import nearest
from mockup.model.part import Kind


def box_problems(box: BoxKeys) -> Iterator[Problem]:
    """Yield what the box lacks: it needs a size, or all three outer measures."""
    measures = ("width", "length", "height")
    missing = [key for key in measures if getattr(box, key) is None]
    if box.size is None and len(missing) == len(measures):
        yield Problem(("size",), "missing", 'write a size such as "112x60x31", or width, length and height')
    elif box.size is None:
        for key in missing:
            yield Problem((key,), "missing", "give all of width, length and height, or a size")


def finish_problems(finish: FinishTable) -> Iterator[Problem]:
    """Yield a sheen that has no paint to shine."""
    if finish.paint is None and finish.sheen is not None and sheens()[finish.sheen].is_painted:
        remedy = f'give a colour such as "#2a6f6b" or "teal", or write sheen = "{UNPAINTED}"'
        yield Problem(("paint",), f"missing; a {finish.sheen} finish needs a colour", remedy)
    if finish.printer is not None and finish.ink_strength is not None:
        yield Problem(("ink_strength",), "the printer says already how strong its ink is", "keep one of the two")


def decal_problems(decal: DecalTable) -> Iterator[Problem]:
    """Yield keys that contradict each other."""
    yield from side_problems(decal, "a decal's size comes from width, height or dpi")
    if decal.dpi is not None and (decal.width is not None or decal.height is not None):
        yield Problem(("dpi",), "dpi and width or height both say how large the decal is", "keep one of them")


def kind_name_problems(name: str, kinds: Iterable[str]) -> Iterator[Problem]:
    """Yield what is wrong with the name of a part's kind, "" where that is no text."""
    known = tuple(kinds)
    if name and name not in known:
        yield Problem(("kind",), f"unknown kind {describe(name)}", nearest(name, known, "mockup parts"))


def part_problems(part: PartTable, kinds: Mapping[str, Kind]) -> Iterator[Problem]:
    """Yield sides that contradict each other, and keys that a part of a known kind does not take."""
    yield from side_problems(part, "a part has one centre")
    kind = kinds.get(part.kind)
    if kind is None:
        return
    knob = part.knob if part.knob is not None and part.knob.style != NO_KNOB else None
    if knob is not None and kind.shaft is None:
        yield Problem(("knob",), f"a {kind.name} takes no knob", "take the knob away or choose a kind with a shaft")
    elif knob is not None and kind.shaft and knob.diameter is not None and knob.diameter <= kind.shaft.diameter_mm:
        yield Problem(
            ("knob", "diameter"), f"the knob is no wider than its {kind.shaft.diameter_mm:g} mm shaft", "make it wider"
        )
    if not kind.is_lamp:
        remedy = "write the knob's colour as knob = { colour = ... }" if kind.shaft else "take it away"
        if part.colour is not None:
            yield Problem(("colour",), f"only a lamp takes a colour here, and a {kind.name} is none", remedy)
        if part.lit is not None:
            yield Problem(("lit",), f"only a lamp can be lit, and a {kind.name} is none", "take it away")
    if part.depth is not None and kind.mount != "inside":
        yield Problem(("depth",), f"a {kind.name} goes through the panel and takes no depth", "take it away")


def repeated(names: Iterable[str]) -> Iterator[tuple[int, int]]:
    """Yield (index, index of the first) for every name, not empty, that was there before."""
    first: dict[str, int] = {}
    for index, name in enumerate(names):
        if name and first.setdefault(name, index) != index:
            yield index, first[name]


def side_problems(table: DecalTable | PartTable | LabelTable, why: str) -> Iterator[Problem]:
    """Yield the second of two opposite sides where both are given."""
    for one, other in (("left", "right"), ("top", "bottom")):
        if getattr(table, one) is not None and getattr(table, other) is not None:
            yield Problem((other,), f"{one} and {other} are both given, but {why}", "keep one of the two")
