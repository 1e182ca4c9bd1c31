"""Faces of type copied into a project with their licence: those that come with the program, and others."""

from __future__ import annotations

from pathlib import Path, PurePath

from mockup import files, reader
from mockup.decal.shipped_faces import ShippedFace, adopted, adopted_file


def adopt_face(folder: Path, face: ShippedFace | Path) -> str:
    """Return the name of a face's file in a project's folder, copied there with its licence if need be.

    Raises `OutputError` where nothing can be written there, `InputError` where it cannot be drawn.
    """
    name = PurePath(face.file).name if isinstance(face, ShippedFace) else face.name
    if not (folder / name).exists():
        copied = adopted(face) if isinstance(face, ShippedFace) else adopted_file(name, files.read_bytes(face))
        reader.font(copied[name], name)
        files.write_all({folder / each: content for each, content in copied.items()})
    return name
