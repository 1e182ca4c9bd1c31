"""What a font file says of itself: its family, its style, its licence, and whether it may be embedded."""

from __future__ import annotations

import struct
from dataclasses import dataclass

# ISO/IEC 14496-22 (OpenType) 5.2, "name": identifiers; the typographic family goes before the plain one
_COPYRIGHT, _FAMILY, _STYLE, _LICENCE, _LICENCE_PLACE, _WIDE_FAMILY, _WIDE_STYLE = 0, 1, 2, 13, 14, 16, 17
_MAC = 1  # platform whose names are Mac Roman, the same clause; the others are UTF-16
_ENGLISH = (0x0409, 0x0809, 0, 0x0C09)  # the same: English of several countries, and Mac's English
_FS_TYPE = 8  # offset in OS/2, the same standard 5.1
_RESTRICTED = 0x0002  # the same: may not be embedded without its maker's leave
_HEADER, _RECORD = 12, 16  # bytes of the table directory: ISO/IEC 14496-22 4.3


@dataclass(frozen=True, kw_only=True)
class FontNames:
    """A font's own words: `family` and `style` as menus show them, `licence` in a sentence or "" where it says none.

    `is_restricted` says that its maker does not let it be embedded in documents.
    """

    family: str
    style: str
    copyright: str = ""
    licence: str = ""
    licence_place: str = ""
    is_restricted: bool = False

    @property
    def title(self) -> str:
        """The family and the style, such as Amatic SC Bold."""
        return self.family if self.style in ("", "Regular") else f"{self.family} {self.style}"

    @property
    def is_open(self) -> bool:
        """Whether the licence is known to let anybody use, copy and print it."""
        words = f"{self.licence} {self.licence_place}".lower()
        known = ("open font license", "openfontlicense", "sil.org/ofl", "scripts.sil.org", "apache", "ubuntu font")
        return any(each in words for each in known)

    @property
    def licence_word(self) -> str:
        """The licence in a few words."""
        words = f"{self.licence} {self.licence_place}".lower()
        if any(each in words for each in ("open font license", "openfontlicense", "sil.org/ofl", "scripts.sil.org")):
            return "SIL Open Font License"
        return "Apache" if "apache" in words else "its own" if words.strip() else "not stated"


def font_names(data: bytes) -> FontNames | None:
    """Return what the bytes of a TrueType or OpenType file say, of a collection its first face; None where nothing."""
    try:
        start = struct.unpack_from(">I", data, _HEADER)[0] if data[:4] == b"ttcf" else 0
        tables = _tables(data, start)
        names = _names(data, *tables[b"name"])
        at = tables.get(b"OS/2", (0, 0))[0]
        rights = struct.unpack_from(">H", data, at + _FS_TYPE)[0] if at else 0
    except (struct.error, KeyError, IndexError):
        return None
    family = names.get(_WIDE_FAMILY) or names.get(_FAMILY, "")
    if not family:
        return None
    return FontNames(
        family=family,
        style=names.get(_WIDE_STYLE) or names.get(_STYLE, ""),
        copyright=names.get(_COPYRIGHT, ""),
        licence=names.get(_LICENCE, ""),
        licence_place=names.get(_LICENCE_PLACE, ""),
        is_restricted=bool(rights & 0x000F == _RESTRICTED),
    )


def _tables(data: bytes, start: int) -> dict[bytes, tuple[int, int]]:
    """Return where each table lies and how long it is."""
    (count,) = struct.unpack_from(">H", data, start + 4)
    records = [struct.unpack_from(">4sIII", data, start + _HEADER + _RECORD * index) for index in range(count)]
    return {tag: (offset, length) for tag, _, offset, length in records}


def _names(data: bytes, start: int, length: int) -> dict[int, str]:
    """Return the names by their identifier, English ones before others."""
    _, count, strings = struct.unpack_from(">HHH", data, start)
    found: dict[int, tuple[int, str]] = {}
    for index in range(count):
        platform, _, language, name, size, offset = struct.unpack_from(">HHHHHH", data, start + 6 + 12 * index)
        raw = data[start + strings + offset : start + strings + offset + size]
        if strings + offset + size > length or len(raw) < size:
            continue
        text = raw.decode("mac_roman" if platform == _MAC else "utf-16-be", "ignore")
        rank = 0 if language in _ENGLISH else 1
        text = " ".join(text.replace("\0", "").split())
        if text and (name not in found or rank < found[name][0]):
            found[name] = rank, text
    return {name: text for name, (_, text) in found.items()}
