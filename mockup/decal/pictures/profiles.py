"""Colour profiles: whatever a picture's numbers mean, turned into sRGB.

Always relative colorimetric with black-point compensation: paper white becomes white, which prints
nothing. Absolute colorimetric would print the paper's tint.
"""

from __future__ import annotations

from io import BytesIO
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageCms

from mockup.model.errors import Fault, InputError

_SPACES = {"RGB ": "RGB", "GRAY": "L", "CMYK": "CMYK", "Lab ": "LAB"}  # ICC.1:2022 table 19
_WORDS = {"RGB": "RGB", "L": "grey", "CMYK": "CMYK", "LAB": "Lab"}
_CREATED = slice(24, 36)  # ICC.1:2022 7.2, date and time of a profile
_EPOCH = bytes((7, 208, 0, 1, 0, 1, 0, 0, 0, 0, 0, 0))  # 1 January 2000
_SAME = 1  # 8-bit codes; a profile that moves nothing further is sRGB under another name


def to_srgb(image: Image.Image, icc: bytes | None) -> tuple[Image.Image, tuple[str, ...], str]:
    """Return a picture without alpha (mode L, RGB, CMYK or LAB) as sRGB, notes on what was done, and its profile.

    `icc` is the embedded profile. A profile that is broken or made for another kind of picture
    is ignored, with a note; the name is then "".
    """
    notes: list[str] = []
    profile = None
    if icc:
        try:
            profile = ImageCms.ImageCmsProfile(BytesIO(icc))
            space = _SPACES.get(profile.profile.xcolor_space, "")
        except (ImageCms.PyCMSError, OSError, ValueError, TypeError):
            profile = None
            notes.append("Its colour profile is damaged and was ignored.")
    if profile is not None and space != image.mode:
        if space == "RGB" and image.mode == "L":
            image = image.convert("RGB")
        else:
            kind = _WORDS.get(space, "another kind of")
            notes.append(f"Its colour profile is for {kind} pictures, not {_WORDS[image.mode]}; it was ignored.")
            profile = None
    if profile is not None:
        converted = _converted(image, profile)
        if converted is not None:
            name = _name_of(profile)
            same = image.mode == "RGB" and _moves_nothing(profile)
            if not same:
                notes.append(f"Converted from its colour profile{f' ({name})' if name else ''} to sRGB.")
            return (image if same else converted), tuple(notes), name or "a profile without a name"
        notes.append("Its colour profile cannot be used and was ignored.")
    if image.mode == "LAB":
        lab = _converted(image, ImageCms.ImageCmsProfile(ImageCms.createProfile("LAB")))
        if lab is None:
            raise ValueError("Lab cannot be converted")
        notes.append("Converted from Lab (D50) to sRGB.")
        return lab, tuple(notes), ""
    if image.mode == "CMYK":
        notes.append("CMYK without a profile: each ink was taken as the plain opposite of red, green and blue.")
    return image.convert("RGB"), tuple(notes), ""


def srgb_profile() -> bytes:
    """Return the bytes of an sRGB profile, the same every time."""
    data = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    data[_CREATED] = _EPOCH  # the library writes the clock there
    return bytes(data)


def into_profile(pixels: NDArray[np.uint8], icc: bytes, name: str) -> NDArray[np.uint8]:
    """Return encoded sRGB pixels (h, w, 3) in the numbers of an RGB profile, paper white staying white.

    `name` is the profile's file, for messages. Raises `InputError` where it is no profile for RGB printing.
    """
    try:
        profile = ImageCms.ImageCmsProfile(BytesIO(icc))
        space = _SPACES.get(profile.profile.xcolor_space, "another kind of")
    except (ImageCms.PyCMSError, OSError, ValueError, TypeError):
        raise InputError(Fault(file=name, what="is not an ICC profile", remedy="choose an .icc or .icm file")) from None
    if space != "RGB":
        what = f"is a profile for {_WORDS.get(space, space)} pictures, expected RGB"
        raise InputError(Fault(file=name, what=what, remedy="an inkjet's driver takes RGB: choose its RGB profile"))
    if _moves_nothing(profile):
        return pixels
    moved = _transformed(Image.fromarray(np.ascontiguousarray(pixels)), ImageCms.createProfile("sRGB"), profile)
    if moved is None:
        what = "reads colours and cannot be printed with"
        raise InputError(Fault(file=name, what=what, remedy="choose a printer's own profile, or leave --icc out"))
    result = np.array(moved, dtype=np.uint8)
    result[(pixels == 255).all(axis=2)] = 255  # bare film takes no ink, whatever rounding says
    return result


def _converted(image: Image.Image, profile: ImageCms.ImageCmsProfile) -> Image.Image | None:
    """Return the picture in sRGB, or None where the profile cannot convert it."""
    return _transformed(image, profile, ImageCms.createProfile("sRGB"))


def _transformed(image: Image.Image, source: Any, target: Any) -> Image.Image | None:
    """Return the picture in the RGB numbers of the target's profile, or None where the two do not go together."""
    try:
        return ImageCms.profileToProfile(
            image,
            source,
            target,
            renderingIntent=ImageCms.Intent.RELATIVE_COLORIMETRIC,
            outputMode="RGB",
            flags=ImageCms.Flags.BLACKPOINTCOMPENSATION,
        )
    except (ImageCms.PyCMSError, OSError, ValueError):
        return None


def _moves_nothing(profile: ImageCms.ImageCmsProfile) -> bool:
    """Return whether an RGB profile is sRGB in all but name: then pixels stay exactly as they are."""
    steps = np.linspace(0, 255, 9).astype(np.uint8)
    grid = np.stack(np.meshgrid(steps, steps, steps), axis=-1).reshape(27, 27, 3)
    moved = _converted(Image.fromarray(grid), profile)
    return moved is not None and int(np.abs(np.asarray(moved, np.int16) - grid).max()) <= _SAME


def _name_of(profile: ImageCms.ImageCmsProfile) -> str:
    text = " ".join((profile.profile.profile_description or "").split())
    return text[:60] if text.isprintable() else ""
