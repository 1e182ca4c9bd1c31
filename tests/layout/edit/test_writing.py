"""Values put into a TOML file touch only their own bytes, however the file is written."""

from __future__ import annotations

import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mockup.layout.edit import writing
from mockup.layout.edit.apply import apply
from mockup.layout.edit.tables import MISSING, Place, Put, found, resolved
from mockup.layout.edit.writing import written
from mockup.model.edit import Address, PutValue
from mockup.model.errors import InputError

MIXED = """\
# A pedal, with all ways of writing that TOML has.
name = "Test"   # its name

[box]
size = "112x60x31"

[[part]]
name = "TONE"
left = 14.940   # from the left edge
top = 20
knob.diameter = 13.5
knob.pointer = 0.3

# The second one.
[[part]]
  name = 'GAIN'
  left = "1 1/16 in"
  knob = { style = "dome", pointer = 0.50 } # braces

[[part]]
name = "LAMP"
colour = "#ff0000"
[part.knob]
height = 12

[finish]
paint = '#a9d3c6'

[variants.storm]
finish = { paint = "#c7cfd6", sheen = "satin" }
[[variants.storm.part]]
name = "TONE"
left = 3

[other]
list = [
  1,
  2, # two
]
[variants.calm.finish]
paint = "red"
"""


def put(text: str, values: dict[Place, object], source: str) -> str:
    """Put values at places; a part that a variant does not change yet is brought in by the edit."""
    for place, value in values.items():
        raw = tomllib.loads(text)
        if place[0] == "variants" and found(raw, place[:4]) is MISSING:
            text = apply(text, [PutValue(address=Address.at(place), value=value)], source)  # type: ignore[arg-type]
        else:
            text = written(text, raw, Put(place=resolved(raw, place), value=value), source)
    return text


WAYS = {"plain": MIXED, "crlf": MIXED.replace("\n", "\r\n"), "no end": MIXED.rstrip("\n")}


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize(
    ("place", "value", "before", "after"),
    [
        (("part", "TONE", "left"), 15.5, "14.940", "15.500"),
        (("part", "TONE", "left"), 15.0, "14.940", "15.000"),
        (("part", "TONE", "left"), 15.12345, "14.940", "15.12345"),
        (("part", "TONE", "top"), 21.0, "20", "21"),
        (("part", "TONE", "top"), 21.5, "20", "21.5"),
        (("part", "TONE", "top"), -0.0, "20", "0"),
        (("part", "TONE", "knob", "diameter"), 14.0, "13.5", "14.0"),
        (("part", "GAIN", "left"), "1 1/8 in", '"1 1/16 in"', '"1 1/8 in"'),
        (("part", "GAIN", "knob", "pointer"), 0.75, "0.50", "0.75"),
        (("part", "GAIN", "knob", "style"), "scalloped", '"dome"', '"scalloped"'),
        (("part", "LAMP", "colour"), "#00ff00", '"#ff0000"', '"#00ff00"'),
        (("part", "LAMP", "knob", "height"), 12.5, "12", "12.5"),
        (("finish", "paint"), "#112233", "'#a9d3c6'", "'#112233'"),
        (("finish", "paint"), "it's", "'#a9d3c6'", '"it\'s"'),
        (("variants", "storm", "finish", "paint"), "#000000", '"#c7cfd6"', '"#000000"'),
        (("variants", "storm", "part", "TONE", "left"), 4.0, "left = 3", "left = 4"),
        (("variants", "calm", "finish", "paint"), "blue", '"red"', '"blue"'),
        (("other", "list", 1), 3, "2, # two", "3, # two"),
        (("part", 0, "left"), 1.0, "14.940", "1.000"),
    ],
)
def test_only_the_value_is_touched(way: str, place: tuple[str, ...], value: object, before: str, after: str) -> None:
    text = WAYS[way]
    assert text.count(before) == 1 or before in ("20", "12", "13.5")
    out = put(text, {place: value}, "test.toml")  # type: ignore[dict-item]
    head = 0
    while head < min(len(text), len(out)) and text[head] == out[head]:
        head += 1
    assert len(out) - len(text) == len(after) - len(before)
    start = text.index(before)
    if text.count(before) == 1:
        assert out == text[:start] + after + text[start + len(before) :]
    got = found(tomllib.loads(out), place)
    assert got == (value if isinstance(value, str) else pytest.approx(value))


ADDED = [
    (("part", "TONE", "right"), 5.5),
    (("part", "GAIN", "bottom"), 7),
    (("part", "TONE", "knob", "height"), 11.0),
    (("part", "GAIN", "knob", "height"), 11.0),
    (("part", "LAMP", "knob", "style"), "dome"),
    (("part", "LAMP", "lit"), False),
    (("finish", "sheen"), "gloss"),
    (("variants", "storm", "part", "TONE", "top"), 8.25),
    (("variants", "storm", "part", "GAIN", "left"), 8.25),
    (("variants", "calm", "part", "GAIN", "left"), 8.25),
    (("variants", "calm", "finish", "sheen"), "matte"),
    (("variants", "storm", "part", "TONE", "knob", "pointer"), 0.1),
]


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize(("place", "value"), ADDED, ids=lambda each: str(each))
def test_a_new_key_is_added_and_nothing_else_moves(way: str, place: tuple[str, ...], value: object) -> None:
    text = WAYS[way]
    assert found(tomllib.loads(text), place) is MISSING
    out = put(text, {place: value}, "test.toml")  # type: ignore[dict-item]
    assert found(tomllib.loads(out), place) == value
    assert ("\r\n" in text) == ("\r\n" in out)
    if way == "crlf":
        assert out.count("\n") == out.count("\r\n")
    # What stood there before stands there still, in the same order: the addition is one piece.
    head = 0
    while head < len(text) and text[head] == out[head]:
        head += 1
    assert text[head:] == out[len(out) - (len(text) - head) :]


def test_the_place_of_a_new_key_is_beside_its_like() -> None:
    out = put(MIXED, {("part", "TONE", "bottom"): 5.0}, "test.toml")
    assert "top = 20\nbottom = 5\nknob.diameter" in out
    indented = put(MIXED, {("part", "GAIN", "top"): 5.0}, "test.toml")
    assert '  left = "1 1/16 in"\n  top = 5\n  knob' in indented


def test_tables_that_are_not_there_come_last() -> None:
    out = put('[box]\nsize = "112x60x31"\n', {("finish", "paint"): "red"}, "test.toml")
    assert out == '[box]\nsize = "112x60x31"\n\n[finish]\npaint = "red"\n'
    empty = put("[finish]\n# nothing yet\n[box]\nwidth = 3\n", {("finish", "paint"): "red"}, "test.toml")
    assert empty == '[finish]\npaint = "red"\n# nothing yet\n[box]\nwidth = 3\n'


def test_many_values_at_once() -> None:
    values = {("part", "TONE", "left"): 1.0, ("part", "GAIN", "knob", "pointer"): 1.0, ("finish", "sheen"): "satin"}
    out = put(MIXED, values, "test.toml")  # type: ignore[arg-type]
    for place, value in values.items():
        assert found(tomllib.loads(out), place) == value


def test_several_new_keys_of_one_variant_share_its_table() -> None:
    values = {("variants", "calm", "part", "GAIN", key): 2.5 for key in ("left", "top")}
    out = put(MIXED, values, "test.toml")  # type: ignore[arg-type]
    assert out.count("[[variants.calm.part]]") == 1
    assert tomllib.loads(out)["variants"]["calm"]["part"] == [{"name": "GAIN", "left": 2.5, "top": 2.5}]


def test_a_variant_within_braces_is_changed_within_them() -> None:
    text = 'box = { size = "112x60x31" }\npart = [{ name = "TONE" }]\nvariants = { a = { name = "x" } }\n'
    out = put(text, {("variants", "a", "part", "TONE", "left"): 1.0}, "test.toml")
    assert out == text.replace('"x" }', '"x", part = [{ name = "TONE", left = 1 }] }')


def test_what_would_change_something_else_is_refused_in_one_line(monkeypatch: pytest.MonkeyPatch) -> None:
    """No valid file is known that cannot be changed; a fault of ours in finding places must not be written."""
    real = writing.styled
    monkeypatch.setattr(writing, "styled", lambda before, value: real(before, value) + "\nextra = 1")
    with pytest.raises(InputError) as caught:
        put(MIXED, {("part", "TONE", "left"): 1.0}, "test.toml")
    assert "\n" not in str(caught.value)
    assert str(caught.value) == (
        "test.toml: part 1 left is written in a way that cannot be changed from here; change it in the file itself"
    )


names = st.text(st.characters(blacklist_categories=("Cs", "Cc"), blacklist_characters="\ue000"), min_size=1, max_size=8)
comments = st.text(st.characters(blacklist_categories=("Cs", "Cc"), blacklist_characters="\ue000"), max_size=12)


@given(st.data())
def test_any_file_keeps_every_other_byte(data: st.DataObject) -> None:
    """A file put together at random: comments, blank lines, spaces, line ends, quotes, dotted keys, braces."""
    end = data.draw(st.sampled_from(["\n", "\r\n"]))
    rows, spans = [], {}
    count = data.draw(st.integers(1, 4))
    for index in range(count):
        rows += ["", f"# {data.draw(comments)}"] if data.draw(st.booleans()) else []
        rows.append("[[part]]" + data.draw(st.sampled_from(["", "  ", " # c"])))
        rows.append(f'name = "P{index}"')
        for key in data.draw(st.permutations(["left", "top", "knob.pointer"])):
            number = data.draw(
                st.sampled_from(["1", "20", "3.50", "-4.125", "+7.0", "1_000.5", "1e1", '"3/4 in"', "'9 mm'"])
            )
            blank = data.draw(st.sampled_from(["", " ", "   ", "\t"]))
            note = data.draw(st.sampled_from(["", " # note", "  "]))
            rows.append((f"{key}{blank}=", blank, number, note))
            spans[("part", f"P{index}", *key.split("."))] = len(rows) - 1
    lines = ["".join(row) if isinstance(row, tuple) else row for row in rows]
    text = end.join(lines) + data.draw(st.sampled_from(["", end]))
    place = data.draw(st.sampled_from(sorted(spans)))
    value = data.draw(st.one_of(st.floats(-500, 500).map(lambda each: round(each, 3)), names))
    out = put(text, {place: value}, "test.toml")
    row = rows[spans[place]]
    start = len(end.join([*lines[: spans[place]], ""])) + len(row[0]) + len(row[1])
    stop = start + len(row[2])
    assert out[:start] == text[:start]
    assert out[len(out) - (len(text) - stop) :] == text[stop:]
    assert found(tomllib.loads(out), place) == (value if isinstance(value, str) else pytest.approx(value))
