"""A remedy on trial: seen in the picture and judged by the checks before it is taken."""

from __future__ import annotations

import time
from collections.abc import Sequence

from mockup.layout.edit.homes import sent_home
from mockup.layout.edit.undo import LayoutDocument
from mockup.model.design import Placement
from mockup.model.edit import Edit
from mockup.model.errors import InputError
from mockup.model.finding import SEVERITIES, Finding
from mockup.window.shell.messages import MessageLine
from mockup.window.work.bare_design import bare_design, pedal
from mockup.window.work.workbench import Workbench

_SEEN_S = 0.4  # a little more than a double click takes: the window's design


class RemedyTrial:
    """Holds the edits on trial; `verdict` is what the checks say of them, "" while they are at it.

    `moved` are the parts that they move, each before and after.
    """

    def __init__(self, work: Workbench, messages: MessageLine) -> None:
        self._work = work
        self._messages = messages
        self.edits: tuple[Edit, ...] = ()
        self.moved: tuple[tuple[Placement, Placement], ...] = ()
        self._made: tuple[Edit, ...] = ()
        self._since = 0.0
        self._of: LayoutDocument | None = None
        self._document: LayoutDocument | None = None

    @property
    def is_shown(self) -> bool:
        """True while a remedy is on trial and the layout is the one that it was made for."""
        return bool(self.edits) and self._of is self._work.document

    @property
    def is_seen(self) -> bool:
        """True once it was shown for long enough to be seen: the second press of a double click takes nothing."""
        return time.perf_counter() - self._since > _SEEN_S

    def is_of(self, edits: Sequence[Edit]) -> bool:
        """Return whether just these edits are on trial."""
        return self.is_shown and self.edits == tuple(edits)

    def show(self, edits: Sequence[Edit]) -> None:
        """Put edits on trial; what they change is seen, nothing is taken yet."""
        document = self._work.document
        if document is None or not edits:
            return
        try:
            self._made = sent_home(document.raw, edits, **self._work.scope)
            self._document = document.closed().edited("remedy", self._made)
            self.moved = self._moved(self._document.text)
        except InputError as error:
            self._messages.say_error(error)
            return
        self.edits, self._of, self._since = tuple(edits), document, time.perf_counter()
        self._work.request_trial(self._document)

    def put_back(self) -> bool:
        """End the trial, nothing changed; False where there was none."""
        was_shown = self.is_shown
        self.edits, self.moved, self._of, self._document = (), (), None, None
        self._work.found.end_trial()
        return was_shown

    def keep(self, title: str) -> None:
        """Take what is on trial, as one step of undo."""
        edits = self._made if self.is_shown else ()
        self.put_back()
        if edits:
            self._work.edit(lambda document, _: document.edited(title, edits))

    def _moved(self, text: str) -> tuple[tuple[Placement, Placement], ...]:
        """Return the parts that stand otherwise in a text than now, each before and after."""
        now, project = pedal(self._work), self._work.project
        if now is None or project is None:
            return ()
        there = bare_design(text, project, self._work.content.variant)
        after = {part.name: part for part in there.parts}
        both = [(part, after[part.name]) for part in now.parts if part.name in after]
        return tuple((one, other) for one, other in both if _stand(one) != _stand(other))

    @property
    def verdict(self) -> str:
        """What the checks say of the layout with the remedy in it."""
        after = self._work.found.of_trial
        return "" if after is None else verdict(self._work.findings, after)


def _stand(part: Placement) -> tuple[object, ...]:
    place = (round(each, 3) for each in (part.u_mm, part.v_mm, part.depth_mm, part.rotation_deg))
    return (part.face, part.knob, part.kind.name, *place)


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
