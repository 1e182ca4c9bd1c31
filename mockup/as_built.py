"""Use cases of holes as built: a file to fill in, what was measured against the design, what follows from it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from mockup import files, reader
from mockup.enclosure.bores import bores
from mockup.geometry.rigid import RigidMove, best_move
from mockup.layout.built import CALIPERS_MM, built_text
from mockup.layout_source import built_holes, find_layout, layout_source
from mockup.measure.flatbed import DOUBT_MM, MEASURED_DOUBT_MM, joined, scanned
from mockup.model.bore import Bore
from mockup.model.built import BuiltHole
from mockup.model.design import Design
from mockup.model.enclosure import FACES, FaceName
from mockup.model.errors import Fault, InputError
from mockup.model.finish import Decal
from mockup.model.units import Unit, format_length

SCAN = "scan"
"""What a hole was measured by that was read off a scan; its words go on where its place on the box is not known."""


@dataclass(frozen=True, kw_only=True)
class HoleOff:
    """One measured hole: the designed bore, the measured one, and how far off it is, right and down."""

    bore: Bore
    built: BuiltHole
    right_mm: float
    down_mm: float

    @property
    def distance_mm(self) -> float:
        """How far off in a straight line."""
        return float(np.hypot(self.right_mm, self.down_mm))


@dataclass(frozen=True, kw_only=True, eq=False)
class FaceOff:
    """The measured holes of one face as a pattern.

    `move` lays the designed pattern best on the measured one: what it shifts and turns is the pattern's place on the
    box, what it leaves is how the holes lie among themselves.
    """

    face: FaceName
    holes: tuple[HoleOff, ...]
    move: RigidMove

    @property
    def worst_left_mm(self) -> float:
        """The farthest that a hole is off among the others."""
        return float(np.hypot(*self.move.left.T).max())


@dataclass(frozen=True, kw_only=True, eq=False)
class DecalOff:
    """One decal over measured holes: how it is best laid, and how far each hole then is off its ring of art."""

    decal: Decal
    holes: tuple[HoleOff, ...]
    move: RigidMove

    @property
    def shift_mm(self) -> tuple[float, float]:
        """How far right and down its middle is best laid off its place."""
        middle = np.array([self.decal.u_mm, self.decal.v_mm])
        right, down = (self.move.of(middle) - middle).tolist()
        return right, down

    @property
    def left_mm(self) -> tuple[float, ...]:
        """How far each hole is off its art then."""
        return tuple(float(each) for each in np.hypot(*self.move.left.T))


@dataclass(frozen=True, kw_only=True, eq=False)
class AsBuilt:
    """What was measured of a box, against its design; `unmeasured` are the holes that nothing is known of."""

    design: Design
    holes: tuple[HoleOff, ...]
    faces: tuple[FaceOff, ...]
    decals: tuple[DecalOff, ...]
    unmeasured: tuple[Bore, ...]


def as_built(layout: str | Path, variant: str | None = None) -> AsBuilt:
    """Return what the file of holes as built says against a layout; raises `InputError` where there is none."""
    place = find_layout(layout)
    design = layout_source(place, variant).drawn
    return compared(design, built_holes(place, design))


def compared(design: Design, built: tuple[BuiltHole, ...]) -> AsBuilt:
    """Return measured holes against a design."""
    known = {each.bore: each for each in built}
    found = tuple(
        HoleOff(
            bore=bore,
            built=known[bore.name],
            right_mm=known[bore.name].u_mm - bore.u_mm,
            down_mm=known[bore.name].v_mm - bore.v_mm,
        )
        for bore in bores(design)
        if bore.name in known
    )
    by_face = {face: tuple(each for each in found if each.bore.face == face) for face in FACES}
    return AsBuilt(
        design=design,
        holes=found,
        faces=tuple(FaceOff(face=face, holes=own, move=_move(own)) for face, own in by_face.items() if own),
        decals=tuple(
            DecalOff(decal=decal, holes=by_face[decal.face], move=_move(by_face[decal.face]))
            for decal in design.decals
            if by_face[decal.face]
        ),
        unmeasured=tuple(bore for bore in bores(design) if bore.name not in known),
    )


def start(layout: str | Path, variant: str | None = None) -> Path:
    """Write a file of holes as built to fill in, and return its path; raises `OutputError` where there is one."""
    place = find_layout(layout)
    return keep(place, layout_source(place, variant).drawn, (), {}, is_new=True)


def keep(
    place: Path, design: Design, built: tuple[BuiltHole, ...], asked: Mapping[str, str], *, is_new: bool = False
) -> Path:
    """Write the file of holes as built beside a layout; raises `OutputError` where it `is_new` and there already."""
    path = place.parent / files.BUILT_FILE
    if is_new:
        files.require_free([path])
    files.write_all({path: built_text(design, built, asked).encode()})
    return path


@dataclass(frozen=True, kw_only=True)
class ScanRequest:
    """Scans of one drilled face: files, the face, and what is known of scanner and lie.

    `dpi` goes before what the files say; `scale` says how many millimetres the scanner's millimetre is, across and
    down; `turn_deg` how the face lay on the glass, clockwise.
    """

    scans: tuple[Path, ...]
    face: FaceName = "top"
    dpi: float | None = None
    scale: tuple[float, float] | None = None
    turn_deg: float | None = None


def read_scans(layout: str | Path, request: ScanRequest, variant: str | None = None) -> tuple[AsBuilt, tuple[str, ...]]:
    """Read a face's holes off its scans into the file of holes as built; return what is known then, and notes.

    What was typed stays, and says where the pattern lies on the box. What is unsure is left to be typed. Raises
    `InputError` where the scans do not show the pattern; then nothing is written.
    """
    place = find_layout(layout)
    design = layout_source(place, variant).drawn
    before = built_holes(place, design) if files.read_beside(place, files.BUILT_FILE) is not None else ()
    typed = {each.bore: each for each in before if not each.by.startswith(SCAN)}
    own = [bore for bore in bores(design) if bore.face == request.face and bore.outline.kind == "circle"]
    designed = np.array([[bore.u_mm, bore.v_mm] for bore in own]).reshape(-1, 2)
    sides = [bore.outline.width_mm for bore in own]
    seen = []
    for path in request.scans:
        picture = reader.picture(files.read_bytes(path, "your scanner's program"), path.name)
        dpi = (request.dpi, request.dpi) if request.dpi is not None else picture.dpi
        if dpi is None:
            raise InputError(Fault(file=path.name, what="does not say its resolution", remedy="add --dpi, such as 300"))
        try:
            seen.append(scanned(picture.pixels, dpi, designed, sides, request.scale or (1.0, 1.0), request.turn_deg))
        except ValueError as error:
            what, _, remedy = str(error).partition("; ")
            raise InputError(Fault(file=path.name, what=what, remedy=remedy)) from None
    try:
        places, unsure = joined(seen)
    except ValueError as error:
        raise InputError(Fault(file=request.scans[0].name, what=str(error))) from None
    sure = [index for index, why in enumerate(unsure) if not why]
    fixed = [index for index in sure if own[index].name in typed]
    on_face = best_move(places[sure], designed[sure]).of(places)
    torn = 0.0
    if fixed:
        aim = np.array([[typed[own[index].name].u_mm, typed[own[index].name].v_mm] for index in fixed])
        laid = best_move(on_face[fixed], aim, can_turn=len(fixed) > 1)
        on_face, torn = laid.of(on_face), float(np.hypot(*laid.left.T).max())
    doubt = DOUBT_MM if request.scale is None else MEASURED_DOUBT_MM
    found = dict(typed)
    asked = {}
    for index, bore in enumerate(own):
        looks = [each.seen[index] for each in seen]
        if unsure[index] and bore.name not in typed:
            asked[bore.name] = unsure[index]
        elif bore.name not in typed:
            known = [each for each in looks if each is not None]
            found[bore.name] = BuiltHole(
                bore=bore.name,
                u_mm=float(on_face[index][0]),
                v_mm=float(on_face[index][1]),
                doubt_mm=max(doubt, *(each.doubt_mm for each in known)),
                diameter_mm=float(np.mean([each.diameter_mm for each in known])),
                by=SCAN if fixed else f"{SCAN}, place on the box not measured",
            )
    elsewhere = [each for each in before if each.by.startswith(SCAN) and each.bore not in {bore.name for bore in own}]
    built = (*found.values(), *elsewhere)
    notes = [f"{bore.words}: not taken over, {asked[bore.name]}; type it" for bore in own if bore.name in asked]
    if not fixed:
        notes.append(
            "a scan shows how the holes lie among themselves, not where on the box: they are laid best on the design. "
            f"Measure one of them from two edges, two if you can, in {files.BUILT_FILE}, and read the scan again"
        )
    if torn > 2 * CALIPERS_MM:
        notes.append(f"the scan and the holes that you typed differ by {torn:.2f} mm; measure those again")
    keep(place, design, built, asked)
    return compared(design, built), tuple(notes)


def lines(told: AsBuilt) -> tuple[str, ...]:
    """Return what was measured and what follows, a line each, in the reader's units."""
    units = told.design.units
    said = [
        f"{each.bore.words}, {each.bore.face}: {_way(each.right_mm, each.down_mm, units)}, "
        f"to within {format_length(each.built.doubt_mm, units)}" + (f", by {each.built.by}" if each.built.by else "")
        for each in told.holes
    ]
    for face in told.faces:
        if len(face.holes) < 2:
            continue
        said.append(
            f"{face.face}: the pattern as a whole lies {_way(*face.move.shift, units)}, turned by "
            f"{face.move.turn_deg:.2f} degrees; among themselves its holes are off by "
            f"{format_length(round(face.worst_left_mm, 3), units)} at most"
        )
    for decal in told.decals:
        worst = max(decal.left_mm)
        name = decal.holes[decal.left_mm.index(worst)].bore.words
        where = f"{decal.decal.art.name}, {decal.decal.face}"
        wider, off = (format_length(round(each, 2), units) for each in (2 * worst, worst))
        said.append(
            f"{where}: lay it {_way(*decal.shift_mm, units)} of its place, turned by {decal.move.turn_deg:.2f} "
            f"degrees; then {name} is off its art by {off}, which a washer or a ring of art wider by {wider} covers"
        )
    if told.unmeasured:
        said.append(f"not measured: {'; '.join(bore.words for bore in told.unmeasured)}")
    return tuple(said)


def _move(holes: tuple[HoleOff, ...]) -> RigidMove:
    return best_move(
        np.array([[each.bore.u_mm, each.bore.v_mm] for each in holes]),
        np.array([[each.built.u_mm, each.built.v_mm] for each in holes]),
    )


def _way(right_mm: float, down_mm: float, units: Unit) -> str:
    """Return a way in words: ``0.3 mm right, 0.1 mm up``."""
    across = format_length(round(abs(right_mm), 2), units)
    down = format_length(round(abs(down_mm), 2), units)
    return f"{across} {'right' if right_mm >= 0 else 'left'}, {down} {'down' if down_mm >= 0 else 'up'}"
