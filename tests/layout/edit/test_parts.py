"""Edits of parts, each one step of undo; what they come to is read back as the layout reads it."""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import pytest

from mockup import hardware
from mockup.enclosure.sizes import SIZES
from mockup.layout.edit import parts
from mockup.layout.edit.undo import LayoutDocument
from mockup.layout.edit.variants import shown
from mockup.model.design import Placement
from mockup.model.edit import Edit
from mockup.model.enclosure import Face, faces
from mockup.model.errors import InputError

TEXT = """\
# a pedal by hand
[box]
size = "121x66x39"

[[part]]
name = "TONE"  # the bright one
kind = "pot-16"
left = 17
top = 20
knob = { style = "barrel" }

[[part]]
name = "EYE"
kind = "lamp-5"
colour = "#ff0000"

[[label]]
part = "TONE"
size = 2.4

[[label]]
text = "by hand"
top = 60

[[scale]]
part = "TONE"
marks = 7

[[variants.night.part]]
name = "TONE"
left = 18

[[variants.night.part]]
name = "MORE"
kind = "toggle-mini"
top = 70
"""
FACES = faces(SIZES["121x66x39"])
KINDS = hardware.kinds()


def opened() -> LayoutDocument:
    return LayoutDocument.opened(TEXT.encode(), "layout.toml")


def after(edits: Sequence[Edit]) -> LayoutDocument:
    """The document with the edits as one step, which is taken back to the very same bytes."""
    document = opened().edited("step", edits)
    assert document.undone().data == TEXT.encode()
    assert len(document.steps) == 1
    assert "# a pedal by hand" in document.text
    return document


def part(raw: dict[str, Any], name: str) -> dict[str, Any]:
    return next(each for each in raw["part"] if each["name"] == name)


def put(name: str, kind: str, face: Face, u: float, v: float) -> Placement:
    return Placement(name=name, kind=KINDS[kind], face=face.name, u_mm=u, v_mm=v)


RAW = tomllib.loads(TEXT)


def test_a_new_part_is_measured_from_the_nearest_edges() -> None:
    """The top is 66 - 2 x 37.2 tan 1 degree = 64.70 wide: 48.2 is 16.5 from the right."""
    top = FACES["top"]
    raw = after(parts.inserted(RAW, put("GAIN", "pot-16", top, top.width_mm - 16.5, 20.0), top)).raw
    assert part(raw, "GAIN") == {"name": "GAIN", "kind": "pot-16", "right": 16.5, "top": 20.0}


def test_a_new_part_in_the_middle_says_nothing_of_it() -> None:
    far = FACES["far"]
    raw = after(parts.inserted(RAW, put("POWER", "dc-socket", far, far.width_mm / 2, far.height_mm / 2), far)).raw
    assert part(raw, "POWER") == {"name": "POWER", "kind": "dc-socket", "face": "far"}


def test_a_name_that_is_taken_is_refused() -> None:
    with pytest.raises(InputError, match="TONE"):
        opened().edited("x", parts.inserted(RAW, put("TONE", "pot-16", FACES["top"], 40, 40), FACES["top"]))


def test_a_twin_has_knob_label_and_scale_of_its_own() -> None:
    top = FACES["top"]
    twin = put("TONE 2", "pot-16", top, top.width_mm - 17.0, 20.0)
    raw = after(parts.twinned(RAW, "TONE", twin, top)).raw
    assert part(raw, "TONE 2") == {
        "name": "TONE 2", "kind": "pot-16", "right": 17.0, "top": 20.0, "knob": {"style": "barrel"},
    }  # fmt: skip
    assert {"part": "TONE 2", "size": 2.4} in raw["label"]
    assert {"part": "TONE 2", "marks": 7} in raw["scale"]
    assert part(raw, "TONE")["left"] == 17


def test_parts_go_with_their_lettering_and_scales() -> None:
    raw = after(parts.removed(RAW, ["TONE", "EYE"])).raw
    assert "part" not in raw
    assert raw["label"] == [{"text": "by hand", "top": 60}]
    assert "scale" not in raw


def test_another_kind_keeps_place_and_name() -> None:
    tone, eye = put("TONE", "pot-16", FACES["top"], 17, 20), put("EYE", "lamp-5", FACES["top"], 32, 60)
    raw = after(parts.rekinded(RAW, [tone, eye], KINDS["toggle-mini"])).raw
    assert part(raw, "TONE") == {"name": "TONE", "kind": "toggle-mini", "left": 17, "top": 20}
    assert part(raw, "EYE") == {"name": "EYE", "kind": "toggle-mini"}
    kept = after(parts.rekinded(RAW, [tone], KINDS["pot-24"])).raw
    assert part(kept, "TONE")["knob"] == {"style": "barrel"}


def test_another_face_and_back() -> None:
    far, top = FACES["far"], FACES["top"]
    there = after(parts.refaced(RAW, put("TONE", "pot-16", far, 20.0, 10.0), far))
    assert {key: part(there.raw, "TONE").get(key) for key in ("face", "left", "top", "right")} == {
        "face": "far", "left": pytest.approx(20.0 - far.left_edge(10.0), abs=0.05), "top": 10.0, "right": None,
    }  # fmt: skip
    back = there.edited("b", parts.refaced(there.raw, put("TONE", "pot-16", top, 17.0, 20.0), top))
    assert part(back.raw, "TONE") == {
        "name": "TONE", "kind": "pot-16", "knob": {"style": "barrel"}, "left": 17.0, "top": 20.0,
    }  # fmt: skip


def test_several_move_in_one_step_each_in_its_own_keys() -> None:
    top = FACES["top"]
    raw = after(parts.moved(RAW, {"TONE": (top, 19.0, 22.0), "EYE": (top, top.width_mm / 2, 50.0)})).raw
    assert (part(raw, "TONE")["left"], part(raw, "TONE")["top"]) == (19.0, 22.0)
    assert part(raw, "EYE")["top"] == 50.0
    assert "left" not in part(raw, "EYE")


def test_renamed_everywhere() -> None:
    raw = after(parts.renamed(RAW, "TONE", " BITE ", "night")).raw
    assert [each["name"] for each in raw["part"]] == ["BITE", "EYE"]
    assert raw["variants"]["night"]["part"][0]["name"] == "BITE"
    assert raw["label"][0]["part"] == raw["scale"][0]["part"] == "BITE"


def test_a_part_that_only_the_variant_has_is_changed_there() -> None:
    raw = after(parts.removed(RAW, ["MORE"], "night")).raw
    assert [each["name"] for each in shown(raw, "night")["part"]] == ["TONE", "EYE"]
    top = FACES["top"]
    two = after(parts.twinned(RAW, "MORE", put("MORE 2", "toggle-mini", top, 20, 70), top, variant="night")).raw
    assert [each["name"] for each in two["part"]] == ["TONE", "EYE"]
    assert [each["name"] for each in shown(two, "night")["part"]] == ["TONE", "EYE", "MORE", "MORE 2"]


def test_another_face_shows_in_the_variant_that_places_the_part_itself() -> None:
    far = FACES["far"]
    raw = after(parts.refaced(RAW, put("TONE", "pot-16", far, 20.0, 10.0), far, "night")).raw
    assert part(shown(raw, "night"), "TONE")["face"] == "far"
    assert "face" not in part(raw, "TONE")


def test_kept_to_the_variant_the_layout_stays() -> None:
    top = FACES["top"]
    new = replace(put("NEW", "lamp-3", top, 20.0, 50.0))
    raw = after(parts.inserted(RAW, new, top, variant="night", is_own=True)).raw
    assert raw["part"] == RAW["part"]
    assert part(shown(raw, "night"), "NEW")["left"] == 20.0


def test_a_kept_part_is_left_out_of_the_variant_alone() -> None:
    raw = after(parts.removed(RAW, ["EYE"], "night", is_own=True)).raw
    assert raw["part"] == RAW["part"]
    assert [each["name"] for each in shown(raw, "night")["part"]] == ["TONE", "MORE"]
