"""Recall and false alarms of the reading of lettering, by ground and size, with the time: run on request."""

from __future__ import annotations

import sys
import time
from pathlib import Path

sys.path.append(str(Path(__file__).parent.parent / "reading"))
from sheets_of_words import found, negatives, positives, read


def main() -> None:
    for capital in (1.2, 2.0, 2.6, 4.0):
        for sheet in positives(11, capital):
            start = time.process_time()
            known = read(sheet)
            spent = time.process_time() - start
            sys.stdout.write(
                f"{sheet.name:20} {capital} mm  read {len(found(sheet))} of {len(sheet.places)}, "
                f"others {len(known) - len(found(sheet))}, {spent:.2f} s\n"
            )
    for seed in range(4):
        for sheet in negatives(100 + 7 * seed):
            sys.stdout.write(f"{sheet.name:20} {[each.text for each in read(sheet)]}\n")


if __name__ == "__main__":
    main()
