"""Edits applied to layouts written in every way that TOML has; what each means is worked out by hand beside it."""

from __future__ import annotations

import tomllib

import pytest

from mockup.layout.edit.apply import apply
from mockup.layout.parse import parse
from mockup.model.edit import (
    Address,
    AdoptVariant,
    DuplicateTable,
    Edit,
    InsertTable,
    MakeVariant,
    Move,
    PutLength,
    PutValue,
    RemoveTable,
    RemoveValue,
    RemoveVariant,
    RenameTable,
    RenameVariant,
    ReorderTable,
)
from mockup.model.errors import InputError

PLAIN = """\
# A pedal for tests.
name = "Reed"

[box]
size = "112x60x31"  # measured twice

[finish]
paint = "#7fa8a3"

# --- film ---
[[decal]]
art = "top.png"
width = 50.50

[[decal]]
art = "near.png"
face = "near"
width = 40

# The tone pot.
[[part]]
name = "TONE"
kind = "pot-16"
left = 15.50  # by ruler
top = 20
knob = { style = "dome", pointer = 0.2 }

[[part]]
name = "GAIN"
kind = "pot-16"
right = "1/2 in"
top = 20
# knob = { style = "barrel" }

# The switch.
[[part]]
name = "ON"
kind = "footswitch"
bottom = 20

[[label]]
part = "TONE"
height = 3
width = 9

[[label]]
text = "REED"
height = 4
width = 20
top = 60

[[scale]]
part = "TONE"
marks = 11

[[kind]]
name = "crank"
hole = 7

[variants.night]
finish = { paint = "#102030" }

# Moved for the night.
[[variants.night.part]]
name = "TONE"
top = 24

[[variants.night.part]]
name = "GLOW"
kind = "lamp-5"
left = 20
top = 40

[variants.bare]
label = []
scale = []
[[variants.bare.part]]
name = "GAIN"
remove = true
"""
INLINE = """\
box = { size = "112x60x31" } # all on one line
finish.paint = "teal"
part = [
  { name = "TONE", kind = "pot-16", left = 15, knob.pointer = 0.2 }, # first
  { name = "GAIN", kind = "pot-16", left = 40 }, # second
]
label = [{ part = "TONE", height = 3, width = 9 }, { part = "GAIN", height = 3, width = 9 }]

[variants]
night.finish.paint = "navy"
night.part = [{ name = "GAIN", top = 30 }]
"""


def at(*way: str | int, variant: str | None = None) -> Address:
    return Address(way=way, variant=variant)


def edited(text: str, *edits: Edit) -> str:
    out = apply(text, edits, "layout.toml")
    crlf = apply(text.replace("\n", "\r\n"), edits, "layout.toml")
    assert crlf == out.replace("\n", "\r\n"), "the same edit of the same file with other line ends"
    return out


def read(text: str) -> dict:  # type: ignore[type-arg]
    parse(text, "layout.toml")  # it is a sound layout
    return tomllib.loads(text)


def refusal(text: str, *edits: Edit) -> str:
    with pytest.raises(InputError) as caught:
        apply(text, edits, "layout.toml")
    assert len(caught.value.faults) == 1
    assert "\n" not in str(caught.value)
    return str(caught.value).removeprefix("layout.toml: ")


# Values


def test_a_value_is_put_and_the_rest_of_its_line_stays() -> None:
    out = edited(PLAIN, PutValue(address=at("part", "TONE", "left"), value=16))
    assert out == PLAIN.replace("left = 15.50  # by ruler", "left = 16.00  # by ruler")


def test_a_length_is_written_as_the_file_writes_it() -> None:
    """3/4 in is 19.05 mm; 51.25 mm has two decimals as 50.50 has."""
    edits = [
        PutLength(address=at("part", "GAIN", "right"), mm=19.05),
        PutLength(address=at("decal", 0, "width"), mm=51.25),
    ]
    out = edited(PLAIN, *edits)
    assert out == PLAIN.replace('"1/2 in"', '"3/4 in"').replace("50.50", "51.25")


def test_a_key_takes_the_place_of_what_contradicts_it() -> None:
    out = edited(PLAIN, PutValue(address=at("part", "TONE", "right"), value=12))
    assert out == PLAIN.replace("left = 15.50  # by ruler\ntop = 20\nknob", "top = 20\nright = 12\nknob")
    own = edited(PLAIN.replace('size = "112x60x31"', "width = 60\nlength = 112\nheight = 31"),
                 PutValue(address=at("box", "size"), value="121x66x39"))  # fmt: skip
    assert read(own)["box"] == {"size": "121x66x39"}
    dots = edited(PLAIN, PutValue(address=at("decal", "near", "dpi"), value=600))
    assert read(dots)["decal"][1] == {"art": "near.png", "face": "near", "dpi": 600}


def test_in_a_variant_a_value_goes_into_the_variant() -> None:
    out = edited(PLAIN, PutValue(address=at("part", "GAIN", "top", variant="night"), value=33))
    assert read(out)["variants"]["night"]["part"][2] == {"name": "GAIN", "top": 33}
    assert out.replace('\n[[variants.night.part]]\nname = "GAIN"\ntop = 33\n', "") == PLAIN
    dim = edited(PLAIN, PutValue(address=at("finish", "sheen", variant="night"), value="matte"))
    assert dim == PLAIN.replace('"#102030" }', '"#102030", sheen = "matte" }')


def test_a_variants_lists_start_as_copies_of_the_layouts() -> None:
    out = edited(PLAIN, PutValue(address=at("label", "REED", "height", variant="night"), value=5))
    labels = read(out)["variants"]["night"]["label"]
    assert labels == [
        {"part": "TONE", "height": 3, "width": 9},
        {"text": "REED", "height": 5, "width": 20, "top": 60},
    ]
    film = edited(PLAIN, PutValue(address=at("decal", 1, "film", variant="night"), value="white"))
    assert [each.get("film") for each in read(film)["variants"]["night"]["decal"]] == [None, "white"]
    assert "width = 50.50" in film.partition("[variants.night]")[2], "numbers as they were written"


def test_a_value_is_removed() -> None:
    out = edited(PLAIN, RemoveValue(address=at("part", "TONE", "left")))
    assert out == PLAIN.replace("left = 15.50  # by ruler\n", "")
    assert edited(PLAIN, RemoveValue(address=at("part", "TONE", "right"))) == PLAIN
    bare = edited(PLAIN, RemoveValue(address=at("part", "TONE", "knob")))
    assert bare == PLAIN.replace('knob = { style = "dome", pointer = 0.2 }\n', "")
    inner = edited(PLAIN, RemoveValue(address=at("part", "TONE", "knob", "style")))
    assert inner == PLAIN.replace('style = "dome", ', "")


# Tables


def test_a_part_is_inserted_behind_the_others_and_before_variants() -> None:
    values = {"name": "MIX", "kind": "pot-16", "left": 30.5, "knob": {"style": "dome"}}
    out = edited(PLAIN, InsertTable(address=at("part"), values=values))
    block = '[[part]]\nname = "MIX"\nkind = "pot-16"\nleft = 30.5\nknob = { style = "dome" }\n\n'
    assert out == PLAIN.replace("[[label]]\npart", block + "[[label]]\npart", 1)
    first = edited(PLAIN, InsertTable(address=at("part"), values=values, index=0))
    assert first == PLAIN.replace("# The tone pot.", block + "# The tone pot.", 1)
    border = edited(PLAIN, InsertTable(address=at("border"), values={"inset": 2}))
    assert border == PLAIN.replace("[variants.night]", "[[border]]\ninset = 2\n\n[variants.night]")


def test_a_name_that_is_taken_or_missing_is_refused() -> None:
    assert refusal(PLAIN, InsertTable(address=at("part"), values={"name": "GLOW", "kind": "lamp-5"})) == (
        'there is a part "GLOW" already; give it another name'
    )
    assert "needs a name" in refusal(PLAIN, InsertTable(address=at("part"), values={"kind": "lamp-5"}))
    assert "already" in refusal(PLAIN, RenameTable(address=at("kind", "crank"), name="pot-16"))
    assert "already" in refusal(PLAIN, DuplicateTable(address=at("part", "TONE"), name="GAIN"))


def test_a_part_is_copied_with_its_comments_and_stands_behind_the_first() -> None:
    out = edited(PLAIN, DuplicateTable(address=at("part", "TONE"), name="TONE 2"))
    block = (
        '[[part]]\nname = "TONE 2"\nkind = "pot-16"\nleft = 15.50  # by ruler\ntop = 20\n'
        'knob = { style = "dome", pointer = 0.2 }\n\n'
    )
    assert out == PLAIN.replace('[[part]]\nname = "GAIN"', block + '[[part]]\nname = "GAIN"')
    label = edited(PLAIN, DuplicateTable(address=at("label", "REED")))
    assert [each.get("text") for each in read(label)["label"]] == [None, "REED", "REED"]


def test_a_renamed_part_is_renamed_wherever_it_is_named() -> None:
    out = edited(PLAIN, RenameTable(address=at("part", "TONE"), name="COLOUR"))
    assert out == PLAIN.replace('"TONE"', '"COLOUR"')
    read(out)
    kind = edited(PLAIN.replace('"lamp-5"', '"crank"'), RenameTable(address=at("kind", "crank"), name="handle"))
    assert kind == PLAIN.replace('"lamp-5"', '"handle"').replace('"crank"', '"handle"')


def test_a_name_put_as_a_value_is_a_renaming() -> None:
    assert edited(PLAIN, PutValue(address=at("part", "TONE", "name"), value="COLOUR")) == PLAIN.replace(
        "TONE", "COLOUR"
    )


def test_a_removed_part_takes_along_what_belongs_to_it() -> None:
    out = edited(PLAIN, RemoveTable(address=at("part", "TONE")))
    raw = read(out)
    assert [each["name"] for each in raw["part"]] == ["GAIN", "ON"]
    assert [each.get("text") for each in raw["label"]] == ["REED"]
    assert "scale" not in raw
    assert [each["name"] for each in raw["variants"]["night"]["part"]] == ["GLOW"]
    for comment in (
        "# A pedal",
        "# measured twice",
        "# --- film ---",
        '# knob = { style = "barrel" }',
        "# The switch.",
    ):
        assert comment in out
    for comment in ("# The tone pot.", "# by ruler", "# Moved for the night."):
        assert comment not in out, "it belonged to the part"


def test_a_part_removed_in_a_variant_stays_in_the_layout() -> None:
    out = edited(PLAIN, RemoveTable(address=at("part", "TONE", variant="night")))
    raw = read(out)
    assert raw["part"] == tomllib.loads(PLAIN)["part"]
    assert raw["variants"]["night"]["part"][0] == {"name": "TONE", "remove": True}
    own = read(edited(PLAIN, RemoveTable(address=at("part", "GLOW", variant="night"))))
    assert own["variants"]["night"]["part"] == [{"name": "TONE", "top": 24}]


def test_the_last_label_taken_out_of_a_variant_leaves_it_without_any() -> None:
    edits = [RemoveTable(address=at("label", name, variant="night")) for name in ("TONE", "REED")]
    raw = read(edited(PLAIN, *edits))
    assert raw["variants"]["night"]["label"] == []
    assert len(raw["label"]) == 2


def test_a_decal_that_would_show_again_is_refused() -> None:
    """The layout has one on the top and one on the near face: no list of its own can leave out just one of them."""
    said = refusal(PLAIN, RemoveTable(address=at("decal", "top", variant="night")))
    assert said.startswith("the layout's own decal on the top face would show again in variant night; ")
    one = PLAIN.replace('[[decal]]\nart = "near.png"\nface = "near"\nwidth = 40\n', "")
    assert read(edited(one, RemoveTable(address=at("decal", 0, variant="night"))))["variants"]["night"]["decal"] == []


def test_a_kind_in_use_is_refused() -> None:
    used = PLAIN.replace('"lamp-5"', '"crank"')
    assert refusal(used, RemoveTable(address=at("kind", "crank"))) == (
        'the kind "crank" is that of GLOW; give these parts another kind first'
    )
    assert "kind" not in read(edited(PLAIN, RemoveTable(address=at("kind", "crank"))))


def test_tables_change_places_with_their_comments() -> None:
    out = edited(PLAIN, ReorderTable(address=at("part", "ON"), index=0))
    switch = '# The switch.\n[[part]]\nname = "ON"\nkind = "footswitch"\nbottom = 20\n\n'
    assert out == PLAIN.replace(switch, "").replace("# The tone pot.", switch + "# The tone pot.")
    assert edited(PLAIN, ReorderTable(address=at("part", "ON"), index=99)) == PLAIN
    back = edited(out, ReorderTable(address=at("part", "ON"), index=2))
    assert back == PLAIN


# Variants


def test_variants_are_made_renamed_and_removed() -> None:
    made = edited(PLAIN, MakeVariant(name="two tone"))
    assert made == PLAIN + '\n[variants."two tone"]\n'
    like = edited(PLAIN, MakeVariant(name="dusk", like="night"))
    raw = read(like)["variants"]
    assert raw["dusk"] == raw["night"]
    named = edited(PLAIN, RenameVariant(variant="night", name="new moon"))
    assert named == PLAIN.replace("variants.night", 'variants."new moon"')
    gone = edited(PLAIN, RemoveVariant(variant="night"))
    assert gone == PLAIN[: PLAIN.index("[variants.night]")] + PLAIN[PLAIN.index("[variants.bare]") :]
    assert edited(like, RemoveVariant(variant="dusk")) == PLAIN
    assert "nights" in refusal(PLAIN, RemoveVariant(variant="nights"))
    assert "already" in refusal(PLAIN, MakeVariant(name="night"))


def test_a_variant_becomes_the_layout() -> None:
    raw = read(edited(PLAIN, AdoptVariant(variant="night")))
    assert raw["finish"] == {"paint": "#102030"}
    assert [each["name"] for each in raw["part"]] == ["TONE", "GAIN", "ON", "GLOW"]
    assert (raw["part"][0]["top"], raw["part"][0]["left"]) == (24, 15.5)
    assert raw["part"][3] == {"name": "GLOW", "kind": "lamp-5", "left": 20, "top": 40}
    assert list(raw["variants"]) == ["bare"]
    bare = read(edited(PLAIN, AdoptVariant(variant="bare")))
    assert [each["name"] for each in bare["part"]] == ["TONE", "ON"]
    assert "label" not in bare
    assert "scale" not in bare


# Inline tables, dotted keys


def test_lists_within_brackets_are_edited_within_them() -> None:
    out = edited(INLINE, PutValue(address=at("part", "GAIN", "right"), value=9))
    assert out == INLINE.replace("left = 40 }", "right = 9 }").replace('"pot-16", right', '"pot-16", right')
    gone = edited(INLINE, RemoveTable(address=at("part", "TONE")))
    assert read(gone)["label"] == [{"part": "GAIN", "height": 3, "width": 9}]
    assert "# second" in gone
    assert "# first" not in gone
    new = edited(INLINE, InsertTable(address=at("part"), values={"name": "ON", "kind": "footswitch"}))
    assert '\n  { name = "ON", kind = "footswitch" }' in new
    assert "# second" in new
    named = edited(INLINE, RenameTable(address=at("part", "GAIN"), name="DRIVE"))
    assert named == INLINE.replace("GAIN", "DRIVE")
    swapped = edited(INLINE, ReorderTable(address=at("part", "GAIN"), index=0))
    assert [each["name"] for each in read(swapped)["part"]] == ["GAIN", "TONE"]


def test_dotted_keys_of_a_variant_are_edited_where_they_are() -> None:
    out = edited(INLINE, PutValue(address=at("finish", "sheen", variant="night"), value="matte"))
    assert 'night.finish.sheen = "matte"\n' in out
    named = edited(INLINE, RenameVariant(variant="night", name="dusk"))
    assert named == INLINE.replace("night.", "dusk.")
    assert "variants" not in {
        key for key, value in read(edited(INLINE, RemoveVariant(variant="night"))).items() if value
    }
    adopted = read(edited(INLINE, AdoptVariant(variant="night")))
    assert adopted["finish"] == {"paint": "navy"}
    assert adopted["part"][1]["top"] == 30


# Moves


def test_a_part_moves_in_the_keys_that_measure_it() -> None:
    """GAIN is 12.7 mm from the right edge; 1.5875 mm further left that is 14.2875 mm, 9/16 in."""
    out = edited(PLAIN, Move(address=at("part", "GAIN"), right_mm=-1.5875, down_mm=0.5))
    assert out == PLAIN.replace('"1/2 in"\ntop = 20', '"9/16 in"\ntop = 20.5')
    own = read(edited(PLAIN, Move(address=at("part", "TONE", variant="night"), down_mm=2)))
    assert own["variants"]["night"]["part"][0]["top"] == 26
    assert own["part"][0]["top"] == 20


def test_a_centred_part_gets_a_key_only_where_it_moves() -> None:
    """The top of a 60 mm box with walls leaning 1 degree over 29.2 mm: 58.98 mm wide, so 29.49 + 2 mm from the left."""
    raw = read(edited(PLAIN, Move(address=at("part", "ON"), right_mm=2)))
    assert raw["part"][2] == {"name": "ON", "kind": "footswitch", "bottom": 20, "left": 31.49}


def test_a_label_moves_by_its_gap_or_by_its_edges() -> None:
    """1.2 mm is the usual gap; a label of 20 mm centred on 58.98 mm starts at 19.49 mm."""
    out = read(edited(PLAIN, Move(address=at("label", "TONE"), down_mm=0.8)))
    assert out["label"][0]["gap"] == 2
    said = refusal(PLAIN, Move(address=at("label", "TONE"), right_mm=1))
    assert said.startswith("label TONE cannot be moved: it stands below its part")
    free = read(edited(PLAIN, Move(address=at("label", "REED"), right_mm=1, down_mm=-2)))
    assert (free["label"][1]["top"], free["label"][1]["left"]) == (58, pytest.approx(20.49, abs=0.006))


def test_a_decal_moves_by_its_edges_or_is_refused() -> None:
    placed = PLAIN.replace("width = 50.50", "width = 50.50\nheight = 30\nleft = 4\nbottom = 7")
    raw = read(edited(placed, Move(address=at("decal", 0), right_mm=0.5, down_mm=1)))
    assert (raw["decal"][0]["left"], raw["decal"][0]["bottom"]) == (4.5, 6)
    assert "nothing says how large it is" in refusal(PLAIN, Move(address=at("decal", 0), right_mm=1))
    sized = read(edited(PLAIN, Move(address=at("decal", 0), right_mm=1, size_mm=(50.5, 30.0))))
    assert sized["decal"][0]["left"] == pytest.approx((58.98 - 50.5) / 2 + 1, abs=0.006)


# What is refused


@pytest.mark.parametrize(
    ("edit", "words"),
    [
        (PutValue(address=at("part", "TOEN", "left"), value=3), "there is no part TOEN left; did you mean 'TONE'?"),
        (RemoveTable(address=at("decal", 7)), "there is no decal 8; there are 2"),
        (RemoveTable(address=at("border", 0)), "there is no border 1; the layout has no border table"),
        (RemoveTable(address=at("finish")), "finish is no table of a list"),
        (PutValue(address=at("finish", "paint", variant="nihgt"), value="red"), "did you mean 'night'?"),
        (RenameTable(address=at("part", "TONE", variant="night"), name="X"), "rename it in the layout itself"),
        (ReorderTable(address=at("part", "TONE", variant="night"), index=1), "reorder it in the layout itself"),
        (PutValue(address=at("kind", "crank", "hole", variant="night"), value=8), "a variant has no kinds of its own"),
        (Move(address=at("scale", "TONE"), right_mm=1), "a scale has no place"),
    ],
)
def test_what_a_layout_does_not_allow_is_said_in_one_line(edit: Edit, words: str) -> None:
    assert words in refusal(PLAIN, edit)
