"""A project's files as they were last read, and what they hold."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path

from mockup import calibrate, files, reader
from mockup.layout import resolve
from mockup.layout.decals import Picture
from mockup.layout.edit.undo import BOM
from mockup.layout.parse import Layout, parse, parse_parts
from mockup.layout_source import built_box, drilled
from mockup.memo import MEMORY, memoize
from mockup.model.design import Design
from mockup.model.part import Kind
from mockup.model.shape import Point
from mockup.window.work.project import Project

VECTORS = (".svg", ".svgz")
QUICK_DPI = 300.0  # a quarter of the pixels, and still twice as fine as a screen shows a whole pedal


@dataclass(frozen=True, kw_only=True, eq=False)
class File:
    """A file's name in its project, and its bytes."""

    name: str
    data: bytes


_parsed, _parts = memoize(parse), memoize(parse_parts)


class Assets:
    """A project's files as they were last read, and what they hold, for one thread.

    A file is read again when its size, time or identity changed, or after `refresh`; what is made of it is
    remembered by its bytes (`mockup.memo`), so that equal files give the same objects.
    """

    def __init__(self) -> None:
        self._read: dict[Path, tuple[tuple[int, ...], File]] = {}

    def refresh(self) -> None:
        """Forget what files held, so that all are read again."""
        self._read.clear()

    def layout(self, text: str, project: Project) -> Layout:
        """Return the layout of a text that stands in a project; `InputError` with every mistake."""
        return _parsed(text, project.layout.name, self._own_kinds(project))

    def text(self, project: Project) -> str:
        """Return the layout's text as it is on disk, its line ends as they are; `InputError` where it cannot be."""
        data = self._file(project.layout, files.read_bytes).data
        try:
            return data.removeprefix(BOM).decode("utf-8")
        except UnicodeDecodeError:
            return files.read_text(project.layout)  # says where, in words

    def sources(self, text: str, project: Project, variant: str | None) -> tuple[object, ...]:
        """Return all that a variant's design is made of, as plain data; `InputError` with every mistake."""
        layout = self.layout(text, project)
        names = (*resolve.assets(layout, variant), *resolve.font_files(layout, variant))
        is_printed = resolve.printer_name(layout, variant) is not None
        printers = tuple(files.read_printers(each) for each in (None, project.folder)) if is_printed else ()
        own = files.read_beside(project.layout, files.PARTS_FILE)
        return text, own, variant, printers, tuple((name, self._asset(project, name).data) for name in names)

    def design(
        self,
        text: str,
        project: Project,
        variant: str | None,
        *,
        is_quick: bool = False,
        copy: int = 0,
        is_as_built: bool = False,
    ) -> Design:
        """Return a variant of a layout with its art, fonts and printers; `InputError` with every mistake.

        Where it `is_quick`, vectors that are not drawn yet are drawn coarsely; `copy` is which pedal of a series. Where
        it `is_as_built`, its holes lie where the file of holes as built says.
        """
        layout, own = self.layout(text, project), self._own_kinds(project)
        wanted = resolve.art_pictures(layout, variant)
        art = {each: self._sized(project, each, is_quick=is_quick) for each in wanted}
        fonts = {name: self._asset(project, name) for name in resolve.font_files(layout, variant)}
        is_printed = resolve.printer_name(layout, variant) is not None
        printers = calibrate.printers(project.folder) if is_printed else {}

        def make(off: Mapping[str, Point] | None = None) -> Design:
            return resolve.resolve(
                layout,
                {each.key: reader.picture(file.data, file.name, dpi, each.hide) for each, (file, dpi) in art.items()},
                variant,
                fonts={name: reader.font(file.data, file.name) for name, file in fonts.items()},
                called=project.title,
                printers=printers,
                copy=copy,
                off=off,
            )

        key = (text, project.layout.name, own, variant, art, fonts, project.title, printers, copy)
        design = MEMORY.recall(resolve.resolve, key, make)
        if not is_as_built:
            return design
        built = built_box(project.layout, design).holes
        return MEMORY.recall(resolve.resolve, (*key, built), lambda: drilled(design, built, make))

    def is_coarse(self, layout: Layout, project: Project, variant: str | None) -> bool:
        """Return whether a variant has vectors that are not drawn at their full fineness yet."""
        wanted = resolve.art_pictures(layout, variant)
        return any(self._is_undrawn(self._asset(project, each.name), each.hide) for each in wanted)

    def _is_undrawn(self, file: File, hide: tuple[str, ...]) -> bool:
        return file.name.lower().endswith(VECTORS) and not reader.is_known(file.data, file.name, hide=hide)

    def _sized(self, project: Project, picture: Picture, *, is_quick: bool) -> tuple[File, float]:
        """Return a picture's file and how finely it is drawn."""
        file = self._asset(project, picture.name)
        return file, QUICK_DPI if is_quick and self._is_undrawn(file, picture.hide) else reader.FULL_DPI

    def _own_kinds(self, project: Project) -> tuple[Kind, ...]:
        text = files.read_beside(project.layout, files.PARTS_FILE)
        return _parts(text, files.PARTS_FILE) if text is not None else ()

    def _asset(self, project: Project, name: str) -> File:
        def read(_: Path) -> bytes:
            return files.read_asset(project.folder, name, project.layout.name)

        return self._file(project.folder / name, read, name)

    def _file(self, path: Path, read: Callable[[Path], bytes], name: str = "") -> File:
        now, known = mark(path), self._read.get(path)
        if known is not None and now and known[0] == now:
            return known[1]
        self._read[path] = now, File(name=name or path.name, data=read(path))
        return self._read[path][1]


def mark(path: Path) -> tuple[int, ...]:
    """Return what changes when a file is saved, () where there is no file."""
    try:
        stat = path.stat()
    except OSError:
        return ()
    return stat.st_mtime_ns, stat.st_size, stat.st_ino
