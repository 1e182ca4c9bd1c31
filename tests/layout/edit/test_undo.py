"""A layout edited, undone and done again; figures by hand."""

from __future__ import annotations

import difflib
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mockup.colour import rgb
from mockup.layout import parse, resolve
from mockup.layout.edit import decals, parts
from mockup.layout.edit.placing import upright
from mockup.layout.edit.undo import LayoutDocument
from mockup.model.design import Design
from mockup.model.enclosure import Face, faces
from mockup.model.errors import InputError

EXAMPLES = Path(__file__).parents[3] / "examples"
LAYOUTS = sorted([*EXAMPLES.glob("*/layout.toml"), *EXAMPLES.glob("gallery/*/layout.toml")])

TEXT = """\
name = "Test"
[box]
size = "112x60x31"
[finish]
paint = "#a9d3c6"
[[decal]]
art = "a.png"
[[decal]]
face = "near"
art = "b.png"

[[part]]
name = "TONE"  # the first
kind = "pot-16"
left = 14.5
top = 20
knob = { style = "scalloped", pointer = 0.5 }

[[part]]
name = "GAIN"
kind = "pot-16"
right = 14.5
bottom = 90

[[part]]
name = "LAMP"
kind = "lamp-3"
colour = "#ff0000"

[[part]]
name = "IN"
kind = "jack-open"
face = "left"

[variants.storm]
finish = { paint = "#000000" }

[[variants.storm.part]]
name = "TONE"
left = 16

[variants.calm]
finish = { sheen = "matte" }
[[variants.calm.decal]]
face = "near"
art = "c.png"
"""


def opened(text: str = TEXT) -> LayoutDocument:
    return LayoutDocument.opened(text.encode(), "layout.toml")


def parts_of(text: str, variant: str | None = None) -> Design:
    """The design without art and lettering, which the placing of parts does not hang on."""
    layout = parse.parse(text, "layout.toml")
    raw = {key: value for key, value in layout.raw.items() if key not in ("decal", "label", "scale", "border")}
    bare = {name: {**own, "decal": []} for name, own in raw.get("variants", {}).items()}
    return resolve.resolve(replace(layout, raw={**raw, "variants": bare}), {}, variant)


FACES = faces(parts_of(TEXT).enclosure)
TOP, LEFT = FACES["top"], FACES["left"]


PAINT = ("finish", "paint")


def dragged(document: LayoutDocument, part: str, face: Face, u: float, v: float, **scope: Any) -> LayoutDocument:
    """As a drag goes: each move joins the one before."""
    title = f"move {part}"
    return document.edited(title, parts.moved(document.raw, {part: (face, u, v)}, **scope), merge=title)


def measured(document: LayoutDocument, part: str, edge: str, mm: float, **scope: Any) -> LayoutDocument:
    return document.edited(f"move {part}", parts.measured(document.raw, part, edge, mm, **scope))


def turned(document: LayoutDocument, part: str, degrees: float, **scope: Any) -> LayoutDocument:
    return document.put(("part", part, "rotation"), upright(degrees), f"turn {part}", **scope)


def changed_lines(before: str, after: str) -> list[tuple[str, str]]:
    old, new = before.splitlines(keepends=True), after.splitlines(keepends=True)
    found = []
    for tag, a, b, c, d in difflib.SequenceMatcher(None, old, new, autojunk=False).get_opcodes():
        if tag != "equal":
            found += list(zip(old[a:b] + [""] * (d - c - (b - a)), new[c:d] + [""] * (b - a - (d - c)), strict=True))
    return found


def test_moving_writes_the_keys_that_are_there() -> None:
    """The top is 60 - 2 x 29.2 tan 1 degree, about 58.98 mm wide; 15.5 from the left edge is u = 15.5."""
    after = dragged(opened(), "TONE", TOP, 15.5, 21.0)
    assert changed_lines(TEXT, after.text) == [("left = 14.5\n", "left = 15.5\n"), ("top = 20\n", "top = 21\n")]
    right = dragged(opened(), "GAIN", TOP, TOP.width_mm - 13.5, TOP.height_mm - 90.0)
    assert changed_lines(TEXT, right.text) == [("right = 14.5\n", "right = 13.5\n")]


def test_a_typed_edge_is_the_one_that_is_kept() -> None:
    """The other edge along its axis goes: the layout may keep one of both."""
    after = measured(opened(), "TONE", "right", 30.0)
    assert sorted(changed_lines(TEXT, after.text)) == [("", "right = 30\n"), ("left = 14.5\n", "")]
    same = measured(opened(), "TONE", "left", 15.0)
    assert changed_lines(TEXT, same.text) == [("left = 14.5\n", "left = 15.0\n")]
    centred = measured(opened(), "LAMP", "bottom", 25.4)
    assert changed_lines(TEXT, centred.text) == [("", "bottom = 25.4\n")]


def test_a_typed_edge_goes_where_the_variant_measures_this_axis() -> None:
    after = measured(opened(), "TONE", "right", 30.0, variant="storm")
    assert changed_lines(TEXT, after.text) == [("left = 16\n", "right = 30\n")]
    base = measured(opened(), "TONE", "bottom", 30.0, variant="storm")
    assert changed_lines(TEXT, base.text) == [("top = 20\n", "bottom = 30\n")]


def test_what_is_half_way_without_saying_so_stays_unsaid() -> None:
    after = dragged(opened(), "LAMP", TOP, TOP.width_mm / 2, 40.0)
    assert changed_lines(TEXT, after.text) == [("", "top = 40\n")]
    assert dragged(opened(), "LAMP", TOP, TOP.width_mm / 2, TOP.height_mm / 2) == opened()


def test_moving_to_where_it_is_changes_nothing() -> None:
    document = opened()
    assert dragged(document, "TONE", TOP, 14.5, 20.0) is document
    assert document.undoes is None


def test_drags_of_one_part_are_one_step_of_undo() -> None:
    document = opened()
    for step in range(1, 20):
        document = dragged(document, "TONE", TOP, 14.5 + step / 10, 20.0)
    assert document.undoes == "move TONE"
    assert "left = 16.4" in document.text
    back = document.undone()
    assert back.text == TEXT
    assert back.undoes is None
    assert back.redoes == "move TONE"
    assert back.redone().text == document.text


def test_a_closed_drag_is_a_step_of_its_own() -> None:
    document = dragged(dragged(opened(), "TONE", TOP, 15.5, 20.0).closed(), "TONE", TOP, 16.5, 20.0)
    assert "left = 15.5" in document.undone().text
    other = dragged(dragged(opened(), "TONE", TOP, 15.5, 20.0), "GAIN", TOP, 40.0, 22.0)
    other = dragged(other, "TONE", TOP, 16.5, 20.0)
    assert [step.title for step in other.steps] == ["move TONE", "move GAIN", "move TONE"]


def test_a_new_change_after_undo_drops_what_could_be_redone() -> None:
    document = turned(opened().put(PAINT, "#ff0000", "paint").undone(), "TONE", 90)
    assert document.redoes is None
    assert document.undone().text == TEXT


def test_an_undone_drag_is_not_widened_again() -> None:
    document = dragged(dragged(opened(), "TONE", TOP, 15.5, 20.0).closed(), "TONE", TOP, 16.5, 20.0).undone()
    after = dragged(document, "TONE", TOP, 17.5, 20.0)
    assert "left = 15.5" in after.undone().text


@pytest.mark.parametrize(
    ("degrees", "written"), [(90, "90"), (450, "90"), (270, "-90"), (-180, "180"), (12.346, "12.35")]
)
def test_turning(degrees: float, written: str) -> None:
    after = turned(opened(), "TONE", degrees)
    assert changed_lines(TEXT, after.text) == [("", f"rotation = {written}\n")]


def test_paint_sheen_lacquer_lamp_knob_and_film() -> None:
    document = opened().put(PAINT, rgb.to_hex((1.0, 0.5, 0.0)), "paint")
    assert 'paint = "#ff8000"' in document.text
    document = document.put(("finish", "sheen"), "satin", "sheen").put(("finish", "clear_coat"), False, "clear coat")
    document = document.put(("part", "LAMP", "colour"), "#00ff00", "colour").put(
        ("part", "LAMP", "lit"), False, "light"
    )
    document = document.edited("style", parts.knobbed(document.raw, ["TONE"], "style", "dome"))
    document = document.edited("diameter", parts.knobbed(document.raw, ["TONE"], "diameter", 12.5))
    document = document.edited("film", decals.printed(document.raw, [1], "film", "white"))
    raw = document.raw
    assert raw["finish"] == {"paint": "#ff8000", "sheen": "satin", "clear_coat": False}
    assert (raw["part"][2]["colour"], raw["part"][2]["lit"]) == ("#00ff00", False)
    assert raw["part"][0]["knob"] == {"style": "dome", "pointer": 0.5, "diameter": 12.5}
    assert raw["decal"] == [{"art": "a.png"}, {"face": "near", "art": "b.png", "film": "white"}]
    assert len(document.steps) == 8
    for _ in range(8):
        document = document.undone()
    assert document.text == TEXT


def test_a_variants_own_value_is_changed_there_and_any_other_in_the_file() -> None:
    document = dragged(opened(), "TONE", TOP, 17.0, 22.0, variant="storm")
    assert changed_lines(TEXT, document.text) == [("top = 20\n", "top = 22\n"), ("left = 16\n", "left = 17\n")]
    paint = opened().put(PAINT, "#ffffff", "paint", variant="storm")
    assert changed_lines(TEXT, paint.text) == [('finish = { paint = "#000000" }\n', 'finish = { paint = "#ffffff" }\n')]
    calm = opened().put(PAINT, "#ffffff", "paint", variant="calm")
    assert calm.raw["finish"]["paint"] == "#ffffff"


def test_a_change_can_be_kept_to_the_variant() -> None:
    document = dragged(opened(), "TONE", TOP, 17.0, 22.0, variant="storm", is_own=True)
    assert document.raw["variants"]["storm"]["part"] == [{"name": "TONE", "left": 17, "top": 22}]
    assert document.raw["part"][0]["top"] == 20
    new = dragged(opened(), "GAIN", TOP, TOP.width_mm - 20.0, 30.0, variant="storm", is_own=True)
    added = new.raw["variants"]["storm"]["part"][1]
    assert added == {"name": "GAIN", "right": 20, "bottom": pytest.approx(TOP.height_mm - 30.0, abs=0.005)}
    block = f'\n[[variants.storm.part]]\nname = "GAIN"\nbottom = {added["bottom"]}\nright = 20\n'
    assert new.text == TEXT.replace("left = 16\n", f"left = 16\n{block}"), "behind the variant's other parts"
    sheen = opened().put(("finish", "sheen"), "gloss", "sheen", variant="storm", is_own=True)
    assert sheen.raw["variants"]["storm"]["finish"] == {"paint": "#000000", "sheen": "gloss"}
    moved = parts_of(new.text, "storm")
    assert next(part for part in moved.parts if part.name == "GAIN").v_mm == pytest.approx(30.0, abs=0.006)
    assert next(part for part in parts_of(new.text).parts if part.name == "GAIN").v_mm != 30.0


def test_decals_are_counted_as_the_design_counts_them() -> None:
    """The variant's one decal takes the place of the file's on the same face, and comes after the rest."""

    def filmed(number: int) -> LayoutDocument:
        return opened().edited("film", decals.printed(opened().raw, [number], "film", "white", "calm"))

    assert filmed(0).raw["decal"][0]["film"] == "white"
    own = filmed(1)
    assert own.raw["variants"]["calm"]["decal"] == [{"face": "near", "art": "c.png", "film": "white"}]


def test_byte_order_mark_and_line_ends_stay() -> None:
    data = b"\xef\xbb\xbf" + TEXT.replace("\n", "\r\n").encode()
    document = LayoutDocument.opened(data, "layout.toml")
    assert document.data == data
    after = dragged(document, "LAMP", TOP, 20.0, 40.0)
    assert after.data.startswith(b"\xef\xbb\xbfname")
    assert after.data.count(b"\n") == after.data.count(b"\r\n") == data.count(b"\n") + 2
    assert after.undone().data == data


def test_no_utf_8_is_told() -> None:
    with pytest.raises(InputError, match="UTF-8"):
        LayoutDocument.opened(b"name = '\xff'", "layout.toml")


@pytest.mark.parametrize("path", LAYOUTS, ids=lambda path: path.parent.name)
def test_every_part_of_every_example_moves_by_one_millimetre_and_nothing_else(path: Path) -> None:
    """To half of the last decimal that is written: 0.005 mm, or 0.0001 in in an inch file."""
    text = path.read_bytes().decode()
    before = parts_of(text)
    sides = faces(before.enclosure)
    close = 0.0051 if before.units == "mm" else 0.0026
    for index, part in enumerate(before.parts):
        for du, dv in ((1.0, 0.0), (0.0, -1.0)):
            side = sides[part.face]
            document = LayoutDocument.opened(text.encode(), path.name)
            document = dragged(document, part.name, side, part.u_mm + du, part.v_mm + dv)
            assert 1 <= len(changed_lines(text, document.text)) <= 2
            after = parts_of(document.text)
            for at, (old, new) in enumerate(zip(before.parts, after.parts, strict=True)):
                moved = (du, dv) if at == index else (0.0, 0.0)
                slack = close if at == index else 1e-9
                assert new.u_mm - old.u_mm == pytest.approx(moved[0], abs=slack)
                assert new.v_mm - old.v_mm == pytest.approx(moved[1], abs=slack)
                assert (new.name, new.rotation_deg, new.knob, new.lamp) == (
                    old.name,
                    old.rotation_deg,
                    old.knob,
                    old.lamp,
                )
            assert after.finish == before.finish
            assert after.enclosure == before.enclosure
            assert document.undone().text == text


verbs = st.one_of(
    st.tuples(st.just("move"), st.sampled_from(["TONE", "GAIN", "LAMP"]), st.floats(3, 55), st.floats(3, 105)),
    st.tuples(st.just("turn"), st.sampled_from(["TONE", "GAIN", "IN"]), st.integers(-8, 8), st.just(0)),
    st.tuples(st.just("undo"), st.just(""), st.just(0), st.just(0)),
    st.tuples(st.just("redo"), st.just(""), st.just(0), st.just(0)),
    st.tuples(st.just("save"), st.just(""), st.just(0), st.just(0)),
)


@settings(max_examples=50)
@given(st.lists(verbs, max_size=12), st.sampled_from([None, "storm", "calm"]), st.booleans())
def test_whatever_is_done_it_all_comes_undone(
    done: list[tuple[str, str, float, float]], variant: str | None, is_own: bool
) -> None:
    document = opened()
    for verb, part, a, b in done:
        if verb == "move":
            document = dragged(document, part, TOP, a, b, variant=variant, is_own=is_own)
        elif verb == "turn":
            document = turned(document, part, 45.0 * a, variant=variant, is_own=is_own)
        else:
            document = {"undo": document.undone, "redo": document.redone, "save": document.saved}[verb]()
        moved = parts_of(document.text, variant)
        if verb == "move":
            there = next(each for each in moved.parts if each.name == part)
            assert (there.u_mm, there.v_mm) == pytest.approx((a, b), abs=0.0052)
    redone = document
    while redone.redoes:
        redone = redone.redone()
    back = redone
    while back.undoes:
        back = back.undone()
    assert back.text == TEXT
    assert back.is_changed == (back.disk != TEXT)
