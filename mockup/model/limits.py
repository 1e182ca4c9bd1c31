"""The limits that checks compare with: one data file, and the layout's own values over it."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import replace
from importlib import resources

from mockup.model.finding import Limit

Limits = Mapping[str, Limit]


def usual() -> dict[str, Limit]:
    """Return every limit by name with its usual value, in file order."""
    text = (resources.files("mockup.model") / "limits.toml").read_text(encoding="utf-8")
    return {
        name: Limit(
            name=name,
            value=float(row["value"]),
            unit=row["unit"],
            source=row["source"],
            about=row["about"],
            usual=float(row["value"]),
        )
        for name, row in tomllib.loads(text).items()
    }


def limits(own: Mapping[str, float]) -> dict[str, Limit]:
    """Return every limit with the layout's `own` values in place, each marked as its own.

    Names that are no limits are left out; the layout reader refuses them before.
    """
    return {
        name: limit
        if name not in own
        else replace(
            limit,
            value=own[name],
            source=f"this layout's [limits]; usual {limit.value:g} {limit.unit}, {limit.source}".replace(" ,", ","),
            is_own=True,
        )
        for name, limit in usual().items()
    }
