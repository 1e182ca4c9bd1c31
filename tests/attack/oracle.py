"""What must hold whatever comes in: a door answers or refuses in plain lines, soon, and in bounded memory."""

from __future__ import annotations

import random
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np
from command import Answer

import mockup
from mockup import archive, reader
from mockup.calibration import readings
from mockup.comparison.sweep import axes
from mockup.layout import parse
from mockup.model.errors import LONGEST_LINE, InputError

LIMIT_S = 30.0  # for one answer; above what a drawing may take before it is stopped
MOST_MB = 1500  # of the program's own process: what it takes with every library loaded, and as much again
STATUSES = (0, 1, 2)
JARGON = ("Traceback", "Input should", "pydantic", "NoneType", "errno", "0x7f", "site-packages")


def doors(name: str) -> Callable[[bytes], object]:
    """Return what reads a file of a name, in this process, as the program's own doors do."""

    def text(data: bytes) -> str:
        try:
            return data.decode("utf-8-sig")
        except UnicodeDecodeError:  # told by the reading door before any of these
            raise InputError([]) from None

    def layout(data: bytes) -> object:
        art = {"art.png": ART}
        for variant in (None, "night"):
            design = mockup.loads(text(data), art, variant)
        return design

    if name.startswith("art"):
        return lambda data: reader.picture(data, name)
    return {
        "layout.toml": layout,
        "face.ttf": lambda data: reader.font(data, name),
        "sea.zip": lambda data: archive.contents(data, name),
        "paints.csv": lambda data: axes.paints(text(data), name),
        "readings.toml": lambda data: readings.parse(text(data), name),
        "parts.toml": lambda data: parse.parse_parts(text(data), name),
    }[name]


ART = b""


def trouble(name: str, data: bytes) -> str:
    """Return what a door does wrong with a file, "" where it answers or refuses as it should."""
    started = time.perf_counter()
    try:
        doors(name)(data)
    except InputError as error:
        bad = [line for line in error.lines if not is_plain(line)]
        if bad:
            return f"a line is not plain: {bad[0]!r}"
    except Exception as error:  # whatever it is, it must not come out
        return f"{type(error).__name__}: {str(error)[:200]}"
    taken = time.perf_counter() - started
    return f"took {taken:.0f} s" if taken > LIMIT_S else ""


def is_misread(name: str, data: bytes, sound: bytes) -> bool:
    """Return whether a damaged picture is read, and shows something else than the sound one."""
    try:
        found = reader.picture(data, name)
    except InputError:
        return False
    wanted = reader.picture(sound, name)
    return not np.array_equal(found.pixels, wanted.pixels)


def is_plain(line: str) -> bool:
    """Return whether a line can be shown and read: no control characters, no jargon, not too long."""
    return bool(line) and line.isprintable() and len(line) <= LONGEST_LINE and not any(each in line for each in JARGON)


def faults(answer: Answer, before: dict[str, bytes | None], after: dict[str, bytes | None]) -> list[str]:
    """Return what a command did wrong, given what lay in its folder before and after."""
    found = []
    lines = answer.err.splitlines()
    if answer.status is None:
        return ["it did not end"]
    if answer.status not in STATUSES:
        found.append(f"status {answer.status}: {answer.err[-300:]}")
    if answer.status == 2:
        plain = [line.removeprefix("mockup: ") for line in lines if not line.startswith("note: ")]
        if not 1 <= len(plain) <= 11:
            found.append(f"{len(plain)} lines: {answer.err[:300]}")
        found += [f"a line is not plain: {line!r}" for line in plain if not is_plain(line)]
        if after != before:
            changed = sorted(name for name in {*before, *after} if before.get(name) != after.get(name))
            found.append(f"it was refused, and yet changed {changed[:5]}")
    found += [f"a traceback: {each[-300:]}" for each in (answer.out, answer.err) if "Traceback" in each]
    found += [f"left behind: {name}" for name in after if ".mockup-" in name]
    if answer.peak_mb > MOST_MB:
        found.append(f"took {answer.peak_mb:.0f} MB")
    return found


def contents(folder: Path) -> dict[str, bytes | None]:
    """Return every plain file below a folder by name, and all else there as None."""
    return {
        str(each.relative_to(folder)): each.read_bytes() if each.is_file() and not each.is_symlink() else None
        for each in sorted(folder.rglob("*"))
    }


def begin(sound: dict[str, bytes]) -> None:
    """Have the sound art at hand that layouts name, and the reader warm."""
    global ART
    ART = sound["art.png"]
    reader.picture(ART, "art.png")


def seeded(*words: object) -> random.Random:
    """Return chance that is the same at every run for the same words."""
    return random.Random("/".join(map(str, words)))
