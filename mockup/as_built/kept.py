"""The file of holes as built written: begun to be filled in, or with what pictures show and the builder answers."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

import numpy as np

from mockup import files
from mockup.as_built.comparison import NOT_PLACED, AsBuilt, compared
from mockup.as_built.pictures import FaceReading
from mockup.layout.built import CALIPERS_MM, built_text
from mockup.layout_source import find_layout, layout_source
from mockup.model.built import Answer, BuiltBox, BuiltHole
from mockup.model.design import Design
from mockup.model.errors import Fault, InputError
from mockup.model.shape import Point

_BY_EYE = ", by eye"
EYE_DOUBT_MM = 0.2  # of a circle that was chosen or nudged on an enlargement of 12 pixels a mm: our choice


def start(layout: str | Path, variant: str | None = None) -> Path:
    """Write a file of holes as built to fill in, and return its path; raises `OutputError` where there is one."""
    place = find_layout(layout)
    files.require_free([place.parent / files.BUILT_FILE])
    return _keep(place, layout_source(place, variant).drawn, BuiltBox(), {})


def accept(reading: FaceReading, answers: Mapping[int, Answer] | None = None) -> tuple[AsBuilt, tuple[str, ...]]:
    """Keep the holes that a reading shows surely or that answers decide, by their number; return what is known then.

    Answers that were given to these pictures before count where there are no new ones. With what is known come notes.
    What was typed stays. Raises `InputError` for an answer to a hole that is not there.
    """
    new, names = dict(answers or {}), {each.number: each.bore.name for each in reading.holes}
    for number in new.keys() - names.keys():
        has = ", ".join(map(str, names))
        what = f"the {reading.face} has no round hole {number}"
        raise InputError(Fault(file="--hole", what=what, remedy=f"its holes are {has}"))
    given = reading.remembered | new
    typed, drawn = {each.bore for each in reading.typed}, _drawn(reading)
    found, asked, notes = list(reading.typed), {}, []
    found += [each for each in reading.before.holes if each.bore not in typed | set(names.values())]
    for index, hole in enumerate(reading.holes):
        if hole.bore.name in typed:
            continue
        answer = given.get(hole.number)
        at = reading.answered(index, answer)
        if at is None:
            asked[hole.bore.name] = reading.unsure[index] if answer is None else "it cannot be told"
            if answer is not None and answer.circle == "rival":
                what = f"hole {hole.number} has no rival"
                raise InputError(Fault(file="--hole", what=what, remedy=f"write {hole.number}=found, or a nudge"))
            notes.append(f"hole {hole.number}, {hole.name}: not taken over, {asked[hole.bore.name]}")
            continue
        look = reading.seen[0].seen[index]
        by = reading.by + (_BY_EYE if answer is not None else "") + ("" if reading.is_placed else NOT_PLACED)
        found.append(
            BuiltHole(
                bore=hole.bore.name,
                u_mm=float(at[0]),
                v_mm=float(at[1]),
                doubt_mm=max(reading.doubts_mm[index], EYE_DOUBT_MM if answer is not None else 0.0),
                diameter_mm=None if look is None or answer is not None else look.diameter_mm,
                by=by,
                drawn_mm=drawn.get(hole.bore.name, (hole.bore.u_mm, hole.bore.v_mm)),
            )
        )
    kept_answers = {names[number]: given[number] for number in sorted(given)}
    others = tuple(each for each in reading.before.pictures if each.face != reading.face)
    pictures = (*others, replace(reading.pictures, answers=kept_answers))
    _keep(reading.layout, reading.design, BuiltBox(holes=tuple(found), pictures=pictures), asked)
    notes += _answer_notes(reading, new)
    return compared(reading.design, tuple(found)), (*notes, *_notes(reading))


def _drawn(reading: FaceReading) -> dict[str, Point]:
    """Return where the layout had the holes when they were first read off these very pictures, by bore's name."""
    was = next((each for each in reading.before.pictures if each.face == reading.face), None)
    if was is None or was.digest != reading.pictures.digest:
        return {}
    return {each.bore: each.drawn_mm for each in reading.before.holes if each.drawn_mm is not None}


def _answer_notes(reading: FaceReading, new: Mapping[int, Answer]) -> list[str]:
    """Return what is said of answers that were given before: which were taken again, which are asked anew."""
    again = [f"{number}={each.words}" for number, each in reading.remembered.items() if number not in new]
    said = [f"taken as you answered for this picture before: {', '.join(again)}"] if again else []
    anew = [str(number) for number in reading.asked_anew if number not in new]
    if anew:
        which = f"hole{'s' * (len(anew) > 1)} {', '.join(anew)}"
        said.append(
            f"{reading.pictures.names} is another picture than the one that {which} was answered for: look again"
        )
    return said


def _notes(reading: FaceReading) -> list[str]:
    said = []
    for x, y, wide in reading.seen[0].strays:
        u, v = reading.on_face(np.array([x, y]))
        said.append(
            f"what looks like a hole of {wide:.1f} mm is {u:.1f} mm from the left and {v:.1f} mm from the top edge of "
            f"the {reading.face}; the design has none there"
        )
    if not reading.is_placed:
        said.append(
            "a picture shows how the holes lie among themselves, not where on the box: they are laid best on the "
            f"design. Measure one of them from two edges, two if you can, in {files.BUILT_FILE}, and read it again; "
            "or scan the top twice, turned by half on the same place of the glass"
        )
    if reading.is_by_outline:
        said.append("where on the box the holes lie is told by its outline in the scans, turned by half, to 0.1 mm")
    if reading.torn_mm > 2 * CALIPERS_MM:
        said.append(f"the picture and the holes that you typed differ by {reading.torn_mm:.2f} mm; measure those again")
    return said


def _keep(place: Path, design: Design, built: BuiltBox, asked: Mapping[str, str]) -> Path:
    """Write the file of holes as built beside a layout."""
    path = place.parent / files.BUILT_FILE
    files.write_all({path: built_text(design, built, asked).encode()})
    return path
