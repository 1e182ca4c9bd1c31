"""What can be counted and measured of one pedal, so that several can be compared: figures, no opinions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from mockup.checks.art.legibility import standing
from mockup.checks.art.lettering import Piece, pieces
from mockup.checks.art.sheets import sheets_on
from mockup.checks.panel.built import Built
from mockup.checks.panel.shadow import Shadow, from_above, hidden_share, is_seen, lit_faces, player_eye, shadows
from mockup.checks.report.accepted import counted
from mockup.checks.report.run import run
from mockup.drawing.holes import holes
from mockup.limits import wanted_contrast
from mockup.model.design import Design
from mockup.model.enclosure import FaceName
from mockup.model.finding import Finding, Subject

CELL_MM = 0.2  # a face is sampled for ink at this pitch, finer than a pen's line: our choice

Reading = Literal["reads", "in doubt", "lost", "nothing printed"]


@dataclass(frozen=True, kw_only=True)
class LabelFigures:
    """How one label reads: the measures of the checks `contrast` and `visibility`, whether they complain or not.

    `contrast_low` and `contrast_high` are the ratios at both ends of what the ink model leaves open,
    `wanted` the limit for letters of this height; None where nothing is printed there. `hidden_above` and
    `hidden_player` are the shares (0 to 1) that parts hide from straight above and from a standing
    player's eye (None where that eye does not see the face); `hidden_by` the parts, worst first.
    """

    subject: Subject
    face: FaceName
    height_mm: float
    contrast_low: float | None
    contrast_high: float | None
    wanted: float
    hidden_above: float
    hidden_player: float | None
    hidden_by: tuple[str, ...] = ()

    @property
    def reading(self) -> Reading:
        """How it reads, in words: at both ends of the doubt, at one, at none, or not printed at all."""
        if self.contrast_low is None or self.contrast_high is None:
            return "nothing printed"
        if self.contrast_low >= self.wanted:
            return "reads"
        return "in doubt" if self.contrast_high >= self.wanted else "lost"

    @property
    def hidden(self) -> float:
        """The larger of both hidden shares."""
        return max(self.hidden_above, self.hidden_player or 0.0)


@dataclass(frozen=True, kw_only=True)
class InkFigures:
    """How much of one face takes ink: the area that is printed and the face's own, square millimetres."""

    face: FaceName
    inked_mm2: float
    face_mm2: float

    @property
    def share(self) -> float:
        """The inked share of the face, 0 to 1."""
        return self.inked_mm2 / self.face_mm2


@dataclass(frozen=True, kw_only=True)
class Figures:
    """All figures of one pedal. `drillings` counts runs of the drill, pilots and steps included."""

    stops: int
    warnings: int
    notes: int
    ink: tuple[InkFigures, ...]
    labels: tuple[LabelFigures, ...]
    parts: int
    holes: int
    drillings: int

    @property
    def inked_mm2(self) -> float:
        """The area that is printed, over all faces."""
        return sum(each.inked_mm2 for each in self.ink)

    @property
    def worst_contrast(self) -> float | None:
        """The lowest contrast that any label may have, None where no label is printed."""
        return self.worst_label.contrast_low if self.worst_label else None

    @property
    def worst_label(self) -> LabelFigures | None:
        """The label of that contrast."""
        printed = [each for each in self.labels if each.contrast_low is not None]
        return min(printed, key=lambda each: each.contrast_low or 0.0) if printed else None

    @property
    def most_hidden(self) -> float | None:
        """The largest share of any label that is hidden, 0 to 1; None where there is no label."""
        return max((each.hidden for each in self.labels), default=None)


def studied(design: Design) -> tuple[tuple[Finding, ...], Figures]:
    """Return what the checks find of a design, and its figures."""
    findings = run(design)
    return findings, figures(Built(design), findings)


def figures(built: Built, findings: Sequence[Finding]) -> Figures:
    """Return the figures of a built design of which the checks found `findings`."""
    found = counted(findings)
    design = built.design
    drilled = holes(design, built.faces, design.units)
    return Figures(
        stops=found["stop"],
        warnings=found["warn"],
        notes=found["note"],
        ink=tuple(ink_of(built, face) for face in dict.fromkeys(decal.face for decal in design.decals)),
        labels=_labels(built),
        parts=len(design.parts),
        holes=len(drilled),
        drillings=sum(len(hole.drills_mm) for hole in drilled),
    )


def ink_of(built: Built, name: FaceName) -> InkFigures:
    """Return how much of a face is printed: ink that the checks count as seen, each spot once."""
    face = built.faces[name]
    reach = max(0.0, -face.left_edge(face.height_mm))
    u, v = np.meshgrid(
        np.arange(-reach + CELL_MM / 2, face.width_mm + reach, CELL_MM),
        np.arange(CELL_MM / 2, face.height_mm, CELL_MM),
    )
    is_face = (u >= -face.taper * v) & (u <= face.width_mm + face.taper * v)
    uv = np.stack([u[is_face], v[is_face]], axis=1)
    is_inked = np.zeros(len(uv), bool)
    for sheet in sheets_on(built, name):
        rows, columns, inside = sheet.indices(uv)
        is_inked |= inside & sheet.is_ink[rows, columns]
    return InkFigures(
        face=name,
        inked_mm2=float(is_inked.sum()) * CELL_MM**2,
        face_mm2=(face.width_mm + face.taper * face.height_mm) * face.height_mm,
    )


def _labels(built: Built) -> tuple[LabelFigures, ...]:
    above = from_above(built)
    eye = player_eye(built, built.limits["eye_mm"].value, built.limits["stance_mm"].value)
    seen = {face: shadows(built, face, eye) for face in lit_faces(built) if is_seen(built, face, eye)}
    return tuple(_label(built, piece, above[piece.label.face], seen.get(piece.label.face)) for piece in pieces(built))


def _label(built: Built, piece: Piece, above: Sequence[Shadow], seen: Sequence[Shadow] | None) -> LabelFigures:
    found = standing(built, piece)
    share, by = hidden_share(piece.box(), above)
    share_seen, by_seen = hidden_share(piece.box(), seen) if seen is not None else (None, ())
    return LabelFigures(
        subject=piece.subject,
        face=piece.label.face,
        height_mm=piece.capital_mm,
        contrast_low=found.low if found is not None else None,
        contrast_high=found.high if found is not None else None,
        wanted=wanted_contrast(built.limits, piece.capital_mm).value,
        hidden_above=share,
        hidden_player=share_seen,
        hidden_by=tuple(dict.fromkeys((*by, *by_seen))),
    )
