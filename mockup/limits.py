"""The limits that checks compare with: what several share in one data file, what one needs in its own file.

The layout's own values lie over both.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import replace
from importlib import resources

from mockup.memo import memoize
from mockup.model.finding import Limit
from mockup.plugins import Folder

Limits = Mapping[str, Limit]
_CHECKS = Folder("mockup.checks")


@memoize
def usual() -> dict[str, Limit]:
    """Return every limit by name with its usual value: those that checks share first, then check by check.

    `ValueError` where two are called the same.
    """
    shared = (resources.files("mockup") / "limits.toml").read_text(encoding="utf-8")
    own = (_CHECKS.text(name, "LIMITS") for name in _CHECKS.names())
    return {
        name: Limit(
            name=name,
            value=float(row["value"]),
            unit="mm" if name.endswith("_mm") else row["unit"],
            source=row["source"],
            about=row["about"],
            usual=float(row["value"]),
        )
        for name, row in tomllib.loads("\n".join((shared, *own))).items()
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


def wanted_contrast(known: Limits, capital_mm: float) -> Limit:
    """Return the contrast that lettering with capitals so high has to reach, of the limits that hold."""
    is_large = capital_mm >= known["large_letter_mm"].value
    return known["contrast_large" if is_large else "contrast_small"]
