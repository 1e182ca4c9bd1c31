"""A change of the layout in a few words: ``3 parts moved, 1 drill changed``."""

from __future__ import annotations

from collections.abc import Iterable

from mockup.model.edit import Edit, Move, PutLength, PutValue

_WORDS = {
    "moved": ("part moved", "parts moved"),
    "turned": ("part turned", "parts turned"),
    "word": ("word moved", "words moved"),
    "picture": ("picture moved", "pictures moved"),
    "knob": ("knob changed", "knobs changed"),
    "kind": ("part exchanged", "parts exchanged"),
    "drill": ("hole changed", "holes changed"),
    "box": ("larger box", "larger box"),
    "other": ("other change", "other changes"),
}


def counted(edits: Iterable[Edit]) -> str:
    """Return what edits do, counted by what a builder calls it, each thing once; "" for no edit."""
    things: dict[str, set[tuple[str | int, ...]]] = {}
    for edit in edits:
        if isinstance(edit, Move | PutValue | PutLength):
            things.setdefault(_sort(edit), set()).add(edit.address.way[:2])
    said = []
    for sort, (one, many) in _WORDS.items():
        found = len(things.get(sort, ()))
        if found:
            said.append(f"{found} {one if found == 1 else many}" if sort != "box" else f"a {one}")
    return ", ".join(said)


def _sort(edit: Move | PutValue | PutLength) -> str:
    first, *_, last = edit.address.way
    if isinstance(edit, Move):
        return {"part": "moved", "label": "word", "decal": "picture"}.get(str(first), "other")
    match first:
        case "part" if "knob" in edit.address.way:
            return "knob"
        case "part" if last == "rotation":
            return "turned"
        case "part" if last == "kind":
            return "kind"
        case "part":
            return "moved"
        case "kind":
            return "drill"
        case "label":
            return "word"
        case "box":
            return "box"
    return "other"
