"""A new part: it stands where there is room, and where there is none the builder is told what would help."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from mockup.enclosure.sizes import SIZES
from mockup.layout.edit import parts as edits_of
from mockup.model.design import Placement
from mockup.model.edit import Edit
from mockup.model.enclosure import FACE_WORDS, Face, FaceName, faces
from mockup.model.part import Kind
from mockup.window.desk import Desk
from mockup.window.part_flow import await_caret, change, end_naming, fresh, pedal
from mockup.window.shell.messages import Remedy
from mockup.window.work import room_search
from mockup.window.work.room_search import RoomAnswer, RoomQuestion

_SEARCH_S, _OFFER_S = 120.0, 40.0  # how long the strip says so: our choice


def add(desk: Desk, kind: Kind, at: Placement | None = None, *, called: str = "it") -> str | None:
    """Add a part of a kind where there is room, or where it was set down; its name is open for typing.

    `called` is what the drawer calls it.

    Return its name, None where it could not be added, or where room for it is still looked for.
    """
    design = pedal(desk)
    if design is None:
        return None
    end_naming(desk)
    new = fresh(design, kind)
    placed = room_search.at_once(design, new) if at is None else replace(at, name=new.name)
    if placed is not None:
        return _stand(desk, placed, faces(design.enclosure))
    _look_for_room(desk, new, called)
    return None


def _stand(desk: Desk, placed: Placement, sides: Mapping[FaceName, Face], before: Sequence[Edit] = ()) -> str | None:
    """Add a part in its place, after other edits; its name is open for typing."""
    title, side = f"add {placed.name}", sides[placed.face]
    if not change(
        desk, title, lambda raw: (*before, *edits_of.inserted(raw, placed, side, **desk.work.scope)), merge=title
    ):  # fmt: skip
        return None
    state = desk.view.state.picking(("part", placed.name)).with_sheet(False)  # the drawer stays, for the next part
    desk.view.change(replace(state, naming=placed.name))
    await_caret(desk)
    return placed.name


def _look_for_room(desk: Desk, part: Placement, called: str) -> None:
    """Look aside for room on this box and on larger ones, and say what comes of it."""
    work = desk.work
    document, project = work.document, work.project
    if document is None or project is None:
        return
    question = RoomQuestion(project=project, text=document.text, variant=work.content.variant, part=part)

    def take(answer: RoomAnswer) -> None:
        if work.document is not None and work.document.text == document.text:
            _answered(desk, part, called, answer)
        else:
            desk.messages.say("The pedal was changed meanwhile; click it again.")

    desk.rooms.start(question, take)
    desk.messages.say(
        f"{called}: looking for room", seconds=_SEARCH_S, remedy=Remedy(label="Stop", does=lambda: _stop(desk))
    )


def _stop(desk: Desk) -> None:
    desk.rooms.stop()
    desk.messages.say("Stopped.")


def _answered(desk: Desk, part: Placement, called: str, answer: RoomAnswer) -> None:
    """Put a part where there is room, or say that there is none and where there would be."""
    design, work = pedal(desk), desk.work
    document, project = work.document, work.project
    if design is None or document is None or project is None:
        return
    sides = faces(design.enclosure)
    if answer.placed is not None and not answer.size:
        desk.messages.say(f"{called}: there is room on the {FACE_WORDS[answer.placed.face]}.")
        _stand(desk, room_search.stood(part, answer.placed), sides)
        return
    there = answer.placed
    said = f"{called}: there is no room left on this box."
    if there is None:
        middle = replace(part, u_mm=sides["top"].width_mm / 2, v_mm=sides["top"].height_mm / 2)
        remedy = Remedy(label="Put it in the middle", does=lambda: _stand(desk, middle, sides))
        desk.messages.say(said, seconds=_OFFER_S, remedy=remedy)
        return
    edits = room_search.box_edits(document.text, project, work.content.variant, answer.size, is_own=work.is_own_edit)
    placed, larger = room_search.stood(part, there), faces(SIZES[answer.size])

    box = SIZES[answer.size]

    def take_box() -> None:
        if work.document is not None and work.document.text == document.text:
            desk.messages.say(f"The box is {box.length_mm:.0f} x {box.width_mm:.0f} mm now.")
            _stand(desk, placed, larger, edits)

    desk.messages.say(
        f"{said} The next that has room is {box.length_mm:.0f} x {box.width_mm:.0f} mm.", seconds=_OFFER_S,
        remedy=Remedy(label="Take that box", does=take_box),
    )  # fmt: skip
