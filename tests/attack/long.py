"""The attack for as long as one likes: `python tests/attack/long.py --minutes 30 --seed 7`.

Each round damages every kind of file many times over, lays every bad input, and kills a few programs. What is
found is printed with its seed, and its file is kept in tests/failures/; the exit status says whether anything was.
"""

from __future__ import annotations

import argparse
import os
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
sys.path.insert(0, str(Path(__file__).parent.parent))  # command
sys.path.insert(0, str(Path(__file__).parent.parent.parent))

from bad_inputs import BAD, lay_sound
from command import Shell
from kills import killed
from mutations import damaged, flipped, sound
from oracle import LIMIT_S, begin, contents, faults, is_misread, seeded, trouble

FAILURES = Path(__file__).parent.parent / "failures"
EACH = 100  # damaged files of a kind in one round
KILLS = 20  # in one round


def main() -> int:
    """Attack until the time is over; return 1 where anything was found."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--minutes", type=float, default=10.0)
    asked.add_argument("--seed", type=int, default=int(time.time()))
    asked.add_argument("--only", default="", help="kinds of files, with commas between")
    given = asked.parse_args()
    end = time.monotonic() + 60 * given.minutes
    held = sound()
    only = {each for each in given.only.split(",") if each}
    begin(held)
    count: Counter[str] = Counter()
    found = number = 0
    with tempfile.TemporaryDirectory() as place:
        os.environ |= {"MOCKUP_SETTINGS": f"{place}/settings", "MOCKUP_CACHE": f"{place}/cache"}
        shell = Shell()
        while time.monotonic() < end:
            number += 1
            for name, data in held.items():
                if only and name not in only:
                    continue
                for turn in range(EACH):
                    seed = (given.seed, number, name, turn)
                    bad = damaged(data, seeded(*seed))
                    said = trouble(name, bad)
                    if name == "art.png" and not said and is_misread(name, flipped(data, seeded(*seed)), data):
                        said = "a flipped bit shows another picture"
                    count[name] += 1
                    found += _told(said, seed, name, bad)
                if time.monotonic() > end:
                    break
            if only:
                continue
            folder = Path(place) / str(number)
            folder.mkdir()
            for turn, (name, each) in enumerate(BAD.items()):
                project = folder / str(turn)
                lay_sound(project)
                each.lay(project)
                before = contents(project)
                answer = shell.run(*each.args, cwd=project, out=each.out, limit_s=LIMIT_S)
                count["bad inputs"] += 1
                is_wrong = each.status is not None and answer.status != each.status
                wrong = [f"status {answer.status}: {answer.err[:200]}"] if is_wrong else []
                for said in (*faults(answer, before, contents(project)), *wrong):
                    found += _told(said, (name,), "", b"")
            (folder / "kills").mkdir()
            ended = killed(folder / "kills", KILLS, seeded(given.seed, number))
            count["kills"] += ended.kills
            count["mixed for a moment"] += ended.torn
            found += _told(f"{ended}" if ended.mixed or ended.left else "", ("kills", number), "", b"")
        shell.close()
    sys.stdout.write(f"seed {given.seed}, {number} rounds: {dict(count)}; found {found}\n")
    return 1 if found else 0


def _told(said: str, seed: tuple[object, ...], name: str, data: bytes) -> int:
    """Print what was found and keep its file; return how many findings that is."""
    if not said:
        return 0
    words = "-".join(map(str, seed))
    sys.stdout.write(f"{words}: {said}\n")
    sys.stdout.flush()
    if name:
        FAILURES.mkdir(exist_ok=True)
        (FAILURES / f"attack-{words}").write_bytes(data)
    return 1


if __name__ == "__main__":
    sys.exit(main())
