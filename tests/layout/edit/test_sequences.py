"""Any edits, one after the other: held to a plain model, undone to the byte, merged with what others wrote."""

from __future__ import annotations

import sys
import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, assume, given, note, settings
from hypothesis import strategies as st

from mockup.layout.edit.tables import same
from mockup.layout.edit.undo import BOM, LayoutDocument
from mockup.model.edit import (
    Address,
    AdoptVariant,
    DuplicateTable,
    Edit,
    InsertTable,
    MakeVariant,
    PutValue,
    RemoveTable,
    RemoveValue,
    RemoveVariant,
    RenameTable,
    RenameVariant,
    ReorderTable,
)
from mockup.model.errors import InputError

sys.path.insert(0, str(Path(__file__).parent))
import edit_model as model
from written_by_hand import LAYOUTS

ALLOWED = (" already; ", "would show again", "is that of", "of the layout; ", "has no kinds of its own")
VERBS = ["put", "put", "unset", "insert", "copy", "name", "remove", "order", "knob", "variant"]
NAMES = ["MIX", "Größe", "a b", "x.y", 'q"q', "漢字", "-"]
KEYS = {
    "part": [("left", 12.5), ("right", 9), ("top", 33.25), ("face", "near"), ("colour", "#ff0000")],
    "decal": [("film", "white"), ("left", 3), ("right", 4.75)],
    "label": [("height", 5), ("colour", "white"), ("shadow", [0.25, 0.5])],
    "scale": [("marks", 7), ("gap", 1.5)],
    "border": [("line", 0.5), ("inset", 2)],
    "kind": [("hole", 8.5), ("about", 'it is "fine"')],
    "finish": [("paint", "#123456"), ("sheen", "gloss"), ("clear_coat", False)],
    "box": [("wall", 2.25), ("edge", 1)],
}
NEW = {
    "part": {"kind": "pot-16", "left": 20, "knob": {"style": "dome", "pointer": 0.5}},
    "decal": {"art": "new.png", "face": "left", "width": 20.5},
    "label": {"text": "new\ttext", "height": 3, "width": 9},
    "scale": {"marks": 5},
    "border": {"inset": 1.5},
    "kind": {"hole": 6, "above": [{"diameter": 9, "to": 5}, {"diameter": 7, "from": 5, "to": 9}]},
}


@st.composite
def edits(draw: st.DrawFn, raw: dict[str, Any]) -> Edit:
    """Draw an edit that says something of the tables there are."""
    variants = list(raw.get("variants", {}))
    variant = draw(st.sampled_from([None, None, *variants]))
    shown = model.pedal(raw, variant)
    name = draw(st.sampled_from(NAMES))
    verb = draw(
        st.sampled_from(["put", "put", "unset", "insert", "copy", "name", "remove", "order", "knob", "variant"])
    )
    if verb == "variant":
        some = draw(st.sampled_from(variants or ["night"]))
        assume(some in variants)
        like = draw(st.sampled_from([None, some]))
        return draw(
            st.sampled_from(
                [
                    MakeVariant(name=name, like=like),
                    RenameVariant(variant=some, name=name),
                    RemoveVariant(variant=some),
                    AdoptVariant(variant=some),
                ]
            )
        )
    array = draw(st.sampled_from(["part", "part", *model.LISTS, "finish", "box"]))
    assume(not (array == "kind" and variant is not None))
    if array in ("finish", "box"):
        key, value = draw(st.sampled_from(KEYS[array]))
        return PutValue(address=Address(way=(array, key), variant=variant), value=value)
    listed = Address(way=(array,), variant=variant)
    count = len(shown.get(array, []))
    if verb == "insert":
        values = {**({"name": name} if array in ("part", "kind") else {}), **NEW[array]}
        first = 0 if array != "part" or variant is None else count  # a variant's own parts stand behind the layout's
        index = draw(st.sampled_from([None, *range(first, count + 1)]))
        return InsertTable(address=listed, values=values, index=index)
    assume(count)
    table = listed.inside(draw(st.integers(0, count - 1)))
    is_named = array in ("part", "kind")
    if verb == "knob":
        assume(array == "part")
        return PutValue(address=table.inside("knob", "height"), value=11.5)
    if verb == "copy":
        return DuplicateTable(address=table, name=name if is_named else None)
    if verb == "name":
        assume(is_named)
        return RenameTable(address=table, name=name)
    if verb == "remove":
        return RemoveTable(address=table)
    if verb == "order":
        shared = [part["name"] for part in raw.get("part", [])] if array == "part" and variant is not None else []
        first = sum(part["name"] in shared for part in shown["part"]) if shared else 0  # the layout's stand first
        assume(first < count)
        return ReorderTable(address=table, index=draw(st.integers(first, count - 1)))
    key, value = draw(st.sampled_from(KEYS[array]))
    if verb == "unset" and variant is None:
        return RemoveValue(address=table.inside(key))
    return PutValue(address=table.inside(key), value=value)


def check(before: dict[str, Any], after: dict[str, Any], edit: Edit) -> None:
    """Hold the tables after an edit to the plain model."""
    versions = [None, *before.get("variants", {})]
    shown = {name: model.pedal(before, name) for name in versions}
    now = {name: model.pedal(after, name) for name in (None, *after.get("variants", {}))}
    if isinstance(edit, MakeVariant):
        assert now.pop(edit.name) == shown[edit.like]
    elif isinstance(edit, RenameVariant):
        assert now.pop(edit.name) == shown.pop(edit.variant)
    elif isinstance(edit, RemoveVariant):
        del shown[edit.variant]
    elif isinstance(edit, AdoptVariant):
        assert now == now | {None: shown[edit.variant]}
        assert set(now) == set(shown) - {edit.variant}
        return
    elif edit.address.variant is not None:
        model.make(shown[edit.address.variant], edit)
        shown = {name: {key: each for key, each in one.items() if each not in ([], {})} for name, one in shown.items()}
    else:
        assert same(model.tidy(after), model.tidy(model.in_layout(before, edit)))
        return
    assert same(now, shown)


class Comments:
    """The comments of a file that must still be there, by the part that each belongs to ("" for none)."""

    def __init__(self, text: str) -> None:
        lines = [line.partition("# ~")[2].strip() for line in text.splitlines() if "# ~" in line]
        names = [part["name"] for part in tomllib.loads(text).get("part", [])]
        self.owners: dict[str, str | None] = {
            line: next((name for name in names if line.startswith(f"part {name}")), "") for line in lines
        }

    def follow(self, before: dict[str, Any], edit: Edit, after: dict[str, Any]) -> None:
        """Follow a part to its new name, and let go of the comments of one that is gone."""
        if isinstance(edit, RenameTable) and edit.address.variant is None and edit.address.way[0] == "part":
            old = before["part"][edit.address.way[1]]["name"]
            self.owners = {line: edit.name if owner == old else owner for line, owner in self.owners.items()}
        names = {part["name"] for part in after.get("part", [])}
        self.owners = {line: owner for line, owner in self.owners.items() if owner == "" or owner in names}
        if isinstance(edit, RemoveValue) or (isinstance(edit, PutValue) and edit.address.way[-1] in model.OPPOSITE):
            keys = {str(edit.address.way[-1]), model.OPPOSITE.get(str(edit.address.way[-1]), "")}
            self.owners = {line: owner for line, owner in self.owners.items() if line.split()[-1] not in keys}

    def missing(self, text: str) -> list[str]:
        """Return the comments that are gone."""
        return [line for line in self.owners if f"# ~{line}" not in text]


@pytest.mark.parametrize("end", ["\n", "\r\n"], ids=["lf", "crlf"])
@pytest.mark.parametrize("way", LAYOUTS)
@settings(max_examples=25, suppress_health_check=[HealthCheck.filter_too_much, HealthCheck.too_slow])
@given(data=st.data(), has_bom=st.booleans(), has_end=st.booleans())
def test_any_edits(way: str, end: str, data: st.DataObject, has_bom: bool, has_end: bool) -> None:
    text = LAYOUTS[way].replace("\n", end)
    text = text if has_end else text.rstrip("\r\n")
    original = (BOM if has_bom else b"") + text.encode()
    document = LayoutDocument.opened(original, "layout.toml")
    comments = Comments(text)
    for number in range(data.draw(st.integers(1, 6))):
        edit = data.draw(edits(document.raw))
        note(repr(edit))
        before = document.raw
        try:
            document = document.edited(str(number), [edit])
        except InputError as error:
            assert "\n" not in str(error)
            assert any(words in str(error) for words in ALLOWED), error
            continue
        note(document.text)
        check(before, tomllib.loads(document.text), edit)
        comments.follow(before, edit, document.raw)
        assert comments.missing(document.text) == []
        assert document.text.count("\n") == document.text.count(end)
        if data.draw(st.booleans()):
            assert document.undone().redone().data == document.data
    elsewhere = f"# written elsewhere{end}{text}"
    merged = document.onto(elsewhere)
    assert same(model.tidy(merged.raw), model.tidy(document.raw))
    assert merged.text.startswith("# written elsewhere")
    while document.undoes is not None:
        document = document.undone()
    assert document.data == original
