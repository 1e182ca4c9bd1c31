"""How sloppy the hands are that a pedal is pictured for."""

from __future__ import annotations

from dataclasses import dataclass

from mockup.comparison.options import CompareOptions
from mockup.options import option
from mockup.picture.options import view_names

OWN = "own"
"""The word for one's own hand, as the holes that were measured show it."""


@dataclass(frozen=True, kw_only=True)
class WanderOptions(CompareOptions):
    """How far holes land off, how often it is tried, and how the outcome is pictured.

    Marks are left out by default: they would lie over what there is to see.
    """

    wander: str | None = option(
        None,
        "as hands drill it: a hole's standard deviation on each axis, such as 0.5mm, or own, from your holes in "
        "built.toml",
        metavar="LENGTH",
    )
    seed: int = option(1, "wander: another number, another hand")
    samples: int = option(
        12, "wander: how many tries by chance; the worst is of these and of the four with every hole off one way"
    )
    view: tuple[str, ...] = option(("above",), "where the camera stands; repeat for several", choices=view_names)
    marks: bool = option(False, "point at the differences in the pictures")
