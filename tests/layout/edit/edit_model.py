"""What edits mean, told a second time as plainly as can be: lists of tables, nothing of how a file is written.

A pedal is what one version shows: the layout's tables, or a variant's laid over them.
"""

from __future__ import annotations

import copy
from typing import Any

from mockup.model.edit import (
    DuplicateTable,
    Edit,
    InsertTable,
    PutValue,
    RemoveTable,
    RemoveValue,
    RenameTable,
    ReorderTable,
)

LISTS = ("part", "decal", "label", "scale", "border", "kind")
OPPOSITE = {"left": "right", "right": "left", "top": "bottom", "bottom": "top"}
Pedal = dict[str, Any]


def pedal(raw: Pedal, variant: str | None = None) -> Pedal:
    """Return what a version shows, from the file's tables; the manual's rules on variants."""
    own = copy.deepcopy(raw.get("variants", {}).get(variant, {})) if variant is not None else {}
    shown = {key: copy.deepcopy(value) for key, value in raw.items() if key != "variants"}
    for table in ("box", "finish", "lettering", "limits"):
        if table in own:
            shown[table] = {**shown.get(table, {}), **own[table]}
    gone = [part["name"] for part in own.get("part", []) if part.get("remove")]
    parts = [part for part in shown.get("part", []) if part["name"] not in gone]
    for change in own.get("part", []):
        known = next((part for part in parts if part["name"] == change["name"]), None)
        if known is not None:
            for key, value in change.items():
                known.pop(OPPOSITE.get(key, ""), None)
                known[key] = {**known.get(key, {}), **value} if isinstance(value, dict) else value
        elif not change.get("remove"):
            parts.append(change)
    shown["part"] = parts
    if "decal" in own:
        faces = [decal.get("face", "top") for decal in own["decal"]]
        before = shown.get("decal", []) if faces else []
        shown["decal"] = [decal for decal in before if decal.get("face", "top") not in faces] + own["decal"]
    for table in ("label", "scale", "border"):
        if table in own:
            shown[table] = own[table]
        elif table != "border":
            shown[table] = [each for each in shown.get(table, []) if each.get("part") not in gone]
    return {key: value for key, value in shown.items() if value not in ([], {})}


def make(shown: Pedal, edit: Edit) -> None:
    """Make an edit in one pedal, given by tables of lists by number."""
    way = edit.address.way  # type: ignore[union-attr]
    tables = shown.setdefault(way[0], []) if way[0] in LISTS else []
    if isinstance(edit, PutValue | RemoveValue):
        node: Any = tables[way[1]] if way[0] in LISTS else shown
        for step in way[2 if way[0] in LISTS else 0 : -1]:
            node = node.setdefault(step, {})
        if isinstance(edit, RemoveValue):
            node.pop(way[-1], None)
            return
        if way[0] in ("part", "label", "decal"):
            node.pop(OPPOSITE.get(str(way[-1]), ""), None)
        node[way[-1]] = edit.value
    elif isinstance(edit, InsertTable):
        tables.insert(len(tables) if edit.index is None else edit.index, dict(edit.values))
    elif isinstance(edit, DuplicateTable):
        copied = copy.deepcopy(tables[way[1]])
        if edit.name is not None:
            copied["name"] = edit.name
        last = way[0] == "part" and edit.address.variant is not None  # a variant's own parts come behind the layout's
        tables.insert(len(tables) if last else way[1] + 1, copied)
    elif isinstance(edit, ReorderTable):
        tables.insert(edit.index, tables.pop(way[1]))
    elif isinstance(edit, RenameTable):
        rename(shown, str(way[0]), tables[way[1]]["name"], edit.name)
    elif isinstance(edit, RemoveTable):
        table = tables.pop(way[1])
        if way[0] == "part":
            leave(shown, table["name"])


def rename(tables: Pedal, array: str, old: str, new: str) -> None:
    """Give a part or kind another name in one version's tables."""
    keys = (("part", "name"), ("label", "part"), ("scale", "part"))
    for listed, key in keys if array == "part" else (("kind", "name"), ("part", "kind")):
        for each in tables.get(listed, []):
            if each.get(key) == old:
                each[key] = new


def leave(tables: Pedal, name: str) -> None:
    """Take out what belongs to a part."""
    for listed in ("label", "scale"):
        if listed in tables:
            tables[listed] = [each for each in tables[listed] if each.get("part") != name]


def in_layout(raw: Pedal, edit: Edit) -> Pedal:
    """Return the file's tables after an edit of the layout itself."""
    after = copy.deepcopy(raw)
    way = edit.address.way  # type: ignore[union-attr]
    name = raw[way[0]][way[1]].get("name") if way[0] in ("part", "kind") and len(way) > 1 else None
    make(after, edit)
    for own in after.get("variants", {}).values():
        if isinstance(edit, RenameTable):
            rename(own, str(way[0]), name, edit.name)
        elif isinstance(edit, RemoveTable) and way[0] == "part":
            leave(own, name)
            own["part"] = [part for part in own.get("part", []) if part["name"] != name]
    return after


def tidy(raw: Pedal) -> Pedal:
    """Return tables without lists of the layout and changes of a variant that are empty, which say nothing."""
    plain = {key: value for key, value in raw.items() if value not in ([], {})}
    if "variants" in plain:
        plain["variants"] = {
            name: {key: value for key, value in own.items() if not (key == "part" and value == [])}
            for name, own in plain["variants"].items()
        }
    return plain
