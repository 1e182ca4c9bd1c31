"""Opening, saving and leaving a project, with the questions that each may ask first."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from mockup.layout.edit.merge import ClashError, Prefer
from mockup.window import questions
from mockup.window.desk import Desk
from mockup.window.work import layout_file, recovery


def open_project(desk: Desk, path: str | Path) -> None:
    """Open a layout or a folder; changes that a crash left unsaved are offered."""
    if not desk.work.open(path):
        return
    desk.view.reset()
    desk.camera.is_framed = False
    desk.widgets.focus.leave_panel()
    assert desk.work.project is not None
    unsaved = recovery.offered(desk.work.project.layout)
    if unsaved is not None:
        desk.dialog.ask(questions.recovered(desk, unsaved, lambda: _restore(desk, unsaved, None)))


def _restore(desk: Desk, unsaved: recovery.Unsaved, prefer: Prefer | None) -> None:
    if desk.work.document is None:
        return
    try:
        desk.work.take(unsaved.onto(desk.work.document, prefer=prefer))
        desk.messages.say("Your unsaved changes are back. Save to keep them.")
    except ClashError as error:
        texts = unsaved.text, desk.work.document.text
        desk.dialog.ask(
            questions.clash(desk, _called(desk), error, texts, lambda chosen: _restore(desk, unsaved, chosen))
        )


def save_layout(desk: Desk, then: Callable[[], None] | None = None, *, prefer: Prefer | None = None) -> None:
    """Write the changes, then go on; ask first where the file was changed to other values meanwhile."""
    assert desk.work.project is not None
    try:
        is_saved = desk.work.save(prefer)
    except ClashError as error:
        assert desk.work.document is not None
        texts = desk.work.document.text, layout_file.reopened(desk.work.project.layout).disk
        desk.dialog.ask(
            questions.clash(desk, _called(desk), error, texts, lambda chosen: save_layout(desk, then, prefer=chosen))
        )
        return
    if is_saved and then is not None:
        then()


def open_other(desk: Desk, path: Path) -> None:
    """Open another layout or folder instead of what is open, after asking about unsaved changes."""
    _ask_unsaved(desk, lambda: open_project(desk, path))


def leave_project(desk: Desk) -> None:
    """Go to the start page."""
    _ask_unsaved(desk, lambda: _leave(desk))


def _leave(desk: Desk) -> None:
    desk.work.leave()
    desk.saves.leave()
    desk.view.reset()


def close_window(desk: Desk) -> None:
    """Close the window."""
    _ask_unsaved(desk, desk.window.close)


def _ask_unsaved(desk: Desk, then: Callable[[], None]) -> None:
    """Do something that loses unsaved changes, after asking about them."""
    project, document = desk.work.project, desk.work.document
    if project is None or document is None or not document.is_changed:
        then()
        return

    def drop() -> None:
        desk.work.drop_unsaved()
        then()

    desk.dialog.ask(questions.unsaved(_called(desk), len(document.unsaved), lambda: save_layout(desk, then), drop))


def _called(desk: Desk) -> str:
    """Return what the open pedal is called."""
    assert desk.work.project is not None
    return desk.work.design.name if desk.work.design is not None else desk.work.project.title
