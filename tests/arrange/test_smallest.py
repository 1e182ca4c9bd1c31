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

from mockup.arrange.layouts.control_parts import knob_of, part_of
from mockup.arrange.layouts.controls import Control, controls
from mockup.arrange.layouts.proposals import volume
from mockup.checks.panel.moves import TURNS_DEG, may_turn
from mockup.clearance.free_places import free_places
from mockup.clearance.table import broken
from mockup.layout.resolve import favourite_style
from mockup.layout_proposals import OPEN_MM, propose
from mockup.model.design import Placement
from mockup.model.enclosure import Enclosure, faces
from mockup.model.mesh import Floats

GRID_MM = 1.0
ROUNDED_MM = 0.1  # what places written to a tenth of a millimetre take of the room between two parts
STYLE = favourite_style()
CASES = {  # boxes, or one with an open measure, and what goes on them
    "a pot": ("24x24x25,26x26x25,28x28x25,30x30x25,32x32x25,36x36x25", "V=pot-16@top"),
    "a large pot": ("34x34x25,36x36x25,38x38x25,39x39x25,40x40x25,44x44x25,50x50x25", "V=pot-24@top"),
    "a footswitch": ("24x24x35,28x28x35,32x32x35,33x33x35,34x34x35,36x36x35,40x40x35", "S=footswitch@top"),
    "a jack": ("70x?x31", "IN=jack-enclosed@right"),
    "a battery": ("70x?x31", "BAT=battery-9v"),
    "two pots across": ("60x?x31", "A=pot-16@top B=pot-16@top"),
    "two pots along": ("?x34x31", "A=pot-16@top B=pot-16@top"),
    "a pot and a jack": ("60x?x31", "V=pot-16@top IN=jack-enclosed@right"),
    "two jacks": ("?x40x31", "IN=jack-enclosed@right OUT=jack-enclosed@left"),
    "a footswitch and a pot": ("?x40x31", "S=footswitch@top V=pot-16@top"),
    "a pot and a socket": (
        "26x34x31,28x34x31,30x34x31,32x34x31,33x34x31,34x34x31,35x34x31,36x34x31,38x34x31,40x34x31",
        "V=pot-16@top DC=dc-socket@far",
    ),
    "a switch and a lamp": (
        "30x26x35,34x26x35,38x26x35,42x26x35,44x26x35,45x26x35,46x26x35,47x26x35,52x26x35",
        "S=footswitch@top LAMP=lamp-5@top",
    ),
}
IN_SUITE = ("a pot", "a footswitch")


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
            free = free_places(box, here, there, {}, places).spare_mm >= ROUNDED_MM
            if len(wanted) == 1 and free.any():
                return True
            if any(
                has_layout(box, wanted[1:], (*there, replace(here, u_mm=u, v_mm=v))) for u, v in places[free].tolist()
            ):
                return True
    return False


def smaller(box: str, found: str) -> list[Enclosure]:
    """Return the boxes of a list that are smaller than what was found, or the one a millimetre less where one is open.

    A smaller one has a layout wherever a still smaller one has.
    """
    if "," in box:
        every = [made([float(each) for each in word.split("x")]) for word in box.split(",")]
        return [each for each in every if volume(each) < volume(made([float(each) for each in found.split("x")]))]
    measures = [float(each) for each in found.split("x")]
    (index,) = (index for index, each in enumerate(box.split("x")) if each == "?")
    measures[index] -= 1.0
    return [made(measures)] if measures[index] >= OPEN_MM[index][0] else []


def made(measures: Sequence[float]) -> Enclosure:
    length, width, height = measures
    return Enclosure(width_mm=width, length_mm=length, height_mm=height)


@pytest.mark.slow
@pytest.mark.parametrize(
    "name", [pytest.param(each, marks=[pytest.mark.long] * (each not in IN_SUITE)) for each in CASES]
)
def test_the_smallest_box_is_the_smallest_there_is(name: str) -> None:
    box, words = CASES[name]
    found = propose(words.split(), box, count=1)
    boxes = smaller(box, found.box)
    assert boxes, "a case that proves nothing"
    assert not [each for each in boxes if has_layout(each, controls(words.split()).controls)]
