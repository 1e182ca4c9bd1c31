"""What was taken away, told with a button that brings it back."""

from __future__ import annotations

from mockup.window.shell.messages import UNDO_S, MessageLine, Remedy
from mockup.window.work.workbench import Workbench


def say_removed(work: Workbench, messages: MessageLine, what: str) -> None:
    """Say what has just been removed; Undo brings it back as long as nothing else was changed."""
    now = work.document

    def bring_back() -> None:
        if now is not None and work.document is not None and work.document.text == now.text:
            work.undo()

    undo = Remedy(label="Undo", does=bring_back)
    messages.say(f"{what} removed.", seconds=UNDO_S, remedy=undo)
