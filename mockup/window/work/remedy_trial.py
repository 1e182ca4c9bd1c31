"""A remedy on trial: seen in the picture and judged by the checks before it is taken."""

from __future__ import annotations

from collections.abc import Sequence

from mockup.layout.edit.undo import LayoutDocument
from mockup.model.edit import Edit
from mockup.model.errors import InputError
from mockup.model.finding import SEVERITIES, Finding
from mockup.window.shell.messages import MessageLine
from mockup.window.work.workbench import Workbench


class RemedyTrial:
    """Holds the edits on trial; `verdict` is what the checks say of them, "" while they are at it."""

    def __init__(self, work: Workbench, messages: MessageLine) -> None:
        self._work = work
        self._messages = messages
        self.edits: tuple[Edit, ...] = ()
        self._of: LayoutDocument | None = None
        self._document: LayoutDocument | None = None

    @property
    def is_shown(self) -> bool:
        """True while a remedy is on trial and the layout is the one that it was made for."""
        return bool(self.edits) and self._of is self._work.document

    def is_of(self, edits: Sequence[Edit]) -> bool:
        """Return whether just these edits are on trial."""
        return self.is_shown and self.edits == tuple(edits)

    def show(self, edits: Sequence[Edit]) -> None:
        """Put edits on trial; what they change is seen, nothing is taken yet."""
        document = self._work.document
        if document is None or not edits:
            return
        try:
            self._document = document.closed().edited("remedy", tuple(edits))
        except InputError as error:
            self._messages.say_error(error)
            return
        self.edits, self._of = tuple(edits), document
        self._work.request_trial(self._document)

    def put_back(self) -> bool:
        """End the trial, nothing changed; False where there was none."""
        was_shown = self.is_shown
        self.edits, self._of, self._document = (), None, None
        self._work.found.end_trial()
        return was_shown

    def keep(self, title: str) -> None:
        """Take what is on trial, as one step of undo."""
        edits = self.edits if self.is_shown else ()
        self.put_back()
        if edits:
            self._work.edit(lambda document, _: document.edited(title, edits))

    @property
    def verdict(self) -> str:
        """What the checks say of the layout with the remedy in it."""
        after = self._work.found.of_trial
        return "" if after is None else verdict(self._work.findings, after)


def verdict(before: Sequence[Finding], after: Sequence[Finding]) -> str:
    """Return what a remedy cures and what it brings, in one sentence or two."""

    def counted(findings: Sequence[Finding]) -> list[int]:
        return [sum(each.severity == severity for each in findings) for severity in SEVERITIES]

    (stops, troubles, _), (stops_after, troubles_after, _) = counted(before), counted(after)
    known = {(each.check, each.subjects) for each in before}
    new = [each for each in after if (each.check, each.subjects) not in known and each.severity != "note"]
    if stops and not stops_after:
        cured = "Cures all that stops"
    elif stops_after < stops:
        cured = f"Cures {stops - stops_after} of {stops} stops"
    elif not troubles_after and troubles:
        cured = "Cures all likely troubles"
    elif len(after) < len(before):
        cured = f"Cures {len(before) - len(after)}"
    else:
        cured = "Cures nothing yet"
    brought = "nothing new" if not new else f"brings {len(new)} new"
    return f"{cured}, {brought}."
