"""The questions that the window asks, each with its answers."""

from __future__ import annotations

from collections.abc import Callable

from mockup.layout.edit.merge import ClashError, Prefer
from mockup.window.shell.dialog import Answer, Question
from mockup.window.work import recovery

_MOST_LINES = 6  # so that the question fits a small window: by eye


def recovered(kept: recovery.Unsaved, take: Callable[[], None]) -> Question:
    """Ask whether changes that a crash left unsaved shall come back."""
    words = [str(each) for each in kept.changes]
    listed = "; ".join(words[:4]) + (f"; and {len(words) - 4} more" if len(words) > 4 else "")
    return Question(
        title="There are changes that were never saved.",
        lines=[listed],
        answers=(
            Answer(label="Take them up", name="take", does=take),
            Answer(label="Leave them", name="drop", does=lambda: recovery.drop(kept.layout)),
            Answer(label="Later", name="later", does=lambda: None),
        ),
    )


def unsaved(name: str, count: int, save: Callable[[], None], drop: Callable[[], None]) -> Question:
    """Ask what shall become of unsaved changes before the layout is left."""
    return Question(
        title=f"Save the changes to {name}?",
        lines=[_counted(count)],
        answers=(
            Answer(label="Save", name="save", does=save),
            Answer(label="Don't save", name="drop", does=drop),
            Answer(label="Stay here", name="cancel", does=lambda: None),
        ),
    )


def open_stops(count: int, worst: str, show: Callable[[], None], save: Callable[[], None]) -> Question:
    """Ask before a page is made of a pedal that cannot be built as it is."""
    title = "1 stop is open." if count == 1 else f"{count} stops are open."
    return Question(
        title=title,
        lines=[worst, f"The page will be marked: with {count} open stop{'' if count == 1 else 's'}."],
        answers=(
            Answer(label="Show me", name="show", does=show),
            Answer(label="Save it marked", name="save", does=save),
            Answer(label="Stay here", name="stay", does=lambda: None),
        ),
    )


def clash(name: str, error: ClashError, keep: Callable[[Prefer], None]) -> Question:
    """Ask which value stays where the file was changed to something else meanwhile."""
    lines = [fault.what for fault in error.faults]
    more = [f"and {len(lines) - _MOST_LINES} more"] if len(lines) > _MOST_LINES else []
    return Question(
        title=f"{name} was also changed outside this window.",
        lines=[*lines[:_MOST_LINES], *more, "Everything else is kept from both sides."],
        answers=(
            Answer(label="Keep mine", name="mine", does=lambda: keep("mine")),
            Answer(label="Keep the file's", name="file", does=lambda: keep("file")),
            Answer(label="Stay here", name="cancel", does=lambda: None),
        ),
    )


def _counted(count: int) -> str:
    return "One changed value is not saved yet." if count == 1 else f"{count} changed values are not saved yet."
