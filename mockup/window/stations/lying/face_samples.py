"""Words shown in a face of their own: fonts that come with the program, of the project, of the system."""

from __future__ import annotations

from collections import OrderedDict
from pathlib import Path, PurePath

from imgui_bundle import imgui

from mockup import files, reader
from mockup.decal import shipped_faces
from mockup.decal.font_names import FontNames, font_names
from mockup.memo import memoize
from mockup.model.errors import MockupError
from mockup.window.work.assets import mark

_SIZE_PX = 20.0  # that a face is first loaded at; the library draws others as they are asked for
_MOST = 40  # faces kept by the panel library: our choice
_LARGEST_BYTES = 12_000_000  # larger fonts hold scripts of tens of thousands of signs: our choice


class FaceSamples:
    """Fonts as the panel library draws them, by what they are called here; None for one that it cannot."""

    def __init__(self) -> None:
        self._faces: OrderedDict[str, imgui.ImFont | None] = OrderedDict()

    def face(self, key: str, read: Path | shipped_faces.ShippedFace) -> imgui.ImFont | None:
        """Return a font, loaded when it is first asked for."""
        if key not in self._faces and len(self._faces) < _MOST:
            self._faces[key] = _loaded(read)
        return self._faces.get(key)


def _loaded(read: Path | shipped_faces.ShippedFace) -> imgui.ImFont | None:
    try:
        if isinstance(read, shipped_faces.ShippedFace):
            with shipped_faces.path(read) as path:
                return imgui.get_io().fonts.add_font_from_file_ttf(str(path), _SIZE_PX)
        reader.font(files.read_bytes(read), read.name)  # the panel library ends the program at a font that is none
        return imgui.get_io().fonts.add_font_from_file_ttf(str(read), _SIZE_PX)
    except (MockupError, RuntimeError):
        return None


@memoize
def system_faces() -> tuple[tuple[str, str], ...]:
    """Return the fonts of this computer, (title, path) each, by title."""
    found: dict[str, str] = {}
    for path in files.system_fonts():
        said = _names(path)
        if said is not None:
            found.setdefault(said.title, str(path))
    return tuple(sorted(found.items(), key=lambda each: each[0].lower()))


def project_faces(folder: Path) -> list[str]:
    """Return the names of a project's font files that did not come with the program."""
    try:
        found = sorted(each.name for each in folder.iterdir() if each.suffix.lower() in files.FONT_ENDINGS)
    except OSError:
        return []
    return [each for each in found if shipped_faces.face_of(each) is None]


def licence_of(path: Path) -> str:
    """Return what a font's file says of its licence, in a few words."""
    said = _names(path)
    if said is None:
        return "not stated"
    return said.licence_word + (", not to be embedded" if said.is_restricted else "")


def title_of(folder: Path, name: str) -> str:
    """Return what a font of a project is called."""
    shipped = shipped_faces.face_of(name)
    if shipped is not None:
        return shipped.name
    said = _names(folder / name)
    return said.title if said is not None else PurePath(name).stem


def _names(path: Path) -> FontNames | None:
    return _names_at(str(path), mark(path))


@memoize  # asked for in every frame
def _names_at(place: str, _mark: tuple[int, ...]) -> FontNames | None:
    """Return what a font file says of itself as it is at this mark."""
    path = Path(place)
    try:
        if path.stat().st_size > _LARGEST_BYTES:
            return None
        return font_names(files.read_bytes(path))
    except (MockupError, OSError):
        return None
