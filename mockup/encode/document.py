"""A document of a few kinds of blocks, in no file format's terms."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Tone = Literal["plain", "stop", "warn", "note"]


@dataclass(frozen=True, kw_only=True)
class Paragraph:
    """One paragraph of plain text; a caution is set apart from the rest."""

    text: str
    is_caution: bool = False


@dataclass(frozen=True, kw_only=True)
class TextTable:
    """Rows of text under `head`; `tones` colour the first cell of each row, empty for none.

    `is_right` names the columns of figures, which stand flush right; `strong` the (row, column) of cells
    that are to be seen.
    """

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    tones: tuple[Tone, ...] = ()
    is_right: tuple[int, ...] = ()
    strong: frozenset[tuple[int, int]] = frozenset()


@dataclass(frozen=True, kw_only=True)
class Steps:
    """What to do, in order."""

    steps: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class Photo:
    """A picture file: `name` is its file name, `media` its type such as ``image/jpeg``, `alt` what it shows.

    One that moves says on paper no more than a still.
    """

    name: str
    data: bytes
    media: str
    width_px: int
    height_px: int
    alt: str
    caption: str
    is_moving: bool = False


@dataclass(frozen=True, kw_only=True)
class Gallery:
    """Pictures beside one another: as many as fit, or just `across` of them where that is above 0."""

    photos: tuple[Photo, ...]
    across: int = 0


@dataclass(frozen=True, kw_only=True)
class Spin:
    """A model to turn with the finger: (name, GLB file) per variant; `alt` says what it shows.

    `file_name` is what the first one is called where it lies beside the document.
    """

    models: tuple[tuple[str, bytes], ...]
    alt: str
    file_name: str


@dataclass(frozen=True, kw_only=True)
class Lineup:
    """Models beside each other that turn as one, `across` in a row, under `names`; `alts` say what they show.

    `data` is one GLB file with a scene for each, in order; `file_name` is what it is called where it lies
    beside the document.
    """

    names: tuple[str, ...]
    data: bytes
    alts: tuple[str, ...]
    file_name: str
    across: int


@dataclass(frozen=True, kw_only=True)
class Wipe:
    """Two pictures of one size, the second laid over the first as far as its edge is dragged."""

    first: Photo
    second: Photo


Block = Paragraph | TextTable | Steps | Gallery | Spin | Lineup | Wipe


@dataclass(frozen=True, kw_only=True)
class Section:
    """A heading and what stands under it."""

    heading: str
    blocks: tuple[Block, ...]


@dataclass(frozen=True, kw_only=True)
class Document:
    """A title, a line under it, sections, and a last line; `sort` says in a word or two what it is."""

    title: str
    under: str
    sections: tuple[Section, ...]
    foot: str
    sort: str = "build log"
