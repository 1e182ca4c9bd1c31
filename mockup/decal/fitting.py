"""Art that fits the flat of its face: how wide it then is, and the edits that make it so."""

from __future__ import annotations

import math

from mockup.model.edit import Address, Edit, PutLength, PutValue, RemoveValue
from mockup.model.enclosure import Face
from mockup.model.finish import Artwork, Decal
from mockup.model.shape import turned

_STEP_MM = 0.1  # a ruler's, rounded down so that it fits: our choice
_SIDES = ("left", "right", "top", "bottom")


def flat_mm(face: Face) -> tuple[float, float]:
    """Return the width and height of a face's flat."""
    left, top, right, bottom = face.flat
    return right - left, bottom - top


def fitting_width(size: tuple[float, float], rotation_deg: float, face: Face) -> float:
    """Return the greatest width, to a tenth of a millimetre, with which a picture of these proportions fits the flat.

    `size` is its width and height in any unit, before it is turned clockwise by `rotation_deg`.
    """
    across, down = turned(*size, rotation_deg)
    room_across, room_down = flat_mm(face)
    width = size[0] * min(room_across / across, room_down / down)
    return max(math.floor(width / _STEP_MM + 1e-6) * _STEP_MM, _STEP_MM)


def is_lengthways(size: tuple[float, float], rotation_deg: float, face: Face) -> bool:
    """Return whether a picture lies along a face that it would fit much better turned by 90 degrees."""
    as_it_is = fitting_width(size, rotation_deg, face)
    return fitting_width(size, rotation_deg + 90.0, face) > 1.3 * as_it_is  # a third larger: our choice


def fit(address: Address, size: tuple[float, float], rotation_deg: float, face: Face) -> tuple[Edit, ...]:
    """Return the edits that make a decal as large as the flat of its face takes it, in the middle of it.

    `size` is its width and height in any unit, before it is turned; its proportions stay.
    """
    width = fitting_width(size, rotation_deg, face)
    return (
        PutLength(address=address.inside("width"), mm=round(width, 1)),
        RemoveValue(address=address.inside("height")),
        *(RemoveValue(address=address.inside(side)) for side in _SIDES),
    )


def turn(address: Address, decal: Decal, face: Face) -> tuple[Edit, ...]:
    """Return the edits that turn a decal clockwise by 90 degrees and make it fit the flat."""
    degrees = (decal.rotation_deg + 90.0) % 360.0
    size = (decal.width_mm, decal.height_mm)
    return (PutValue(address=address.inside("rotation"), value=degrees), *fit(address, size, degrees, face))


def pixels_of(art: Artwork) -> tuple[float, float]:
    """Return the proportions of a picture: its pixels, or inches where it says how large its pixels are."""
    if art.dpi is None:
        return float(art.width_px), float(art.height_px)
    return art.width_px / art.dpi[0], art.height_px / art.dpi[1]
