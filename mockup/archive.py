"""Use cases of taking a project along: the folder in one zip, and back again, every byte accounted for."""

from __future__ import annotations

import hashlib
import io
import json
import zipfile
import zlib
from collections.abc import Iterable, Mapping
from pathlib import Path, PurePosixPath

from mockup import __version__, files, whole_file
from mockup.layout import parse, resolve
from mockup.model.errors import Fault, InputError
from mockup.options import Result

MANIFEST = "manifest.json"
FORMAT = 1
MAX_FILES = 1000  # far above any project; keeps a hostile file harmless
_DATE = (1980, 1, 1, 0, 0, 0)  # the earliest that ZIP can say; a fixed one makes equal projects equal files
_STORED = {".png", ".jpg", ".jpeg", ".webp"}  # packed already
_READABLE = 0o100644 << 16  # a plain file that everybody may read, for systems that keep modes
_FORBIDDEN = set('<>:"|?*\\')  # characters that Windows takes in no file name

# NotImplementedError is a RuntimeError: a way of packing that is not known; ValueError covers names that are no text.
_UNREADABLE = (zipfile.BadZipFile, zipfile.LargeZipFile, zlib.error, RuntimeError, EOFError, ValueError, OSError)


def pack(layout: str | Path, output: str | Path | None = None) -> Result:
    """Write a layout with everything it and its variants need into one zip, with a manifest of SHA-256 hashes.

    Without `output` the zip is named after the project's folder. Raises `InputError` for a mistake in the
    layout and for every picture or font that is not there; then nothing is written.
    """
    place = Path(layout)
    found, notes = needed(place)
    target = Path(output) if output is not None else Path(f"{place.resolve().parent.name or 'project'}.zip")
    if target.suffix.lower() != ".zip":
        raise InputError(Fault(file=str(target), what="is not the name of a zip file", remedy='end the name in ".zip"'))
    packed = archive(found, place.name)
    files.write_all({target: packed})
    facts = {"pack": str(target), "files": list(found)}
    return Result(files={str(target): packed}, facts=facts, notes=notes)


def needed(place: Path) -> tuple[dict[str, bytes], tuple[str, ...]]:
    """Return what a layout and all its variants need, by name, and notes on what lies elsewhere."""
    parts = files.read_parts(place)
    own = parse.parse_parts(parts, files.PARTS_FILE) if parts is not None else ()
    layout = parse.parse(files.read_text(place), place.name, own)
    pedals = (None, *resolve.variants(layout))
    lists = [(*resolve.assets(layout, each), *resolve.font_files(layout, each)) for each in pedals]
    names = [
        place.name,
        *((files.PARTS_FILE,) if parts is not None else ()),
        *(name for each in lists for name in each),
    ]
    found: dict[str, bytes] = {}
    faults: list[Fault] = []
    taken = {MANIFEST: MANIFEST}
    for name in dict.fromkeys(names):
        try:
            other = taken.setdefault(_kept_name(name, place.name).casefold(), name)
            if other != name or name == MANIFEST:
                what = f"{name!r} and {other!r} are the same name on many systems"
                raise InputError(Fault(file=place.name, what=what, remedy="rename one of them"))
            found[name] = files.read_asset(place.parent, name, place.name)
        except InputError as error:
            faults += error.faults
    if faults:
        raise InputError(faults)
    printers = dict.fromkeys(filter(None, (resolve.printer_name(layout, each) for each in pedals)))
    notes = tuple(f'the printer "{name}" is kept in your own settings and is not in the pack' for name in printers)
    return found, notes


def copy(layout: Path, folder: Path) -> Path:
    """Copy a layout with everything it needs into a folder that is new, and return the copy's path.

    Raises `InputError` as `needed` does, `OutputError` where one of the files is there already.
    """
    found, _ = needed(layout)
    paths = {folder / PurePosixPath(name): data for name, data in found.items()}
    files.require_free(list(paths))
    files.write_all(paths)
    return folder / layout.name


def archive(found: Mapping[str, bytes], layout: str) -> bytes:
    """Return the zip of files by name, a manifest first; `layout` is the name of the layout among them."""
    manifest = {
        "format": FORMAT,
        "made_by": f"mockup {__version__}",
        "layout": layout,
        "sha256": {name: hashlib.sha256(found[name]).hexdigest() for name in sorted(found)},
    }
    text = json.dumps(manifest, indent=2, ensure_ascii=False).encode() + b"\n"
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as zipped:
        for name, data in ((MANIFEST, text), *sorted(found.items())):
            entry = zipfile.ZipInfo(name, _DATE)
            entry.external_attr = _READABLE
            is_stored = PurePosixPath(name).suffix.lower() in _STORED
            entry.compress_type = zipfile.ZIP_STORED if is_stored else zipfile.ZIP_DEFLATED
            zipped.writestr(entry, data)
    return out.getvalue()


def unpack(packed: str | Path, folder: str | Path | None = None) -> Result:
    """Restore a pack into a folder (by default one named after the pack) and return what was written.

    Nothing is written unless every file is as the manifest says, lies inside the folder and is not
    there yet. Raises `InputError` for a pack that is not sound, `OutputError` for a file already there.
    """
    source = Path(packed)
    found = contents(files.read_bytes(source, "mockup pack layout.toml"), source.name)
    target = Path(folder) if folder is not None else Path(source.stem)
    paths = {target / PurePosixPath(name): data for name, data in found.items()}
    root = target.resolve()
    for path in paths:
        if not path.resolve().is_relative_to(root):  # a link in a folder that was there before
            raise InputError(Fault(file=source.name, what=f"{path.name!r} would land outside {target}"))
    files.require_free(list(paths))
    files.write_all(paths)
    written = {str(path): data for path, data in paths.items()}
    return Result(files=written, facts={"folder": str(target), "files": list(written)})


def contents(data: bytes, source: str) -> dict[str, bytes]:
    """Return the files of a pack by name, checked against its manifest; `source` names it in messages."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as zipped:
            entries = zipped.infolist()
            _require_sound(entries, source)
            held = {entry.filename: zipped.read(entry) for entry in entries}
    except _UNREADABLE as error:
        raise _bad(source, f"is not a zip file that can be read ({' '.join(str(error).lower().split())})") from None
    hashes = _hashes(held.pop(MANIFEST, None), source)
    faults = [
        *(f"{name!r} is missing" for name in hashes if name not in held),
        *(f"{name!r} is not in the manifest" for name in held if name not in hashes),
        *(
            f"{name!r} is not what was packed (its SHA-256 differs)"
            for name, raw in held.items()
            if name in hashes and hashlib.sha256(raw).hexdigest() != hashes[name]
        ),
    ]
    if faults:
        raise InputError(Fault(file=source, what=what, remedy="get the pack again from its source") for what in faults)
    return held


def _require_sound(entries: Iterable[zipfile.ZipInfo], source: str) -> None:
    """Raise `InputError` for names that reach outside, folders and links, doubles, and too much of anything."""
    seen: set[str] = set()
    total = 0
    for entry in entries:
        name = _kept_name(entry.filename, source)
        kind = entry.external_attr >> 16 & 0o170000  # 0 where the system that packed it keeps no modes
        if kind not in {0, 0o100000} or entry.is_dir():
            raise _bad(source, f"{name!r} is not a plain file")
        if name.casefold() in seen:
            raise _bad(source, f"holds {name!r} twice")
        seen.add(name.casefold())
        total += entry.file_size
        if len(seen) > MAX_FILES or total > whole_file.MAX_ASSET_BYTES:
            limit = f"{MAX_FILES} files and {whole_file.MAX_ASSET_BYTES // 2**20} MiB"
            raise _bad(source, f"holds more than {limit}")


def _kept_name(name: str, source: str) -> str:
    """Return a name inside a pack as it is; raises `InputError` where it could leave the folder."""
    pieces = name.split("/")
    is_bad = any(piece in {"", ".", ".."} or piece != piece.rstrip(" .") for piece in pieces)
    if is_bad or _FORBIDDEN & set(name) or not name.isprintable():
        what = f"{name!r} is not a file name that is safe on every system"
        raise InputError(Fault(file=source, what=what, remedy="rename it: letters, digits, hyphens, dots"))
    return name


def _hashes(manifest: bytes | None, source: str) -> dict[str, str]:
    if manifest is None:
        raise _bad(source, f"has no {MANIFEST}", "this is not a project packed by mockup")
    try:
        read = json.loads(manifest)
        form, hashes = read["format"], read["sha256"]
    except (ValueError, KeyError, TypeError, RecursionError):
        raise _bad(source, f"its {MANIFEST} cannot be read") from None
    if form != FORMAT:
        raise _bad(source, f"is of format {form!r}; this version reads format {FORMAT}", "use a newer mockup")
    if not isinstance(hashes, dict) or not all(isinstance(each, str) for each in hashes.values()):
        raise _bad(source, f"its {MANIFEST} cannot be read")
    return hashes


def _bad(source: str, what: str, remedy: str = "get the pack again from its source") -> InputError:
    return InputError(Fault(file=source, what=what, remedy=remedy))
