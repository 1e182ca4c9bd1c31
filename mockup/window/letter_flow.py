"""What is done with lettering: words, labels, scales and borders; faces are copied into the project."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from mockup import files, reader
from mockup.decal.shipped_faces import USUAL, ShippedFace
from mockup.decal.typeface import Typeface
from mockup.layout.edit import words
from mockup.memo import memoize
from mockup.model.edit import Address, InsertTable, RemoveTable, Value
from mockup.model.enclosure import FaceName
from mockup.model.errors import MockupError
from mockup.window.art_flow import change
from mockup.window.desk import Desk
from mockup.window.pointer.face_things import FaceThing
from mockup.window.tools.writing import step_of
from mockup.window.work.assets import mark
from mockup.window.work.project_faces import adopt_face
from mockup.window.work.removal import say_removed

NEW_WORD = "WORD"
"""What a new word reads until something is typed."""


def adopt(desk: Desk, face: ShippedFace | Path) -> str | None:
    """Return the name of a face's file in the project, copied there with its licence if need be; None where refused."""
    project = desk.work.project
    if project is None:
        return None
    try:
        return adopt_face(project.folder, face)
    except MockupError as error:
        desk.messages.say_error(error)
        return None


def typeface(desk: Desk, name: str) -> Typeface | None:
    """Return a font of the project, None where it cannot be read."""
    project = desk.work.project
    if project is None:
        return None
    return _typeface(str(project.folder), name, mark(project.folder / name))


@memoize  # asked for in every frame
def _typeface(folder: str, name: str, _mark: tuple[int, ...]) -> Typeface | None:
    """Return a font file as it is at this mark, None where it cannot be read."""
    try:
        return reader.font(files.read_bytes(Path(folder) / name), name)
    except MockupError:
        return None


def write(desk: Desk, face: FaceName | None = None, at: tuple[float, float] | None = None) -> None:
    """Write a new word on a face, in its middle or at (u, v); it has the caret at once."""
    document = desk.work.document
    font = adopt(desk, USUAL) if document is not None else None
    if document is None or font is None:
        return
    variant, number = desk.tools.lying.changes.new_in("label"), len(desk.tools.lying.changes.tables("label"))
    edits = words.written(
        document.raw, NEW_WORD, desk.work.faces[face or desk.view.state.dressed_face], font, at, variant
    )
    way = ("label", number)
    desk.work.edit(lambda current, _scope: current.edited("write on the face", edits, merge=step_of(way)))
    desk.tools.writing.begin(way, "", is_made=True)


def label_of(desk: Desk, part: str) -> tuple[str | int, ...] | None:
    """Return the steps to the label of a part, None where it has none."""
    tables = desk.tools.lying.changes.tables("label")
    return next((("label", index) for index, table in enumerate(tables) if table.get("part") == part), None)


def rewrite(desk: Desk) -> None:
    """Put the caret into the picked word."""
    thing = desk.tools.lying.picked
    if thing is not None and thing.is_word:
        desk.tools.writing.begin(thing.way, thing.name)


def scale(desk: Desk, part: str | None) -> None:
    """Draw a scale round a part, or round every knob that has none; or pick the one that is there."""
    tables = desk.tools.lying.changes.tables("scale")
    number = next((index for index, table in enumerate(tables) if table.get("part") == part), None)
    if number is None:
        number = len(tables)
        values: Mapping[str, Any] = {"part": part} if part is not None else {}
        insert = InsertTable(
            address=Address(way=("scale",), variant=desk.tools.lying.changes.new_in("scale")), values=values
        )
        change(desk, f"scale of {part}" if part is not None else "scales", (insert,))
    desk.view.change(desk.view.state.picking(("scale", number)))


def border(desk: Desk, face: FaceName | None = None) -> None:
    """Draw a border round a face, or pick the one that it has."""
    face = face or desk.view.state.dressed_face
    tables = desk.tools.lying.changes.tables("border")
    number = next((index for index, table in enumerate(tables) if table.get("face", "top") == face), None)
    if number is None:
        number = len(tables)
        values: Mapping[str, Any] = {} if face == "top" else {"face": face}
        insert = InsertTable(
            address=Address(way=("border",), variant=desk.tools.lying.changes.new_in("border")), values=values
        )
        change(desk, f"draw a border on the {face} face", (insert,))
    desk.view.change(desk.view.state.picking(("border", number)))


def look(desk: Desk, thing: FaceThing, key: str, value: Value, *, is_for_all: bool) -> None:
    """Give a word a look, or all labels of parts the same."""
    document, scope = desk.work.document, desk.work.scope
    if document is None:
        return
    number = int(thing.way[1])
    edits = words.looking(document.raw, number, key, value, scope["variant"], is_for_all=is_for_all)
    name = desk.tools.lying.changes.table(thing.way).get("text", thing.part)
    desk.work.edit(
        lambda current, _scope: current.edited(
            f"change the {key.replace('_', ' ')} of {name}", edits, merge=f"look {key}"
        )
    )


def length(desk: Desk, thing: FaceThing, key: str, mm: float) -> Value:
    """Return a length of a word's look as the layout writes it, whatever unit the window shows."""
    document = desk.work.document
    assert document is not None
    return words.length(document.raw, int(thing.way[1]), key, mm, desk.work.scope["variant"])


def remove(desk: Desk) -> None:
    """Take the picked scale or border off the pedal."""
    picked = desk.view.state.picked
    if len(picked) == 1 and picked[0][0] in ("scale", "border"):
        way = picked[0]
        address = desk.tools.lying.changes.address(way)
        desk.view.change(desk.view.state.picking())
        change(desk, f"take off a {way[0]}", (RemoveTable(address=address),))
        say_removed(desk.work, desk.messages, "The border" if way[0] == "border" else "The scale")
