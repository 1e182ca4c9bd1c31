"""Holes read off scans and photographs of a face, what is unsure answered by the builder, kept beside the layout."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

import numpy as np

from mockup import files, reader
from mockup.as_built.comparison import NOT_PLACED, AsBuilt, compared
from mockup.drawing.holes import Hole, holes
from mockup.geometry.rigid import RigidMove, best_move
from mockup.layout.built import CALIPERS_MM, built_text
from mockup.layout_source import built_holes, find_layout, layout_source
from mockup.measure import flatbed, frame, photograph
from mockup.measure.holes import Floats
from mockup.measure.pattern import SeenFace, joined
from mockup.model.built import BuiltHole
from mockup.model.design import Design
from mockup.model.enclosure import FaceName, faces
from mockup.model.errors import Fault, InputError, refused
from mockup.model.finish import Artwork
from mockup.model.shape import Point

By = Literal["scan", "photograph", "photograph without marks"]
READ: tuple[By, ...] = ("scan", "photograph")
"""How words begin of what a hole was measured by that was read off a picture; the others were typed."""
_BY_EYE = ", by eye"
_MISPRINT = 0.05  # share by which a page may come out larger or smaller: no printer does more
EYE_DOUBT_MM = 0.2  # of a circle that was chosen or nudged on an enlargement of 12 pixels a mm: our choice


@dataclass(frozen=True, kw_only=True)
class FaceRequest:
    """Pictures of one drilled face: files, the face, and what is known of how they were taken.

    They are scans, or else photographs, with the frame of marks unless `corners` say where the face's corners are seen
    in the one photograph. `dpi` goes before what scans say; `scale` says how many millimetres a scanner's millimetre
    is, across and down, `frame_mm` what the printed frame measures between its corner marks; `turn_deg` how the face
    lay, clockwise.
    """

    scans: tuple[Path, ...] = ()
    photos: tuple[Path, ...] = ()
    face: FaceName = "top"
    dpi: float | None = None
    scale: tuple[float, float] | None = None
    frame_mm: tuple[float, float] | None = None
    turn_deg: float | None = None
    corners: tuple[Point, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Answer:
    """What the builder says of a hole: the circle that is taken, None where it cannot be told, and a nudge (mm)."""

    circle: Literal["found", "rival"] | None
    right_mm: float = 0.0
    down_mm: float = 0.0


@dataclass(frozen=True, kw_only=True, eq=False)
class FaceReading:
    """What pictures show of a face's round holes.

    `places` (n, 2) are their middles on the face, nan where nothing is seen, `unsure` why each is asked, "" where it
    is not. `to_face` takes the first picture's millimetres to the face's. `typed` are the holes that were measured
    otherwise; without `is_placed` none of these is among the holes that the pictures show surely, and the pattern is
    laid best on the design. `torn_mm` is how far pictures and typed holes contradict each other.
    """

    layout: Path
    design: Design
    by: By
    face: FaceName
    holes: tuple[Hole, ...]
    seen: tuple[SeenFace, ...]
    places: Floats
    unsure: tuple[str, ...]
    doubts_mm: tuple[float, ...]
    to_face: tuple[RigidMove, ...]
    typed: tuple[BuiltHole, ...]
    kept: tuple[BuiltHole, ...]
    is_placed: bool
    torn_mm: float

    def on_face(self, picture_mm: Floats) -> Floats:
        """Return places (..., 2) of the first picture's millimetres on the face."""
        for move in self.to_face:
            picture_mm = move.of(picture_mm)
        return picture_mm

    def rival(self, index: int) -> Floats | None:
        """Return where on the face the rival of a hole's circle lies (2,), None where it has none."""
        first = self.seen[0]
        seen = first.seen[index]
        if seen is None or seen.rival_px is None:
            return None
        return self.on_face(np.array(seen.rival_px) / first.per_mm)

    def answered(self, index: int, answer: Answer | None) -> Floats | None:
        """Return where on the face a hole is by an answer, or as it is seen surely; None where that is not known."""
        if answer is None:
            return None if self.unsure[index] else self.places[index]
        at = self.rival(index) if answer.circle == "rival" else self.places[index] if answer.circle else None
        return None if at is None or np.isnan(at).any() else at + np.array([answer.right_mm, answer.down_mm])


def start(layout: str | Path, variant: str | None = None) -> Path:
    """Write a file of holes as built to fill in, and return its path; raises `OutputError` where there is one."""
    place = find_layout(layout)
    files.require_free([place.parent / files.BUILT_FILE])
    return _keep(place, layout_source(place, variant).drawn, (), {})


def read_face(layout: str | Path, request: FaceRequest, variant: str | None = None) -> FaceReading:
    """Return what pictures show of a face; raises `InputError` where they do not show its pattern. Nothing is kept.

    What was typed before says where the pattern lies on the box.
    """
    place = find_layout(layout)
    design = layout_source(place, variant).drawn
    before = built_holes(place, design) if files.read_beside(place, files.BUILT_FILE) is not None else ()
    typed = {each.bore: each for each in before if not each.by.startswith(READ)}
    every = holes(design, faces(design.enclosure), design.units)
    own = tuple(each for each in every if each.bore.face == request.face and each.bore.outline.kind == "circle")
    designed = np.array([[each.bore.u_mm, each.bore.v_mm] for each in own]).reshape(-1, 2)
    by, seen, known = _seen(request, design, designed, [each.bore.outline.width_mm for each in own])
    try:
        places, unsure = joined(seen)
    except ValueError as error:
        raise refused((*request.scans, *request.photos)[0].name, error) from None
    sure = [index for index, why in enumerate(unsure) if not why]
    fixed = [index for index in sure if own[index].bore.name in typed]
    if not sure:
        sure = [index for index, at in enumerate(places) if not np.isnan(at).any()]
    moves = [best_move(places[sure], designed[sure])] if sure else []
    on_face, torn = (moves[0].of(places) if moves else places), 0.0
    if fixed:
        aim = np.array([[typed[own[at].bore.name].u_mm, typed[own[at].bore.name].v_mm] for at in fixed])
        moves.append(best_move(on_face[fixed], aim, can_turn=len(fixed) > 1))
        on_face, torn = moves[1].of(on_face), float(np.hypot(*moves[1].left.T).max())
    doubts = [
        max(known, *(look.doubt_mm for each in seen if (look := each.seen[index]) is not None), 0.0)
        for index in range(len(own))
    ]
    names = {each.bore.name for each in own}
    return FaceReading(
        layout=place,
        design=design,
        by=by,
        face=request.face,
        holes=own,
        seen=seen,
        places=on_face,
        unsure=tuple(unsure),
        doubts_mm=tuple(doubts),
        to_face=tuple(moves),
        typed=tuple(typed.values()),
        kept=tuple(each for each in before if each.by.startswith(READ) and each.bore not in names),
        is_placed=bool(fixed),
        torn_mm=torn,
    )


def accept(reading: FaceReading, answers: Mapping[int, Answer] | None = None) -> tuple[AsBuilt, tuple[str, ...]]:
    """Keep the holes that a reading shows surely or that answers decide, by their number; return what is known then.

    With it come notes. What was typed stays. Raises `InputError` for an answer to a hole that is not there.
    """
    given = dict(answers or {})
    known = {each.number: index for index, each in enumerate(reading.holes)}
    for number in given.keys() - known.keys():
        has = ", ".join(map(str, known))
        what = f"the {reading.face} has no round hole {number}"
        raise InputError(Fault(file="--hole", what=what, remedy=f"its holes are {has}"))
    typed = {each.bore for each in reading.typed}
    found, asked, notes = [*reading.typed, *reading.kept], {}, []
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
            )
        )
    _keep(reading.layout, reading.design, tuple(found), asked)
    return compared(reading.design, tuple(found)), (*notes, *_notes(reading))


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
            f"design. Measure one of them from two edges, two if you can, in {files.BUILT_FILE}, and read it again"
        )
    if reading.torn_mm > 2 * CALIPERS_MM:
        said.append(f"the picture and the holes that you typed differ by {reading.torn_mm:.2f} mm; measure those again")
    return said


def _keep(place: Path, design: Design, built: tuple[BuiltHole, ...], asked: Mapping[str, str]) -> Path:
    """Write the file of holes as built beside a layout."""
    path = place.parent / files.BUILT_FILE
    files.write_all({path: built_text(design, built, asked).encode()})
    return path


def _seen(
    request: FaceRequest, design: Design, designed: Floats, sides: list[float]
) -> tuple[By, tuple[SeenFace, ...], float]:
    """Return by what a face is seen, how each picture shows it, and how far a hole may be off among the others."""
    if request.scans and request.photos:
        raise InputError(Fault(file="--photo", what="goes with no --scan", remedy="read one kind at a time"))
    if request.scans:
        found = []
        for path in request.scans:
            picture = _picture(path, "mockup built --start")
            dpi = (request.dpi, request.dpi) if request.dpi is not None else picture.dpi
            if dpi is None:
                what = "does not say its resolution"
                raise InputError(Fault(file=path.name, what=what, remedy="add --dpi, such as 300"))
            try:
                found.append(
                    flatbed.scanned(picture.pixels, dpi, designed, sides, request.scale or (1.0, 1.0), request.turn_deg)
                )
            except ValueError as error:
                raise refused(path.name, error) from None
        return "scan", tuple(found), flatbed.DOUBT_MM if request.scale is None else flatbed.MEASURED_DOUBT_MM
    face = faces(design.enclosure)[request.face]
    size = (face.width_mm, face.height_mm)
    wall = design.enclosure.top_mm if request.face == "top" else design.enclosure.wall_mm
    found = []
    for path in request.photos:
        picture = _picture(path, "mockup measure")
        try:
            if request.corners:
                found.append(photograph.rough(picture.pixels, request.corners, size, designed, sides, request.turn_deg))
            else:
                found.append(
                    photograph.photographed(
                        picture.pixels, size, wall, designed, sides, _printed(request, size), request.turn_deg
                    )
                )
        except ValueError as error:
            raise refused(path.name, error) from None
    if request.corners:
        return "photograph without marks", tuple(found), photograph.ROUGH_DOUBT_MM
    return "photograph", tuple(found), photograph.DOUBT_MM


def _printed(request: FaceRequest, face_mm: tuple[float, float]) -> tuple[float, float]:
    """Return how long a millimetre of the frame was printed, across and down; `InputError` where that cannot be."""
    if request.frame_mm is None:
        return 1.0, 1.0
    wanted = [side + 2 * frame.OUTSIDE_MM for side in face_mm]
    found = [each / side for each, side in zip(request.frame_mm, wanted, strict=True)]
    if any(abs(each - 1.0) > _MISPRINT for each in found):
        what = f"is more than 5 % off the frame's {wanted[0]:.1f},{wanted[1]:.1f}"
        raise InputError(Fault(file="--frame", what=what, remedy="measure between the middles of its corner marks"))
    return found[0], found[1]


def _picture(path: Path, origin: str) -> Artwork:
    return reader.picture(files.read_bytes(path, origin), path.name)
