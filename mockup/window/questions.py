"""The questions that the window asks, each with its answers."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from imgui_bundle import imgui

from mockup.layout.edit.merge import ClashError, Prefer
from mockup.window import question_bodies
from mockup.window.desk import Desk
from mockup.window.shell.days import day_words
from mockup.window.widgets.dialog import Answer, Question
from mockup.window.work import recovery
from mockup.window.work.project import Project

_WIDE = 560.0  # units, of a card that shows pedals or rows: by eye
_ROOMY = 560.0  # height of a window from which there is room for prints over the rows


def recovered(desk: Desk, kept: recovery.Unsaved, take: Callable[[], None]) -> Question:
    """Ask whether changes that a crash left unsaved shall come back; both pedals are shown."""
    words = [str(each).removeprefix("part ") for each in kept.changes if not each.is_order]
    listed = ", ".join(words[:3]) + (f" and {len(words) - 3} more" if len(words) > 3 else "")
    day = day_words(kept.at, date.today())
    project = Project(layout=kept.layout)
    pedals = (("With the changes", kept.text), ("As it was saved", kept.before))
    return Question(
        title=f"There are unsaved changes from {day}.",
        lines=[listed],
        answers=(
            Answer(label="Take them up", name="take", does=take),
            Answer(label="Throw them away", name="drop", does=lambda: recovery.drop(kept.layout)),
            Answer(label="Ask me later", name="later", does=lambda: None),
        ),
        body=lambda: question_bodies.prints(desk, project, pedals),
        wide=_WIDE,
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


def clash(desk: Desk, name: str, error: ClashError, texts: tuple[str, str], keep: Callable[[Prefer], None]) -> Question:
    """Ask row by row which value stays where the file was changed to something else meanwhile.

    `texts` are the layout as it is here and as it is in the file: both are shown.
    """
    rows = question_bodies.ClashRows(desk, error.clashes)
    project = desk.work.project

    def body() -> None:
        if project is not None and imgui.get_main_viewport().size.y >= _ROOMY * desk.widgets.scale:
            question_bodies.prints(desk, project, (("Here", texts[0]), ("In the file", texts[1])))
        rows.draw()

    return Question(
        title=f"{name} was also changed outside this window.",
        lines=["Tick what shall stay. Everything else is kept from both sides."],
        answers=(
            Answer(label="Keep what is ticked", name="keep", does=lambda: keep(rows.sides)),
            Answer(label="Stay here", name="cancel", does=lambda: None),
        ),
        body=body,
        wide=_WIDE,
    )


def _counted(count: int) -> str:
    return "One changed value is not saved yet." if count == 1 else f"{count} changed values are not saved yet."
