"""What was loaded: a short account of each picture file as it lies on its face, and what is wrong with it.

Nothing here changes a file: what the program can carry out is an edit of the layout.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

import numpy as np

from mockup.colour.words import word
from mockup.decal import white
from mockup.decal.background import Background, background
from mockup.decal.edges import sharpness
from mockup.decal.fitting import fit, fitting_width, flat_mm, is_lengthways, turn
from mockup.decal.ink_over_paint import FAINT, flatten
from mockup.memo import memoize
from mockup.model.design import Design
from mockup.model.edit import Address, Edit, PutValue
from mockup.model.enclosure import Face, faces
from mockup.model.finish import ArtFile, Artwork, Decal
from mockup.model.shape import turned
from mockup.model.units import MM_PER_INCH

TroubleName = Literal["nearly white", "turned", "stamp", "larger", "smaller", "profile"]

_SAME_DPI = 0.005  # share: a PNG counts whole pixels per metre (ISO/IEC 15948 11.3.5.3), a JPEG whole dots
_SLACK_MM = 0.5  # larger than the flat by less is a knife's width: our choice
_ALIKE = 1.15  # ratio of the sides' ratios up to which art is meant for the whole face: our choice
_SMALL = 0.8  # share of the flat's sides below which such art is too small: our choice
_STAMP_DPI = 1200.0  # finer than any art is drawn, from memory: inkjets resolve 300 to 720 of colour
_STAMP = 0.5  # of the flat's longer side
_LOOKED_AT = 200_000  # pixels, evenly spread: shares to 0.2 %
_LEAST_INK = 0.03  # share of the ink that is worth naming: our choice
_MOST_INKS = 4


@dataclass(frozen=True, kw_only=True)
class Line:
    """One thing that the account says, such as Pixels: 1200 x 2300."""

    name: str
    text: str


@dataclass(frozen=True, kw_only=True)
class Trouble:
    """One thing wrong with a picture, with one order; `edits` carry it out, where the program can.

    `title` says it in a few words, `what` in a sentence, `doing` is what a button says.
    """

    name: TroubleName
    title: str
    what: str
    order: str
    doing: str = ""
    edits: tuple[Edit, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Account:
    """What was loaded for one decal, counted as the design's are."""

    decal: int
    art: str
    face: str
    lines: tuple[Line, ...]
    troubles: tuple[Trouble, ...]


def accounts(design: Design) -> tuple[Account, ...]:
    """Return the account of every decal that a picture file was loaded for."""
    sides = faces(design.enclosure)
    return tuple(
        account(decal, sides[decal.face], Address(way=("decal", number), variant=design.variant), number)
        for number, decal in enumerate(design.decals)
        if decal.art.file is not None
    )


@memoize
def account(decal: Decal, face: Face, address: Address, number: int = 0) -> Account:
    """Return the account of a decal whose table stands at `address`; its art has to come from a file."""
    file, art = decal.art.file, decal.art
    if file is None:
        raise ValueError(f"{art.name} was not loaded from a file")
    behind = background(art)
    lines = (
        Line(name="Pixels", text="lines, sharp at any size" if file.is_vector else f"{art.width_px} x {art.height_px}"),
        Line(name="Resolution", text=_resolution(decal, file)),
        Line(name="Size", text=both(decal.width_mm, decal.height_mm)),
        Line(name="Drawn in", text=_numbers(file)),
        Line(name="Clear", text=_clear(art)),
        Line(name="Ground", text=_ground(behind)),
        Line(name="Inks", text=_inks(art)),
        Line(name="Lies", text=_lies(decal)),
        Line(name="Sharpness", text=_sharp(decal, file)),
        *(Line(name="Note", text=each) for each in art.notes),
    )
    return Account(
        decal=number, art=art.name, face=decal.face, lines=lines, troubles=tuple(troubles(decal, face, address))
    )


def both(width_mm: float, height_mm: float) -> str:
    """Return a size in millimetres and in inches."""
    inches = " x ".join(f"{side / MM_PER_INCH:.2f}" for side in (width_mm, height_mm))
    return f"{width_mm:.1f} x {height_mm:.1f} mm, {inches} in"


def troubles(decal: Decal, face: Face, address: Address) -> Iterator[Trouble]:
    """Yield what is wrong with a decal's picture: its ground, its size and its colours, each with one order."""
    art, file = decal.art, decal.art.file
    if file is None:
        return
    yield from _nearly_white(decal, background(art), address)
    yield from _wrong_size(decal, file, face, address)
    if file.mode == "CMYK" and not file.profile:
        yield Trouble(
            name="profile",
            title="Colours without a profile",
            what="it is CMYK and does not say what its inks look like, so its colours are a guess",
            order="Export it as RGB (sRGB)",
        )


def _nearly_white(decal: Decal, behind: Background, address: Address) -> Iterator[Trouble]:
    if behind.kind != "nearly white":
        return
    tolerance = min(behind.tolerance, white.MOST)
    value: int | str = "near" if tolerance <= white.NEAR else tolerance
    said = '"near"' if value == "near" else f"{value}"
    yield Trouble(
        name="nearly white",
        title="Ground is nearly white",
        what=f"its ground is nearly white ({behind.codes}), which lays a veil of ink on the whole film",
        order=f"Treat it as white (white = {said})",
        doing="Treat as white",
        edits=(PutValue(address=address.inside("white"), value=value),),
    )


def _wrong_size(decal: Decal, file: ArtFile, face: Face, address: Address) -> Iterator[Trouble]:
    """Yield what is wrong with a picture's size on its face: one thing, the one that explains the others."""
    size, turn_deg = (decal.width_mm, decal.height_mm), decal.rotation_deg
    across, down = turned(*size, turn_deg)
    room = flat_mm(face)
    flat = f"the flat of the {face.name} face is {room[0]:.1f} x {room[1]:.1f} mm"
    said = f"it is {size[0]:.1f} x {size[1]:.1f} mm"
    wide = fitting_width(size, turn_deg, face)
    fitting = f"make it {wide:.1f} mm wide ({_dpi_at(decal, wide)})"
    is_over = across > room[0] + _SLACK_MM or down > room[1] + _SLACK_MM
    edits = fit(address, size, turn_deg, face)
    would_lie = down <= room[0] + _SLACK_MM and across <= room[1] + _SLACK_MM
    if is_over and (would_lie or is_lengthways(size, turn_deg, face)):
        turned_wide = fitting_width(size, turn_deg + 90.0, face)
        yield Trouble(
            name="turned",
            title="Art lies across its face",
            what=f"{said} as it lies, {flat}: it fits turned by 90 degrees",
            order=f"Turn it (rotation = {(turn_deg + 90.0) % 360.0:g}), {turned_wide:.1f} mm wide",
            doing="Turn it",
            edits=turn(address, decal, face),
        )
    elif is_over:
        yield Trouble(
            name="larger",
            title="Art is larger than the flat",
            what=f"{said}, {flat}",
            order=f"To fit, {fitting}",
            doing="Fit the flat",
            edits=edits,
        )
    elif not file.is_vector and _is_own_size(decal) and _is_stamp(decal, room):
        yield Trouble(
            name="stamp",
            title="Art is as small as a stamp",
            what=f"{min(decal.dpi):.0f} dpi make a stamp of it: {said}, {flat}",
            order=f"If it is meant for the whole face, {fitting}",
            doing="Fit the flat",
            edits=edits,
        )
    elif _is_own_size(decal) and _is_for_face(across, down, room) and across < _SMALL * room[0]:
        yield Trouble(
            name="smaller",
            title="Art is smaller than the flat",
            what=f"{said}, {flat}, and both have the same shape",
            order=f"If it is meant for the whole face, {fitting}",
            doing="Fit the flat",
            edits=edits,
        )


def _dpi_at(decal: Decal, width_mm: float) -> str:
    return f"{decal.dpi[0] * decal.width_mm / width_mm:.0f} dpi"


def _is_own_size(decal: Decal) -> bool:
    """Return whether a decal is as large as its picture file says."""
    return decal.art.dpi is not None and all(
        abs(said / printed - 1.0) <= _SAME_DPI for said, printed in zip(decal.art.dpi, decal.dpi, strict=True)
    )


def _is_stamp(decal: Decal, room: tuple[float, float]) -> bool:
    return min(decal.dpi) >= _STAMP_DPI and max(decal.width_mm, decal.height_mm) < _STAMP * max(room)


def _is_for_face(across: float, down: float, room: tuple[float, float]) -> bool:
    ratio = across / down * room[1] / room[0]
    return 1 / _ALIKE <= ratio <= _ALIKE


def _resolution(decal: Decal, file: ArtFile) -> str:
    """Return dots per inch as printed, and where they come from."""
    printed = decal.dpi
    said = _dots(printed)
    if file.is_vector:
        return f"drawn at {said}, sized by {file.dpi_from}" if _is_own_size(decal) else f"drawn at {said}"
    if decal.art.dpi is None:
        return f"{said} as the layout sizes it; the file does not say"
    if _is_own_size(decal):
        return f"{said}, by {file.dpi_from}"
    return f"{said} as the layout sizes it; the file says {_dots(decal.art.dpi)}"


def _dots(dpi: tuple[float, float]) -> str:
    across, down = (round(each) for each in dpi)
    return f"{across} dpi" if abs(across / down - 1.0) <= _SAME_DPI else f"{across} x {down} dpi"


def _numbers(file: ArtFile) -> str:
    if file.is_vector:
        return f"{file.format} lines"
    profile = file.profile or ("no profile, taken as sRGB" if file.mode != "CMYK" else "no profile")
    return f"{file.format}, {file.mode}, {file.bits} {'bit' if file.bits == 1 else 'bits'}; {profile}"


def _clear(art: Artwork) -> str:
    share = float((art.pixels[..., 3] == 0).mean())
    half = float(((art.pixels[..., 3] > 0) & (art.pixels[..., 3] < 255)).mean())
    if share == half == 0.0:
        return "no, every pixel is opaque"
    words = f"{100 * share:.0f} % of it"
    return words + (f", {100 * half:.0f} % half clear" if half >= 0.005 else "")


def _ground(behind: Background) -> str:
    return {
        "clear": "clear, shows the paint",
        "white": "white, prints nothing",
        "nearly white": f"nearly white: {behind.codes}",
        "flat": f"one flat colour, {word(behind.colour)}: {behind.codes}",
        "none": "none, the art runs to its edges",
    }[behind.kind]


@memoize
def _inks(art: Artwork) -> str:
    """Return the colours that print, in plain words, those of most area first."""
    step = max(1, round((art.width_px * art.height_px / _LOOKED_AT) ** 0.5))
    pixels = flatten(art.pixels)[step // 2 :: step, step // 2 :: step].reshape(-1, 3)
    inked = pixels[255 - pixels.min(axis=1) >= FAINT]
    if not len(inked):
        return "none, nothing prints"
    boxes, counts = np.unique(inked >> 4, axis=0, return_counts=True)
    shares: dict[str, float] = {}
    if counts[counts > _LEAST_INK / 20 * len(inked)].sum() < len(inked) / 2:
        return "many, as in a photograph"
    for box, count in zip(boxes, counts, strict=True):
        if count / len(inked) > _LEAST_INK / 20:  # the rest are shades between two colours
            red, green, blue = ((box * 16 + 8) / 255.0).tolist()
            name = word((red, green, blue))
            shares[name] = shares.get(name, 0.0) + float(count) / len(inked)
    named = [name for name, share in sorted(shares.items(), key=lambda each: -each[1]) if share >= _LEAST_INK]
    if not named or len(named) > _MOST_INKS:
        return "many, as in a photograph" if len(named) > _MOST_INKS else "pale shades only"
    return named[0] if len(named) == 1 else f"{', '.join(named[:-1])} and {named[-1]}"


def _lies(decal: Decal) -> str:
    turn_deg = decal.rotation_deg % 360.0
    return "upright" if turn_deg == 0.0 else f"turned clockwise by {turn_deg:g} degrees"


def _sharp(decal: Decal, file: ArtFile) -> str:
    if file.is_vector:
        return "sharp at any size"
    found = sharpness(decal)
    if found is None:
        return "too few edges to tell"
    if found.factor < 1.7:  # photographs straight from a camera come to about that: common practice, no source
        return "as sharp as its pixels"
    true = f"worth {min(decal.dpi) / found.factor:.0f} dpi"
    if found.is_stepped:
        return f"enlarged: every pixel {found.factor:.1f} times over, {true}"
    return f"soft: edges {found.factor:.1f} pixels wide, {true}"
