"""A list of controls, clicked or typed: every plain word finds its kind, names stay apart, the arranger takes it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mockup.arrange.layouts.controls import MOST, controls
from mockup.hardware import kinds
from mockup.window.front.control_list import CHIPS, ControlList, usual


def said(text):
    return [(row.name, row.kind) for row in ControlList().typed(text).rows]


def test_the_usual_pedal():
    assert sorted(row.kind for row in usual().rows) == sorted(
        ["pot-16", "pot-16", "lamp-5", "footswitch", "jack-enclosed", "jack-enclosed", "dc-socket"]
    )
    assert {"IN", "OUT"} <= set(usual().names)


@pytest.mark.parametrize(
    ("text", "rows"),
    [
        ("FLOW pot", [("FLOW", "pot-16")]),
        ("pot FLOW", [("FLOW", "pot-16")]),
        ("2 pots FLOW BANK", [("FLOW", "pot-16"), ("BANK", "pot-16")]),
        ("two knobs", [("LEVEL", "pot-16"), ("TONE", "pot-16")]),
        ("24 mm pot", [("LEVEL", "pot-24")]),
        ("3 mm lamp", [("LAMP", "lamp-3")]),
        ("stomp switch and led", [("BYPASS", "footswitch"), ("LAMP", "lamp-5")]),
        ("toggle switches", [("MODE", "toggle-mini")]),
        ("a rotary switch", [("SELECT", "rotary-switch")]),
        ("in, out; 9 volt", [("IN", "jack-enclosed"), ("OUT", "jack-enclosed"), ("POWER", "dc-socket")]),
        ("input jack\noutput jack", [("IN", "jack-enclosed"), ("OUT", "jack-enclosed")]),
        ("jack EXP", [("EXP", "jack-enclosed")]),
        ("9 volt battery", [("BATTERY", "battery-9v")]),
        ("two lamps RED", [("RED", "lamp-5"), ("RED 2", "lamp-5")]),
    ],
)
def test_what_a_builder_types(text, rows):
    assert said(text) == rows


@pytest.mark.parametrize("text", ["flux capacitor", "2", "the"])
def test_what_names_no_part_is_refused_in_words(text):
    with pytest.raises(ValueError, match="No part is called"):
        ControlList().typed(text)


def test_chips_count_what_they_add():
    found = usual()
    for chip in CHIPS:
        before = len(found.of(chip))
        assert len(found.more(chip.kind, chip.name).of(chip)) == before + 1
        assert len(found.fewer(chip).of(chip)) == max(before - 1, 0)


def test_a_name_is_changed_but_never_doubled_or_emptied():
    found = usual()
    assert found.renamed(0, " FLOW ").names[0] == "FLOW"
    for name in ("", "IN", "  "):
        with pytest.raises(ValueError, match=r"name|called"):
            found.renamed(0, name)


def test_a_full_list_says_so():
    found = ControlList()
    for _ in range(MOST):
        found = found.more("pot-16")
    with pytest.raises(ValueError, match=str(MOST)):
        found.more("pot-16")


@given(st.lists(st.tuples(st.sampled_from(sorted(kinds())), st.text(max_size=12)), min_size=1, max_size=12))
def test_the_arranger_takes_every_list(rows):
    found = ControlList()
    for kind, name in rows:
        found = found.more(kind, name.replace("@", "").replace("#", ""))
    taken = controls(found.words).controls
    assert [each.kind.name for each in taken] == [kind for kind, _ in rows]
    assert [each.name for each in taken] == list(found.names)
