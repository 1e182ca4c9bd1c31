"""The tables for the next one: `[making]`, how it was made, and `[[credit]]`, where pictures and fonts come from."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from typing import Annotated, Any, get_args

from pydantic import BeforeValidator, Field, Strict, WithJsonSchema

from mockup.layout.fields import FileName, Loc, Problem, Table, Text, describe, one_of
from mockup.model.errors import nearest
from mockup.model.making import Credit, Making, Purpose


def _lines(value: Any) -> Any:
    if isinstance(value, str):
        return tuple(value.splitlines()) if value.strip() else value
    if not isinstance(value, list | tuple) or not all(isinstance(each, str) for each in value):
        raise ValueError(f"expected text, or a list of lines, found {describe(value)}")
    return tuple(value)


def _told(value: Any) -> tuple[str, ...]:
    lines = _lines(value)
    if isinstance(lines, str) or not any(each.strip() for each in lines):
        raise ValueError("expected text, found nothing between the quotes")
    said = tuple(each.expandtabs(4).strip() for each in lines if each.strip())
    if not all(each.isprintable() for each in said):
        raise ValueError("expected plain text; take out control characters")
    return said


Words = Annotated[
    tuple[str, ...],
    BeforeValidator(_told),
    WithJsonSchema({"anyOf": [{"type": "string"}, {"type": "array", "items": {"type": "string"}}]}),
]
"""The builder's own words: a text of one or more lines, or a list of lines."""
PurposeField = Annotated[Purpose, BeforeValidator(one_of(get_args(Purpose)))]


class CreditTable(Table):
    """Where a picture, a font or another file of the project comes from."""

    file: FileName = Field(description="The file, as the layout names it")
    source: Text | None = Field(None, description="Where it comes from: drawn by yourself, a book, an address")
    author: Text | None = Field(None, description="Who made it")
    terms: Text | None = Field(None, description="What you may do with it, for example: for sale too, with the name")


class MakingTable(Table):
    """How the pedal was made, for the next one."""

    purpose: PurposeField | None = Field(None, description='Whether it is made "for myself" or "for sale"')
    paint: Words | None = Field(None, description="The paint: sort, shade, batch")
    coats: Words | None = Field(None, description="Coats of primer, paint and lacquer, and their times")
    film: Words | None = Field(None, description="The film: sort and batch")
    printer: Words | None = Field(None, description="The printer's settings")
    suppliers: Words | None = Field(None, description="Who supplied what")
    remarks: Words | None = Field(None, description="What else the next one should know")
    files: Annotated[tuple[FileName, ...], Strict(False)] = Field(
        (), description="More files in the layout's folder that belong to it: they go into every pack"
    )


def making(table: MakingTable | None, credits: Iterable[CreditTable], named: Sequence[str]) -> Making:
    """Return what the tables say of one pedal; `named` are the pictures and fonts that it needs."""
    told = table if table is not None else MakingTable.model_construct()
    known = {each.file: {key: value for key, value in each if value is not None} for each in credits}
    files = tuple(dict.fromkeys(told.files))
    words = {key: value for key, value in told if value is not None and key != "files"}
    used = dict.fromkeys((*named, *files))
    return Making(**words, files=files, credits=tuple(Credit(**known.get(name, {"file": name})) for name in used))


def credit_problems(credits: Sequence[CreditTable], known: Collection[str]) -> Iterator[tuple[Loc, Problem]]:
    """Yield credits of a file that neither a pedal nor `[making]` names, and second ones of the same file."""
    seen: set[str] = set()
    for number, each in enumerate(credits):
        loc: Loc = ("credit", number, "file")
        if each.file not in known:
            remedy = nearest(each.file, known) if known else "add it to files in [making]"
            yield loc, Problem((), f"the layout names no file {describe(each.file)}", remedy)
        elif each.file in seen:
            yield loc, Problem((), f"{describe(each.file)} has a credit already", "write all of it in one table")
        seen.add(each.file)
