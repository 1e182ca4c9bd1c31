"""A long run of random edits and undos of parts and box: `python tests/bench/part_edits.py [STEPS]`."""

from __future__ import annotations

import os
import sys
import tempfile
import time
from pathlib import Path

STEPS = 100  # of one sequence
sys.path.append(str(Path(__file__).parents[1] / "window" / "parts"))


def main(steps: int) -> None:
    """Run sequences of edits until so many steps are done; an assertion tells what went wrong."""
    from hypothesis import HealthCheck, settings
    from hypothesis.stateful import run_state_machine_as_test
    from part_machine import PartMachine

    start = time.perf_counter()
    with tempfile.TemporaryDirectory() as folder:
        os.environ["MOCKUP_SETTINGS"] = str(Path(folder) / "settings")
        machine = type("Machine", (PartMachine,), {"folder": Path(folder)})
        run_state_machine_as_test(
            machine,
            settings=settings(
                max_examples=max(steps // STEPS, 1), stateful_step_count=STEPS, deadline=None, database=None,
                suppress_health_check=list(HealthCheck),
            ),
        )  # fmt: skip
    sys.stdout.write(f"{steps} steps in {time.perf_counter() - start:.0f} s: nothing wrong\n")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 10_000)
