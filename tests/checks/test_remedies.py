"""Orders as edits, as JSON gives them: made in the layout's own text, each clears what it is for and stops nothing."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

import mockup
from mockup.checks.report.rows import fingerprint
from mockup.checks.report.run import run
from mockup.checks.report.sentences import what
from mockup.clearance import table
from mockup.clearance.rules import CLAIMS
from mockup.layout.edit.apply import apply
from mockup.model.edit import Move
from mockup.model.finding import Finding

POTS = ("pot-16", "pot-9", "pot-16", "pot-24")
OTHERS = ("toggle-mini", "lamp-5", "lamp-3", "footswitch", "slide-switch")
ORDERING = (  # the checks that order edits of parts, but for hole-edges, which drills the box anew for each place
    "bodies", "knob-gaps", "knob-overlaps", "knob-seats", "lamp-view", "lever-throws", "plug-bodies", "plug-tips",
    "seats", "shoe-room", "tool-room", "webs",
)  # fmt: skip
SIDES = (("jack-enclosed", "right"), ("jack-open", "left"), ("dc-socket", "far"), ("jack-enclosed", "far"))


@st.composite
def pedals(draw: st.DrawFn) -> str:
    """Three to six parts on a painted box, anywhere that a tenth of a millimetre allows, too close as often as not."""
    size = draw(st.sampled_from(("112x60x31", "121x66x39", "119x94x34")))
    text = f'[box]\nsize = "{size}"\n[finish]\npaint = "#d8d0c0"\n'
    count = draw(st.integers(3, 6))
    for number in range(count):
        kind = draw(st.sampled_from((*POTS, *OTHERS)))
        where = f"left = {draw(st.integers(120, 450)) / 10}\ntop = {draw(st.integers(140, 900)) / 10}\n"
        if draw(st.integers(0, 3)) == 0:
            kind, face = draw(st.sampled_from(SIDES))
            left, bottom = draw(st.integers(150, 450)) / 10, draw(st.integers(140, 190)) / 10
            where = f'face = "{face}"\nleft = {left}\nbottom = {bottom}\n'
        text += f'[[part]]\nname = "P{number}"\nkind = "{kind}"\n{where}'
        if kind.startswith("pot"):
            size, high = draw(st.integers(12, 22)), draw(st.integers(9, 20))
            text += f'knob = {{ style = "barrel", diameter = {size}, height = {high} }}\n'
    return text


def found(text: str) -> dict[str, Finding]:
    return {fingerprint(each): each for each in run(mockup.loads(text), ORDERING) if each.severity != "note"}


def lacking(text: str) -> dict[tuple[str, tuple[str, ...], str], float]:
    """Return how far parts run into each other or into the box, by rule and parts."""
    design = mockup.loads(text)
    broken = table.broken(design.enclosure, design.parts, design.limits)
    return {each.key: -each.room_mm for each in broken if each.rule in CLAIMS and each.is_touch}


def cures(text: str) -> None:
    before = found(text)
    stops = lacking(text)
    for each in (each for each in before.values() if each.edits):
        mended = apply(text, each.edits, "layout.toml")
        after = found(mended)
        told = (each.check, each.title, each.subjects[:2])
        same = [other for other in after.values() if (other.check, other.title, other.subjects[:2]) == told]
        assert same == [], (what(each, "mm"), [what(other, "mm") for other in same], text)
        worse = {key: lack for key, lack in lacking(mended).items() if lack > stops.get(key, 0.0) + 0.01}
        assert worse == {}, (what(each, "mm"), worse, text)


@settings(max_examples=5, derandomize=True, phases=[Phase.generate], suppress_health_check=list(HealthCheck))
@given(pedals())
def test_an_order_clears_what_it_is_for(text: str) -> None:
    cures(text)


def test_little_room_between_two_coarse_tries_is_found() -> None:
    """Down by 5 mm a terminal is still too near the toggle switch, by 10 the body stands in the lid; the toggle switch
    has a pot on each side of it and one below.
    """
    text = '[box]\nsize = "121x66x39"\n'
    for name, kind, where in (
        ("WING", "toggle-mini", "top = 14.85"),
        ("DC", "dc-socket", 'face = "far"\nbottom = 18'),
        ("A", "pot-16", "left = 14.85\ntop = 17.85"),
        ("B", "pot-16", "right = 14.85\ntop = 17.85"),
        ("C", "pot-16", "top = 35.85"),
    ):
        text += f'[[part]]\nname = "{name}"\nkind = "{kind}"\n{where}\n'
    (finding,) = (each for each in found(text).values() if each.severity == "stop")
    (move,) = finding.edits
    assert isinstance(move, Move)
    assert 5.0 < move.down_mm < 10.0
    cures(text)


@pytest.mark.long
@settings(max_examples=50, phases=[Phase.generate], suppress_health_check=list(HealthCheck))
@given(pedals())
def test_many_orders_clear_what_they_are_for(text: str) -> None:
    cures(text)
