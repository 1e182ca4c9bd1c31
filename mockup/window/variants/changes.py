"""What a variant changes, in the builder's words: each value then and now, and all of it in two words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

BASE = "the base"
_WORDS = {
    "paint": "paint", "sheen": "sheen", "clear_coat": "lacquer", "swatch": "swatch", "ink_strength": "ink",
    "paint_corners": "paint", "orange_peel": "paint", "casting_texture": "box", "edge_wear": "wear",
    "printer": "printer", "knob": "knob", "colour": "lamp", "lit": "lamp", "lens": "lens", "left": "place",
    "right": "place", "top": "place", "bottom": "place", "face": "face", "rotation": "turn", "kind": "kind",
    "remove": "parts", "decal": "art", "label": "words", "scale": "scales", "border": "border", "lettering": "words",
    "box": "box",
}  # fmt: skip
_MOST = 2
_NONE = "none"


@dataclass(frozen=True, kw_only=True)
class Change:
    """One value: what it is of, what it was and what it is; `word` says in a word what sort of thing it is."""

    label: str
    then: str
    now: str
    word: str


def changes(raw: Mapping[str, Any], variant: str | None) -> tuple[Change, ...]:
    """Return what a variant of a layout, as TOML reads it, changes of the layout; nothing for the layout itself."""
    table = _table(raw.get("variants")).get(variant or "")
    found: list[Change] = []
    for key, value in _table(table).items():
        if key == "part":
            found += _parts(raw, value)
        elif isinstance(value, list):
            before = raw.get(key)
            count = len(before) if isinstance(before, list) else 0
            found.append(_change(key.capitalize(), count or None, len(value), key))
        elif isinstance(value, dict):
            before = _table(raw.get(key))
            found += [_change(_label(key, each), before.get(each), now, each, key) for each, now in value.items()]
        else:
            found.append(_change(key.capitalize(), raw.get(key), value, key))
    return tuple(change for change in found if change.then != change.now)


def words(raw: Mapping[str, Any], variant: str | None) -> str:
    """Return what differs in at most two words, such as ``paint, sheen``."""
    if variant is None:
        return BASE
    found = list(dict.fromkeys(change.word for change in changes(raw, variant)))
    if not found:
        return "the same"
    return ", ".join(found[:_MOST]) + (" ..." if len(found) > _MOST else "")


def _parts(raw: Mapping[str, Any], listed: Any) -> Iterator[Change]:
    before = {part.get("name"): part for part in raw.get("part", []) if isinstance(part, dict)}
    for part in listed if isinstance(listed, list) else []:
        if not isinstance(part, dict):
            continue
        name = str(part.get("name"))
        if name not in before:
            yield Change(label=name, then=_NONE, now=str(part.get("kind", "added")), word="parts")
            continue
        for key, value in part.items():
            if key == "remove":
                yield Change(label=name, then="there", now="left out", word="parts")
            elif key == "knob" and isinstance(value, dict):
                knob = _table(before[name].get("knob"))
                yield from (_change(f"{name} {each}", knob.get(each), now, "knob") for each, now in value.items())
            elif key != "name":
                yield _change(f"{name} {key}", before[name].get(key), value, key)


def _change(label: str, then: Any, now: Any, key: str, table: str = "") -> Change:
    word = _WORDS.get(key) or _WORDS.get(table) or key.replace("_", " ")
    return Change(label=label.replace("_", " "), then=_said(then), now=_said(now), word=word)


def _label(table: str, key: str) -> str:
    words = {"clear_coat": "Lacquer", "paint": "Paint", "sheen": "Sheen"}
    return words.get(key) or f"{table} {key}".replace("_", " ").capitalize()


def _said(value: Any) -> str:
    if value is None:
        return _NONE
    if isinstance(value, bool):
        return "yes" if value else "no"
    return f"{value:g}" if isinstance(value, float) else str(value)


def _table(value: Any) -> Mapping[str, Any]:
    return value if isinstance(value, Mapping) else {}
