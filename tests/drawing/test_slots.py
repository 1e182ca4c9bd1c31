"""How a slot is made by hand: a drill at both ends, a chain of holes between, a file; and what to mind."""

from __future__ import annotations

import pytest

import mockup
from mockup.drawing.holes import Hole, drill_words, holes
from mockup.drawing.paper import CAUTIONS, cautions
from mockup.model.enclosure import faces


def slots(kind: str) -> list[Hole]:
    design = mockup.loads(f'name = "X"\n[box]\nsize = "145x121x39"\n[[part]]\nname = "A"\nkind = "{kind}"\ntop = 60\n')
    return [each for each in holes(design, faces(design.enclosure), "mm") if each.bore.purpose == "slot"]


@pytest.mark.parametrize(
    ("kind", "words"),
    [  # slot of 36 x 3: ends 33 apart, 9 steps of at least 3 and 0.5; of 66 x 3: 63 apart, 18 steps
        ("fader-30", "2 > 3, at both ends; 8 more between in a chain, 3.67 apart; file to the line"),
        ("fader-60", "2 > 3, at both ends; 17 more between in a chain, 3.5 apart; file to the line"),
        ("slide-switch", "3 > 6 > 6.6, at both ends; file between"),  # ends 8.4 apart: no room for a third of 6.6
    ],
)
def test_a_slot_is_told_step_by_step(kind: str, words: str) -> None:
    (slot,) = slots(kind)
    assert drill_words(slot, "mm") == words


def test_a_chain_of_holes_brings_its_caution() -> None:
    assert "do not touch" in " ".join(cautions(slots("fader-30")))
    assert cautions(slots("slide-switch")) == CAUTIONS
