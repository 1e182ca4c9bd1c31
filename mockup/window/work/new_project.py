"""Beginning a pedal: where it will live, and the folder that is written for it."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from pathlib import Path

from mockup import archive, files
from mockup.layout.edit.apply import apply
from mockup.model.edit import Address, InsertTable
from mockup.model.errors import InputError

USUAL_NAME = "My pedal"
_FOLDER = "Pedals"  # in the user's documents: our choice
_FORBIDDEN = re.compile(r'[<>:"/\\|?*\x00-\x1f]+')  # in file names, on Windows the most: Microsoft, Naming Files
_RESERVED = re.compile(r"(con|prn|aux|nul|com\d|lpt\d)(\..*)?", re.IGNORECASE)  # the same
_LONGEST = 80  # characters of a folder's name: our choice


def shelf_folder() -> Path:
    """Return the folder that new pedals go into: the one chosen last, or Pedals in the user's documents."""
    text = files.read_state(files.places_file())
    try:
        chosen = Path(json.loads(text)["pedals"]) if text is not None else None
    except (ValueError, KeyError, TypeError, RecursionError):
        chosen = None
    return chosen if chosen is not None and chosen.is_dir() else files.documents_folder() / _FOLDER


def remember_shelf_folder(folder: Path) -> None:
    """Keep where new pedals go; raises `OutputError` where that cannot be kept."""
    files.write_all({files.places_file(): json.dumps({"pedals": str(folder)}).encode()})


def free_folder(parent: Path, name: str) -> Path:
    """Return a folder in `parent` that is not there yet, called after a pedal as far as every system lets it."""
    plain = " ".join(_FORBIDDEN.sub(" ", name).split())[:_LONGEST].strip(" .")
    plain = USUAL_NAME if not plain else f"{plain} pedal" if _RESERVED.fullmatch(plain) else plain
    for number in range(1, 10_000):
        folder = parent / (plain if number == 1 else f"{plain} {number}")
        if not folder.exists():
            return folder
    return parent / plain


def begin(
    name: str, text: str, parent: Path, *, picture: Path | None = None, beside: Mapping[str, bytes] | None = None
) -> Path:
    """Write the folder of a new pedal with its layout's text, and return the layout.

    A `picture` is copied into it and lies on the top; `beside` are files that the layout needs. Raises `InputError`
    where the picture cannot be read, `OutputError` where nothing can be written.
    """
    layout = free_folder(parent, called(name)) / files.LAYOUT_FILE
    made = {layout.with_name(each): data for each, data in (beside or {}).items()}
    if picture is not None:
        made[layout.with_name(picture.name)] = files.read_bytes(picture)
        decal = InsertTable(address=Address(way=("decal",)), values={"art": picture.name, "face": "top"})
        text = apply(text, [decal], files.LAYOUT_FILE)
    files.write_all({**made, layout: text.encode()})
    return layout


def called(name: str) -> str:
    """Return what a new pedal is called, the usual name where nothing was typed."""
    return " ".join(name.split()) or USUAL_NAME


def take_apart(example: Path, parent: Path) -> Path:
    """Copy an example into a folder of the user's own and return the copy's layout."""
    return archive.copy(example, free_folder(parent, pedal_name(example)))


def pedal_name(layout: Path) -> str:
    """Return what a layout calls its pedal, or what its folder is called where it does not say or cannot be read."""
    import tomllib

    try:
        name = tomllib.loads(files.read_text(layout)).get("name")
    except (InputError, ValueError, RecursionError):
        name = None
    return name.strip() if isinstance(name, str) and name.strip() else layout.parent.name.replace("_", " ")
