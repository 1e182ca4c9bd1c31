"""Actions on the pedal as a whole: open, save, undo."""

from __future__ import annotations

from mockup.window import built_flow, page_in_hand, photo_flow, project_flow
from mockup.window.actions.action import always, group, row
from mockup.window.desk import Desk


def _can_undo(desk: Desk) -> bool:
    return desk.work.document is not None and desk.work.document.undoes is not None


def _can_redo(desk: Desk) -> bool:
    return desk.work.document is not None and desk.work.document.redoes is not None


def _is_changed(desk: Desk) -> bool:
    return desk.work.is_changed


ROWS = group(
    "Pedal",
    row(
        "start-page", "Go to the front door: start or open a pedal", "ctrl+o ctrl+n", project_flow.leave_project,
        label="Front door", about="To the front door", glyph="house",
    ),
    row(
        "save", "Save", "ctrl+s", project_flow.save_layout, _is_changed,
        about="Keep the changes; nothing else in the file changes",
    ),
    row("undo", "Undo", "ctrl+z", lambda desk: desk.work.undo(), _can_undo, glyph="rotate-left"),
    row("redo", "Redo", "ctrl+shift+z ctrl+y", lambda desk: desk.work.redo(), _can_redo, glyph="rotate-right"),
    row(
        "page-in-hand", "Look up which design a printed page shows", "", page_in_hand.ask, label="Page in hand",
        about="Click to look up whether a page is still right",
    ),
    row(
        "holes-as-drilled", "Read the drilled holes off a scan or photograph", "", built_flow.ask,
        label="Holes as drilled", about="Click to bring a scan or a photograph of the drilled face",
    ),
    row(
        "beside-photograph", "Hold a photograph of the finished pedal beside its picture", "", photo_flow.show,
        label="Finished pedal", about="Click to bring its photograph and hold it beside its picture",
    ),
    row("reload", "Read all files again", "f5", lambda desk: desk.work.reload()),
    row(
        "discard", "Drop unsaved changes", "", lambda desk: desk.work.discard(), _is_changed, label="Drop changes",
        about="Go back to the pedal as it was saved",
    ),
    row("quit", "Close the window", "ctrl+q", project_flow.close_window, always),
)  # fmt: skip
