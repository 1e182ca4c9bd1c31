"""The hand that holes are drilled with: how far it wanders, by a figure that is given or by one's own holes."""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from mockup.as_built import AsBuilt, FaceOff, as_built
from mockup.comparison.differences.words import length
from mockup.comparison.wander.options import OWN, WanderOptions
from mockup.files import BUILT_FILE
from mockup.geometry.rigid import best_move
from mockup.model.errors import Fault, InputError
from mockup.model.mesh import Floats
from mockup.model.units import Unit, parse_length
from mockup.options import bad_option

MOST_MM = 5.0  # a hole that lands farther off was not drilled by that template: our choice
MOST_TRIES = 200  # each takes seconds; the worst hardly changes from there on
LEAST_HOLES = 4  # that say anything of a hand: our choice
_LEAST_MM = 0.005  # of a hand's own spread: less is not written, and was not drilled by hand: our choice


@dataclass(frozen=True, kw_only=True)
class Hand:
    """How far a hand's holes land off, as the standard deviation along each axis.

    `holes` counts the measured holes that say so, 0 where the figure was given; `doubt_mm` is how far the least sure
    of them may be off; `moved` are those that the layout has moved since, which count by where they were aimed at.
    """

    deviation_mm: float
    holes: int = 0
    doubt_mm: float = 0.0
    moved: tuple[str, ...] = ()

    def words(self, units: Unit) -> str:
        """Return whose hand it is, with its figure; for one's own also what that rests on."""
        far = f"{length(round(self.deviation_mm, 2), units)} off along each axis"
        if not self.holes:
            return f"a hand that is {far}"
        said = (
            f"your own hand, {far}: from {self.holes} holes in {BUILT_FILE}, "
            f"measured to within {length(round(self.doubt_mm, 2), units)}"
        )
        if self.moved:
            said += f"; the layout has moved {', '.join(self.moved)} since, taken as drawn when they were drilled"
        return said


def asked_hand(asked: WanderOptions, layout: Path, variant: str | None, units: Unit) -> Hand:
    """Return the hand that is asked for; `InputError` where it, or another figure, is out of range.

    One's own is read from the holes as they were drilled, beside the layout.
    """
    text = (asked.wander or "").strip()
    if not 0 <= asked.seed < 2**32:
        raise bad_option("seed", "is out of range", f"the most is {2**32 - 1}")
    if not 1 <= asked.samples <= MOST_TRIES:
        raise bad_option("samples", "is out of range", f"the most is {MOST_TRIES}")
    if text.casefold() == OWN:
        return own_hand(as_built(layout, variant))
    try:
        deviation = parse_length(text, units)
    except ValueError as error:
        raise InputError(Fault(file="--wander", what=str(error))) from None
    if not 0 < deviation <= MOST_MM:
        raise _refused(f"{text!r} is out of range", f"give more than 0 and at most {MOST_MM:g} mm")
    return Hand(deviation_mm=deviation)


def own_hand(told: AsBuilt) -> Hand:
    """Return the hand that drilled a box: how its holes lie among themselves, each face's shift and turn apart.

    Each hole counts from where the layout had it when it was drilled, as far as that is kept.
    The root mean square of what is left along each axis; a shift takes two and a turn one of a face's figures away,
    so that few holes do not make a hand look steadier than it is. Raises `InputError` for fewer than `LEAST_HOLES`
    holes, holes that lie as drawn, and holes that are too far off.
    """
    patterns = [face for face in told.faces if len(face.holes) > 1]  # a lone hole is all shift
    measured = [hole for face in patterns for hole in face.holes]
    if len(measured) < LEAST_HOLES:
        lone = f" on faces with two or more; {len(told.holes)} altogether" if len(told.holes) > len(measured) else ""
        what = f"{BUILT_FILE} has {len(measured)} measured hole{'s' * (len(measured) != 1)}{lone}"
        raise _refused(what, f"a hand shows from {LEAST_HOLES} on; measure more, or give a length such as 0.5mm")
    squares = sum(float((_left(face) ** 2).sum()) for face in patterns)
    deviation = math.sqrt(squares / (2 * len(measured) - 3 * len(patterns)))
    if deviation < _LEAST_MM:
        raise _refused(f"the holes in {BUILT_FILE} lie as drawn", "there is nothing to show; give a length")
    if deviation > MOST_MM:
        what = f"the holes in {BUILT_FILE} are {deviation:.1f} mm off among themselves"
        raise _refused(what, f"expected at most {MOST_MM:g} mm: see mockup built for the hole that is far off")
    doubt = max(hole.built.doubt_mm for hole in measured)
    moved = tuple(hole.bore.words for hole in measured if hole.is_moved)
    return Hand(deviation_mm=deviation, holes=len(measured), doubt_mm=doubt, moved=moved)


def _left(face: FaceOff) -> Floats:
    """Return how far (n, 2) holes lie off what was aimed at, among themselves."""
    aims = np.array([each.aim_mm for each in face.holes])
    return best_move(aims, np.array([(each.built.u_mm, each.built.v_mm) for each in face.holes])).left


def _refused(what: str, remedy: str) -> InputError:
    return InputError(Fault(file="--wander", what=what, remedy=remedy))
