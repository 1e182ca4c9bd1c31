"""The use case of arranging: from a list of controls to project folders with good layouts, or to the smallest box."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from mockup import files, fonts, hardware, knobs, reader
from mockup.arrange.layout_text import FONT
from mockup.arrange.layouts.alone import without_room
from mockup.arrange.layouts.controls import Wanted, controls
from mockup.arrange.layouts.list_file import wanted as listed
from mockup.arrange.layouts.proposals import Proposal, proposals, volume
from mockup.checks.report.sentences import listed as listed_names
from mockup.decal.typeface import missing
from mockup.enclosure.shell import shell_problem
from mockup.enclosure.sizes import SIZES
from mockup.layout import parse, resolve
from mockup.model.design import Design
from mockup.model.enclosure import Enclosure
from mockup.model.errors import Fault, InputError, nearest
from mockup.model.units import Unit
from mockup.options import Progress, bad_option, silent

SMALLEST = "smallest"
LIST = "the list of controls"
MOST = 6
OPEN_MM = ((40.0, 190.0), (30.0, 122.0), (25.0, 60.0))
"""Between what an open length, width and height may lie: boxes as they are sold, from memory."""
_NUMBER = re.compile(r"\d+(?:\.\d+)?")
_MEASURES = re.compile(r"(\d+(?:\.\d+)?)x(\d+(?:\.\d+)?)x(\d+(?:\.\d+)?)")


@dataclass(frozen=True, kw_only=True, eq=False)
class Proposals:
    """Layouts for a list of controls, the best first, and the box that they are for: a size or measures.

    `own_kinds` is the text of the parts file that lies beside each. `undrawn` are names that the font cannot draw.
    """

    box: str
    found: tuple[Proposal, ...]
    own_kinds: str = ""
    undrawn: tuple[str, ...] = ()

    @property
    def designs(self) -> dict[str, Design]:
        """The designs by what each is called beside the others."""
        return {f"{index}: {each.about}": each.design for index, each in enumerate(self.found, 1)}

    @property
    def files(self) -> dict[str, bytes]:
        """A project folder for each, numbered from 1: its layout, the font of its lettering, own kinds of part."""
        made: dict[str, bytes] = {}
        for index, each in enumerate(self.found, 1):
            made[f"{index}/{files.LAYOUT_FILE}"] = each.text.encode()
            if self.own_kinds:
                made[f"{index}/{files.PARTS_FILE}"] = self.own_kinds.encode()
            if FONT in each.text:
                made[f"{index}/{FONT}"] = fonts.data(is_bold=True)
        return made

    @property
    def facts(self) -> dict[str, Any]:
        """The figures, for programs."""
        return {
            "box": self.box,
            "undrawn": list(self.undrawn),
            "proposals": [
                {
                    "layout": f"{index}/{files.LAYOUT_FILE}",
                    "about": each.about,
                    "score": round(each.score, 2),
                    "moved_mm": round(each.moved_mm, 1),
                    "fingers_mm": None if each.fingers_mm == float("inf") else round(each.fingers_mm, 1),
                    "parts": [
                        {
                            "name": part.name,
                            "kind": part.kind.name,
                            "face": part.face,
                            "u_mm": round(part.u_mm, 2),
                            "v_mm": round(part.v_mm, 2),
                            "rotation_deg": part.rotation_deg,
                        }
                        for part in each.design.parts
                    ],
                }
                for index, each in enumerate(self.found, 1)
            ],
        }


def propose(
    wanted: str | Iterable[str],
    box: str = SMALLEST,
    *,
    name: str = "Arranged",
    knob: str | None = None,
    count: int = 4,
    units: Unit = "mm",
    own_kinds: str = "",
    source: str = LIST,
    progress: Progress = silent,
) -> Proposals:
    """Return 1 to `count` good layouts for a list of controls, no two alike, each proven by the checks.

    `wanted` are words such as ``GAIN=pot-16`` or ``DC=dc-socket@far``, or the text of a list file: one of them a line,
    or TOML (see ``mockup help arrange``). `box` is a size of the table, length x width x height in millimetres,
    several of either parted by commas for the smallest of them, or "smallest" for the smallest of the table; a measure
    that is ``?`` is as small as it can be. `knob` is the style of all knobs, `own_kinds` the text of a ``parts.toml``;
    lengths are written in `units`; `source` names the list in messages.
    Raises `InputError` for what names no control, no box or no knob, and where nothing fits.
    """
    kinds = {each.name: each for each in parse.parse_parts(own_kinds, files.PARTS_FILE)} if own_kinds else {}
    every = {**hardware.kinds(), **kinds}
    given = listed(wanted, source, kinds) if isinstance(wanted, str) else controls(wanted, source, every)
    style = resolve.favourite_style() if knob is None else knob
    if style not in knobs.styles():
        raise bad_option("knob", f"there is no knob {style!r}", nearest(style, knobs.styles()))
    if not 1 <= count <= MOST:
        raise bad_option("count", f"{count} proposals are out of range", f"ask for 1 to {MOST}")
    face = {FONT: reader.font(fonts.data(is_bold=True), FONT)}
    undrawn = frozenset(each.name for each in given.controls if missing(face[FONT], each.name))

    def load(text: str) -> Design:
        return resolve.resolve(parse.parse(text, files.LAYOUT_FILE, kinds.values()), {}, fonts=face)

    def tried(there: Enclosure, most: int = count) -> tuple[Proposal, ...]:
        return proposals(
            name,
            given,
            there,
            load,
            style,
            count=most,
            units=units,
            undrawn=undrawn,
            progress=progress,
        )

    said, there = _least(box, tried)
    found = tried(there) if there is not None else ()
    if not found:
        raise InputError(_no_room(box, said, there, given, style))
    return Proposals(box=said or box, found=found, own_kinds=own_kinds, undrawn=tuple(sorted(undrawn)))


def _no_room(box: str, said: str | None, there: Enclosure | None, given: Wanted, style: str) -> Fault:
    """Return that controls do not fit a box, and which of them not even by themselves."""
    remedy = "take a larger box, smaller kinds or fewer controls"
    if said is None or there is None:
        many = "no box of the table" if box == SMALLEST else f"no box of {box}"
        return Fault(file="arrange", what=f"{many} holds these {len(given.controls)} controls", remedy=remedy)
    alone = without_room(given, there, style)
    if not alone:
        return Fault(file="arrange", what=f"these {len(given.controls)} controls do not fit {said}", remedy=remedy)
    names = listed_names([each.name for each in alone])
    where = " where it is pinned" if len(alone) == 1 and alone[0].pin is not None else ""
    has = "has" if len(alone) == 1 else "have"
    what = f"{names} {has} no room{where} in {said}, even with nothing else there"
    return Fault(
        file="arrange", what=what, remedy="pin it elsewhere" if where else "take a larger box or smaller kinds"
    )


Tried = Callable[[Enclosure, int], tuple[Proposal, ...]]


def _least(box: str, tried: Tried) -> tuple[str | None, Enclosure | None]:
    """Return the name and the box to lay out in, the smallest that holds all where several may be meant."""
    if "?" in box:
        return _shrunk(box, tried)
    words = list(SIZES) if box == SMALLEST else [each.strip() for each in box.split(",")]
    boxes = {word: _box(word) for word in words}
    if len(boxes) == 1:
        return next(iter(boxes.items()))
    for word, there in sorted(boxes.items(), key=lambda each: volume(each[1])):
        if tried(there, 1):
            return word, there
    return None, None


def _shrunk(box: str, tried: Tried) -> tuple[str | None, Enclosure | None]:
    """Return a box whose open measures are as small as they can be: length first, then width, then height."""
    measures = [each.strip() for each in box.split("x")]
    if len(measures) != 3 or not all(each == "?" or _NUMBER.fullmatch(each) for each in measures):
        raise bad_option(
            "box", f"there is no box {box!r}", "write length x width x height in mm, ? for an open measure"
        )
    now = [high if each == "?" else float(each) for each, (_, high) in zip(measures, OPEN_MM, strict=True)]
    if not tried(_sound(_made(now)), 1):
        return None, None
    for index, (each, (low, _)) in enumerate(zip(measures, OPEN_MM, strict=True)):
        bad, good = low - 1.0, now[index]
        while each == "?" and good - bad > 1.0:
            middle = float(round((good + bad) / 2))
            there = _made([*now[:index], middle, *now[index + 1 :]])
            is_good = shell_problem(there) is None and bool(tried(there, 1))
            bad, good = (bad, middle) if is_good else (middle, good)
        now[index] = good
    return "x".join(f"{each:g}" for each in now), _made(now)


def _made(measures: Sequence[float]) -> Enclosure:
    length, width, height = measures
    return Enclosure(width_mm=width, length_mm=length, height_mm=height)


def _box(text: str) -> Enclosure:
    """Return the box of a size, or of length x width x height; raises `InputError` where there is none of it."""
    if text in SIZES:
        return SIZES[text]
    measures = _MEASURES.fullmatch(text)
    if measures is None:
        raise bad_option(
            "box", f"there is no box {text!r}", f"write length x width x height in mm; {nearest(text, SIZES)}"
        )
    return _sound(_made([float(each) for each in measures.groups()]))


def _sound(box: Enclosure) -> Enclosure:
    """Return a box that can be built; raises `InputError` where it cannot."""
    problem = shell_problem(box)
    if problem is not None:
        raise bad_option("box", problem, "give another size")
    return box
