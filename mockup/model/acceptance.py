"""A finding that the builder knows of and accepts, with the reason."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class Acceptance:
    """One accepted finding: which check, about what (names as a report writes them, in millimetres), and why.

    `measured` is its figure when it was accepted, in the finding's own unit; one that gets worse comes back. None
    accepts it whatever its figure.
    """

    check: str
    subjects: tuple[str, ...]
    why: str
    measured: float | None = None
