"""Controls of a list as parts of a pedal: with their knobs and lamps, at the turns that they may have."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from mockup import knobs
from mockup.arrange.layouts.controls import Control, Wanted
from mockup.arrange.layouts.rows import FADER
from mockup.checks.panel.moves import TURNS_DEG, may_turn
from mockup.clearance.plugs import JACKS
from mockup.clearance.table import broken_by
from mockup.model.design import Placement
from mockup.model.enclosure import Enclosure, FaceName
from mockup.model.part import Knob, Lamp

LEAST_KNOB_MM = 11.0
TURN_COST = 0.15  # of a quarter turn off the usual one
LIT = (0.9, 0.02, 0.01)  # a red lamp, linear sRGB


def part_of(control: Control, face: FaceName, u: float, v: float, knob: Knob | None = None) -> Placement:
    """Return a control as a part in a place."""
    lamp = Lamp(colour=LIT, is_lit=True) if control.kind.is_lamp else None
    return Placement(
        name=control.name,
        kind=control.kind,
        face=face,
        u_mm=u,
        v_mm=v,
        rotation_deg=control.turn_deg or 0.0,
        knob=knob,
        lamp=lamp,
    )


def usual_turns(control: Control, part: Placement) -> Iterator[tuple[float, float]]:
    """Yield the turns that a control may have as a part on a face, with their cost, the trade's first choice first."""
    if control.turn_deg is not None:
        yield control.turn_deg, 0.0
        return
    first = 0.0
    if control.kind.family == JACKS:
        first = 270.0 if part.face == "left" else 90.0 if part.face == "right" else 180.0
    yield first, 0.0
    if may_turn(part):
        yield from (((first + turn) % 360.0, TURN_COST * (1 + (turn == 180.0))) for turn in TURNS_DEG)


def stances(wanted: Wanted) -> Iterator[Wanted]:
    """Yield a list with its faders along the box, as a hand pushes them, then across it; as it is without faders."""
    free = {each.name for each in wanted.controls if each.kind.family == FADER and each.turn_deg is None}
    for turn in (90.0, 0.0) if free else ():
        turned = (replace(each, turn_deg=turn) if each.name in free else each for each in wanted.controls)
        yield replace(wanted, controls=tuple(turned))
    if not free:
        yield wanted


def turned_to_fit(control: Control, part: Placement, box: Enclosure) -> Placement:
    """Return a pinned part at the first of its turns at which the box leaves it its room."""
    turned = [replace(part, rotation_deg=turn) for turn, _ in usual_turns(control, part)]
    return next((each for each in turned if not any(broken_by(box, each, (), {}))), turned[0])


def knob_of(control: Control, style: str, most_mm: float = math.inf) -> Knob | None:
    """Return the knob of a control, its style's own size or as small as it has to be; None without a shaft."""
    if control.kind.shaft is None:
        return None
    usual = knobs.default(style)
    size = max(LEAST_KNOB_MM, math.floor(min(usual.diameter_mm, most_mm)))
    return replace(usual, diameter_mm=float(size), height_mm=min(usual.height_mm, float(size)))
