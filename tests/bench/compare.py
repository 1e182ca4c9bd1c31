"""Timings and memory of comparisons and sweeps, measured side by side in one run.

``python tests/bench/compare.py`` measures every row, ``python tests/bench/compare.py sheet memory`` some of
them; the rows are the functions in `ROWS`. Seconds of the processor count a command with all its worker
processes; seconds by the clock stand beside them. Every command starts with an empty store of its own.
"""

from __future__ import annotations

import os
import resource
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

ROOT = Path(__file__).parent.parent.parent
PEDAL = ROOT / "examples" / "lantern_moth" / "layout.toml"
SEPARATE = 4  # of the hundred separate processes are run, and multiplied
SIZE = "342x360"  # of each picture in a sweep of a hundred
CORES = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


class Run(NamedTuple):
    """Seconds of the processor and by the clock, and the most memory (MB) that all processes held at once."""

    cpu: float
    clock: float
    peak_mb: float


def main(wanted: list[str]) -> None:
    """Measure the rows asked for."""
    for name, row in ROWS.items():
        if not wanted or name in wanted:
            for line in row():
                sys.stdout.write(f"{name:8s} {line}\n")
                sys.stdout.flush()


def command(*args: str) -> Run:
    """Run one command of the program, with a store of its own, and measure it with its worker processes."""
    expected = (0, 1) if args[0] == "check" else (0,)  # a check that finds what stops the build says so
    with TemporaryDirectory() as folder:
        env = {**os.environ, "MOCKUP_CACHE": f"{folder}/kept", "PYTHONPATH": str(ROOT)}
        before, clock = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
        run = subprocess.Popen([sys.executable, "-m", "mockup", *args], cwd=folder, env=env, stdout=subprocess.DEVNULL)
        peak = [0.0]
        watch = threading.Thread(target=_watch, args=(run, peak))
        watch.start()
        run.wait()
        watch.join()
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        if run.returncode not in expected:
            raise SystemExit(f"mockup {' '.join(args)} ended with {run.returncode}")
    used = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    return Run(used, time.perf_counter() - clock, peak[0])


def _watch(run: subprocess.Popen[bytes], peak: list[float]) -> None:
    """Keep the largest sum of memory over a process and those it started, until it ends (Linux only)."""
    while run.poll() is None:
        peak[0] = max(peak[0], sum(_memory_mb(each) for each in _family(run.pid)))
        time.sleep(0.1)


def _family(pid: int) -> list[int]:
    children = Path(f"/proc/{pid}/task/{pid}/children")
    try:
        found = [int(each) for each in children.read_text().split()]
    except OSError:
        return []
    return [pid, *(each for child in found for each in _family(child))]


def _memory_mb(pid: int) -> float:
    """Return a process's memory with what it shares counted in part (PSS), so that sums mean something."""
    try:
        rows = Path(f"/proc/{pid}/smaps_rollup").read_text().splitlines()
    except OSError:
        return 0.0
    return next((int(row.split()[1]) / 1024 for row in rows if row.startswith("Pss:")), 0.0)


def paints(count: int) -> str:
    """Return that many different paints as a list."""
    return ",".join(
        f"#{(37 * i + 90) % 256:02x}{(91 * i + 40) % 256:02x}{(53 * i + 20) % 256:02x}" for i in range(count)
    )


def ratio(ours: Run, theirs: Run) -> str:
    """Return the ratio and both times."""
    return (
        f"{ours.cpu / theirs.cpu:5.2f}x processor, {ours.clock / theirs.clock:5.2f}x clock   "
        f"({ours.cpu:.1f} s processor, {ours.clock:.1f} s clock against {theirs.cpu:.1f} s, {theirs.clock:.1f} s)"
    )


def sheet() -> Iterator[str]:
    """A sheet of four at 1280 px, normal quality, against four still commands of the same size."""
    size = ("--size", "1280x960", "--view", "three-quarter")
    words = [f"{PEDAL}@{name}" for name in ("dusk", "ivory")]
    other = str(ROOT / "examples" / "night_ferry" / "layout.toml")
    ours = command("compare", f"{PEDAL}@", *words, other, *size, "-o", "sheet.png")
    layouts = [[str(PEDAL)], [str(PEDAL), "--variant", "dusk"], [str(PEDAL), "--variant", "ivory"], [other]]
    stills = [command("still", *each, *size, "-o", "a.png") for each in layouts]
    checks = [command("check", *each, "--json") for each in layouts]
    yield f"{ratio(ours, _sum(stills))}, its checks and differences included"
    yield f"{ratio(ours, _sum([*stills, *checks]))}, against four stills and four checks"


def _sum(runs: Sequence[Run], times: float = 1.0) -> Run:
    return Run(times * sum(each.cpu for each in runs), times * sum(each.clock for each in runs), 0.0)


def sweep() -> Iterator[str]:
    """A hundred paints, pictured and judged, against a hundred still (and check) commands."""
    ours = command("compare", str(PEDAL), "--paint", paints(100), "--size", SIZE, "--quality", "draft", "-o", "a.png")
    stills, checks = [], []
    for _ in range(SEPARATE):
        stills.append(command("still", str(PEDAL), "--size", SIZE, "--quality", "draft", "-o", "a.png"))
        checks.append(command("check", str(PEDAL), "--json"))
    about = f"{SEPARATE} of 100 separate ones run, one after the other; {CORES} cores"
    yield f"{ratio(ours, _sum(stills, 100 / SEPARATE))} of a hundred stills alone; {about}"
    yield f"{ratio(ours, _sum([*stills, *checks], 100 / SEPARATE))} of a hundred stills and checks"


def memory() -> Iterator[str]:
    """The most memory that all processes of a sweep held at once, by the number of pedals."""
    found = {}
    for count in (10, 40, 100):
        size = ("--size", SIZE, "--quality", "draft")
        found[count] = command("compare", str(PEDAL), "--paint", paints(count), *size, "-o", "a.png").peak_mb
    words = ", ".join(f"{count} pedals {peak:.0f} MB" for count, peak in found.items())
    yield f"{words}: {found[100] / found[10]:.2f}x from 10 to 100"


ROWS: dict[str, Callable[[], Iterator[str]]] = {"sheet": sheet, "sweep": sweep, "memory": memory}

if __name__ == "__main__":
    main(sys.argv[1:])
