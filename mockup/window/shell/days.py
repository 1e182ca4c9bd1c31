"""Days in words."""

from __future__ import annotations

from datetime import date, datetime


def day_words(then: datetime, today: date) -> str:
    """Return a day as one says it: today with the hour, yesterday, or the date, with the year where it is another."""
    days = (today - then.date()).days
    if days == 0:
        return f"today, {then:%H:%M}"
    if days == 1:
        return "yesterday"
    year = "" if then.year == today.year else f" {then.year}"
    return f"{then.day} {then:%B}{year}"
