"""The `[[accept]]` tables: findings that the builder accepts, each with the reason."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import BeforeValidator, Field, WithJsonSchema

from mockup.layout.fields import Table, Text, describe, number, one_of
from mockup.model.acceptance import Acceptance
from mockup.plugins import Folder

CHECKS = Folder("mockup.checks")


def _names(value: Any) -> tuple[str, ...]:
    listed = [value] if isinstance(value, str) else value
    if not isinstance(listed, list | tuple) or not all(isinstance(each, str) and each.strip() for each in listed):
        raise ValueError(f'expected names, for example ["TONE", "GAIN"], found {describe(value)}')
    return tuple(each.strip() for each in listed)


Names = Annotated[
    tuple[str, ...],
    BeforeValidator(_names),
    WithJsonSchema({"type": "array", "items": {"type": "string"}}),
]
Figure = Annotated[float, BeforeValidator(number), WithJsonSchema({"type": "number"})]


class AcceptTable(Table):
    """A finding that is accepted: it is listed apart, and comes back when its figure gets worse."""

    check: Annotated[str, BeforeValidator(one_of("checks"))] = Field(description="The check that found it")
    subjects: Names = Field((), description="What it is about: the names that the report gives")
    why: Text = Field(description="Why it is accepted")
    measured: Figure | None = Field(None, description="Its figure when it was accepted, as the report gives it in mm")


def acceptance(table: AcceptTable) -> Acceptance:
    """Return what a table says."""
    return Acceptance(check=table.check, subjects=table.subjects, why=table.why.strip(), measured=table.measured)
