"""Room for a part that is not found at once: looked for in a process of its own, on this box and on larger ones."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass, replace

from mockup.arrange import room
from mockup.enclosure.sizes import SIZES
from mockup.layout.edit.apply import apply
from mockup.layout.edit.homes import sent_home
from mockup.layout.toml import read_toml
from mockup.model.design import Design, Placement
from mockup.model.edit import Address, Edit, PutValue
from mockup.model.enclosure import FaceName
from mockup.window.shell.mailbox import Mailbox
from mockup.window.work.bare_design import bare_design
from mockup.window.work.project import Project
from mockup.window.work.search_process import Refusal, SearchProcess

AT_ONCE_S = 0.2  # of the processor, what a click may take; more is looked for aside: our choice
MOST_BOXES = 4  # larger ones that are tried: our choice


@dataclass(frozen=True, kw_only=True)
class RoomQuestion:
    """A new part for a variant of an edited layout."""

    project: Project
    text: str
    variant: str | None
    part: Placement


@dataclass(frozen=True, kw_only=True)
class RoomAnswer:
    """Where there is room, None where there is none; on a larger box, `size` names that."""

    placed: Placement | None = None
    size: str = ""


def at_once(design: Design, part: Placement) -> Placement | None:
    """Return a part where there is room, None where there is none or the answer would keep the builder waiting."""
    until = time.thread_time() + AT_ONCE_S
    return room.place(design, part, is_stopped=lambda: time.thread_time() > until)


def near(design: Design, part: Placement, face: FaceName, wish: tuple[float, float] | None = None) -> Placement:
    """Return a part on a face, as near to a wish as there is room; at the wish itself where that is not soon found."""
    until = time.thread_time() + AT_ONCE_S
    return room.place_on(design, part, face, wish, is_stopped=lambda: time.thread_time() > until)


class RoomSearch:
    """Looks for room for one part at a time; the newest question wins."""

    def __init__(self, mailbox: Mailbox) -> None:
        self._search = SearchProcess(mailbox, "room")

    def start(self, question: RoomQuestion, deliver: Callable[[RoomAnswer], None]) -> None:
        """Begin to look; `deliver` is called on the window's own thread, unless the search is stopped."""

        def take(answer: RoomAnswer | Refusal) -> None:
            deliver(answer if isinstance(answer, RoomAnswer) else RoomAnswer())

        self._search.start(found, question, take)

    def stop(self) -> None:
        """End the search."""
        self._search.stop()


def found(question: RoomQuestion) -> RoomAnswer:
    """Return where a part has room: on its box, else on the nearest larger one; runs aside."""
    design = bare_design(question.text, question.project, question.variant)
    placed = room.place(design, question.part)
    if placed is not None:
        return RoomAnswer(placed=placed)
    now = design.enclosure
    larger = [
        (size, box)
        for size, box in SIZES.items()
        if box.length_mm >= now.length_mm and box.width_mm >= now.width_mm and box.height_mm >= now.height_mm - 3.0
        if box.length_mm * box.width_mm > 1.05 * now.length_mm * now.width_mm
    ]
    larger.sort(key=lambda each: each[1].length_mm * each[1].width_mm)
    for size, _ in larger[:MOST_BOXES]:
        edits = box_edits(question.text, question.project, question.variant, size)
        text = apply(question.text, edits, question.project.layout.name)
        placed = room.place(bare_design(text, question.project, question.variant), question.part)
        if placed is not None:
            return RoomAnswer(placed=placed, size=size)
    return RoomAnswer()


def box_edits(
    text: str, project: Project, variant: str | None, size: str, *, is_own: bool = False
) -> tuple[Edit, ...]:  # fmt: skip
    """Return the edit that takes a box of one of the sizes."""
    put = PutValue(address=Address(way=("box", "size")), value=size)
    return sent_home(read_toml(text, project.layout.name), (put,), variant, is_own=is_own)


def stood(part: Placement, answer: Placement) -> Placement:
    """Return a part where an answer from aside has it: the part's own kind, not the copy that travelled."""
    return replace(
        part, face=answer.face, u_mm=answer.u_mm, v_mm=answer.v_mm, depth_mm=answer.depth_mm,
        rotation_deg=answer.rotation_deg,
    )  # fmt: skip
