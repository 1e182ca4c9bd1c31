"""What sloppy costs: the same pedal as hands may drill it and lay its decals, by seeded chance.

One figure says how sloppy: the standard deviation, along each axis, of where a hole's centre lands. Along
both together 39 of 100 holes then land within it, 86 within twice as far (Rayleigh distribution). Every hole
goes its own way and its part follows; hole sizes stay. Each decal is shifted with the same deviation along
each axis and turned so that its far ends move sideways with it as well. That decals are laid as well as
holes are drilled, and that both err like this, is common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from mockup import cache
from mockup.checks.art.printed import printed_round
from mockup.comparison.sweep import job
from mockup.comparison.sweep.job import Job, Measured
from mockup.enclosure import bores
from mockup.geometry.planar import box_on_face, off_middle
from mockup.model.design import Design
from mockup.model.errors import OutputError
from mockup.model.finish import Decal
from mockup.model.label import Label
from mockup.options import Progress, silent

CORNER = 2.0  # deviations: how far off the corner cases are, which 86 of 100 holes keep within
_CORNERS = (
    ("right and down", 1.0, 1.0),
    ("left and down", -1.0, 1.0),
    ("right and up", 1.0, -1.0),
    ("left and up", -1.0, -1.0),
)


@dataclass(frozen=True, kw_only=True)
class Slip:
    """How one decal was laid: shifted (mm) and turned clockwise (degrees) about its middle."""

    right_mm: float
    down_mm: float
    turn_deg: float


@dataclass(frozen=True, kw_only=True, eq=False)
class Try:
    """One way it may come out: what it is called, the pedal, and how far print and holes are apart.

    `off` maps each part that something is printed round to the distance (mm) between where the print
    expects its middle and where its hole is; `slipped_mm` is the farthest that any print came to lie from
    where it is drawn.
    """

    label: str
    design: Design
    off: Mapping[str, float]
    slipped_mm: float = 0.0

    @property
    def off_mm(self) -> float:
        """The largest of those distances, 0 where there is none."""
        return max(self.off.values(), default=0.0)

    @property
    def off_part(self) -> str:
        """The part of that, "" where there is none."""
        return max(self.off, key=lambda name: self.off[name], default="")


def tries(design: Design, deviation_mm: float, seed: int, samples: int) -> Iterator[Try]:
    """Yield `samples` seeded tries and then the four corners: every hole off one way, every decal the other.

    A try depends on seed and number only, not on how many there are.
    """
    round_it = printed_round(design)
    for number in range(1, samples + 1):
        chance = np.random.default_rng([seed, number])
        off = {part.name: chance.normal(0.0, deviation_mm, 2).tolist() for part in design.parts}
        slips = [_slip(decal, deviation_mm, chance) for decal in design.decals]
        yield _tried(f"try {number}", design, off, slips, round_it)
    step = CORNER * deviation_mm / math.sqrt(2.0)
    for words, right, down in _CORNERS:
        off = {part.name: [right * step, down * step] for part in design.parts}
        slips = [Slip(right_mm=-right * step, down_mm=-down * step, turn_deg=0.0) for _ in design.decals]
        yield _tried(f"every hole off {words}", design, off, slips, round_it)


def _slip(decal: Decal, deviation_mm: float, chance: np.random.Generator) -> Slip:
    reach = math.hypot(decal.width_mm, decal.height_mm) / 2
    right, down, turn = chance.normal(0.0, deviation_mm, 3).tolist()
    return Slip(right_mm=right, down_mm=down, turn_deg=math.degrees(turn / reach))


def _tried(
    label: str, design: Design, off: dict[str, list[float]], slips: Sequence[Slip], round_it: frozenset[str]
) -> Try:
    parts = bores.off(design, off).parts
    laid = tuple(_laid(decal, slip) for decal, slip in zip(design.decals, slips, strict=True))
    labels = tuple(_carried(label, design.decals, slips) for label in design.labels)
    gaps: dict[str, float] = {}
    for before, after in zip(design.parts, parts, strict=True):
        slip = next((each for each in _over(before.face, before.u_mm, before.v_mm, design.decals, slips)), None)
        if slip is not None and before.name in round_it:
            u, v = _moved(before.u_mm, before.v_mm, *slip)
            gaps[before.name] = math.hypot(after.u_mm - u, after.v_mm - v)
    drilled = replace(design, parts=parts, decals=laid, labels=labels)
    slipped = max((_reach(decal, slip) for decal, slip in zip(design.decals, slips, strict=True)), default=0.0)
    return Try(label=label, design=drilled, off=gaps, slipped_mm=slipped)


def _reach(decal: Decal, slip: Slip) -> float:
    """Return how far the corner of a decal that went farthest has gone, in mm."""
    corners = box_on_face((decal.width_mm, decal.height_mm), (decal.u_mm, decal.v_mm), decal.rotation_deg)
    return max(math.dist((u, v), _moved(u, v, decal, slip)) for u, v in corners.tolist())


def _laid(decal: Decal, slip: Slip) -> Decal:
    return replace(
        decal,
        u_mm=decal.u_mm + slip.right_mm,
        v_mm=decal.v_mm + slip.down_mm,
        rotation_deg=decal.rotation_deg + slip.turn_deg,
    )


def _carried(label: Label, decals: Sequence[Decal], slips: Sequence[Slip]) -> Label:
    """Return a label where its decal has come to be."""
    found = next((each for each in _over(label.face, label.u_mm, label.v_mm, decals, slips)), None)
    if found is None:
        return label
    u, v = _moved(label.u_mm, label.v_mm, *found)
    return replace(label, u_mm=u, v_mm=v, rotation_deg=label.rotation_deg + found[1].turn_deg)


def _over(
    face: str, u: float, v: float, decals: Sequence[Decal], slips: Sequence[Slip]
) -> Iterator[tuple[Decal, Slip]]:
    """Yield the decals over a place, with how they slipped, the uppermost first."""
    for decal, slip in reversed(list(zip(decals, slips, strict=True))):
        if decal.face == face:
            along, across = off_middle((u, v), (decal.u_mm, decal.v_mm), decal.rotation_deg)
            if abs(along) <= decal.width_mm / 2 and abs(across) <= decal.height_mm / 2:
                yield decal, slip


def _moved(u: float, v: float, decal: Decal, slip: Slip) -> tuple[float, float]:
    """Return where a place on a decal comes to be; clockwise as seen, v down."""
    right, down = off_middle((u, v), (decal.u_mm, decal.v_mm), -slip.turn_deg)
    return decal.u_mm + slip.right_mm + right, decal.v_mm + slip.down_mm + down


def measured(designs: Sequence[Design], progress: Progress = silent) -> tuple[tuple[Measured, ...], tuple[str, ...]]:
    """Return the figures of designs in order, using every core and the store, and notes; or raise `OutputError`."""
    store, notes = cache.usable()
    named = [job.names(job.content(design)) for design in designs]
    missing = [index for index, names in enumerate(named) if job.measured(store, names.figures) is None]
    progress(len(designs) - len(missing), len(designs), "tries")
    jobs = (Job(design=designs[index], names=named[index], store=store) for index in missing)
    failure = ""
    kept = {names.figures for names in named}
    for number, done in enumerate(job.worked_off(store, jobs, len(missing), kept), len(designs) - len(missing) + 1):
        failure = done.failure or failure
        progress(number, len(designs), "tries")
    found = [figures for names in named if (figures := job.measured(store, names.figures)) is not None]
    if len(found) < len(designs):
        raise OutputError(failure or f"{store.folder}: what was kept there vanishes again")
    return tuple(found), notes


def worst(tried: Sequence[Try], figures: Sequence[Measured]) -> int:
    """Return the number (from 0) of the try with most stops, then warnings, hidden lettering, print off its hole."""

    def cost(index: int) -> tuple[float, ...]:
        found = figures[index].figures
        hidden = round(found.most_hidden or 0.0, 2)
        return (found.stops, found.warnings, hidden, tried[index].off_mm)

    return max(range(len(tried)), key=cost)
