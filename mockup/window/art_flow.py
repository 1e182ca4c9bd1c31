"""What is done with pictures: laid on a face, made to fit, centred, doubled, taken off, shown outside the window."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from mockup import files, reader
from mockup.decal import fitting
from mockup.layout.edit import decals
from mockup.model.design import Design
from mockup.model.edit import DuplicateTable, Edit, RemoveTable
from mockup.model.enclosure import FACE_WORDS, FaceName
from mockup.model.errors import MockupError
from mockup.model.finish import Decal
from mockup.window.desk import Desk
from mockup.window.pointer.face_things import FaceThing
from mockup.window.saves import outside
from mockup.window.work.removal import say_removed

PICTURES = (".png", ".jpg", ".jpeg", ".webp", ".tif", ".tiff", ".gif", ".bmp", ".ora", ".svg", ".svgz")


def art_of(design: Design | None) -> dict[int, Decal]:
    """Return a pedal's pictures by their numbers in the layout; a decal that is lettering alone has none there."""
    found = enumerate(design.decals) if design is not None else ()
    return {number: decal for number, decal in found if decal.art.file is not None}


_PRINT_STEPS: dict[decals.PrintKey, str] = {
    "film": "change the film", "process": "change the process", "white_under": "change the white",
    "cut": "change the cut",
}  # fmt: skip


def print_on(desk: Desk, numbers: Sequence[int], value: str, key: decals.PrintKey = "film") -> None:
    """Print pictures on a film, by a process or with its white somewhere, as one step of undo."""
    desk.work.edit(
        lambda document, scope: document.edited(
            _PRINT_STEPS[key], decals.printed(document.raw, numbers, key, value, **scope)
        )
    )


def change(desk: Desk, title: str, edits: Sequence[Edit]) -> None:
    """Make edits as one step of undo."""
    if edits:
        desk.work.edit(lambda document, _scope: document.edited(title, edits))


def lay(desk: Desk, path: Path, face: FaceName | None = None, at: tuple[float, float] | None = None) -> None:
    """Lay a picture on a face, in its middle or with its own middle at (u, v), and pick it.

    Where no face is named, it is the lid while the underside is seen, else the top.
    A picture from elsewhere is copied into the project's folder; one of the same name there keeps its place.
    """
    project, document, design = desk.work.project, desk.work.document, desk.work.design
    if project is None or document is None or design is None:
        return
    face = face or desk.view.state.dressed_face
    try:
        name = _adopted(project.folder, path)
        art = reader.picture(files.read_bytes(project.folder / name), name)
        variant = desk.tools.lying.changes.new_in("decal")
        edits = decals.laid(document.raw, art, desk.work.faces[face], variant, at=at)
    except MockupError as error:
        desk.messages.say_error(error)
        return
    number = len(desk.tools.lying.changes.tables("decal"))
    change(desk, f"lay {name} on the {FACE_WORDS[face]}", edits)
    desk.view.change(desk.view.state.picking(("decal", number)))


def paint_with(desk: Desk, path: Path) -> None:
    """Make a picture the paint; one from elsewhere is copied as for `lay`."""
    if desk.work.project is None:
        return
    try:
        name = _adopted(desk.work.project.folder, path)
        reader.picture(files.read_bytes(desk.work.project.folder / name), name)
    except MockupError as error:
        desk.messages.say_error(error)
        return
    desk.work.edit(lambda document, scope: document.put(("finish", "paint"), name, "change the paint", **scope))


def drop(desk: Desk, path: Path, x: float, y: float) -> bool:
    """Lay a picture on the face that it was let go over; True where it is a picture and a face was there."""
    if path.suffix.lower() not in PICTURES or desk.work.design is None:
        return False
    found = desk.view.pane_at(x, y)
    hit = desk.camera.pick(found[1]) if found is not None else None
    if found is None or hit is None:
        lay(desk, path)
        return True
    face = hit.face
    if face is None:  # on a knob, say: the face that its part stands on
        part = desk.work.part(hit.part)
        face = part.face if part is not None else None
    lay(desk, path, face)  # in its middle: where it was let go says on which face, no more
    return True


def fit(desk: Desk, thing: FaceThing) -> None:
    """Make a picture as large as the flat of its face takes it, in the middle."""
    address, face = desk.tools.lying.changes.address(thing.way), desk.work.faces[thing.face]
    size = (thing.lying.width_mm, thing.lying.height_mm)
    change(desk, f"fit {thing.name}", fitting.fit(address, size, thing.lying.rotation_deg, face))


def as_drawn(desk: Desk, thing: FaceThing) -> None:
    """Leave a picture's size to its file."""
    change(desk, f"size of {thing.name}", decals.as_drawn(desk.tools.lying.changes.address(thing.way)))


def centre(desk: Desk) -> None:
    """Put what is picked in the middle of its face."""
    thing = desk.tools.lying.picked
    if thing is not None and thing.part is None:
        address = desk.tools.lying.changes.address(thing.way)
        change(desk, f"centre {thing.name}", decals.centred(address, "left", "top"))


def turn(desk: Desk) -> None:
    """Turn what is picked clockwise by 90 degrees."""
    thing = desk.tools.lying.picked
    if thing is not None:
        address = desk.tools.lying.changes.address(thing.way)
        change(desk, f"turn {thing.name}", decals.turned_to(address, thing.lying.rotation_deg + 90.0))


def twin(desk: Desk) -> None:
    """Lay what is picked a second time, and pick that."""
    thing = desk.tools.lying.picked
    if thing is None:
        return
    change(desk, f"twin {thing.name}", (DuplicateTable(address=desk.tools.lying.changes.address(thing.way)),))
    desk.view.change(desk.view.state.picking((thing.way[0], int(thing.way[1]) + 1)))


def remove(desk: Desk) -> None:
    """Take what is picked off the pedal; its file stays in the folder."""
    thing = desk.tools.lying.picked
    if thing is None:
        return
    desk.view.change(desk.view.state.picking())
    change(desk, f"take off {thing.name}", (RemoveTable(address=desk.tools.lying.changes.address(thing.way)),))
    say_removed(desk.work, desk.messages, thing.name)


def open_art(desk: Desk, name: str) -> None:
    """Open a picture file in the program that the system has for it."""
    _outside(desk, name, outside.open_file)


def show_art(desk: Desk, name: str) -> None:
    """Show a picture file in its folder."""
    _outside(desk, name, outside.show_in_folder)


def _outside(desk: Desk, name: str, does: outside.Deed) -> None:
    if desk.work.project is None:
        return
    if not does(desk.work.project.folder / name):
        desk.messages.say(f"This system has no program here that shows {name}.")


def _adopted(folder: Path, path: Path) -> str:
    """Return a picture's name in the project's folder, where it is copied if it lies elsewhere."""
    if path.resolve().is_relative_to(folder.resolve()):
        return path.resolve().relative_to(folder.resolve()).as_posix()
    data = files.read_bytes(path)
    name, number = path.name, 2
    while (folder / name).exists() and files.read_bytes(folder / name) != data:
        name, number = f"{path.stem}-{number}{path.suffix}", number + 1
    if not (folder / name).exists():
        files.write_all({folder / name: data})
    return name
