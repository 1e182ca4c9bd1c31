"""What is done with parts: added, named, doubled, set in order, given another kind or face, removed."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from mockup import knobs
from mockup.arrange import groups
from mockup.arrange.names import numbered, suggested
from mockup.decal.shipped_faces import USUAL
from mockup.layout import resolve
from mockup.layout.edit import parts as edits_of
from mockup.layout.edit import words
from mockup.model.design import Design, Placement
from mockup.model.edit import Edit
from mockup.model.enclosure import FACES, Face, FaceName, faces
from mockup.model.errors import InputError, MockupError
from mockup.model.part import Kind, Lamp
from mockup.window.desk import Desk
from mockup.window.work import bare_design, room_search
from mockup.window.work.project_faces import adopt_face
from mockup.window.work.removal import say_removed

Edits = Callable[[Mapping[str, Any]], Sequence[Edit]]
LAMP = Lamp(colour=(1.0, 0.02, 0.01), is_lit=True)  # stands in while a lamp is carried; the layout says its own


def pedal(desk: Desk) -> Design | None:
    """Return the pedal as it is edited now, parts without art; where it is not sound, as it was shown last."""
    return bare_design.pedal(desk.work)


def catalogue(desk: Desk) -> dict[str, Kind]:
    """Return every kind of part that this pedal may have."""
    work = desk.work
    if work.project is None or work.document is None:
        return {}
    try:
        return bare_design.kinds(work.document.text, work.project)
    except InputError:
        return {}


def picked(desk: Desk) -> tuple[Placement, ...]:
    """Return the parts that are picked, where they stand now."""
    design, names = pedal(desk), desk.view.state.picked_parts
    found = {part.name: part for part in design.parts} if design is not None else {}
    return tuple(found[name] for name in names if name in found)


def fresh(design: Design, kind: Kind, name: str = "") -> Placement:
    """Return a new part of a kind, not placed yet, with the knob or lamp that it gets by itself."""
    return Placement(
        name=name or suggested(kind, [part.name for part in design.parts]),
        kind=kind,
        face="top",
        u_mm=0.0,
        v_mm=0.0,
        knob=knobs.default(resolve.favourite_style()) if kind.shaft is not None else None,
        lamp=LAMP if kind.is_lamp else None,
    )


def change(desk: Desk, title: str, edits: Edits, *, merge: str = "") -> bool:
    """Make edits as one step of undo, or as part of the step before of the same `merge`; False where refused."""
    before = desk.work.document
    desk.work.edit(
        lambda document, _scope: document.edited(title, edits(document.raw), merge=merge), is_step=not merge
    )  # fmt: skip
    return desk.work.document is not before


def await_caret(desk: Desk) -> None:
    """Have the name's field drawn, and its caret in it, before the next key is looked at."""
    desk.widgets.focus.ask("naming")
    desk.window.settle()


def open_naming(desk: Desk) -> None:
    """Open the name of the picked part for typing."""
    name = desk.view.state.selected
    if name is not None:
        desk.view.change(replace(desk.view.state, naming=name))
        await_caret(desk)


def end_naming(desk: Desk, typed: str | None = None) -> None:
    """Close the name that is open, with what was typed or as it is; a new part is lettered where that is switched on.

    Names with one merge become one step with the part's coming, so that one undo takes back both.
    """
    old = desk.view.state.naming
    if old is None:
        return
    new = (typed or old).strip() or old
    desk.view.change(replace(desk.view.state, naming=None))
    desk.widgets.focus.leave_panel()
    document = desk.work.document
    is_new = document is not None and document.undoes == f"add {old}"
    design = pedal(desk)
    part = next((each for each in design.parts if each.name == old), None) if design is not None else None
    if document is None or part is None:
        return
    title = f"add {old}" if is_new else f"rename {old}"
    variant = desk.work.scope["variant"]
    was = old
    if new != old and change(
        desk, title, lambda raw: edits_of.renamed(raw, was, new, variant), merge=title if is_new else ""
    ):  # fmt: skip
        state = desk.view.state
        desk.view.change(state.picking(("part", new)).with_sheet(state.is_sheet_open))
        old = new
    if is_new and desk.view.state.is_lettering and has_lettering(part.kind):
        letter(desk, old, merge=title)
    desk.work.end_step()


def has_lettering(kind: Kind) -> bool:
    """True where a builder usually letters such a part: what a hand or a foot works."""
    return kind.mount == "panel" and not kind.is_lamp and kind.family not in _UNLETTERED


_UNLETTERED = ("jack", "dc-socket", "din-socket")


def letter(desk: Desk, part: str, *, merge: str = "") -> None:
    """Letter a part with its name, in the face that comes with the program where the layout has none yet."""
    project = desk.work.project
    if project is None:
        return
    variant = desk.work.scope["variant"] if desk.work.is_own_edit else None
    try:
        font = adopt_face(project.folder, USUAL)
    except MockupError as error:
        desk.messages.say_error(error)
        return
    change(desk, f"label {part}", lambda raw: words.labelled(raw, part, font, variant), merge=merge)


def letter_picked(desk: Desk) -> None:
    """Letter the picked parts with their names, as one step."""
    parts = picked(desk)
    title = f"label {_said(parts)}" if parts else ""
    for part in parts:
        letter(desk, part.name, merge=title)
    desk.work.end_step()


def scale_picked(desk: Desk) -> None:
    """Put marks round the picked parts that have none."""
    parts = [part for part in picked(desk) if part.kind.mount == "panel"]
    if not parts:
        return
    names = [part.name for part in parts]
    variant = desk.work.scope["variant"] if desk.work.is_own_edit else None
    change(desk, f"scale of {_said(parts)}", lambda raw: edits_of.scaled(raw, names, variant))


def twin(desk: Desk) -> None:
    """Make a second part like the picked one: mirrored where there is room, else beside it; its name is open."""
    design, parts = pedal(desk), picked(desk)
    if design is None or not parts:
        return
    made: list[str] = []
    edits: list[tuple[str, Placement]] = []
    for part in parts:
        name = numbered(part.name, [each.name for each in design.parts])
        second = groups.twin(design, part, name)
        design = replace(design, parts=(*design.parts, second))
        edits.append((part.name, second))
        made.append(name)
    sheets, scope = faces(design.enclosure), desk.work.scope
    title = f"twin {_said(parts)}"
    if change(
        desk, title,
        lambda raw: [e for old, new in edits for e in edits_of.twinned(raw, old, new, sheets[new.face], **scope)],
    ):  # fmt: skip
        state = desk.view.state.picking(*(("part", name) for name in made))
        desk.view.change(replace(state, naming=made[0] if len(made) == 1 else None))
        if len(made) == 1:
            await_caret(desk)


def remove(desk: Desk) -> None:
    """Take the picked parts off the pedal, their lettering and scales with them."""
    parts, scope = picked(desk), desk.work.scope
    if not parts:
        return
    names = [part.name for part in parts]
    desk.view.change(replace(desk.view.state.picking(), naming=None))
    if change(desk, f"remove {_said(parts)}", lambda raw: edits_of.removed(raw, names, **scope)):
        say_removed(desk.work, desk.messages, _said(parts))


def turn(desk: Desk) -> None:
    """Turn the picked parts by a quarter."""
    parts, scope = picked(desk), desk.work.scope
    if parts:
        change(desk, f"turn {_said(parts)}", lambda raw: edits_of.turned(raw, parts, 90.0, **scope))


def rekind(desk: Desk, kind: Kind) -> None:
    """Make the picked parts of another kind, in their places and under their names."""
    parts, scope = picked(desk), desk.work.scope
    if parts:
        change(desk, f"kind of {_said(parts)}", lambda raw: edits_of.rekinded(raw, parts, kind, **scope))


def reface(desk: Desk, face: FaceName, wish: tuple[float, float] | None = None) -> None:
    """Put the picked parts on another face, each where there is room nearest to a wish."""
    design, scope = pedal(desk), desk.work.scope
    if design is None:
        return
    moved = []
    for part in picked(desk):
        if part.face != face:
            there = room_search.near(design, part, face, wish)
            design = replace(design, parts=tuple(there if each.name == part.name else each for each in design.parts))
            moved.append(there)
    side = faces(design.enclosure)[face]
    if moved:
        change(
            desk, f"{_said(moved)} to the {face} face",
            lambda raw: [edit for each in moved for edit in edits_of.refaced(raw, each, side, **scope)],
        )  # fmt: skip


def next_face(desk: Desk, step: int) -> None:
    """Put the picked parts on the next face, round and round, and look at it where it is out of sight."""
    parts = picked(desk)
    if parts and all(part.kind.mount == "panel" for part in parts):
        face = FACES[(FACES.index(parts[-1].face) + step) % len(FACES)]
        reface(desk, face)
        desk.camera.see_face(face)


def order(
    desk: Desk, title: str, places: Callable[[Sequence[Placement], Face], groups.Places], *, is_joined: bool = False
) -> None:
    """Set the picked parts in order, those of each face by themselves.

    Where it `is_joined`, one step of undo takes back all that follow each other.
    """
    design, scope = pedal(desk), desk.work.scope
    if design is None:
        return
    sheets = faces(design.enclosure)
    parts = picked(desk)
    found: dict[str, tuple[Face, float, float]] = {}
    for name in dict.fromkeys(part.face for part in parts):
        here = [part for part in parts if part.face == name and part.kind.mount == "panel"]
        if here:
            for part, (u, v) in places(here, sheets[name]).items():
                found[part] = (sheets[name], *_on_face(sheets[name], u, v))
    if found:
        said = f"{title} {_said(parts)}"
        change(desk, said, lambda raw: edits_of.moved(raw, found, **scope), merge=said if is_joined else "")


def set_out(desk: Desk, way: str) -> None:
    """Spread the picked parts evenly, mirror them about the centre line, or centre them as one."""
    if way == "spread":
        order(desk, "spread", lambda parts, _face: groups.spread(parts))
    elif way == "mirror":
        order(desk, "mirror", groups.mirrored)
    else:
        order(desk, "centre", groups.centred)


def shift(desk: Desk, across_mm: float, down_mm: float) -> None:
    """Move the picked parts as one, to the right and down as their faces are seen from outside."""
    order(desk, "move", lambda parts, _face: groups.shifted(parts, across_mm, down_mm), is_joined=True)


def _on_face(face: Face, u: float, v: float) -> tuple[float, float]:
    left, top, right, bottom = face.flat
    return min(max(u, left), right), min(max(v, top), bottom)


def pick_all(desk: Desk) -> None:
    """Pick all parts of the face that the picked one stands on, of the top where none is."""
    design, parts = pedal(desk), picked(desk)
    face = parts[-1].face if parts else "top"
    if design is not None:
        ways = [("part", part.name) for part in design.parts if part.face == face]
        desk.view.change(desk.view.state.picking(*ways))


def _said(parts: Sequence[Placement]) -> str:
    return parts[0].name if len(parts) == 1 else f"{len(parts)} parts"
