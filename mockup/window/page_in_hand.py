"""A card that tells which design a printed page shows, by the mark on it."""

from __future__ import annotations

from imgui_bundle import imgui

from mockup.window.desk import Desk
from mockup.window.shell import theme
from mockup.window.widgets.dialog import Answer, Question
from mockup.window.work.page_lookup import PageQuestion

_WIDE = 520.0  # units: by eye
_LINES = 8  # of an answer that are in sight, the rest scrolls: by eye


def ask(desk: Desk) -> None:
    """Have the mark of a page typed, and say what the page shows."""
    project = desk.work.project
    if project is None:
        return
    desk.pages.clear()
    desk.widgets.focus.ask("which.mark")
    desk.dialog.ask(
        Question(
            title="Is a page still right?",
            lines=["Type the mark that stands on the page behind the word design."],
            answers=(Answer(label="Done", name="done", does=desk.pages.clear),),
            body=lambda: _body(desk, PageQuestion(mark="", layout=project.layout)),
            wide=_WIDE,
            is_typed=True,
        )
    )


def _body(desk: Desk, question: PageQuestion) -> None:
    widgets, pages, scale = desk.widgets, desk.pages, desk.widgets.scale
    asked = pages.asked.mark if pages.asked is not None else ""
    wide = 110.0 * scale
    typed = widgets.field("which.mark", asked, wide=widgets.wide - wide - 8 * scale, is_taken_on_leaving=True)
    imgui.same_line(0, 8 * scale)
    is_pushed = widgets.button("Look it up", "which.look", wide=wide, tall=imgui.get_frame_height())
    mark = typed if typed is not None else asked if is_pushed else ""
    if mark.strip():
        pages.ask(PageQuestion(mark=mark.strip(), layout=question.layout))
    if pages.asked is None:
        return
    widgets.space(theme.SPACES[2])
    if pages.lines is None:
        widgets.note("Being looked up ...")
        return
    for line in pages.lines[:_LINES]:
        widgets.text(line)
    if len(pages.lines) > _LINES:
        widgets.note(f"And {len(pages.lines) - _LINES} more changes.")
    if desk.work.is_changed:
        widgets.note("It is held against the pedal as it was saved last.")
