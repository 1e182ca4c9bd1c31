"""Lettering on the pedal: as the layout declares it, or else as rows of letter-like ink found in the art."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from PIL import Image
from scipy import ndimage

from mockup.checks.art.sheets import FAINT, Sheet, sheets
from mockup.checks.panel.built import Built
from mockup.geometry.planar import axes, box_on_face
from mockup.memo import memoize
from mockup.model.finding import Mark, Subject, SubjectKind
from mockup.model.label import Label
from mockup.model.mesh import Floats

PER_MM = 12.0  # pixels per mm that letters are looked for at, about 300 dpi: a millimetre's letter has 12
LEAST_MM, MOST_MM = 0.7, 9.0  # height of what may be a letter: common practice, no source
LETTERS = 3  # a row of fewer says nothing safe
# What makes a row, in heights of its tallest letter: common practice, no source.
NARROWEST, WIDEST = 0.08, 1.6  # a letter's width
WIDE_ENOUGH = 0.35  # at least two letters are wider, or it is a scale
LOWEST = 0.6  # a letter's own height
BASELINE = 0.16  # how far feet may stand apart
GAP = 0.9  # between two letters; wider spaces end the row


@dataclass(frozen=True, eq=False)
class Piece:
    """One piece of lettering; `is_declared` False where it was only found in the art, so that nobody knows its text."""

    label: Label
    is_declared: bool

    @property
    def subject(self) -> Subject:
        """The label, known by its text, or the lettering, known by its place."""
        label = self.label
        if label.text:
            return Subject(kind="label", name=label.text)
        kind: SubjectKind = "label" if self.is_declared else "lettering"
        return Subject(kind=kind, face=label.face, u_mm=label.u_mm, v_mm=label.v_mm)

    @property
    def mark(self) -> Mark:
        """The box round it."""
        return Mark.round(self.label)

    def box(self, grow_mm: float = 0.0) -> Floats:
        """Return its corners (4, 2) in face millimetres, turned so that u to v is counter-clockwise."""
        each = self.label
        size = each.width_mm + 2 * grow_mm, each.height_mm + 2 * grow_mm
        return box_on_face(size, (each.u_mm, each.v_mm), each.rotation_deg)

    @property
    def axes(self) -> Floats:
        """Its own right and down as rows (2, 2) in face (u, v)."""
        return axes(self.label.rotation_deg)


def pieces(built: Built) -> tuple[Piece, ...]:
    """Return the design's lettering: declared labels, and on faces without any what the art shows."""
    declared = tuple(Piece(label, True) for label in built.design.labels)
    settled = {label.face for label in built.design.labels}
    found = (piece for sheet in sheets(built) if sheet.decal.face not in settled for piece in _read(sheet))
    return declared + tuple(found)


@memoize
def _read(sheet: Sheet) -> tuple[Piece, ...]:
    """Return the rows of letters in one sheet."""
    across, down = sheet.per_mm
    scale = min(1.0, PER_MM / across), min(1.0, PER_MM / down)
    size = [max(1, round(pixels * share)) for pixels, share in zip(sheet.ink.shape[::-1], scale, strict=True)]
    small = np.asarray(Image.fromarray(sheet.ink).resize((size[0], size[1]), Image.Resampling.BOX))
    per = size[0] / sheet.decal.width_mm, size[1] / sheet.decal.height_mm
    marks, _ = ndimage.label(small >= 2 * FAINT, np.ones((3, 3), bool))
    boxes = np.array(
        [(s[1].start, s[0].start, s[1].stop, s[0].stop) for s in ndimage.find_objects(marks)], np.float64
    ).reshape(-1, 4) / (*per, *per)
    found = []
    for left, top, right, bottom in _rows(boxes):
        middle = np.array([(left + right) / 2 * across, (top + bottom) / 2 * down])
        u, v = sheet.to_face(middle).tolist()
        label = Label(
            text="",
            face=sheet.decal.face,
            u_mm=u,
            v_mm=v,
            width_mm=right - left,
            height_mm=bottom - top,
            rotation_deg=sheet.decal.rotation_deg,
        )
        found.append(Piece(label, False))
    return tuple(found)


def _rows(boxes: Floats) -> Iterator[tuple[float, float, float, float]]:
    """Yield (left, top, right, bottom) of each row among boxes (n, 4) of ink, all in millimetres."""
    heights, widths = boxes[:, 3] - boxes[:, 1], boxes[:, 2] - boxes[:, 0]
    fits = (heights >= LEAST_MM) & (heights <= MOST_MM) & (widths >= NARROWEST * heights)
    letters = boxes[fits & (widths <= WIDEST * MOST_MM)]
    letters = letters[np.argsort(letters[:, 0])]
    used = np.zeros(len(letters), bool)
    for first in range(len(letters)):
        if used[first]:
            continue
        row = [first]
        for other in range(first + 1, len(letters)):
            if not used[other] and _follows(letters[row[-1]], letters[other]):
                row.append(other)
        chosen = letters[row]
        tall = float((chosen[:, 3] - chosen[:, 1]).max())
        if len(row) >= LETTERS and _is_lettering(chosen, tall):
            used[row] = True
            yield (
                float(chosen[:, 0].min()),
                float(chosen[:, 1].min()),
                float(chosen[:, 2].max()),
                float(chosen[:, 3].max()),
            )


def _follows(one: Floats, other: Floats) -> bool:
    """Return whether one box stands to the right of another as a letter would."""
    tall = max(one[3] - one[1], other[3] - other[1])
    low = min(one[3] - one[1], other[3] - other[1])
    on_line = abs(one[3] - other[3]) <= BASELINE * tall
    return bool(low >= LOWEST * tall and on_line and -0.2 * tall <= other[0] - one[2] <= GAP * tall)


def _is_lettering(chosen: Floats, tall: float) -> bool:
    widths = chosen[:, 2] - chosen[:, 0]
    return bool((widths >= WIDE_ENOUGH * tall).sum() >= 2 and (widths <= WIDEST * tall).all() and _differ(widths, tall))


def _differ(widths: Floats, tall: float) -> bool:
    """Return whether the shapes differ in width as letters do; a row of equal dots or windows does not."""
    return float(np.ptp(widths)) > 0.08 * tall
