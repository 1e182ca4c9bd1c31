"""Clear film: what is not printed shows the paint."""

from __future__ import annotations

from mockup.model.finish import Film


def film() -> Film:
    """Return the film."""
    return Film(about="the paint shows through")
