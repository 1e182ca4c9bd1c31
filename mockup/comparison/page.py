"""A comparison as one page for a browser: pictures, models that turn together, tables."""

from __future__ import annotations

from mockup.comparison.sheet import Compared


def require_ground(light: str) -> None:
    """x."""


def html_page(shown: Compared, light: str, *, has_marks: bool) -> bytes:
    """x."""
    raise NotImplementedError
