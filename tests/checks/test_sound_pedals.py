"""The catalogue alone, and pedals as builders build them: nothing stops, nothing warns, hardly anything is noted."""

from __future__ import annotations

import pytest

import mockup
from mockup.checks.report.run import run
from mockup.checks.report.sentences import what
from mockup.enclosure.sizes import SIZES
from mockup.hardware import kinds
from mockup.model.part import Kind
from mockup.model.shape import Turned

FIT = (
    "battery-clip",
    "bodies",
    "drill-sizes",
    "hole-edges",
    "knob-gaps",
    "knob-overlaps",
    "knob-seats",
    "lamp-view",
    "lever-throws",
    "plug-bodies",
    "plug-tips",
    "seats",
    "shoe-room",
    "thread-length",
    "tool-room",
    "webs",
)


def half_mm(kind: Kind) -> float:
    """Return how far a kind reaches from its axis at most, inside and outside."""
    reach = [0.0]
    for solid in (*kind.above, *kind.below):
        across = (
            max(r for r, _ in solid.profile)
            if isinstance(solid, Turned)
            else max(solid.outline.width_mm, solid.outline.height_mm) / 2
        )
        reach.append(max(map(abs, solid.at)) + across)
    return max(reach)


@pytest.mark.parametrize("size", SIZES)
def test_the_catalogue_does_not_accuse_itself(size: str) -> None:
    """Every kind alone in the middle of a painted top, in every box that is deep and wide enough for it."""
    box, tried = SIZES[size], 0
    for name, kind in kinds().items():
        inside = box.height_mm - box.top_mm - box.lid_mm
        if kind.depth_mm > inside - 4.0 or half_mm(kind) > min(box.width_mm, box.length_mm) / 2 - box.wall_mm - 4.0:
            continue
        tried += 1
        part = f'[[part]]\nname = "X"\nkind = "{name}"\n' + ("depth = 2\n" if kind.mount == "inside" else "")
        text = f'[box]\nsize = "{size}"\n[finish]\npaint = "#e0d8c0"\n{part}'
        assert [what(each, "mm") for each in run(mockup.loads(text), FIT)] == [], name
    assert tried >= 6


# Four ordinary pedals of ours, each with what a builder would put where: three knobs stagger, jacks high on the
# sides with their lugs turned to the middle of the side, power at the far side.
_JACKS = """
[[part]]
name = "IN"
kind = "{kind}"
face = "right"
rotation = 90
left = {left}
top = {top}
[[part]]
name = "OUT"
kind = "{kind}"
face = "left"
rotation = 270
right = {left}
top = {top}
[[part]]
name = "DC"
kind = "dc-socket"
face = "far"
top = {top}
"""


def pedal(size: str, jacks: str, *parts: str) -> str:
    head = f'[box]\nsize = "{size}"\n[finish]\npaint = "#d9cfb8"\n'
    return head + jacks + "".join(f"[[part]]\n{each.replace('; ', chr(10))}\n" for each in parts)


ENCLOSED, OPEN = "jack-enclosed", "jack-open"
PEDALS = {
    "three knobs": pedal(
        "112x60x31",
        _JACKS.format(kind=ENCLOSED, left=52, top=14),
        'name = "DRIVE"; kind = "pot-16"; left = 16; top = 22; knob = { style = "dome", diameter = 15 }',
        'name = "TONE"; kind = "pot-16"; top = 43.5; knob = { style = "dome", diameter = 15 }',
        'name = "LEVEL"; kind = "pot-16"; right = 16; top = 22; knob = { style = "dome", diameter = 15 }',
        'name = "LED"; kind = "lamp-5"; top = 70',
        'name = "STOMP"; kind = "footswitch"; bottom = 20',
    ),
    "two knobs, a toggle and open jacks": pedal(
        "121x66x39",
        _JACKS.format(kind=OPEN, left=62, top=18),
        'name = "VOL"; kind = "pot-16"; left = 17; top = 28; knob = { style = "conical", diameter = 20 }',
        'name = "FUZZ"; kind = "pot-16"; right = 17; top = 28; knob = { style = "conical", diameter = 20 }',
        'name = "FAT"; kind = "toggle-mini"; top = 30',
        'name = "LED"; kind = "lamp-5"; top = 52',
        'name = "STOMP"; kind = "footswitch"; bottom = 22',
    ),
    "a battery": pedal(
        "121x66x39",
        _JACKS.format(kind=ENCLOSED, left=88, top=16).split('[[part]]\nname = "DC"')[0],
        'name = "VOL"; kind = "pot-16"; top = 20; knob = { style = "barrel", diameter = 20 }',
        'name = "CELL"; kind = "battery-9v"; top = 62; depth = 13.2; rotation = 90',
        'name = "LED"; kind = "lamp-5"; top = 80',
        'name = "STOMP"; kind = "footswitch"; bottom = 20',
    ),
    "a rotary switch between large pots": pedal(
        "145x121x39",
        _JACKS.format(kind=OPEN, left=80, top=18),
        'name = "MODE"; kind = "rotary-switch"; top = 34; knob = { style = "bar", diameter = 24 }',
        'name = "A"; kind = "pot-24"; left = 28; top = 34; knob = { style = "stepped", diameter = 24 }',
        'name = "B"; kind = "pot-24"; right = 28; top = 34; knob = { style = "stepped", diameter = 24 }',
        'name = "LED"; kind = "lamp-5"; top = 78',
        'name = "STOMP"; kind = "footswitch"; bottom = 24',
    ),
}


def test_sound_pedals_are_left_alone() -> None:
    found = {name: run(mockup.loads(text), FIT) for name, text in PEDALS.items()}
    assert {name: [what(each, "mm") for each in told if each.severity != "note"] for name, told in found.items()} == {
        name: [] for name in PEDALS
    }
    assert sum(len(told) for told in found.values()) <= len(PEDALS)
    assert max(len(told) for told in found.values()) <= 1
