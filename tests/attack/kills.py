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
import os, pathlib, sys
from mockup import transaction
for line in sys.stdin:
    place, round = pathlib.Path(line.rstrip()), 0
    child = os.fork()
    while not child:
        round += 1
        transaction.write({place / name: (b"%06d" % round) * 2000 for name in sys.argv[1:]})
        if round == 1:
            print(os.getpid(), flush=True)
    os.waitpid(child, 0)
    print("ended", flush=True)
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
    command = [sys.executable, "-c", _ENDLESS, *NAMES]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as programs:
        assert programs.stdin is not None
        assert programs.stdout is not None
        for number in range(kills):
            place = folder / str(number)
            place.mkdir()
            programs.stdin.write(f"{place}\n")
            programs.stdin.flush()
            begun = int(programs.stdout.readline())
            time.sleep(chance.uniform(0.0, 0.03))
            os.kill(begun, signal.SIGKILL)
            assert programs.stdout.readline() == "ended\n"
            torn += len(_generations(place)) > 1
            transaction.recover(place)  # what the next run does first that writes there
            mixed += len(_generations(place)) > 1
            left += sum(any(each.iterdir()) for each in place.rglob(".mockup-*"))
    return Killed(kills=kills, torn=torn, mixed=mixed, left=left)


def _generations(place: Path) -> set[bytes]:
    return {(place / name).read_bytes() for name in NAMES}
