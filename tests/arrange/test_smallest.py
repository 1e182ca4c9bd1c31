"""The smallest box that the arranger finds is the smallest there is: exhaustive search finds nothing in the next one.

The search tries every place on a grid of a millimetre, at every quarter turn that a part may have, and keeps to no
order at all. It shares the rules of room with the arranger, and those have the solid library as their oracle
(`tests/clearance`); schemes, programs and the search for sockets are what is tried here.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np
import pytest

from mockup.arrange.controls import Control, controls
from mockup.arrange.schemes import knob_of, part_of
from mockup.checks.panel.moves import TURNS_DEG, may_turn
from mockup.clearance.free_places import free_places
from mockup.clearance.table import broken
from mockup.layout.resolve import favourite_style
from mockup.layout_proposals import OPEN_MM, propose
from mockup.model.design import Placement
from mockup.model.enclosure import Enclosure, faces
from mockup.model.mesh import Floats

GRID_MM = 1.0
STYLE = favourite_style()
CASES = {  # a box with its open measure, and what goes on it
    "a pot, length": ("?x40x30", "V=pot-24@top"),
    "a pot, height": ("60x40x?", "V=pot-24@top"),
    "a footswitch, width": ("80x?x31", "S=footswitch@top"),
    "a socket, length": ("?x40x30", "DC=dc-socket@right"),
    "a jack, width": ("70x?x31", "IN=jack-enclosed@right"),
    "a jack, height": ("70x50x?", "IN=jack-enclosed@right"),
    "a battery, width": ("70x?x31", "BAT=battery-9v"),
    "two pots, width": ("60x?x31", "A=pot-16@top B=pot-16@top"),
    "two pots, length": ("?x34x31", "A=pot-16@top B=pot-16@top"),
    "a pot and a socket, length": ("?x34x31", "V=pot-16@top DC=dc-socket@far"),
    "a switch and a lamp, length": ("?x40x31", "S=footswitch@top LAMP=lamp-5@top"),
    "a pot and a jack, height": ("60x40x?", "V=pot-16@top IN=jack-enclosed@right"),
}
IN_SUITE = ("a pot, height", "two pots, width")


def turned(control: Control) -> Iterator[Placement]:
    """Yield a part at each turn that it may have, with the smallest knob that the arranger gives."""
    part = part_of(control, control.faces[0] if control.faces else "top", 0.0, 0.0, knob_of(control, STYLE, 0.0))
    may = may_turn(part) or part.kind.mount == "inside"
    yield from (replace(part, rotation_deg=turn) for turn in ((0.0, *TURNS_DEG) if may else (0.0,)))


def grid(box: Enclosure, part: Placement) -> Floats:
    face = faces(box)[part.face]
    across, down = (np.arange(mm / 2 % GRID_MM, mm, GRID_MM) for mm in (face.width_mm, face.height_mm))
    return np.stack(np.meshgrid(across, down), axis=-1).reshape(-1, 2)


def depths(box: Enclosure, part: Placement) -> Sequence[float]:
    if part.kind.mount != "inside":
        return (0.0,)
    return np.arange(0.0, max(box.body_mm - box.top_mm - part.kind.depth_mm, 0.0) + 0.01, 0.25).tolist()


def has_layout(box: Enclosure, wanted: Sequence[Control], there: tuple[Placement, ...] = ()) -> bool:
    """Return whether any places on the grid leave everything its room."""
    if not wanted:
        return not [each for each in broken(box, there, {}) if each.spare_mm < -0.005]
    for part in turned(wanted[0]):
        places = grid(box, part)
        for depth in depths(box, part):
            here = replace(part, depth_mm=depth)
            free = free_places(box, here, there, {}, places).kept
            if len(wanted) == 1 and free.any():
                return True
            if any(
                has_layout(box, wanted[1:], (*there, replace(here, u_mm=u, v_mm=v))) for u, v in places[free].tolist()
            ):
                return True
    return False


def next_smaller(box: str, found: str) -> Enclosure | None:
    """Return the box whose open measure is a millimetre less than was found; None where no box is smaller."""
    measures = [float(each) for each in found.split("x")]
    (index,) = (index for index, each in enumerate(box.split("x")) if each == "?")
    measures[index] -= 1.0
    length, width, height = measures
    least = OPEN_MM[index][0]
    return None if measures[index] < least else Enclosure(width_mm=width, length_mm=length, height_mm=height)


@pytest.mark.slow
@pytest.mark.parametrize(
    "name", [pytest.param(each, marks=[pytest.mark.long] * (each not in IN_SUITE)) for each in CASES]
)
def test_the_smallest_box_is_the_smallest_there_is(name: str) -> None:
    box, words = CASES[name]
    found = propose(words.split(), box, count=1)
    smaller = next_smaller(box, found.box)
    assert smaller is not None, "a case that proves nothing"
    assert not has_layout(smaller, controls(words.split()).controls)
