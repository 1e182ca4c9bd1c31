"""From the schema library's errors to sentences for a builder."""

from __future__ import annotations

import typing
from collections.abc import Iterator
from typing import Any

from pydantic import ValidationError

from mockup.layout.fields import Loc, Problem, Table, describe, table_within
from mockup.model.errors import nearest

_ADD = {
    "box": 'add [box] with a size such as "112x60x31", or with width, length and height',
    "kind": 'add one, for example kind = "pot-16"',
    "name": "give it a name of its own",
    "art": 'add the picture file, for example art = "art.png"',
    "to": "say where the solid ends, counted away from the panel",
}

_RENAMED = {"boss": "post", "sweep": "travel"}  # an old word of the file -> what it is called now


def problems(error: ValidationError, root: type[Table]) -> Iterator[tuple[Loc, Problem]]:
    """Yield every mistake as its location and a problem in plain words."""
    for each in error.errors(include_url=False):
        loc: Loc = each["loc"]
        yield (loc[:-1] if loc[-1] == "[key]" else loc), _problem(each["type"], loc, each, root)


def _problem(sort: str, loc: Loc, error: Any, root: type[Table]) -> Problem:
    found = error["input"]
    if sort == "missing":
        return Problem((), "missing", _ADD.get(str(loc[-1]), ""))
    if sort == "extra_forbidden":
        is_table = isinstance(found, dict) or (
            isinstance(found, list) and any(isinstance(each, dict) for each in found)
        )
        word, known = str(loc[-1]), _known(loc, root)
        if _RENAMED.get(word) in known:
            return Problem((), f"this key is now called {_RENAMED[word]}", f"write {_RENAMED[word]} instead of {word}")
        return Problem((), f"unknown {'table' if is_table else 'key'}", nearest(word, known))
    if sort == "value_error":
        what, _, remedy = str(error["ctx"]["error"]).partition("; ")
        return Problem((), what, remedy)
    if sort == "tuple_type":
        return Problem((), f"expected a list of tables, found {describe(found)}", f"write it as [[{_dotted(loc)}]]")
    remedy = "write it once, in single brackets" if isinstance(found, list) else ""
    return Problem((), f"expected a table, found {describe(found)}", remedy)


def _dotted(loc: Loc) -> str:
    return ".".join(step for step in loc if isinstance(step, str))


def _known(loc: Loc, root: type[Table]) -> tuple[str, ...]:
    """Return the keys that the table around a location takes."""
    model, is_name = root, False
    for step in loc[:-1]:
        if isinstance(step, int) or is_name:
            is_name = False
            continue
        annotation = next(field.annotation for key, field in model.model_fields.items() if step in (key, field.alias))
        model = table_within(annotation) or model
        is_name = typing.get_origin(annotation) is dict  # a variant's own name follows
    return tuple(field.alias or key for key, field in model.model_fields.items())
