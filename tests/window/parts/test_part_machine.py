"""Random edits and undos of parts and box; `python tests/bench/part_edits.py 10000` makes a long run of it."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings
from hypothesis.stateful import run_state_machine_as_test

sys.path.append(str(Path(__file__).parent))  # for part_machine, which is no test
from part_machine import PartMachine


@pytest.mark.slow  # some hundred edits, each read back: 20 s, measured
def test_after_undoing_all_the_file_is_byte_for_byte_what_it_was(tmp_path: Path) -> None:
    machine = type("Machine", (PartMachine,), {"folder": tmp_path})
    run_state_machine_as_test(
        machine,
        settings=settings(max_examples=8, stateful_step_count=25, suppress_health_check=list(HealthCheck)),
    )
