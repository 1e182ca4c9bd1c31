"""Which pixels of a piece of lettering are its letters, on whatever ground: a mask that reads as the word did.

Colours are gathered into two, three and four groups, and lightness is held against its neighbourhood; each group
that could be letters is drawn black on white and read again. The smallest that reads as well as the best is taken:
plates and shadows round the letters are larger.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher

import numpy as np
from numpy.typing import NDArray
from PIL import Image
from scipy import ndimage

from mockup.colour.difference import encoded_to_lab
from mockup.model.mesh import Floats
from mockup.reading import network
from mockup.reading.network import Pixels, Quad

Bits = NDArray[np.bool_]

ROWS = 72  # that a crop is looked at with: letters come to about 40
MOST_COLUMNS = 1200
GROW = 1.25  # of the detector's box: letters at its edge are whole
ENOUGH = 0.9  # a first mask that reads as surely as this is not doubted; measured on drawn sheets
NEARLY = 0.9  # of the best reading: what reads as well as that is as good
_GROUPS = (2, 3, 4)
_ROUNDS = 8
_LEAST, _MOST = 0.02, 0.6  # share of the crop that letters fill
_TALL, _WIDE = 0.3, 0.45  # share of the crop's sides that they reach over
_PLATE, _HOLES = 0.85, 0.05  # share of its box that a plate fills with its holes, and that the holes fill
_PLAIN, _MOSTLY = 12.0, 75.0  # CIELAB that most of a plain ground keeps within, and percent of it: our choice
_TIED = 0.7  # share of a word's width that one piece of it may reach over, before other masks are tried too
_TELLS = 6.0  # L* that letters differ from their neighbourhood by, at least


@dataclass(frozen=True, eq=False)
class Letters:
    """A mask (h, w) over the least box round the letters; `box` is that box in the picture."""

    box: Quad
    mask: Bits


def upright(picture: Image.Image, quad: Quad, rows: int = ROWS) -> tuple[Pixels, float]:
    """Return what lies in a quad, turned upright, at most so many rows high; and how many of its pixels make one."""
    per = min(rows / quad.height, MOST_COLUMNS / quad.width)
    size = max(8, round(quad.width * per)), max(8, round(quad.height * per))
    (a, d), (b, e) = quad.axes / per
    x, y = np.array([quad.x, quad.y]) - np.array(size) / 2 @ (quad.axes / per)
    turned = picture.transform(
        size, Image.Transform.AFFINE, (a, b, x, d, e, y), Image.Resampling.BILINEAR, fillcolor=picture.getpixel((0, 0))
    )
    return np.asarray(turned), per


def letters(picture: Image.Image, quads: Sequence[Quad], texts: Sequence[str]) -> list[Letters | None]:
    """Return the letters of each piece of lettering that was read as a text; None where no mask reads like it."""
    crops = [_crop(picture, quad) for quad in quads]
    labs = [encoded_to_lab(crop / 255.0) for crop, _ in crops]
    firsts = [next(_groups(lab, 2), None) for lab in labs]
    firsts_read = _read([each for each in firsts if each is not None])
    scores = iter(firsts_read)
    found: list[Letters | None] = []
    for quad, (_, per), lab, first, text in zip(quads, crops, labs, firsts, texts, strict=True):
        tried = [] if first is None else [(first, _likeness(*next(scores), text))]
        if not tried or tried[0][1] < ENOUGH or _is_tied(tried[0][0], text):
            more = list(_candidates(lab))
            tried += [(mask, _likeness(*each, text)) for mask, each in zip(more, _read(more), strict=True)]
        best = max((score for _, score in tried), default=0.0)
        good = [mask for mask, score in tried if score >= NEARLY * best and score > 0.4]
        found.append(boxed(quad, per, min(good, key=_extent)) if good else None)
    return found


def nearest(picture: Image.Image, quad: Quad) -> Letters | None:
    """Return the letters of a piece of lettering that nobody reads, such as a single figure; None where none stand out.

    They are the group that tells best from the crop's edge, if what is round them is plain: in a photograph anything
    would do.
    """
    crop, per = _crop(picture, quad)
    lab = encoded_to_lab(crop / 255.0)
    mask = next(_groups(lab, 2), None)
    if mask is None:  # a heavy B or 8 by itself fills its box like a plate with two holes
        mask = next(_groups(lab, 2, are_plates=True), None)
    if mask is None:
        return None
    around = lab[~ndimage.binary_dilation(mask, np.ones((3, 3), bool), iterations=2)]
    if not len(around) or np.percentile(np.abs(around - np.median(around, axis=0)).max(axis=1), _MOSTLY) > _PLAIN:
        return None
    return boxed(quad, per, mask)


def boxed(quad: Quad, per: float, mask: Bits) -> Letters:
    """Return the letters of a mask that lies over the middle of a quad, with so many pixels to the picture's one."""
    rows, columns = np.flatnonzero(mask.any(axis=1)), np.flatnonzero(mask.any(axis=0))
    top, bottom, left, right = rows[0], rows[-1] + 1, columns[0], columns[-1] + 1
    height, width = mask.shape
    x, y = (
        np.array([quad.x, quad.y])
        + np.array([(left + right - width) / 2, (top + bottom - height) / 2]) / per @ quad.axes
    )
    box = Quad(x=float(x), y=float(y), width=(right - left) / per, height=(bottom - top) / per, turn_deg=quad.turn_deg)
    return Letters(box, np.ascontiguousarray(mask[top:bottom, left:right]))


def _crop(picture: Image.Image, quad: Quad) -> tuple[Pixels, float]:
    room = (GROW - 1.0) * quad.height
    grown = Quad(x=quad.x, y=quad.y, width=quad.width + room, height=quad.height + room, turn_deg=quad.turn_deg)
    return upright(picture, grown)


def _candidates(lab: Floats) -> Iterator[Bits]:
    light = lab[..., 0]
    away = light - ndimage.uniform_filter(light, size=2 * (len(light) // 4) + 1)
    for mask in (away < -_TELLS, away > _TELLS):
        yield from _inner(mask)
    for count in _GROUPS[1:]:
        yield from _groups(lab, count)


def _groups(lab: Floats, count: int, *, are_plates: bool = False) -> Iterator[Bits]:
    """Yield each of so many groups of colours that could be letters, the one that is least at the edge first.

    With `are_plates` what looks like a plate round letters counts too.
    """
    points = lab.reshape(-1, 3)
    some = points[:: max(1, len(points) // 6000)]
    away = some - some.mean(axis=0)
    along = away @ np.linalg.eigh(away.T @ away)[1][:, -1]
    if np.ptp(along) < _TELLS:
        return
    ends = np.linspace(along.min(), along.max(), count)
    hearts = np.array([some[np.argmin(np.abs(along - end))] for end in ends])
    for _ in range(_ROUNDS):
        nearest_heart = _which(some, hearts)
        hearts = np.array(
            [
                some[nearest_heart == each].mean(axis=0) if (nearest_heart == each).any() else hearts[each]
                for each in range(count)
            ]
        )
    names = _which(points, hearts).reshape(lab.shape[:2])
    edge = np.concatenate([names[0], names[-1], names[:, 0], names[:, -1]])
    for each in sorted(range(count), key=lambda number: int((edge == number).sum()))[: max(1, count - 1)]:
        yield from _inner(names == each, is_plate=are_plates)


def _which(points: Floats, hearts: Floats) -> NDArray[np.intp]:
    away: Floats = (points**2).sum(axis=1)[:, None] - 2 * points @ hearts.T + (hearts**2).sum(axis=1)
    return np.asarray(away.argmin(axis=1))


def _inner(mask: Bits, *, is_plate: bool = False) -> Iterator[Bits]:
    """Yield a mask without what touches the crop's edge, if what is left could be letters or, `is_plate`, a plate."""
    names, count = ndimage.label(mask, np.ones((3, 3), bool))
    if not count:
        return
    is_kept = np.ones(count + 1, bool)
    is_kept[0] = False
    for edge in (names[0], names[-1], names[:, 0], names[:, -1]):
        is_kept[edge] = False
    least = (0.04 * len(mask)) ** 2  # specks of grain
    is_kept &= np.bincount(names.ravel(), minlength=count + 1) >= least
    kept = is_kept[names]
    if not _LEAST <= kept.mean() <= _MOST:
        return
    rows, columns = np.flatnonzero(kept.any(axis=1)), np.flatnonzero(kept.any(axis=0))
    own = kept[rows[0] : rows[-1] + 1, columns[0] : columns[-1] + 1]
    filled = float(ndimage.binary_fill_holes(own).mean())
    if not is_plate and filled >= _PLATE and filled - float(own.mean()) >= _HOLES:
        return  # what lies round the letters, which are its holes
    if rows[-1] - rows[0] >= _TALL * len(kept) and columns[-1] - columns[0] >= _WIDE * (kept.shape[1] - len(kept) / 2):
        yield kept


def _is_tied(mask: Bits, text: str) -> bool:
    """Return whether something runs through the whole of a word of several letters, such as stripes of its colour."""
    names, count = ndimage.label(mask, np.ones((3, 3), bool))
    widest = max(columns.stop - columns.start for _, columns in ndimage.find_objects(names)) if count else 0
    return len(text) > 2 and widest >= _TIED * mask.any(axis=0).sum()


def _read(masks: Sequence[Bits]) -> list[tuple[str, float]]:
    drawn = [np.repeat(np.where(mask, 0, 255).astype(np.uint8)[..., None], 3, axis=2) for mask in masks]
    return network.read(drawn) if drawn else []


def _likeness(read: str, sure: float, text: str) -> float:
    return sure * SequenceMatcher(None, read.casefold(), text.casefold()).ratio()


def _extent(mask: Bits) -> int:
    rows, columns = np.flatnonzero(mask.any(axis=1)), np.flatnonzero(mask.any(axis=0))
    return int((rows[-1] - rows[0]) * (columns[-1] - columns[0]))
