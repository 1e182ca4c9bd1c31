"""Whether a control has room in a box by itself: what has not there fits in no layout of that box."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from mockup.arrange.layouts.control_parts import knob_of, part_of
from mockup.arrange.layouts.controls import Control, Wanted
from mockup.arrange.layouts.rows import FADER, is_on_top
from mockup.checks.panel.moves import TURNS_DEG, may_turn
from mockup.clearance.free_places import free_places
from mockup.memo import memoize
from mockup.model.design import Placement
from mockup.model.enclosure import Enclosure, FaceName, faces

GRIDS_MM = (4.0, 0.5)  # between two places that are tried: most parts have room on the first grid
SLACK_MM = 0.4  # what lacks no more at a place may have room between it and the next
DEPTHS = 8  # levels of what lies inside, from the top to the lid
SIDES: tuple[FaceName, ...] = ("left", "right", "far")


def without_room(wanted: Wanted, box: Enclosure, style: str) -> tuple[Control, ...]:
    """Return the controls of a list that have no room even by themselves, on no face that they may have."""
    return tuple(each for each in wanted.controls if not any(has_room(each, box, face, style) for face in _faces(each)))


def has_room(control: Control, box: Enclosure, face: FaceName, style: str) -> bool:
    """Return whether there is any place on a face, at any turn that it may have, where nothing but the box counts."""
    usual = knob_of(control, style, 0.0)  # the smallest
    part = part_of(replace(control, name=""), face, 0.0, 0.0, usual)
    turns: tuple[float, ...] = (part.rotation_deg,)
    is_free = may_turn(part) or control.kind.mount == "inside" or control.kind.family == FADER
    if control.turn_deg is None and is_free:
        turns = (0.0, *TURNS_DEG)
    return any(_is_free_somewhere(box, replace(part, rotation_deg=turn), control.pinned_at(box)) for turn in turns)


def _faces(control: Control) -> tuple[FaceName, ...]:
    if control.faces:
        return control.faces
    return ("top",) if is_on_top(control) or control.kind.mount == "inside" else SIDES


@memoize
def _is_free_somewhere(box: Enclosure, part: Placement, pin: tuple[float, float] | None) -> bool:
    face = faces(box)[part.face]
    levels = [*_depths(box, part)] if part.kind.mount == "inside" else [part.depth_mm]
    for grid in GRIDS_MM:
        steps = [np.arange(mm / 2 % grid, mm, grid) for mm in (face.width_mm, face.height_mm)]
        places = np.stack(np.meshgrid(*steps), axis=-1).reshape(-1, 2) if pin is None else np.array([pin])
        for level in levels:
            found = free_places(box, replace(part, depth_mm=level), (), {}, places)
            if (found.spare_mm >= -SLACK_MM).any():
                return True
    return False


def _depths(box: Enclosure, part: Placement) -> Iterator[float]:
    low = box.body_mm - box.top_mm - part.kind.depth_mm
    yield from np.linspace(0.0, max(low, 0.0), DEPTHS).tolist()
