"""Holes read off scans and photographs of a face."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

import numpy as np

from mockup import files, reader
from mockup.drawing.holes import Hole, holes
from mockup.geometry.rigid import RigidMove, best_move
from mockup.layout_source import built_box, find_layout, layout_source
from mockup.measure import flatbed, frame, outline, photograph
from mockup.measure.holes import Floats
from mockup.measure.pattern import SeenFace, joined
from mockup.model.built import Answer, BuiltBox, BuiltHole, BuiltPictures
from mockup.model.design import Design
from mockup.model.enclosure import FaceName, faces
from mockup.model.errors import Fault, InputError, refused
from mockup.model.finish import Artwork
from mockup.model.shape import Point

By = Literal["scan", "photograph", "photograph without marks"]
READ: tuple[By, ...] = ("scan", "photograph")
"""How words begin of what a hole was measured by that was read off a picture; the others were typed."""
_MISPRINT = 0.05  # share by which a page may come out larger or smaller: no printer does more


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


@dataclass(frozen=True, kw_only=True, eq=False)
class FaceReading:
    """What pictures show of a face's round holes.

    `places` (n, 2) are their middles on the face, nan where nothing is seen, `unsure` why each is asked, "" where it
    is not. `to_face` takes the first picture's millimetres to the face's. `typed` are the holes that were measured
    otherwise. They say where on the box the pattern lies, where they are among the holes that the pictures show surely,
    or its outline in two scans does (`is_by_outline`); else it is not `is_placed`, and is laid best on the design.
    `torn_mm` is how far pictures and typed holes contradict each other. `before` is what was kept of the box,
    `pictures` which pictures these are, with the answers that were given to them before.
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
    before: BuiltBox
    pictures: BuiltPictures
    is_placed: bool
    is_by_outline: bool
    torn_mm: float

    @property
    def remembered(self) -> dict[int, Answer]:
        """What was answered before about holes in these very pictures, by their number."""
        answers = self.pictures.answers
        return {each.number: answers[each.bore.name] for each in self.holes if each.bore.name in answers}

    @property
    def asked_anew(self) -> tuple[int, ...]:
        """Numbers of unsure holes that were answered for in other pictures of this face."""
        was = next((each for each in self.before.pictures if each.face == self.face), None)
        if was is None or was.digest == self.pictures.digest:
            return ()
        unsure = zip(self.holes, self.unsure, strict=True)
        return tuple(hole.number for hole, why in unsure if why and hole.bore.name in was.answers)

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


def read_face(layout: str | Path, request: FaceRequest, variant: str | None = None) -> FaceReading:
    """Return what pictures show of a face; raises `InputError` where they do not show its pattern. Nothing is kept.

    What was typed before says where the pattern lies on the box, else the outline in two scans, turned by half.
    """
    place = find_layout(layout)
    design = layout_source(place, variant).drawn
    before = built_box(place, design) if files.read_beside(place, files.BUILT_FILE) is not None else BuiltBox()
    typed = {each.bore: each for each in before.holes if not each.by.startswith(READ)}
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
    by_outline = None
    if by == "scan" and sure and not fixed and request.face == "top":
        top = faces(design.enclosure)["top"]
        scans = [(each, best_move(each.places_mm[sure], designed[sure])) for each in seen]
        by_outline = outline.placed(scans, (top.width_mm, top.height_mm))
    if by_outline is not None:
        moves.append(by_outline)
        on_face, known = by_outline.of(on_face), max(known, outline.PLACE_DOUBT_MM)
    doubts = [
        max(known, *(look.doubt_mm for each in seen if (look := each.seen[index]) is not None), 0.0)
        for index in range(len(own))
    ]
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
        before=before,
        pictures=_pictures(request, before),
        is_placed=bool(fixed) or by_outline is not None,
        is_by_outline=by_outline is not None,
        torn_mm=torn,
    )


def _pictures(request: FaceRequest, before: BuiltBox) -> BuiltPictures:
    """Return which pictures a request names, with the answers that were given to the same before."""
    paths = (*request.scans, *request.photos)
    whole = hashlib.sha256()
    for path in paths:
        whole.update(hashlib.sha256(files.read_bytes(path, "mockup built --start")).digest())
    digest = whole.hexdigest()[:16]
    was = next((each for each in before.pictures if each.face == request.face and each.digest == digest), None)
    names = ", ".join(path.name for path in paths)
    return BuiltPictures(face=request.face, names=names, digest=digest, answers=was.answers if was is not None else {})


def _seen(
    request: FaceRequest, design: Design, designed: Floats, sides: list[float]
) -> tuple[By, tuple[SeenFace, ...], float]:
    """Return by what a face is seen, how each picture shows it, and how far a hole may be off among the others."""
    _require_one_kind(request)
    turn = request.turn_deg
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
                    flatbed.scanned(picture.pixels, dpi, designed, sides, request.scale or (1.0, 1.0), turn_deg=turn)
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
                found.append(photograph.rough(picture.pixels, request.corners, size, designed, sides, turn_deg=turn))
            else:
                found.append(
                    photograph.photographed(
                        picture.pixels, size, wall, designed, sides, _printed(request, size), turn_deg=turn
                    )
                )
        except ValueError as error:
            raise refused(path.name, error) from None
    if request.corners:
        return "photograph without marks", tuple(found), photograph.ROUGH_DOUBT_MM
    return "photograph", tuple(found), photograph.DOUBT_MM


def _require_one_kind(request: FaceRequest) -> None:
    """Raise `InputError` where scans and photographs are mixed, or what is said is of the other kind."""
    if request.scans and request.photos:
        raise InputError(Fault(file="--photo", what="goes with no --scan", remedy="read one kind at a time"))
    of_scans = {"dpi": request.dpi is not None, "scale": request.scale is not None}
    of_photos = {"frame": request.frame_mm is not None, "corners": bool(request.corners)}
    kind, others = ("photograph", of_scans) if request.photos else ("scan", of_photos)
    for name, is_given in others.items():
        if is_given:
            raise InputError(Fault(file=f"--{name}", what=f"says nothing of a {kind}", remedy="leave it out"))
    if request.corners and request.frame_mm is not None:
        what = "goes with the frame of marks, and --corners with a photograph without it"
        raise InputError(Fault(file="--frame", what=what, remedy="leave one of them out"))


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
