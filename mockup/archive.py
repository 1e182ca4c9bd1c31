"""Use cases of taking a project along: the folder in one zip, and back again, every byte accounted for."""

from __future__ import annotations

import hashlib
import io
import json
import zipfile
import zlib
from collections.abc import Collection, Iterable, Mapping, Sequence
from pathlib import Path, PurePosixPath

from mockup import __version__, calibrate, files, safe_names, whole_file
from mockup.calibration import kept
from mockup.layout import resolve
from mockup.layout_source import in_folder, read_layout
from mockup.model.errors import Fault, InputError
from mockup.options import Result, file_stem
from mockup.outputs import OUTPUTS
from mockup.scene.views import VIEWS

MANIFEST = "manifest.json"
FORMAT = 1
MAX_FILES = 1000  # far above any project; keeps a hostile file harmless
_DATE = (1980, 1, 1, 0, 0, 0)  # the earliest that ZIP can say; a fixed one makes equal projects equal files
_STORED = {".png", ".jpg", ".jpeg", ".webp"}  # packed already
_READABLE = 0o100644 << 16  # a plain file that everybody may read, for systems that keep modes
_COMPARISONS = ("compare", "sweep", "wander", "side-by-side", "wipe")
_MOST_NAMED = 5  # files in a note: what one reads. Our choice
_MADE = {
    ".png",
    ".jpg",
    ".webp",
    ".gif",
    ".apng",
    ".mp4",
    ".pdf",
    ".svg",
    ".dxf",
    ".html",
    ".md",
    ".glb",
    ".stl",
    ".3mf",
}

# NotImplementedError is a RuntimeError: a way of packing that is not known; ValueError covers names that are no text.
_UNREADABLE = (zipfile.BadZipFile, zipfile.LargeZipFile, zlib.error, RuntimeError, EOFError, ValueError, OSError)


def pack(layout: str | Path, output: str | Path | None = None) -> Result:
    """Write a project into one zip: what a layout and its variants need and what else belongs to it, all hashed.

    Without `output` the zip is named after the project's folder. The notes say what came along and what did not.
    Raises `InputError` for a mistake in the layout and for every picture or font that is not there; then nothing
    is written.
    """
    place = in_folder(layout)
    found = needed(place)
    target = Path(output) if output is not None else Path(f"{place.resolve().parent.name or 'project'}.zip")
    if target.suffix.lower() != ".zip":
        raise InputError(Fault(file=str(target), what="is not the name of a zip file", remedy='end the name in ".zip"'))
    beside, notes = _beside(place, found)
    held = found | beside
    packed = archive(held, place.name)
    files.write_all({target: packed})
    facts = {"pack": str(target), "files": list(held)}
    return Result(files={str(target): packed}, facts=facts, notes=notes)


def needed(place: Path) -> dict[str, bytes]:
    """Return what a layout and all its variants need, by name, with the figures of the printers that they name."""
    layout = read_layout(place)
    pedals = (None, *resolve.variants(layout))
    lists = [resolve.named_files(layout, each) for each in pedals]
    lists += [layout.file.making.files] if layout.file.making is not None else []
    own = [files.PARTS_FILE] if files.read_beside(place, files.PARTS_FILE) is not None else []
    names = list(dict.fromkeys([place.name, *own, *(name for each in lists for name in each)]))
    faults = [
        Fault(file=place.name, what=f"{name!r} and {other!r} cannot lie in one folder", remedy="rename one of them")
        for name, other in safe_names.clashes([MANIFEST, *names])
    ]
    found: dict[str, bytes] = {}
    for name in names:
        try:
            found[name] = files.read_asset(place.parent, safe_names.require_safe(name, place.name), place.name)
        except InputError as error:
            faults += error.faults
    if faults:
        raise InputError(faults)
    printers = dict.fromkeys(filter(None, (resolve.printer_name(layout, each) for each in pedals)))
    if not printers:
        return found
    known = calibrate.printers(place.parent)
    named = {name: calibrate.named(known, name) for name in printers}
    return found | {files.PRINTERS_FILE: kept.text(named).encode()}


def _beside(place: Path, found: Mapping[str, bytes]) -> tuple[dict[str, bytes], tuple[str, ...]]:
    """Return what else lies in a project's folder, and notes: what comes along, and what stays and why."""
    layout = read_layout(place)
    made = {file_stem(name) for name in (layout.file.name or "", files.title(place)) if name}
    came: dict[str, bytes] = {}
    left: dict[str, list[str]] = {}
    there = files.project_files(place.parent, MAX_FILES)
    if there is None:
        return {}, (f"its folder holds more than {MAX_FILES} files: only what the layout names is packed",)
    reasons = {name: why or _unfit(name, made) for name, why in there.items() if name not in found}
    fit = (name for name, reason in reasons.items() if not reason)
    for name, _ in list(safe_names.clashes([MANIFEST, *found, *fit])):
        if name in reasons:
            reasons[name] = "another file in the pack has this name, or nearly; rename it to pack it"
    size = sum(map(len, found.values()))
    for name, reason in reasons.items():
        data = files.read_asset(place.parent, name, place.name) if not reason else b""
        size += len(data)
        if not reason and size > whole_file.MAX_ASSET_BYTES:
            reason = f"more than {whole_file.MAX_ASSET_BYTES // 2**20} MiB together"
        if reason:
            left.setdefault(reason, []).append(name)
        else:
            came[name] = data
    notes = [f"came along from the folder: {_listed(list(came))}"] if came else []
    notes += [f"left out ({why}): {_listed(names)}" for why, names in left.items()]
    return came, tuple(notes)


def _unfit(name: str, made: Collection[str]) -> str:
    """Return why a file is not packed, "" where it is."""
    if _is_made(name, made):
        return "made by mockup, and can be made again"
    return "" if safe_names.is_safe(name) else "a name that not every system takes; rename it to pack it"


def _is_made(name: str, stems: Collection[str]) -> bool:
    """Return whether a file has a name that an output gives by itself, or is a pack."""
    path = PurePosixPath(name)
    if path.suffix.lower() == ".zip":
        return True
    first = path.parts[0].casefold()
    rests = [f"-{first.removeprefix(stem)}" for stem in stems if first.startswith((f"{stem}-", f"{stem}."))]
    words = (*OUTPUTS.names(), *VIEWS, *_COMPARISONS)
    return path.suffix.lower() in _MADE and any(
        rest == "-.glb" or f"-{word}" in rest for rest in rests for word in words
    )


def _listed(names: Sequence[str]) -> str:
    more = len(names) - _MOST_NAMED
    return ", ".join(names[:_MOST_NAMED]) + (f" and {more} more" if more > 0 else "")


def copy(layout: Path, folder: Path) -> Path:
    """Copy a layout with everything it needs into a folder that is new, and return the copy's path.

    Raises `InputError` as `needed` does, `OutputError` where one of the files is there already.
    """
    found = needed(layout)
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
            held = _inflated(zipped, entries, source)
    except _UNREADABLE as error:
        raise _bad(source, f"is not a zip file that can be read ({' '.join(str(error).lower().split())})") from None
    hashes, layout = _manifest(held.pop(MANIFEST, None), source)
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
    if layout not in held:
        raise _bad(source, "holds no layout", "pack the project again: mockup pack layout.toml")
    return held


def _inflated(zipped: zipfile.ZipFile, entries: Iterable[zipfile.ZipInfo], source: str) -> dict[str, bytes]:
    """Return the entries by name; what they say of their size is not believed, but counted as they are read."""
    held: dict[str, bytes] = {}
    room = whole_file.MAX_ASSET_BYTES
    for entry in entries:
        with zipped.open(entry) as packed:
            held[entry.filename] = packed.read(room + 1)
        room -= len(held[entry.filename])
        if room < 0:
            raise _too_much(source)
    return held


def _require_sound(entries: Iterable[zipfile.ZipInfo], source: str) -> None:
    """Raise `InputError` for names that reach outside, folders and links, doubles, and too much of anything."""
    total = 0
    names: list[str] = []
    for entry in entries:
        name = safe_names.require_safe(entry.filename, source)
        kind = entry.external_attr >> 16 & 0o170000  # 0 where the system that packed it keeps no modes
        if kind not in {0, 0o100000} or entry.is_dir():
            raise _bad(source, f"{name!r} is not a plain file")
        names.append(name)
        total += entry.file_size
        if len(names) > MAX_FILES or total > whole_file.MAX_ASSET_BYTES:
            raise _too_much(source)
    for name, other in safe_names.clashes(names):
        if safe_names.same(name) != safe_names.same(other):
            raise _bad(source, f"holds {other!r} and {name!r}: one is a file where the other needs a folder")
        also = "" if name == other else f": {other!r} is the same name on many systems"
        raise _bad(source, f"holds {name!r} twice{also}")


def _manifest(manifest: bytes | None, source: str) -> tuple[dict[str, str], str]:
    """Return the hashes by name, and the name of the layout, "" where there is none."""
    if manifest is None:
        raise _bad(source, f"has no {MANIFEST}", "this is not a project packed by mockup")
    try:
        read = json.loads(manifest)
        form, hashes, layout = read["format"], read["sha256"], read.get("layout")
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        raise _bad(source, f"its {MANIFEST} cannot be read") from None
    if form != FORMAT:
        raise _bad(source, f"is of format {form!r}; this version reads format {FORMAT}", "use a newer mockup")
    if not isinstance(hashes, dict) or not all(isinstance(each, str) for each in hashes.values()):
        raise _bad(source, f"its {MANIFEST} cannot be read")
    return hashes, layout if isinstance(layout, str) else ""


def _too_much(source: str) -> InputError:
    return _bad(source, f"holds more than {MAX_FILES} files and {whole_file.MAX_ASSET_BYTES // 2**20} MiB")


def _bad(source: str, what: str, remedy: str = "get the pack again from its source") -> InputError:
    return InputError(Fault(file=source, what=what, remedy=remedy))
