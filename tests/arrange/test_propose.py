"""From a list of controls to layouts: each proven, in order, different from the others, and the same every time."""

from __future__ import annotations

import tomllib

import pytest

import mockup
from mockup.arrange.controls import controls
from mockup.arrange.layout_text import layout_text
from mockup.arrange.list_file import wanted
from mockup.arrange.relations import relations
from mockup.enclosure.sizes import SIZES
from mockup.layout_proposals import Proposals, propose
from mockup.model.errors import InputError

CLASSIC = [
    "GAIN=pot-16",
    "TONE=pot-16",
    "LAMP=lamp-5",
    "BYPASS=footswitch",
    "IN=jack-enclosed",
    "OUT=jack-enclosed",
    "DC=dc-socket",
]


@pytest.fixture(scope="module")
def classic() -> Proposals:
    return propose(CLASSIC, "112x60x31", count=3)


@pytest.mark.slow
def test_every_proposal_is_content_with_every_check(classic: Proposals) -> None:
    assert len(classic.found) == 3
    for each in classic.found:
        assert not [finding for finding in mockup.check(each.design) if finding.severity != "note"]


@pytest.mark.slow
def test_a_symmetric_list_gives_symmetric_layouts(classic: Proposals) -> None:
    """Two pots alike stand beside each other and mirror each other, or both in the middle; lamp and switch there."""
    for each in classic.found:
        found = relations(each.design.enclosure, each.design.parts)
        held = {(relation.kind, relation.parts) for relation in found}
        assert ("middle", ("LAMP",)) in held
        assert ("middle", ("BYPASS",)) in held
        assert ("pair", ("GAIN", "TONE")) in held or ("middle", ("GAIN",)) in held
        assert any(kind == "pair" and set(parts) == {"IN", "OUT"} for kind, parts in held)


@pytest.mark.slow
def test_the_trade_finds_its_sockets_where_it_looks(classic: Proposals) -> None:
    places = {part.name: part.face for part in classic.found[0].design.parts}
    assert (places["IN"], places["OUT"], places["DC"]) == ("right", "left", "far")


@pytest.mark.slow
def test_no_two_proposals_are_alike(classic: Proposals) -> None:
    places = [[(part.face, round(part.u_mm), round(part.v_mm)) for part in each.design.parts] for each in classic.found]
    assert all(one != other for index, one in enumerate(places) for other in places[:index])


@pytest.mark.slow
def test_the_same_list_gives_the_same_layouts(classic: Proposals) -> None:
    again = propose(CLASSIC, "112x60x31", count=3)
    assert [each.text for each in again.found] == [each.text for each in classic.found]


@pytest.mark.slow
def test_what_does_not_fit_is_said() -> None:
    """Three pots of 24 mm side by side or one under the other, a footswitch 35 mm off: too much for 92 by 38."""
    words = ["A=pot-24", "B=pot-24", "C=pot-24", "S=footswitch", "IN=jack-open", "OUT=jack-open"]
    with pytest.raises(InputError, match="do not fit 92x38x31"):
        propose(words, "92x38x31")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["GAIN"], "no control"),
        (["GAIN=pot-17"], "unknown kind"),
        (["GAIN=pot-16@side"], "unknown face"),
        (["A=pot-16", "A=pot-9"], "two controls are called A"),
        ([], "names no controls"),
    ],
)
def test_a_list_that_is_none_is_refused_in_one_line(words: list[str], said: str) -> None:
    with pytest.raises(InputError, match=said):
        controls(words)


def test_a_list_file_has_remarks() -> None:
    text = "GAIN = pot-16  # the loud one\n\n# sockets\nDC = dc-socket @ far\n"
    found = wanted(text, "list").controls
    assert [(each.name, each.kind.name, each.faces) for each in found] == [
        ("GAIN", "pot-16", ()),
        ("DC", "dc-socket", ("far",)),
    ]


def test_a_box_that_is_none_is_refused() -> None:
    with pytest.raises(InputError, match="there is no box"):
        propose(CLASSIC, "huge")
    with pytest.raises(InputError, match="there is no knob"):
        propose(CLASSIC, "112x60x31", knob="velvet")
    with pytest.raises(InputError, match="out of range"):
        propose(CLASSIC, "112x60x31", count=9)


def test_a_name_of_any_characters_is_read_back_as_it_was_given() -> None:
    """TOML 1.0 forbids a bare U+007F in a string, as it forbids quotes and controls."""
    name = 'Old "Paint"\\ \x7f\t\u00e9'
    text = layout_text(name, SIZES["112x60x31"], (), "nothing")
    assert tomllib.loads(text)["name"] == name
