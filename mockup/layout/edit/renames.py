"""Names of parts and kinds: where a layout says them, which are taken, and what goes with a part."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from mockup import hardware
from mockup.layout.edit.tables import MISSING, Place, found, texts
from mockup.model.edit import Address

OF_PARTS = ("label", "scale")
"""The lists whose tables may belong to a part."""
_KEYS = {
    "part": (("part", "name"), *((each, "part") for each in OF_PARTS)),
    "kind": (("kind", "name"), ("part", "kind"), ("kind", "like")),
}


def layout_and_variants(raw: Mapping[str, Any]) -> tuple[str | None, ...]:
    """Return the layout itself (None) and the name of every variant."""
    return (None, *raw.get("variants", {}))


def naming(raw: Mapping[str, Any], array: str, name: str, variant: str | None) -> Iterator[Place]:
    """Yield the keys of the own tables of the layout (None) or a variant that hold the name of a part or kind."""
    for listed, key in _KEYS[array]:
        here = Address(way=(listed,), variant=variant).place
        tables = found(raw, here)
        for number, table in enumerate(tables if tables is not MISSING else ()):
            if name in texts(table, (key,)):
                yield (*here, number, key)
    if array == "part" and variant is None:
        yield from _accepted(raw, name)


def _accepted(raw: Mapping[str, Any], name: str) -> Iterator[Place]:
    """Yield where accepted findings name a part."""
    tables = found(raw, ("accept",))
    for number, table in enumerate(tables if tables is not MISSING else ()):
        subjects = table.get("subjects") if isinstance(table, dict) else None
        if isinstance(subjects, str) and subjects.strip() == name:
            yield ("accept", number, "subjects")
        elif isinstance(subjects, list):
            yield from (
                ("accept", number, "subjects", place)
                for place, each in enumerate(subjects)
                if isinstance(each, str) and each.strip() == name
            )


def name_problem(raw: Mapping[str, Any], array: str, name: Any) -> tuple[str, str]:
    """Return what is wrong with the name of a new part or kind and what to do, ("", "") where nothing is."""
    if not isinstance(name, str) or not name.strip():
        return f"a {array} needs a name", "give it one of its own"
    every = _everywhere(raw, array, name.strip())
    if any(place[-1] == "name" for place in every) or (array == "kind" and name.strip() in hardware.kinds()):
        return f'there is a {array} "{name.strip()}" already', "give it another name"
    return "", ""


def users(raw: Mapping[str, Any], kind: str) -> list[str]:
    """Return the names of the parts that are of a kind, in the layout or in a variant, and of the kinds like it."""
    every = (place for place in _everywhere(raw, "kind", kind) if place[-1] in ("kind", "like"))
    return list(dict.fromkeys(str(found(raw, place[:-1])["name"]) for place in every))


def _everywhere(raw: Mapping[str, Any], array: str, name: str) -> Iterator[Place]:
    for variant in layout_and_variants(raw):
        yield from naming(raw, array, name, variant)
