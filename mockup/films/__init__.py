"""Plug-ins: one file per film that art is printed on, and every film by its name.

A plug-in is a module with the names of `FilmFile`; the first line of its docstring is its help text.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Protocol, cast

from mockup.memo import memoize
from mockup.model.finish import Film
from mockup.plugins import Folder

FILMS = Folder("mockup.films")
USUAL = "clear"  # of a decal that names no film; our choice


class FilmFile(Protocol):
    """A plug-in module of this folder."""

    def film(self) -> Film:
        """Return all that the film means; the file gives it its name."""
        ...


@memoize
def films() -> dict[str, Film]:
    """Return every film by name, the clearest first."""
    found = [replace(cast(FilmFile, module).film(), name=name) for name, module in FILMS.all()]
    return {film.name: film for film in sorted(found, key=lambda film: film.reflectance)}
