"""Fonts: the bytes of a font file become a typeface, and a line of text its outlines.

The shaping library knows each font's own metrics, kerning, ligatures and marks; it only ever reads bytes.
Text runs in one direction; a variable font is drawn at its default; of a collection the first face is
taken.
"""

from __future__ import annotations

import itertools
import struct
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from mockup.decal.curves import Curves, bounds
from mockup.decal.pictures.formats import refused
from mockup.memo import memoize
from mockup.model.text import printable
from mockup.model.units import MM_PER_INCH, POINTS_PER_INCH

_CAP_PER_EM = 0.7  # where a font neither states it nor has an H: common practice, no source
_OUTLINES = {b"glyf", b"CFF ", b"CFF2"}  # ISO/IEC 14496-22 5.3: tables that hold outlines
_HEADER, _RECORD = 12, 16  # bytes of the table directory: ISO/IEC 14496-22 4.3
_ADJUSTMENT = 8  # byte of the head table where the whole file's is: ISO/IEC 14496-22 5.2.4
_MAGIC_SUM = 0xB1B0AFBA  # which that and the sum of the file make together: the same
_MAX_CURVES = 200_000  # of one line of text; our choice, far beyond any lettering


@dataclass(frozen=True, kw_only=True, eq=False)
class Typeface:
    """A font that can be drawn: its file's name, bytes, and metrics in font units."""

    name: str
    data: bytes = field(repr=False)
    units_per_em: int
    cap_height: float


@dataclass(frozen=True, kw_only=True, eq=False)
class TextLine:
    """One line of text, ready to draw.

    The origin of `curves` is the middle of its box: `width_mm` from the leftmost to the rightmost
    ink, `height_mm` from the baseline to the height of a capital, whatever the letters are.
    """

    curves: Curves
    width_mm: float
    height_mm: float


def read(data: bytes, name: str) -> Typeface:
    """Return the typeface in the bytes of a TrueType or OpenType font file; `name` is used in messages.

    Raises `InputError` with one `Fault` for whatever is no such font, or a damaged one.
    """
    if not data:
        raise refused(name, "is empty", "copy the font file again")
    if data[:4] in (b"wOFF", b"wOF2"):  # W3C WOFF File Format 1.0 and 2.0
        raise refused(name, "is a font packed for web pages", "use the font's .ttf or .otf file")
    tables = _tables(data)
    if tables is None:
        raise refused(
            name, "is not a font, or is damaged or cut short; expected a .ttf or .otf file", "copy the font file again"
        )
    if data[:4] != b"ttcf" and (harm := _harm(data)):
        raise refused(name, f"is damaged: {harm}", "copy the font file again, or save it again in a font editor")
    font = _opened(data)
    if font.face.glyph_count == 0 or not _OUTLINES & tables:
        raise refused(name, "has no outlines to draw", "use a .ttf or .otf file with outlines")
    return Typeface(name=name, data=data, units_per_em=font.face.upem, cap_height=_cap_height(font))


def cap_mm(typeface: Typeface, points: float) -> float:
    """Return the height of a capital, in millimetres, of text set in `points`: the size of the font's em."""
    return points * MM_PER_INCH / POINTS_PER_INCH * typeface.cap_height / typeface.units_per_em


def missing(typeface: Typeface, text: str) -> tuple[str, ...]:
    """Return the characters of a text that the font does not have, each once, in order."""
    infos, _ = _shaped(typeface, text, is_spaced=False)
    return tuple(dict.fromkeys(text[info.cluster] for info in infos if info.codepoint == 0))


def line(typeface: Typeface, text: str, height_mm: float, spacing_mm: float = 0.0) -> TextLine:
    """Return a text with capitals `height_mm` high, kerned, with `spacing_mm` more between its letters.

    Where the font draws nothing for it, the curves are empty and the width is 0. Letters that are
    spaced form no ligatures.
    """
    infos, positions = _shaped(typeface, text, is_spaced=spacing_mm != 0.0)
    scale = height_mm / typeface.cap_height
    font, pen = _font(typeface), _Pen()
    at = 0.0
    for index, (info, position) in enumerate(zip(infos, positions, strict=True)):
        if index and info.cluster != infos[index - 1].cluster:
            at += spacing_mm / scale
        pen.origin = np.array([at + position.x_offset, position.y_offset])
        font.draw_glyph_with_pen(info.codepoint, pen)
        at += position.x_advance
        if len(pen.curves) > _MAX_CURVES:
            raise refused(typeface.name, f"is too intricate to draw {text!r}", "choose a plainer font")
    if not pen.curves:
        return TextLine(curves=Curves(points=np.empty((0, 4, 2)), starts=()), width_mm=0.0, height_mm=height_mm)
    points = np.array(pen.curves) * (scale, -scale)
    left, _, right, _ = bounds(Curves(points=points, starts=tuple(pen.starts)))
    middle = ((left + right) / 2, -height_mm / 2)
    return TextLine(
        curves=Curves(points=points - middle, starts=tuple(pen.starts)), width_mm=right - left, height_mm=height_mm
    )


def carets(typeface: Typeface, text: str, height_mm: float, spacing_mm: float = 0.0) -> tuple[float, ...]:
    """Return where a caret stands before each letter of a text and behind the last, as `line` draws it.

    Millimetres from the leftmost ink; inside a ligature the letters share its width evenly.
    """
    if not text:
        return (0.0,)
    infos, positions = _shaped(typeface, text, is_spaced=spacing_mm != 0.0)
    scale, extra = height_mm / typeface.cap_height, spacing_mm / (height_mm / typeface.cap_height)
    starts: dict[int, float] = {}
    at = 0.0
    for index, (info, position) in enumerate(zip(infos, positions, strict=True)):
        if index and info.cluster != infos[index - 1].cluster:
            at += extra
        starts.setdefault(info.cluster, at)
        at += position.x_advance
    known = [*sorted(starts), len(text)]
    places = {**starts, len(text): at}
    found = [0.0] * (len(text) + 1)
    for low, high in itertools.pairwise(known):
        for each in range(low, high + 1):
            share = (each - low) / (high - low)
            found[each] = places[low] + share * (places[high] - places[low])
    first = _bearing(typeface, infos, positions)
    return tuple((each - first) * scale for each in found)


def _bearing(typeface: Typeface, infos: list[Any], positions: list[Any]) -> float:
    """Return where the ink of a shaped text begins, in font units from its pen's start."""
    font, at, left = _font(typeface), 0.0, None
    for info, position in zip(infos, positions, strict=True):
        extents = font.get_glyph_extents(info.codepoint)
        if extents is not None and extents.width:
            edge = at + position.x_offset + extents.x_bearing
            left = edge if left is None else min(left, edge)
        at += position.x_advance
    return left or 0.0


class _Pen:
    """Collects the outlines of glyphs as cubic curves in font units, y up."""

    def __init__(self) -> None:
        self.origin = np.zeros(2)
        self.curves: list[Any] = []
        self.starts: list[int] = []
        self._first = self._at = self.origin

    def moveTo(self, point: tuple[float, float]) -> None:  # noqa: N802  (the library calls these names)
        self._first = self._at = self.origin + point
        self.starts.append(len(self.curves))

    def lineTo(self, point: tuple[float, float]) -> None:  # noqa: N802
        end = self.origin + point
        self._add((2 * self._at + end) / 3, (self._at + 2 * end) / 3, end)

    def qCurveTo(self, control: tuple[float, float], point: tuple[float, float]) -> None:  # noqa: N802
        middle, end = self.origin + control, self.origin + point
        self._add((self._at + 2 * middle) / 3, (2 * middle + end) / 3, end)

    def curveTo(self, *points: tuple[float, float]) -> None:  # noqa: N802
        one, two, end = (self.origin + point for point in points)
        self._add(one, two, end)

    def closePath(self) -> None:  # noqa: N802
        if not np.array_equal(self._at, self._first):
            self.lineTo(tuple(self._first - self.origin))
        if self.starts[-1] == len(self.curves):  # a lone point
            self.starts.pop()

    def _add(self, *rest: Any) -> None:
        self.curves.append((self._at, *rest))
        self._at = rest[-1]


def _tables(data: bytes) -> set[bytes] | None:
    """Return the names of a font's tables, or None where the bytes are no font or do not hold every table."""
    try:
        start = struct.unpack_from(">I", data, 12)[0] if data[:4] == b"ttcf" else 0  # ISO/IEC 14496-22 4.3.1
        tag, count = struct.unpack_from(">4sH", data, start)
        records = [struct.unpack_from(">4sIII", data, start + _HEADER + _RECORD * index) for index in range(count)]
    except struct.error:
        return None
    is_font = tag in (b"\x00\x01\x00\x00", b"OTTO", b"true")  # ISO/IEC 14496-22 4.3; "true": from memory
    is_whole = all(offset + length <= len(data) for _, _, offset, length in records)
    return {name for name, *_ in records} if is_font and is_whole and records else None


def _harm(data: bytes) -> str:
    """Return what checksums say of damage to a font, "" where they are right.

    One wrong sum alone is a slip of whoever wrote it: two of 75 fonts that we tried have one, and draw well. A byte
    that changed later makes its table's sum and that of the whole file wrong.
    """
    count = struct.unpack_from(">H", data, 4)[0]
    records = [struct.unpack_from(">4sIII", data, _HEADER + _RECORD * index) for index in range(count)]
    wrong, whole = "", b""
    for tag, stated, offset, length in records:
        table = data[offset : offset + length]
        if tag == b"head" and length >= _ADJUSTMENT + 4:
            at = offset + _ADJUSTMENT
            whole = data[:at] + bytes(4) + data[at + 4 :]
            adjustment = struct.unpack_from(">I", data, at)[0]
            table = table[:_ADJUSTMENT] + bytes(4) + table[_ADJUSTMENT + 4 :]
        if _sum(table) != stated:
            wrong = wrong or tag.decode("ascii", "replace")
    if not whole:
        return "its head table is missing or too short"
    if not wrong or (_sum(whole) + adjustment) % 2**32 == _MAGIC_SUM:
        return ""
    return f"the checksum of its table {printable(wrong)!r} is wrong"


def _sum(table: bytes) -> int:
    """Return the checksum of a table: the sum of its 32-bit numbers (ISO/IEC 14496-22 4.3.2)."""
    padded = table + bytes(-len(table) % 4)
    return int(np.frombuffer(padded, ">u4").sum(dtype=np.uint64)) % 2**32


def _cap_height(font: Any) -> float:
    """Return the height of a capital in font units: as stated, else that of the H."""
    import uharfbuzz

    stated = font.get_metric_position(uharfbuzz.OTMetricsTag.CAP_HEIGHT)
    if stated is not None and stated > 0:
        return float(stated)
    glyph = font.get_nominal_glyph(ord("H"))
    extents = font.get_glyph_extents(glyph) if glyph is not None else None
    if extents is not None and extents.y_bearing > 0:
        return float(extents.y_bearing)
    return _CAP_PER_EM * float(font.face.upem)


def _shaped(typeface: Typeface, text: str, *, is_spaced: bool) -> tuple[list[Any], list[Any]]:
    """Return the glyphs of a text in the order they stand, and where; clusters count characters."""
    import uharfbuzz

    buffer = uharfbuzz.Buffer()
    buffer.add_codepoints([ord(each) for each in text])
    buffer.guess_segment_properties()
    uharfbuzz.shape(_font(typeface), buffer, {"liga": False, "clig": False} if is_spaced else {})
    return buffer.glyph_infos, buffer.glyph_positions


@memoize
def _font(typeface: Typeface) -> Any:
    return _opened(typeface.data)


def _opened(data: bytes) -> Any:
    """Return the library's font, one font unit a unit; damaged tables read as empty ones."""
    import uharfbuzz  # here: a compiled library, needed for lettering only

    return uharfbuzz.Font(uharfbuzz.Face(data))
