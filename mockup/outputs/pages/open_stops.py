"""The mark on a page of a pedal that cannot be built as it is: how many findings stop it."""

from __future__ import annotations

from typing import Any

from mockup.options import option


def open_stops() -> Any:
    """Return the option that holds how many findings stop the build; no flag, it is counted."""
    return option(0, "findings that stop the build, said on the page; counted by the checks", reads="stops")


def mark(stops: int) -> str:
    """Return what stands on the page, "" where nothing stops the build."""
    return f"with {stops} open stop{'' if stops == 1 else 's'}" if stops else ""


def notes(stops: int) -> tuple[str, ...]:
    """Return what a user is told besides."""
    return (f"marked: {mark(stops)}; the check says what stops the build",) if stops else ()
