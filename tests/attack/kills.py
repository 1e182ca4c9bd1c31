"""Programs killed at random moments: a set of files is all old or all new, and nothing stays behind."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import time
from dataclasses import dataclass
from pathlib import Path

from mockup import transaction

NAMES = ("a.png", "b.png", "c.png", "frames/0.png", "frames/1.png", "frames/2.png")
_ENDLESS = """
import pathlib, sys
from mockup import transaction
place = pathlib.Path(sys.argv[1])
round = 0
while True:
    round += 1
    transaction.write({place / name: (b"%06d" % round) * 2000 for name in sys.argv[2:]})
    print(round, flush=True)
"""


@dataclass(frozen=True, kw_only=True)
class Killed:
    """How many programs were killed, how many sets were mixed just then, and how many after the next run."""

    kills: int
    torn: int
    mixed: int
    left: int


def killed(folder: Path, kills: int, chance: random.Random) -> Killed:
    """Kill a program that writes one set of files after the other, each time at another moment."""
    torn = mixed = left = 0
    for number in range(kills):
        place = folder / str(number)
        place.mkdir()
        command = [sys.executable, "-c", _ENDLESS, str(place), *NAMES]
        with subprocess.Popen(command, stdout=subprocess.PIPE) as process:
            assert process.stdout is not None
            process.stdout.readline()
            time.sleep(chance.uniform(0.0, 0.03))
            os.kill(process.pid, signal.SIGKILL)
            process.wait(20)
        torn += len(_generations(place)) > 1
        transaction.recover(place)  # what the next run does first that writes there
        mixed += len(_generations(place)) > 1
        left += sum(any(each.iterdir()) for each in place.rglob(".mockup-*"))
    return Killed(kills=kills, torn=torn, mixed=mixed, left=left)


def _generations(place: Path) -> set[bytes]:
    return {(place / name).read_bytes() for name in NAMES}
