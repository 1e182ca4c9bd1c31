"""Files as they were last read: each is decoded once for what it holds, however often it is asked for."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

from mockup import calibrate, files
from mockup.layout import resolve
from mockup.layout.parse import Layout, parse, parse_parts
from mockup.model.design import Design
from mockup.model.part import Kind
from mockup.model.printer import Printer
from mockup.surface import typeface
from mockup.surface.artwork import decode
from mockup.window.editing import BOM, digest
from mockup.window.project import Project

Made = TypeVar("Made")

_MOST = 48  # decoded pictures and fonts, layouts and designs kept; one window needs far fewer


class Shelf:
    """What was read from files and made of it, for one project and one thread.

    A file is read again when its size, time or identity changed, or when `is_fresh` was asked for; what is
    made of it is made again only when its bytes changed, so that equal files give the same objects.
    """

    def __init__(self) -> None:
        self._bytes: dict[Path, tuple[tuple[int, ...], bytes, str]] = {}
        self._made: dict[tuple[Any, ...], Any] = {}

    def refresh(self) -> None:
        """Forget what files held, so that all are read again."""
        self._bytes.clear()

    def layout(self, text: str, project: Project) -> Layout:
        """Return the layout of a text that stands in a project; `InputError` with every mistake."""
        parts = self._parts(project)
        return self._get(("layout", text, parts), lambda: parse(text, project.layout.name, parts))

    def text(self, project: Project) -> str:
        """Return the layout's text as it is on disk, its line ends as they are; `InputError` where it cannot be."""
        data, _ = self._read(project.layout)
        try:
            return data.removeprefix(BOM).decode("utf-8")
        except UnicodeDecodeError:
            return files.read_text(project.layout)  # says where, in words

    def design(self, layout: Layout, project: Project, variant: str | None) -> Design:
        """Return a version of a layout with its art, fonts and printers; `InputError` with every mistake."""
        art = {name: self._asset(project, name, decode) for name in resolve.assets(layout, variant)}
        fonts = {name: self._asset(project, name, typeface.read) for name in resolve.font_files(layout, variant)}
        printers: dict[str, Printer] = {}
        seal = ""
        if resolve.printer_name(layout, variant) is not None:
            seal = files.read_printers() or ""
            printers = self._get(("printers", seal), calibrate.printers)
        key = ("design", id(layout), variant, seal, *map(id, art.values()), *map(id, fonts.values()))

        def make() -> tuple[Design, object]:
            made = resolve.resolve(layout, art, variant, fonts=fonts, called=project.title, printers=printers)
            return made, (layout, art, fonts)  # kept beside it, so that their identities stay theirs

        return self._get(key, make)[0]

    def _parts(self, project: Project) -> tuple[Kind, ...]:
        path = project.folder / files.PARTS_FILE
        if not path.exists():
            return ()
        _, seal = self._read(path)
        return self._get(("parts", seal), lambda: parse_parts(files.read_text(path), files.PARTS_FILE))

    def _asset(self, project: Project, name: str, decoded: Callable[[bytes, str], Made]) -> Made:
        data, seal = self._read(
            project.folder / name, lambda: files.read_asset(project.folder, name, project.layout.name)
        )
        return self._get((decoded, name, seal), lambda: decoded(data, name))

    def _read(self, path: Path, read: Callable[[], bytes] | None = None) -> tuple[bytes, str]:
        """Return a file's bytes and their hash."""
        now = mark(path)
        known = self._bytes.get(path)
        if known is not None and now and known[0] == now:
            return known[1], known[2]
        data = read() if read is not None else files.read_bytes(path)
        self._bytes[path] = (now, data, digest(data))
        return data, self._bytes[path][2]

    def _get(self, key: tuple[Any, ...], make: Callable[[], Made]) -> Made:
        if key not in self._made:
            made = make()
            while len(self._made) >= _MOST:
                del self._made[next(iter(self._made))]
            self._made[key] = made
        else:
            self._made[key] = self._made.pop(key)  # used last, dropped last
        found: Made = self._made[key]
        return found


def mark(path: Path) -> tuple[int, ...]:
    """Return what changes when a file is saved, () where there is no file."""
    try:
        stat = path.stat()
    except OSError:
        return ()
    return stat.st_mtime_ns, stat.st_size, stat.st_ino
