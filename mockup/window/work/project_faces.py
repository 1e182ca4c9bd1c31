"""Faces of type that come with the program, copied into a project with their licence."""

from __future__ import annotations

from pathlib import Path, PurePath

from mockup import files
from mockup.decal.shipped_faces import LICENCE_ENDING, ShippedFace, data, licence


def adopt_face(folder: Path, face: ShippedFace) -> str:
    """Return the name of a face's file in a project's folder, copied there if need be.

    Raises `OutputError` where nothing can be written there.
    """
    name = PurePath(face.file).name
    if not (folder / name).exists():
        files.write_all({folder / name: data(face), folder / f"{name}{LICENCE_ENDING}": licence(face).encode()})
    return name
