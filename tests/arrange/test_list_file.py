"""A list of controls as TOML: what is known of faces, places and groups, and one line for each mistake."""

from __future__ import annotations

import pytest

from mockup.arrange.layouts.controls import Pin
from mockup.arrange.layouts.list_file import wanted
from mockup.arrange.layouts.rows import plans
from mockup.arrange.layouts.schemes import schemes
from mockup.arrange.layouts.sides import WAYS, sides
from mockup.enclosure.sizes import SIZES
from mockup.model.errors import InputError

BOX = SIZES["121x66x39"]
PARTS = """
[[part]]
name = "A"
kind = "pot-16"
[[part]]
name = "B"
kind = "pot-16"
[[part]]
name = "C"
kind = "pot-9"
[[part]]
name = "LAMP"
kind = "lamp-5"
[[part]]
name = "FOOT"
kind = "footswitch"
top = 96
[[part]]
name = "DC"
kind = "dc-socket"
face = ["left", "far"]
"""
GROUPS = """
[[group]]
kind = "pair"
parts = ["A", "B"]
[[group]]
kind = "over"
parts = ["LAMP", "FOOT"]
"""


def test_faces_and_places_are_read() -> None:
    parts = {each.name: each for each in wanted(PARTS, "list").controls}
    assert parts["DC"].faces == ("left", "far")
    assert parts["FOOT"].pin == Pin(top=96.0)
    assert parts["A"].pin is None


def test_a_pinned_part_stands_where_it_is_pinned_and_a_lamp_over_its_switch() -> None:
    """By hand: the top of the box is 66 mm less twice 0.65 mm of draft wide, its middle at half of that."""
    for scheme in schemes(wanted(PARTS + GROUPS, "list"), BOX, "barrel"):
        parts = {each.name: each for each in scheme.parts}
        assert parts["FOOT"].v_mm == 96.0
        assert parts["FOOT"].u_mm == pytest.approx(33.0 - 0.65, abs=0.01)
        assert parts["LAMP"].u_mm == parts["FOOT"].u_mm
        assert parts["LAMP"].v_mm < 96.0
        assert not any("FOOT" in each.parts and each.kind == "middle" for each in scheme.relations)


def test_pairs_stand_in_one_row_about_its_middle() -> None:
    found = list(plans(wanted(PARTS + GROUPS, "list")))
    assert found
    for plan in found:
        row = next(row for row in plan.rows if "A" in row)
        assert row.index("A") == len(row) - 1 - row.index("B")


def test_rows_and_columns_of_a_group_stay_in_their_order() -> None:
    """Two columns of two are two rows of two; a row of three is one row, in its order."""
    columns = '[[group]]\nkind = "column"\nparts = ["A", "B"]\n'
    for plan in plans(wanted(PARTS + columns, "list")):
        assert not any({"A", "B"} <= set(row) for row in plan.rows)
    row = '[[group]]\nkind = "row"\nparts = ["C", "A", "B"]\n'
    for plan in plans(wanted(PARTS + row, "list")):
        (held,) = (each for each in plan.rows if "A" in each)
        assert [name for name in held if name in "ABC"] == ["C", "A", "B"]


def test_a_part_stands_only_on_the_faces_that_it_may_have() -> None:
    given = wanted(PARTS.replace('["left", "far"]', '"right"'), "list")
    top = next(iter(schemes(given, BOX, "barrel"))).parts
    found = sides(given, BOX, top, "barrel", WAYS[0])
    assert found is not None
    assert [part.face for part in found.parts if part.name == "DC"] == ["right"]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (PARTS.replace("pot-9", "pot-10"), "C has an unknown kind 'pot-10'"),
        (PARTS.replace('"far"]', '"back"]'), "DC stands on an unknown face 'back'"),
        (PARTS.replace("top = 96", "top = 96\nbottom = 20"), "FOOT has both top and bottom"),
        (PARTS.replace("top = 96", 'top = "high"'), "top of FOOT is no length"),
        (PARTS.replace("top = 96", "turn = 90"), "FOOT has an unknown key 'turn'"),
        (PARTS.replace("top = 96", "rotation = nan"), "rotation of FOOT is no angle"),
        (PARTS + '[[group]]\nkind = "pair"\nparts = ["A"]\n', "a pair names fewer than two parts"),
        (PARTS + '[[group]]\nkind = "pair"\nparts = ["A", "X"]\n', "a pair names an unknown part 'X'"),
        (PARTS + '[[group]]\nkind = "ring"\nparts = ["A", "B"]\n', "a group has the kind 'ring'"),
        (PARTS + GROUPS + '[[group]]\nkind = "pair"\nparts = ["A", "C"]\n', "A is in two groups of the kind pair"),
        ('[[part]]\nname = "A"\n', "no name or no kind"),
        ('[[group]]\nkind = "pair"\nparts = ["A", "B"]\n', "names no controls"),
        ("[[part]]\nname = \n", "list"),
    ],
)
def test_a_mistake_is_one_line(text: str, said: str) -> None:
    with pytest.raises(InputError, match=said) as caught:
        wanted(text, "list")
    assert len(caught.value.faults) == 1
