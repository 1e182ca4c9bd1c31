"""How soon the command line answers: ``python tests/bench/start_up.py``; the goal is 3 times `import click`, or less.

Each is started afresh, in turns, so that what else the machine does falls on all of them alike.
"""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
RUNS = 15
GOAL = 3.0
STARTS = {
    "import click": ["-c", "import click"],
    "mockup --help": ["-m", "mockup", "--help"],
    "mockup --version": ["-m", "mockup", "--version"],
    "mockup still --help": ["-m", "mockup", "still", "--help"],
    "mockup compare --help": ["-m", "mockup", "compare", "--help"],
    "mockup template --help": ["-m", "mockup", "template", "--help"],
}


def processor_s(arguments: list[str]) -> float:
    """Return the processor time (s) of one start: no matter what else runs, unlike the clock."""
    process = subprocess.Popen([sys.executable, *arguments], cwd=ROOT, stdout=subprocess.DEVNULL)
    _, status, usage = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    assert process.returncode == 0, arguments
    return usage.ru_utime + usage.ru_stime


def main() -> int:
    """Print the median of each and how many times `import click` it is; 1 where `--help` misses the goal."""
    times: dict[str, list[float]] = {name: [] for name in STARTS}
    for _ in range(RUNS):
        for name, arguments in STARTS.items():
            times[name].append(processor_s(arguments))
    middle = {name: sorted(each)[RUNS // 2] for name, each in times.items()}
    for name, value in middle.items():
        sys.stdout.write(f"{name:24} {1000 * value:5.0f} ms  {value / middle['import click']:4.1f}x\n")
    return 0 if middle["mockup --help"] <= GOAL * middle["import click"] else 1


if __name__ == "__main__":
    sys.exit(main())
