"""From a list of controls to layouts: each proven, in order, different from the others, and the same every time."""

from __future__ import annotations

import tomllib
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import mockup
from mockup import fonts, hardware, knobs, reader
from mockup.arrange.layout_text import FONT, WHOLE, layout_text, written
from mockup.arrange.layouts.control_parts import stances
from mockup.arrange.layouts.controls import controls
from mockup.arrange.layouts.list_file import wanted
from mockup.arrange.layouts.rows import FADER, SWITCH, Plan, plans
from mockup.arrange.layouts.schemes import schemes
from mockup.arrange.relations import relations
from mockup.enclosure.sizes import SIZES
from mockup.layout.parse import parse
from mockup.layout.resolve import resolve
from mockup.layout_proposals import Proposals, propose
from mockup.model.design import Placement
from mockup.model.enclosure import faces
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
def test_every_proposal_has_all_its_names_and_scales(classic: Proposals) -> None:
    for each in classic.found:
        raw = tomllib.loads(each.text)
        assert each.is_lettered
        assert [label["part"] for label in raw["label"]] == ["GAIN", "TONE", "BYPASS"]
        assert len(raw["scale"]) == 1
        assert {label.part for label in each.design.labels} >= {"GAIN", "TONE", "BYPASS"}


@settings(max_examples=20)
@given(names=st.lists(st.text("ABé8 -", min_size=1, max_size=6).map(str.strip).filter(bool), min_size=1, unique=True))
def test_whole_lettering_names_every_control_and_marks_every_knob(names: list[str]) -> None:
    pot = hardware.kinds()["pot-16"]
    parts = tuple(
        Placement(name=name, kind=pot, face="top", u_mm=10.0 + index, v_mm=20.0, knob=knobs.default("barrel"))
        for index, name in enumerate(names)
    )
    for lettering in WHOLE:
        raw = tomllib.loads(layout_text("T", SIZES["112x60x31"], parts, lettering, sides={names[0]: "above"}))
        assert [label["part"] for label in raw["label"]] == names
        assert raw["label"][0]["side"] == "above"
        assert len(raw["scale"]) == 1


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        (["AB", "C"], "two over one"),
        (["A", "B"], "one below the other"),
        (["AMB"], "two knobs and one switch in a row"),
        (["AB", "MN", "CD"], "rows of two knobs, two switches and two knobs"),
        (["M"], "one switch in the middle"),
        (["FGF"], "three faders in a row"),
        (["AFB", "M"], "two knobs and one fader over one switch"),
    ],
)
def test_rows_are_told_by_what_they_hold(rows: list[str], said: str) -> None:
    nouns = {"M": SWITCH, "N": SWITCH, "F": FADER, "G": FADER}
    plan = Plan(rows=tuple(tuple(row) for row in rows), nouns=nouns)
    assert plan.about == said


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


def test_in_inches_it_is_the_same_pedal() -> None:
    """A layout of either unit is one design to 0.0013 mm, half of the last figure written: 0.00005 in x 25.4."""
    kinds, box = hardware.kinds(), SIZES["112x60x31"]
    knob = knobs.default("stepped")
    parts = (
        Placement(name="GAIN", kind=kinds["pot-16"], face="top", u_mm=17.3, v_mm=22.5, knob=knob),
        Placement(name="IN", kind=kinds["jack-enclosed"], face="right", u_mm=40.0, v_mm=14.2),
    )
    font = {FONT: reader.font(fonts.data(is_bold=True), FONT)}
    texts = [layout_text("Half", box, parts, "names and small scales", unit) for unit in ("mm", "in")]
    mm, inch = (resolve(parse(text, "layout.toml"), {}, fonts=font) for text in texts)
    assert tomllib.loads(texts[1])["units"] == inch.units == "in"
    assert tomllib.loads(texts[1])["part"][0]["top"] == pytest.approx(22.5 / 25.4, abs=0.00005)
    for wish, one, other in zip(parts, mm.parts, inch.parts, strict=True):
        there = written(wish, faces(box)[wish.face])
        assert (one.u_mm, one.v_mm) == pytest.approx((there.u_mm, there.v_mm), abs=1e-6)
        assert (other.u_mm, other.v_mm) == pytest.approx((one.u_mm, one.v_mm), abs=0.0026)  # of two figures
    assert inch.parts[0].knob is not None
    assert inch.parts[0].knob.diameter_mm == pytest.approx(knob.diameter_mm, abs=0.0013)
    sizes = [[label.height_mm for label in each.labels] for each in (mm, inch)]
    assert sizes[1] == pytest.approx(sizes[0], abs=0.0013)


def test_a_lamp_between_knobs_is_not_counted_as_one() -> None:
    listed = controls(["A=pot-16", "B=pot-16", "LAMP=lamp-5", "S=footswitch"])
    assert "two in a row, lamp between the knobs" in [plan.about for plan in plans(listed)]


def test_faders_stand_along_the_box_unless_they_are_turned() -> None:
    """As a hand pushes them; a list file may say how one is turned, and a list without faders stays as it is."""
    listed = controls(["A=fader-30", "B=fader-30", "S=footswitch"])
    turns = [[each.turn_deg for each in stance.controls] for stance in stances(listed)]
    assert turns == [[90.0, 90.0, None], [0.0, 0.0, None]]
    told = replace(listed, controls=(replace(listed.controls[0], turn_deg=0.0), *listed.controls[1:]))
    assert [stance.controls[0].turn_deg for stance in stances(told)] == [0.0, 0.0]
    plain = controls(["A=pot-16", "S=footswitch"])
    assert [*stances(plain)] == [plain]
    along = next(schemes(next(stances(listed)), SIZES["119x94x34"], "barrel"))
    assert {part.rotation_deg for part in along.parts} == {90.0, 0.0}
    assert along.about == "two faders in a row"
