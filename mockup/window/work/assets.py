"""Files as they were last read: each is decoded once for what it holds, however often it is asked for."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from mockup import calibrate, files
from mockup.decal import typeface
from mockup.decal.artwork import decode
from mockup.layout import resolve
from mockup.layout.edit.document import BOM
from mockup.layout.parse import Layout, parse, parse_parts
from mockup.model.design import Design
from mockup.model.digest import digest
from mockup.model.finish import Artwork, Decal
from mockup.model.part import Kind
from mockup.model.printer import Printer
from mockup.scene.kept import Kept
from mockup.window.work.project import Project

VECTORS = (".svg", ".svgz")
FULL_DPI = 600.0  # what vectors are drawn at everywhere else: `surface.artwork.decode`
QUICK_DPI = 300.0  # a quarter of the pixels, and still twice as fine as a screen shows a whole pedal
ART_BYTES = 192 * 2**20  # decoded pictures kept, the ones in use and a few from before; our choice
DESIGN_BYTES = 192 * 2**20  # designs with lettering of their own in them; our choice
_MOST = 32  # layouts, fonts and designs kept; one window shows four versions at most


Decoded = Callable[[bytes, str, float], Artwork]
"""What turns a picture file's bytes and name into pixels, vectors at so many dots per inch."""


def drawn(data: bytes, name: str, dpi: float) -> Artwork:
    """Return a picture file as pixels, vectors drawn at `dpi`; raises `InputError`."""
    return decode(data, name, svg_dpi=dpi)


@dataclass(frozen=True, kw_only=True, eq=False)
class _Made:
    """A design with what it was made `of`, so that no other object can come to have an identity of theirs."""

    decals: tuple[Decal, ...]
    design: Design
    of: tuple[object, ...]


class Shelf:
    """What was read from files and made of it, for one project and one thread.

    A file is read again when its size, time or identity changed, or when `is_fresh` was asked for; what is
    made of it is made again only when its bytes changed, so that equal files give the same objects. `decoded`
    turns a picture file into pixels, vectors at so many dots per inch.
    """

    def __init__(self, decoded: Decoded = drawn) -> None:
        self._decode = decoded
        self._bytes: dict[Path, tuple[tuple[int, ...], bytes, str]] = {}
        self._texts, self._art = Kept(most=_MOST), Kept(ART_BYTES, _MOST)
        self._designs = Kept(DESIGN_BYTES, _MOST)

    def refresh(self) -> None:
        """Forget what files held, so that all are read again."""
        self._bytes.clear()

    def layout(self, text: str, project: Project) -> Layout:
        """Return the layout of a text that stands in a project; `InputError` with every mistake."""
        parts = self._parts(project)
        return self._texts.get(("layout", text, parts), lambda: parse(text, project.layout.name, parts))

    def text(self, project: Project) -> str:
        """Return the layout's text as it is on disk, its line ends as they are; `InputError` where it cannot be."""
        data, _ = self._read(project.layout)
        try:
            return data.removeprefix(BOM).decode("utf-8")
        except UnicodeDecodeError:
            return files.read_text(project.layout)  # says where, in words

    def design(self, layout: Layout, project: Project, variant: str | None, *, is_quick: bool = False) -> Design:
        """Return a version of a layout with its art, fonts and printers; `InputError` with every mistake.

        Where it `is_quick`, vectors that are not drawn yet are drawn coarsely.
        """
        art = {name: self._picture(project, name, is_quick=is_quick) for name in resolve.assets(layout, variant)}
        fonts = {name: self._font(project, name) for name in resolve.font_files(layout, variant)}
        printers: dict[str, Printer] = {}
        seal = ""
        if resolve.printer_name(layout, variant) is not None:
            seal = files.read_printers() or ""
            printers = self._texts.get(("printers", seal), calibrate.printers)
        key = ("design", id(layout), variant, seal, *map(id, art.values()), *map(id, fonts.values()))

        def make() -> _Made:
            design = resolve.resolve(layout, art, variant, fonts=fonts, called=project.title, printers=printers)
            return _Made(decals=design.decals, design=design, of=(layout, art, fonts))

        return self._designs.get(key, make).design

    def is_coarse(self, layout: Layout, project: Project, variant: str | None) -> bool:
        """Return whether a version has vectors that are not drawn at their full fineness yet."""
        return any(
            name.lower().endswith(VECTORS) and self._picture_key(project, name, FULL_DPI) not in self._art
            for name in resolve.assets(layout, variant)
        )

    def _picture(self, project: Project, name: str, *, is_quick: bool) -> Artwork:
        key = self._picture_key(project, name, FULL_DPI)
        if is_quick and name.lower().endswith(VECTORS) and key not in self._art:
            key = self._picture_key(project, name, QUICK_DPI)
        data, _ = self._file(project, name)
        return self._art.get(key, lambda: self._decode(data, name, key[-1]))

    def _picture_key(self, project: Project, name: str, dpi: float) -> tuple[str, str, float]:
        return name, self._file(project, name)[1], dpi

    def _parts(self, project: Project) -> tuple[Kind, ...]:
        path = project.folder / files.PARTS_FILE
        if not path.exists():
            return ()
        _, seal = self._read(path)
        return self._texts.get(("parts", seal), lambda: parse_parts(files.read_text(path), files.PARTS_FILE))

    def _font(self, project: Project, name: str) -> typeface.Typeface:
        data, seal = self._file(project, name)
        return self._texts.get(("font", name, seal), lambda: typeface.read(data, name))

    def _file(self, project: Project, name: str) -> tuple[bytes, str]:
        path = project.folder / name
        return self._read(path, lambda: files.read_asset(project.folder, name, project.layout.name))

    def _read(self, path: Path, read: Callable[[], bytes] | None = None) -> tuple[bytes, str]:
        """Return a file's bytes and their hash."""
        now = mark(path)
        known = self._bytes.get(path)
        if known is not None and now and known[0] == now:
            return known[1], known[2]
        data = read() if read is not None else files.read_bytes(path)
        self._bytes[path] = (now, data, digest(data))
        return data, self._bytes[path][2]


def mark(path: Path) -> tuple[int, ...]:
    """Return what changes when a file is saved, () where there is no file."""
    try:
        stat = path.stat()
    except OSError:
        return ()
    return stat.st_mtime_ns, stat.st_size, stat.st_ino
