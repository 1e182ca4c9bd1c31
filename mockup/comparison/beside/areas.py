"""The areas of a pedal in a picture, and how a photograph's colours there differ from those predicted."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from mockup.colour import rgb
from mockup.colour.difference import ciede2000, encoded_to_lab
from mockup.decal.painting import plain_finishes
from mockup.model.design import Design
from mockup.model.enclosure import DECAL_FACES, FACE_WORDS
from mockup.model.material import Colour, plastic
from mockup.model.mesh import Floats
from mockup.model.scene import Body, Scene

Bits = NDArray[np.bool_]
Pixels = NDArray[np.uint8]

PAINT_DE = 2.0  # a predicted colour so near to the paint is paint: our choice
_LOW, _STEP, _DIGITS = 20, 8, 28  # codes of the numbers that bodies are told by, in two channels: our choice
INKS = 4  # colours of print on a face that are told apart: our choice
LEAST_SHARE = 5e-4  # of the picture; a smaller area is all edge: our choice
_SOFT_PX = 2  # of an area's edge that is left out: cameras are never quite the same; our choice
_FAINT_DE = 5.0  # colours of print nearer to one another than this are one: our choice


@dataclass(frozen=True, kw_only=True)
class Area:
    """One area: its name, the encoded colours predicted and photographed, and their difference (CIEDE2000)."""

    name: str
    kind: str
    predicted: Colour
    seen: Colour
    difference: float

    @property
    def words(self) -> str:
        """How the photograph differs, in words."""
        before, after = (encoded_to_lab(np.array(each)) for each in (self.predicted, self.seen))
        light, colour = float(after[0] - before[0]), float(np.hypot(*after[1:]) - np.hypot(*before[1:]))
        said = []
        if abs(light) >= 1.0:
            said.append(f"{abs(light):.0f} L* {'lighter' if light > 0 else 'darker'}")
        if abs(colour) >= 1.0:
            said.append(f"{abs(colour):.0f} {'stronger' if colour > 0 else 'duller'}")
        return ", ".join(said) or "as predicted"


def numbered(scene: Scene) -> Scene:
    """Return a scene in which every body has a flat colour that tells its number."""
    bodies = []
    for number, body in enumerate(scene.bodies):
        code = (_LOW + _STEP * (number % _DIGITS), _LOW + _STEP * (number // _DIGITS % _DIGITS), 128)
        bodies.append(replace(body, material=plastic(rgb.linear_colour(rgb.colour(np.array(code) / 255.0)))))
    return replace(scene, bodies=tuple(bodies))


def masks(bodies: Sequence[Body], flat: Pixels) -> dict[str, Bits]:
    """Return which pixels of a picture of `numbered` bodies show each, its edges left out, by the body's name."""
    from scipy.ndimage import binary_erosion

    digits = (flat[..., :2].astype(np.float64) - _LOW) / _STEP
    whole = np.rint(digits)
    is_sure = (np.abs(digits - whole).max(axis=-1) < 0.4) & (np.abs(flat[..., 2].astype(np.int16) - 128) <= 3)
    numbers = np.where(is_sure, whole[..., 0] + _DIGITS * whole[..., 1], -1).astype(np.int64)
    counts = np.bincount(numbers[numbers >= 0].ravel(), minlength=len(bodies))
    found: dict[str, Bits] = {}
    for number, body in enumerate(bodies):
        if counts[number] < LEAST_SHARE * numbers.size:
            continue
        inside = binary_erosion(numbers == number, iterations=_SOFT_PX)
        if inside.mean() >= LEAST_SHARE:
            found[body.name] = found.get(body.name, np.zeros_like(inside)) | inside
    return found


def areas(
    design: Design, shown: Mapping[str, Bits], bodies: Sequence[Body], proof: Pixels, photo: Floats
) -> list[Area]:
    """Return the areas of a photograph, its linear light (h, w, 3) divided by the card's, beside a proof's pixels."""
    paints = [encoded_to_lab(np.array(each.paint)) for each in plain_finishes(design.finish)]
    predicted = proof[..., :3]
    found: list[Area] = []
    for body in bodies:
        where = shown.get(body.name)
        if where is None or (body.material.metallic > 0.5 and body.name not in DECAL_FACES):
            continue  # metal mirrors the room: its colour is the room's
        if body.name in DECAL_FACES:
            word = FACE_WORDS[next(face for face in DECAL_FACES if face == body.name)]
            lab = encoded_to_lab(predicted[where] / 255.0)
            is_paint = np.min([ciede2000(lab, each) for each in paints], axis=0) < PAINT_DE
            plain = where.copy()
            plain[where] = is_paint
            if plain.mean() >= LEAST_SHARE:
                found.append(_area(f"paint of the {word}", "paint", plain, predicted, photo))
            print_ = where & ~plain
            found += [
                _area(f"print {name} on the {word}", "print", part, predicted, photo)
                for name, part in _inks(predicted, print_)
            ]
        elif body.part is not None:
            found.append(_area(f"{body.part}, {body.material.name}", "part", where, predicted, photo))
    return found


def _inks(predicted: Pixels, where: Bits) -> list[tuple[str, Bits]]:
    """Return the main colours of print among some pixels, each with the pixels that have just that colour."""
    from scipy.ndimage import binary_erosion

    found: list[tuple[str, Bits]] = []
    left = where.copy()
    for _ in range(2 * INKS):  # soft edges make colours of their own, which are passed over
        if len(found) == INKS or left.mean() < LEAST_SHARE:
            break
        codes, counts = np.unique(predicted[left] // 8, axis=0, return_counts=True)
        middle = (codes[counts.argmax()] * 8 + 4) / 255.0
        near = np.zeros_like(left)
        near[left] = ciede2000(encoded_to_lab(predicted[left] / 255.0), encoded_to_lab(middle)) < _FAINT_DE
        inside = binary_erosion(near)
        if inside.mean() >= LEAST_SHARE / 4:
            found.append((rgb.to_hex(middle), inside))
        left &= ~near
    return found


def _area(name: str, kind: str, where: Bits, predicted: Pixels, photo: Floats) -> Area:
    """Return an area of pixels; medians leave glints and dust out."""
    before = np.median(predicted[where], axis=0) / 255.0
    after = rgb.encode(np.clip(np.median(photo[where], axis=0), 0.0, 1.0))
    apart = float(ciede2000(encoded_to_lab(before), encoded_to_lab(after)))
    return Area(name=name, kind=kind, predicted=rgb.colour(before), seen=rgb.colour(after), difference=apart)
