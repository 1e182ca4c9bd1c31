"""The `[limits]` table: the layout's own values for limits of the checks, one key for each limit there is."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any

from pydantic import BeforeValidator, Field, WithJsonSchema, create_model

from mockup.layout.fields import LENGTH_SCHEMAS, Table, describe, number
from mockup.limits import usual
from mockup.model.units import parse_length


def _value(value: Any) -> float:
    return _not_negative(number(value), value)


def _millimetres(value: Any) -> float:
    """Return a limit whose name ends in mm: a plain number is millimetres whatever the file's units."""
    if isinstance(value, str):
        return _not_negative(parse_length(value, "mm"), value)
    return _value(value)


def _not_negative(limit: float, value: Any) -> float:
    if limit < 0:
        raise ValueError(f"expected 0 or more, found {describe(value)}")
    return limit


Value = Annotated[float, BeforeValidator(_value), WithJsonSchema({"type": "number", "minimum": 0})]
Millimetres = Annotated[float, BeforeValidator(_millimetres), WithJsonSchema(LENGTH_SCHEMAS["Radius"])]

if TYPE_CHECKING:

    class LimitsTable(Table):
        """Own values for limits of the checks; an attribute for each limit, None where the file gives none."""

else:
    LimitsTable = create_model(
        "LimitsTable",
        __base__=Table,
        __doc__="Own values for limits of the checks, each in its own unit.",
        **{
            name: (
                (Millimetres if limit.unit == "mm" else Value) | None,
                Field(None, description=f"{limit.about}; usually {limit.value:g} {limit.unit}".strip()),
            )
            for name, limit in usual().items()
        },
    )


def own_limits(table: LimitsTable | None) -> dict[str, float]:
    """Return the limits that a table gives, by name."""
    return {} if table is None else {name: getattr(table, name) for name in table.model_fields_set}
