"""Where edits go that mean what a variant shows, told by hand."""

from __future__ import annotations

import tomllib

from mockup.layout.edit.apply import apply
from mockup.layout.edit.homes import sent_home
from mockup.model.edit import Address, Edit, Move, PutValue

TEXT = """
[box]
size = "121x66x39"
[[part]]
name = "FLOW"
kind = "pot-16"
left = 20
top = 20
[[part]]
name = "BANK"
kind = "pot-16"
left = 45
top = 20
[variants.moss.box]
size = "121x66x39"
[[variants.moss.part]]
name = "FLOW"
left = 22
"""


def _sent(edit: Edit, variant: str | None, *, is_own: bool = False) -> dict[str, object]:
    edits = sent_home(tomllib.loads(TEXT), [edit], variant, is_own=is_own)
    return tomllib.loads(apply(TEXT, edits, "layout.toml"))


def _part(raw: dict[str, object], name: str) -> dict[str, object]:
    parts = raw["part"]
    assert isinstance(parts, list)
    return next(each for each in parts if each["name"] == name)


def _move(part: str) -> Move:
    return Move(address=Address(way=("part", part)), right_mm=2.0)


def test_a_move_is_made_where_the_variant_gives_the_place() -> None:
    after = _sent(_move("FLOW"), "moss")
    variants = after["variants"]
    assert isinstance(variants, dict)
    assert _part(variants["moss"], "FLOW")["left"] == 24
    assert _part(after, "FLOW")["left"] == 20


def test_a_move_of_what_the_layout_places_is_made_there() -> None:
    after = _sent(_move("BANK"), "moss")
    assert _part(after, "BANK")["left"] == 47
    assert after["variants"] == tomllib.loads(TEXT)["variants"]


def test_a_change_is_kept_to_the_variant_where_asked() -> None:
    after = _sent(_move("BANK"), "moss", is_own=True)
    variants = after["variants"]
    assert isinstance(variants, dict)
    assert _part(variants["moss"], "BANK")["left"] == 47
    assert _part(after, "BANK")["left"] == 45


def test_a_value_goes_where_it_is_given() -> None:
    turned = PutValue(address=Address(way=("part", "FLOW", "rotation"), variant="moss"), value=90)
    assert _part(_sent(turned, "moss"), "FLOW")["rotation"] == 90
    assert _part(_sent(_move("FLOW"), None), "FLOW")["left"] == 22
