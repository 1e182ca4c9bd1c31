"""Seconds of the processor that a check takes here and in another tree of the program, in turns in one run.

``python tests/bench/checks.py OTHER_TREE [LAYOUT ...]``: its art was read before, except in the first run, which
stands apart. The layouts are the examples of the other tree by default. Each tree has a store of its own.
"""

from __future__ import annotations

import os
import resource
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory

ROOT = Path(__file__).parent.parent.parent
EXAMPLES = ("copper_kettle", "lantern_moth", "night_ferry")
TURNS = 3


def main(other: str, layouts: list[str]) -> None:
    """Measure each layout in both trees."""
    for layout in layouts or [str(Path(other) / "examples" / name / "layout.toml") for name in EXAMPLES]:
        with TemporaryDirectory() as one, TemporaryDirectory() as two:
            first = _seconds(ROOT, layout, one)
            _seconds(Path(other), layout, two)
            pairs = [(_seconds(Path(other), layout, two), _seconds(ROOT, layout, one)) for _ in range(TURNS)]
        before, now = (min(each) for each in zip(*pairs, strict=True))
        name = Path(layout).parent.name
        sys.stdout.write(
            f"{name:16s} other {before:.2f} s, here {now:.2f} s ({now / before:.2f}x), first {first:.2f} s\n"
        )
        sys.stdout.flush()


def _seconds(tree: Path, layout: str, store: str) -> float:
    """Return what one check takes, all its processes together, with a store that is kept between calls."""
    env = {
        **os.environ,
        "MOCKUP_CACHE": store,
        "PYTHONPATH": str(tree),
        "OMP_NUM_THREADS": "1",
        "OPENBLAS_NUM_THREADS": "1",
    }
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    run = subprocess.run(
        [sys.executable, "-m", "mockup", "check", layout, "--json"], cwd=store, env=env, stdout=subprocess.DEVNULL
    )
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    if run.returncode not in (0, 1):
        raise SystemExit(f"the check of {layout} in {tree} ended with {run.returncode}")
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2:])
