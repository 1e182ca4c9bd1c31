"""The faces that come with the program, one for each character of lettering; all under open licences.

A layout names font files of its own folder alone, so that it reads the same everywhere: a face is copied there when it
is chosen, its licence beside it.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from importlib import resources
from pathlib import Path, PurePath

from mockup.decal.font_names import FontNames, font_names

LICENCE_ENDING = ".licence.txt"


@dataclass(frozen=True, kw_only=True)
class ShippedFace:
    """A face by what a builder calls it; `package` holds its `file` and the text of its `licence`."""

    name: str
    about: str
    package: str
    file: str
    licence: str


SHIPPED = (
    ShippedFace(
        name="Hand", about="Tall capitals, written by hand", package="font_amatic_sc",
        file="files/AmaticSC-Bold.ttf", licence="files/OFL.txt",
    ),
    ShippedFace(
        name="Plain", about="Even and open, reads well when small", package="font_manrope",
        file="files/Manrope-Bold.ttf", licence="files/OFL.txt",
    ),
    ShippedFace(
        name="Condensed", about="Narrow and strong, for long words", package="fontpkg_fjalla_one",
        file="files/FjallaOne-Regular.ttf", licence="LICENSE",
    ),
    ShippedFace(
        name="Typewriter", about="Every letter equally wide", package="fontpkg_space_mono",
        file="files/SpaceMono-Bold.ttf", licence="LICENSE",
    ),
    ShippedFace(
        name="Poster", about="Heavy, for titles", package="fontpkg_alfa_slab_one",
        file="files/AlfaSlabOne-Regular.ttf", licence="LICENSE",
    ),
)  # fmt: skip
USUAL = SHIPPED[1]


def shipped(name: str) -> ShippedFace:
    """Return the face of a name; `KeyError` where there is none."""
    return {each.name: each for each in SHIPPED}[name]


def face_of(file: str) -> ShippedFace | None:
    """Return the face whose file, copied into a project, has this name; None for a font of another sort."""
    last = PurePath(file).name
    return next((each for each in SHIPPED if PurePath(each.file).name == last), None)


def data(face: ShippedFace) -> bytes:
    """Return the font file of a face."""
    return (resources.files(face.package) / face.file).read_bytes()


@contextmanager
def path(face: ShippedFace) -> Iterator[Path]:
    """Give the font file of a face as a path, which may be gone after the block."""
    with resources.as_file(resources.files(face.package) / face.file) as found:
        yield found


def licence(face: ShippedFace) -> str:
    """Return the text of a face's licence."""
    return (resources.files(face.package) / face.licence).read_text(encoding="utf-8")


def adopted(face: ShippedFace) -> dict[str, bytes]:
    """Return the files by which a project comes to have a face: the font, and its licence beside it."""
    name = PurePath(face.file).name
    return {name: data(face), licence_file(name): licence(face).encode()}


def adopted_file(name: str, content: bytes) -> dict[str, bytes]:
    """Return the files by which a project comes to have a font from elsewhere, with what it says of its licence."""
    said = font_names(content) or FontNames(family=PurePath(name).stem, style="")
    lines = [
        f"{PurePath(name).name}: {said.title}",
        said.copyright,
        f"Licence: {said.licence or 'not stated in the font file'}",
        said.licence_place,
        "Its maker does not allow it to be embedded in documents." if said.is_restricted else "",
    ]
    note = "\n".join(each for each in lines if each) + "\n"
    return {PurePath(name).name: content, licence_file(name): note.encode()}


def licence_file(font: str) -> str:
    """Return the name of the file beside a font that holds its licence."""
    return PurePath(font).stem + LICENCE_ENDING
