"""What two texts of a layout say otherwise, and changes from both put together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from mockup.layout.edit.tables import (
    LISTS,
    MISSING,
    NAMED,
    Delete,
    Place,
    Put,
    Shift,
    TableChange,
    count,
    found,
    resolved,
    same,
    texts,
)
from mockup.layout.edit.writing import written
from mockup.layout.toml import read_toml
from mockup.model.edit import Address
from mockup.model.errors import Fault, InputError

Side = Literal["mine", "file"]
Prefer = Side | Mapping[Place, Side]
"""Which side stays where both changed: one for all, or one for each place."""


@dataclass(frozen=True, kw_only=True)
class Clash:
    """One thing that was changed here and in the file to different things; `MISSING` where it is gone.

    `is_lost` where the file no longer has the table that it is in: then what was changed here cannot stay.
    """

    place: Place
    here: Any
    there: Any
    is_lost: bool = False

    @property
    def subject(self) -> str:
        """What it is about, in words: ``part TONE left``."""
        return str(Address.at(self.place))

    def fault(self, source: str) -> Fault:
        """Return it as a mistake of a file."""
        here = "removed" if self.here is MISSING else repr(self.here) if _is_plain(self.here) else "changed"
        is_plain = _is_plain(self.there)
        there = "gone from" if self.there is MISSING else f"{self.there!r} in" if is_plain else "another in"
        return Fault(file=source, what=f"{self.subject} is {here} here, {there} the file", remedy="keep one of them")


class ClashError(InputError):
    """Something was changed on both sides, here and in the file, to different things; one fault for each."""

    def __init__(self, faults: Iterable[Fault] | Fault, clashes: Sequence[Clash] = ()) -> None:
        super().__init__(faults)
        self.clashes = tuple(clashes)


@dataclass(frozen=True, kw_only=True)
class Difference:
    """One thing that two texts say otherwise: values or whole tables as TOML reads them, `MISSING` for none.

    Parts and kinds are named in `place`, other tables numbered. Where the tables of a list only stand in another
    order, `was` and `now` are tuples of their names.
    """

    place: Place
    was: Any
    now: Any

    @property
    def is_order(self) -> bool:
        """Whether tables of a list only stand in another order."""
        return isinstance(self.now, tuple)

    @property
    def what(self) -> str:
        """What became of it, in words: ``= 15.5``, ``added``, ``removed``."""
        if self.now is MISSING or self.now == []:
            return "removed"
        if self.is_order:
            return "in another order"
        if isinstance(self.now, dict | list) and not _is_plain(self.now):
            return "added" if self.was is MISSING else "changed"
        return f"= {self.now}"

    @property
    def subject(self) -> str:
        """What it is about, in words: ``part TONE left``."""
        return str(Address.at(self.place))

    def __str__(self) -> str:
        """Return the difference in words: ``part TONE left = 15.5``."""
        return f"{self.subject} {self.what}"


def differences(before: str, now: str, source: str) -> tuple[Difference, ...]:
    """Return what a text says otherwise than one before; comments and ways of writing do not count."""
    return tuple(_between((), read_toml(before, source), read_toml(now, source)))


def _between(place: Place, was: Any, now: Any) -> Iterator[Difference]:
    if same(was, now):
        return
    if isinstance(was, dict) and isinstance(now, dict):
        for key in dict.fromkeys((*was, *now)):
            yield from _between((*place, key), was.get(key, MISSING), now.get(key, MISSING))
    elif _is_list(place, was) and _is_list(place, now) and place[-1] in NAMED and (was or now):
        yield from _between_named(place, _by_name(was), _by_name(now))
    elif _is_list(place, was) and _is_list(place, now) and was is not MISSING and len(was) == len(now):
        for number, (old, new) in enumerate(zip(was, now, strict=True)):
            yield from _between((*place, number), old, new)
    else:
        yield Difference(place=place, was=was, now=now)


def _is_list(place: Place, value: Any) -> bool:
    """Return whether a value is one of the layout's lists of tables, each named where it should be."""
    if not place or place[-1] not in LISTS or not isinstance(value, list):
        return bool(place) and place[-1] in NAMED and value is MISSING
    names = [name for each in value for name in texts(each, ("name",))]
    return place[-1] not in NAMED or len(set(names)) == len(value)


def _by_name(tables: Any) -> dict[str, Any]:
    return {} if tables is MISSING else {texts(each, ("name",))[0]: each for each in tables}


def _between_named(place: Place, was: dict[str, Any], now: dict[str, Any]) -> Iterator[Difference]:
    for name in dict.fromkeys((*was, *now)):
        yield from _between((*place, name), was.get(name, MISSING), now.get(name, MISSING))
    order = [*(name for name in was if name in now), *(name for name in now if name not in was)]
    if order != list(now):
        yield Difference(place=place, was=tuple(order), now=tuple(now))


def merged(before: str, mine: str, theirs: str, source: str, *, prefer: Prefer | None = None) -> str:
    """Return a text of the file with what `mine` says otherwise than `before` put into `theirs`.

    What was changed on both sides to different things, or here in a table that the file no longer has, is a conflict:
    `prefer` says which one stays; where it does not, raises `ClashError` with one fault for each.
    """
    if theirs in (before, mine):
        return mine
    kept: list[Difference] = []
    clashes: list[Clash] = []
    raw = read_toml(theirs, source)
    for each in differences(before, mine, source):
        there = found(raw, each.place)
        is_lost = _is_lost(raw, each.place)
        if not is_lost and same(there, each.now):
            continue
        is_clash = is_lost or not (each.is_order or same(there, each.was))
        side = prefer.get(each.place) if isinstance(prefer, Mapping) else prefer
        if is_clash and side is None:
            clashes.append(Clash(place=each.place, here=each.now, there=there, is_lost=is_lost))
        if not is_lost and (not is_clash or side == "mine"):
            kept.append(each)
    if clashes:
        raise ClashError([clash.fault(source) for clash in clashes], clashes)
    text = theirs
    for each in kept:
        for made in _changes(raw, each):
            text = written(text, raw, made, source)
    return text


def _is_lost(raw: Any, place: Place) -> bool:
    """Return whether the table of a list, or the variant, that a place is in is gone."""
    around = [place[:end] for end in range(2, len(place)) if place[end - 2] in (*LISTS, "variants")]
    return any(found(raw, each) is MISSING for each in around)


def _is_plain(value: Any) -> bool:
    """Return whether a value is short enough to be said: no table, and no list of tables."""
    inside = value if isinstance(value, list) else [value]
    return not isinstance(value, tuple) and not any(isinstance(each, dict) for each in inside)


def _changes(raw: Any, each: Difference) -> Iterator[TableChange]:
    """Yield the changes that bring a difference about; each is made before the next is asked for."""
    place = resolved(raw, each.place)
    there = found(raw, place)
    if each.is_order:
        yield from _shifts(place, list(_by_name(there)), each.now)
        return
    is_table = isinstance(each.now, dict) and each.place[-2:-1] and each.place[-2] in LISTS
    if there is not MISSING and (each.now is MISSING or is_table or isinstance(there, dict | list)):
        yield Delete(place=place)
    if is_table:
        number = place[-1] if isinstance(place[-1], int) else count(raw, place[:-1])
        yield Put(place=(*place[:-1], number), value=each.now)
    elif isinstance(each.now, list) and not _is_plain(each.now):
        for number, values in enumerate(each.now):
            yield Put(place=(*place, number), value=values)
    elif each.now is not MISSING:
        yield Put(place=place, value=each.now)


def _shifts(place: Place, names: list[str], wanted: tuple[str, ...]) -> Iterator[Shift]:
    """Yield the changes that bring the tables of a list into an order; names that it does not say stay behind them."""
    order = [*(name for name in wanted if name in names), *(name for name in names if name not in wanted)]
    for number, name in enumerate(order):
        old = names.index(name)
        if old != number:
            names.insert(number, names.pop(old))
            yield Shift(place=(*place, old), to=number)
