"""The `[[copy]]` tables: the pedals of a small series, and the lettering that differs from one to the next."""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Annotated, Any

from pydantic import BeforeValidator, Field

from mockup.layout.fields import Loc, Name, Problem, Table, Text
from mockup.layout.lettering.tables import LabelTable
from mockup.model.errors import nearest
from mockup.model.making import Copy

_FIELD = re.compile(r"\{(\w+)\}")
_OWN = ("serial", "date")  # fields that mean a series even where there is none: else braces are letters as any


def _day(value: Any) -> Any:
    return value.isoformat() if type(value) is datetime.date else value


Day = Annotated[Text, BeforeValidator(_day)]
"""A date as the builder writes it, or as TOML does."""


class CopyTable(Table):
    """One pedal of a small series."""

    serial: Name | None = Field(None, description="Its serial number; its place in the series if not given")
    date: Day | None = Field(None, description="The day it was made, as you write it")
    to: Text | None = Field(None, description="Who got it")
    fields: dict[Name, Text] = Field(default_factory=dict, description="Fields of your own, for lettering")


def copies(tables: Sequence[CopyTable]) -> tuple[Copy, ...]:
    """Return the pedals of a series in order."""
    return tuple(
        Copy(serial=each.serial or str(number), date=each.date or "", to=each.to or "", fields=each.fields)
        for number, each in enumerate(tables, 1)
    )


def filled(text: str, values: Mapping[str, str]) -> str:
    """Return a text with the fields in braces that have a value filled in."""
    return _FIELD.sub(lambda found: values.get(found[1], found[0]), text)


def is_numbered(labels: Sequence[LabelTable], made: Sequence[Copy]) -> bool:
    """Return whether some lettering differs from copy to copy."""
    return any(len({filled(each.text or "", copy.values) for copy in made}) > 1 for each in labels)


def series_problems(
    labels: Sequence[tuple[Loc, LabelTable]], tables: Sequence[CopyTable]
) -> Iterator[tuple[Loc, Problem]]:
    """Yield serial numbers that stand twice, and fields in lettering that a copy does not fill."""
    made, seen = copies(tables), set()
    for number, copy in enumerate(made):
        if copy.serial in seen:
            what = f'another copy has the serial number "{copy.serial}"'
            yield ("copy", number, "serial"), Problem((), what, "give each copy a number of its own")
        seen.add(copy.serial)
    for loc, label in labels:
        for name in _FIELD.findall(label.text or ""):
            if not made and name in _OWN:
                what = f"{{{name}}} is filled in from [[copy]] tables, and there is none"
                yield (*loc, "text"), Problem((), what, "write a [[copy]] table for each pedal of the series")
            lacking = next((number for number, copy in enumerate(made, 1) if name not in copy.values), None)
            if lacking is not None:
                what = f"copy {lacking} has nothing for {{{name}}}"
                known = {*made[lacking - 1].values, *_OWN}
                remedy = (
                    f"give that copy a {name}" if name in known else f"add it to its fields; {nearest(name, known)}"
                )
                yield (*loc, "text"), Problem((), what, remedy)
