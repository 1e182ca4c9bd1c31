"""A layout file read once, and the designs that it becomes with keys set to other values."""

from __future__ import annotations

import functools
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from mockup import calibrate, files, reader
from mockup.decal.typeface import Typeface
from mockup.enclosure.bores import bores, built_off
from mockup.geometry.rigid import best_move
from mockup.layout import parse, resolve
from mockup.layout.built import parse_built
from mockup.layout.edit.assignment import Assignment, assign, fault_origin
from mockup.layout.parse import Layout
from mockup.layout.toml import read_toml
from mockup.model.built import BuiltBox, BuiltHole
from mockup.model.design import Design
from mockup.model.errors import Fault, InputError
from mockup.model.finish import Artwork, Decal
from mockup.model.printer import Printer
from mockup.model.text import in_shell
from mockup.whole_file import check_name

_FINISH = "finish."


@dataclass(frozen=True, kw_only=True, eq=False)
class LayoutSource:
    """A layout file or one variant of it; art and fonts are read once, whatever is set.

    Where it `is_as_built`, holes lie where the file of holes as built says, parts and drawn lettering with them. `copy`
    is which pedal of a series, counted from 0.
    """

    path: Path
    layout: Layout
    variant: str | None
    printer: Printer | None
    printers: dict[str, Printer]
    art: dict[str, Artwork]
    fonts: dict[str, Typeface]
    is_as_built: bool = False
    copy: int = 0

    @functools.cached_property
    def drawn(self) -> Design:
        """The design as the file has it."""
        return self._resolved(self.layout)

    def design(self, assignments: Sequence[Assignment] = ()) -> Design:
        """Return the design with keys set; `InputError` names each change that does not fit."""
        if not assignments:
            return self.drawn
        layout = assign(self.layout, self.variant, assignments)
        with fault_origin(assignments):
            if all(each.key.strip().startswith(_FINISH) for each in assignments):  # nothing else depends on it
                drawn = self.drawn
                self._read(layout)
                return resolve.refinish(
                    drawn, layout, self.art, self.variant, printers=self.printers, printer=self.printer
                )
            return self._resolved(layout)

    def changed(self, text: str) -> Design:
        """Return the design of another text of the file, such as edits make; art that it had is not read again."""
        parts = files.read_beside(self.path, files.PARTS_FILE)
        own_kinds = parse.parse_parts(parts, files.PARTS_FILE) if parts is not None else ()
        return self._resolved(parse.parse(text, self.path.name, own_kinds))

    def _resolved(self, layout: Layout) -> Design:
        """Return the design of a layout."""
        self._read(layout)
        made = functools.partial(
            resolve.resolve,
            layout,
            self.art,
            self.variant,
            fonts=self.fonts,
            called=files.title(self.path),
            printers=self.printers,
            printer=self.printer,
            copy=self.copy,
        )
        design = made()
        return drilled(design, built_box(self.path, design).holes, made) if self.is_as_built else design

    def _read(self, layout: Layout) -> None:
        """Read the pictures and fonts that a layout names, unless they have been."""
        for each in resolve.art_pictures(layout, self.variant):
            if each.key not in self.art:
                self.art[each.key] = reader.picture(self._bytes(each.name), each.name, hide=each.hide)
        for name in resolve.font_files(layout, self.variant):
            if name not in self.fonts:
                self.fonts[name] = reader.font(self._bytes(name), name)

    def _bytes(self, name: str) -> bytes:
        return files.read_asset(self.path.parent, name, self.path.name)


def drilled(design: Design, built: tuple[BuiltHole, ...], made: Callable[..., Design]) -> Design:
    """Return a design with its holes where they were measured.

    `made` resolves it anew with parts, and drawn lettering with them, `off` their places. Pictures printed on film are
    laid as they best fit the holes of their face, two or more; they cannot follow each hole.
    """
    measured = {each.bore: each for each in built}
    found = made(off=built_off(design, built))

    def laid(decal: Decal) -> Decal:
        known = [each for each in bores(design) if each.face == decal.face and each.name in measured]
        if len(known) < 2:
            return decal
        move = best_move(
            np.array([(each.u_mm, each.v_mm) for each in known]),
            np.array([(measured[each.name].u_mm, measured[each.name].v_mm) for each in known]),
        )
        u, v = move.of(np.array([decal.u_mm, decal.v_mm])).tolist()
        return replace(decal, u_mm=u, v_mm=v, rotation_deg=decal.rotation_deg + move.turn_deg)

    return replace(found, decals=tuple(map(laid, found.decals)))


def built_box(place: Path, design: Design) -> BuiltBox:
    """Return the box as built that is kept beside a layout file; raises `InputError` where there is no such file."""
    text = files.read_beside(place, files.BUILT_FILE)
    if text is None:
        what, remedy = "there are no holes as built", f"start with: mockup built --start {in_shell(place)}"
        raise InputError(Fault(file=files.BUILT_FILE, what=what, remedy=remedy))
    return parse_built(text, files.BUILT_FILE, design)


def layout_source(
    path: str | Path, variant: str | None = None, printer: str | None = None, as_built: bool | None = None
) -> LayoutSource:
    """Return a layout file, or one variant of it, ready to be changed; `printer` names a calibrated printer.

    Raises `InputError` with one `Fault` per mistake in the file, its art or its fonts.
    """
    place = in_folder(path)
    layout = read_layout(place)
    is_needed = printer is not None or resolve.printer_name(layout, variant) is not None
    kept = calibrate.printers(place.parent) if is_needed else {}
    chosen = calibrate.named(kept, printer) if printer is not None else None
    made = LayoutSource(
        path=place, layout=layout, variant=variant, printer=chosen, printers=kept, art={}, fonts={},
        is_as_built=bool(as_built),
    )  # fmt: skip
    _ = made.drawn  # whatever is wrong with the file is said now
    return made


def in_folder(path: str | Path) -> Path:
    """Return a layout file's path as it stands, or of a folder the layout in it; may raise as `find_layout`."""
    place = Path(path)
    check_name(place, str(path), place.name)
    return find_layout(place) if place.is_dir() else place


def find_layout(path: str | Path) -> Path:
    """Return the layout file that a path names, absolute: the file itself, or the one in a folder.

    In a folder `layout.toml` goes first; else the only file with a [box] counts. Raises `InputError`
    in one line where there is none, or more than one.
    """
    place = Path(path).expanduser().absolute()
    check_name(place, str(path), place.name)
    if not place.is_dir():
        if not place.exists():
            raise InputError(
                Fault(file=str(path), what="there is no such file", remedy="check the path, or start: mockup new NAME")
            )
        return place
    if (place / files.LAYOUT_FILE).is_file():
        return place / files.LAYOUT_FILE
    found = [each for each in sorted(place.glob("*.toml")) if each.is_file() and _has_box(each)]
    if len(found) == 1:
        return found[0]
    if found:
        listed = ", ".join(each.name for each in found)
        raise InputError(Fault(file=str(path), what=f"holds several layouts: {listed}", remedy="open one of them"))
    remedy = f"start one with: mockup new {in_shell(place.name)}"
    raise InputError(Fault(file=str(path), what="holds no layout file", remedy=remedy))


def _has_box(path: Path) -> bool:
    try:
        return isinstance(read_toml(files.read_text(path), path.name).get("box"), dict)
    except InputError:
        return False


def read_layout(place: Path) -> Layout:
    """Return what a layout file says, with the kinds of the parts file beside it; raises `InputError`."""
    text, parts = files.read_text(place), files.read_beside(place, files.PARTS_FILE)
    if "art" in text or "font" in text:
        reader.begin()  # meanwhile the layout is parsed
    own_kinds = parse.parse_parts(parts, files.PARTS_FILE) if parts is not None else ()
    return parse.parse(text, place.name, own_kinds)
