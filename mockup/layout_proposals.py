"""The use case of arranging: from a list of controls to project folders with good layouts, or to the smallest box."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from mockup import fonts, knobs, reader
from mockup.arrange.controls import controls
from mockup.arrange.layout_text import FONT
from mockup.arrange.list_file import wanted as listed
from mockup.arrange.proposals import Proposal, proposals, smallest_box
from mockup.enclosure.shell import shell_problem
from mockup.enclosure.sizes import SIZES
from mockup.layout import parse, resolve
from mockup.model.design import Design
from mockup.model.enclosure import Enclosure
from mockup.model.errors import Fault, InputError, nearest
from mockup.options import Progress, bad_option, silent

SMALLEST = "smallest"
LAYOUT_FILE = "layout.toml"
MOST = 6
_MEASURES = re.compile(r"(\d+(?:\.\d+)?)x(\d+(?:\.\d+)?)x(\d+(?:\.\d+)?)")


@dataclass(frozen=True, kw_only=True, eq=False)
class Proposals:
    """Layouts for a list of controls, the best first, and the box that they are for: a size or measures."""

    box: str
    found: tuple[Proposal, ...]

    @property
    def designs(self) -> dict[str, Design]:
        """The designs by what each is called beside the others."""
        return {f"{index}: {each.about}": each.design for index, each in enumerate(self.found, 1)}

    @property
    def files(self) -> dict[str, bytes]:
        """A project folder for each, numbered from 1: its layout, and the font of its lettering."""
        made: dict[str, bytes] = {}
        for index, each in enumerate(self.found, 1):
            made[f"{index}/{LAYOUT_FILE}"] = each.text.encode()
            if FONT in each.text:
                made[f"{index}/{FONT}"] = fonts.data(is_bold=True)
        return made

    @property
    def facts(self) -> dict[str, Any]:
        """The figures, for programs."""
        return {
            "box": self.box,
            "proposals": [
                {
                    "layout": f"{index}/{LAYOUT_FILE}",
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
    progress: Progress = silent,
) -> Proposals:
    """Return 1 to `count` good layouts for a list of controls, no two alike, each proven by the checks.

    `wanted` are words such as ``GAIN=pot-16`` or ``DC=dc-socket@far``, or a text with one a line. `box` is a size of
    the table, length x width x height in millimetres, or "smallest" for the smallest size that holds them. `knob` is
    the style of all knobs. Raises `InputError` for what names no control, no box or no knob, and where nothing fits.
    """
    given = listed(wanted, "the list of controls") if isinstance(wanted, str) else controls(wanted)
    style = resolve.favourite_style() if knob is None else knob
    if style not in knobs.styles():
        raise bad_option("knob", f"there is no knob {style!r}", nearest(style, knobs.styles()))
    if not 1 <= count <= MOST:
        raise bad_option("count", f"{count} proposals are out of range", f"ask for 1 to {MOST}")
    face = {FONT: reader.font(fonts.data(is_bold=True), FONT)}

    def load(text: str) -> Design:
        return resolve.resolve(parse.parse(text, LAYOUT_FILE), {}, fonts=face)

    if box == SMALLEST:
        least = smallest_box(name, given, load, style, count=count, progress=progress)
        if least is None:
            raise _nothing(f"no box of the table holds these {len(given.controls)} controls")
        return Proposals(box=least[0], found=least[1])
    found = proposals(name, given, _box(box), load, style, count=count, progress=progress)
    if not found:
        raise _nothing(f"no scheme fits these {len(given.controls)} controls into a box of {box}")
    return Proposals(box=box, found=found)


def _box(text: str) -> Enclosure:
    """Return the box of a size, or of length x width x height; raises `InputError` where there is none of it."""
    if text in SIZES:
        return SIZES[text]
    measures = _MEASURES.fullmatch(text)
    if measures is None:
        raise bad_option(
            "box", f"there is no box {text!r}", f"{nearest(text, SIZES)}; or length x width x height in mm"
        )
    length, width, height = (float(each) for each in measures.groups())
    box = Enclosure(width_mm=width, length_mm=length, height_mm=height)
    problem = shell_problem(box)
    if problem is not None:
        raise bad_option("box", problem, "give another size")
    return box


def _nothing(what: str) -> InputError:
    return InputError(Fault(file="arrange", what=what, remedy="take a larger box, smaller kinds or fewer controls"))
