"""What mending and arranging cost beside one whole check, and how many shaken pedals are mended.

``python tests/bench/mending.py`` measures both on a pedal of eight parts, in processor time, each from an empty
memory; ``python tests/bench/mending.py shaken 200`` shakes the gallery's pedals by up to 6 mm along each axis, turns
three parts of each by quarters, and mends them. The goals: 3 and 20 whole checks, and every one mended.
"""

from __future__ import annotations

import random
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import mockup
from mockup.arrange.problem import Places, Problem
from mockup.arrange.search import least_change
from mockup.checks.panel.moves import may_turn
from mockup.layout_proposals import propose
from mockup.memo import MEMORY
from mockup.model.design import Design

GALLERY = Path(__file__).parents[2] / "examples" / "gallery"
PEDAL = GALLERY / "ember_rail" / "layout.toml"  # eight parts, four of them too close to something
LIST = (
    "GAIN=pot-16 TONE=pot-16 LEVEL=pot-16 LAMP=lamp-5 BYPASS=footswitch IN=jack-enclosed OUT=jack-enclosed DC=dc-socket"
)
GOALS = {"mend": 3.0, "arrange": 20.0}
SHAKEN_MM, TURNED = 6.0, 3


def processor_s(work: Callable[[], object]) -> float:
    """Return the processor time (s) of some work from an empty memory."""
    MEMORY.clear()
    start = time.process_time()
    work()
    return time.process_time() - start


def ratios() -> dict[str, float]:
    """Return how many whole checks a mend and an arrangement cost."""
    design = mockup.load(PEDAL)
    once = processor_s(lambda: mockup.check(design))
    return {
        "mend": processor_s(lambda: mockup.mend(PEDAL)) / once,
        "arrange": processor_s(lambda: propose(LIST.split(), "112x60x31")) / once,
    }


def shaken(design: Design, seed: int) -> Places:
    """Return a pedal's parts, what is on a panel moved and three parts turned by chance."""
    chance = random.Random(seed)

    def off() -> float:
        return chance.uniform(-SHAKEN_MM, SHAKEN_MM)

    parts = [
        replace(each, u_mm=each.u_mm + off(), v_mm=each.v_mm + off()) if each.kind.mount == "panel" else each
        for each in design.parts
    ]
    turnable = [index for index, each in enumerate(parts) if may_turn(each)]
    for index in chance.sample(turnable, min(TURNED, len(turnable))):
        turn = parts[index].rotation_deg + chance.choice((90.0, 180.0, 270.0))
        parts[index] = replace(parts[index], rotation_deg=turn % 360.0)
    return tuple(parts)


def mended(count: int) -> int:
    """Shake and mend so many pedals, print those that are not mended, and return how many are."""
    designs = [mockup.load(path) for path in sorted(GALLERY.glob("*/layout.toml"))]
    good = 0
    for seed in range(count):
        design = designs[seed % len(designs)]
        problem = Problem(box=design.enclosure, parts=shaken(design, seed), own=design.limits)
        found = least_change(problem)
        good += found.is_good
        if not found.is_good:
            sys.stdout.write(f"{design.name}, seed {seed}: lacks {found.lacking_mm:.2f} mm\n")
    return good


def main() -> int:
    """Print the ratios, or how many shaken pedals are mended; 1 where a goal is missed."""
    if sys.argv[1:2] == ["shaken"]:
        count = int(sys.argv[2])
        good = mended(count)
        sys.stdout.write(f"{good} of {count} mended\n")
        return 0 if good == count else 1
    found = ratios()
    for name, ratio in found.items():
        sys.stdout.write(f"{name:8} {ratio:5.1f} whole checks (goal {GOALS[name]:g})\n")
    return 0 if all(found[name] <= goal for name, goal in GOALS.items()) else 1


if __name__ == "__main__":
    sys.exit(main())
