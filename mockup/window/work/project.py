"""What can be opened, and which files a picture hangs on."""

from __future__ import annotations

import contextlib
import csv
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from mockup import files
from mockup.colour import rgb
from mockup.colour.paints import Paint
from mockup.layout import resolve
from mockup.layout.parse import Layout
from mockup.layout_source import find_layout
from mockup.model.text import printable

PAINTS_FILE = "paints.csv"
"""Rows of name and colour, as `mockup compare --paint` takes them; the window offers them too."""


@dataclass(frozen=True, kw_only=True)
class Project:
    """One layout file and the folder that its art lies in; both absolute."""

    layout: Path

    @property
    def folder(self) -> Path:
        """The folder of the layout."""
        return self.layout.parent

    @property
    def title(self) -> str:
        """What the project is called where the layout does not say: its folder's name."""
        return printable(self.folder.name)


def opened(path: str | Path) -> Project:
    """Return the project of a layout file, or of a folder that holds one.

    Raises `InputError` as `find_layout` does.
    """
    return Project(layout=find_layout(path))


def watched(project: Project, names: Iterable[str] = ()) -> frozenset[Path]:
    """Return the files whose saving changes the picture: layout, parts, holes as built, printers, art and fonts."""
    own = {
        project.layout,
        project.folder / files.PARTS_FILE,
        project.folder / files.BUILT_FILE,
        project.folder / PAINTS_FILE,
        files.printers_file(),
        project.folder / files.PRINTERS_FILE,
    }
    return frozenset(own | {project.folder / name for name in names})


def assets(layout: Layout) -> tuple[str, ...]:
    """Return the names of all art and font files that any variant of a layout needs, each once."""
    variants = (None, *resolve.variants(layout))
    found = [name for each in variants for name in (*resolve.assets(layout, each), *resolve.font_files(layout, each))]
    return tuple(dict.fromkeys(found))


def paints(raw: Mapping[str, Any], listed: str = "") -> tuple[Paint, ...]:
    """Return the distinct paints of a layout and its variants, in file order, then those of a list of paints.

    `raw` is what TOML reads of the layout, `listed` the list's text. Each paint of the layout is called after
    the variant that brings it. Values that are no colours are left out.
    """
    variants = raw.get("variants")
    tables = [(str(raw.get("name") or "this layout"), raw)]
    tables += list(variants.items()) if isinstance(variants, dict) else []
    named = []
    for name, table in tables:
        finish = table.get("finish") if isinstance(table, dict) else None
        named.append((name, finish.get("paint") if isinstance(finish, dict) else None))
    with contextlib.suppress(csv.Error):  # a cell beyond all measure: what stands above it is offered
        named.extend((printable(row[0].strip()), row[1]) for row in csv.reader(listed.splitlines()) if len(row) > 1)
    found: dict[str, Paint] = {}
    for name, text in named:
        with contextlib.suppress(ValueError):
            colour = rgb.parse(text) if isinstance(text, str) else None
            if colour is not None:
                found.setdefault(rgb.to_hex(colour), Paint(name=name, colour=colour))
    return tuple(found.values())


def listed_paints(project: Project) -> str:
    """Return the text of the list of paints beside the layout, "" where there is none that can be read."""
    return files.read_state(project.folder / PAINTS_FILE) or ""
