"""What pages were made of: a record beside the layout for every design that went onto one.

A record is a file of its own, named after the design's fingerprint and written once, so that two programs that write
at the same time lose nothing, and the same page made again changes nothing. It tells no day.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass
from pathlib import Path

from mockup import calibrate, files
from mockup.fingerprint import fingerprint, read_fingerprint
from mockup.layout import parse, resolve
from mockup.layout.parse import Layout
from mockup.layout_source import LayoutSource
from mockup.model.design import Design
from mockup.model.errors import InputError, OutputError

FOLDER = "records"
_FORMAT = 1


@dataclass(frozen=True, kw_only=True)
class Record:
    """A design as its page was made: the layout's text, that of its own kinds, and the SHA-256 of what it names."""

    variant: str | None
    layout: str
    parts: str | None
    assets: Mapping[str, str]


def keep(place: Path, designs: Iterable[Design], text: str | None = None) -> None:
    """Write a record of each design that has none yet; nothing is said or done where the folder takes no files.

    `place` is the layout file, `text` what it says where that is not on disk yet. The program's own examples stay as
    they are.
    """
    if place.resolve() in {each.resolve() for each in files.example_layouts()}:
        return
    wanted = {fingerprint(each): each.variant for each in designs}
    missing = {mark: variant for mark, variant in wanted.items() if not _file(place, mark).exists()}
    with contextlib.suppress(InputError, OutputError):
        written = {_file(place, mark): _data(_record(place, variant, text), mark) for mark, variant in missing.items()}
        files.write_all(written)


def kept(place: Path) -> dict[str, Record]:
    """Return the records beside a layout file by fingerprint; what is no record is passed over."""
    found = {}
    for path in files.listed(place.parent / FOLDER)[1]:
        mark = read_fingerprint(path.stem)
        told = _read(path) if mark is not None else None
        if mark is not None and told is not None:
            found[mark] = told
    return found


def source(place: Path, record: Record) -> LayoutSource:
    """Return a record's layout, ready to be drawn with the art that lies there today; raises `InputError`."""
    printers = calibrate.printers(place.parent)
    layout = _layout(place, record.layout, record.parts)
    return LayoutSource(
        path=place, layout=layout, variant=record.variant, printer=None, printers=printers, art={}, fonts={}
    )


def changed_assets(place: Path, record: Record) -> tuple[str, ...]:
    """Return the names of pictures and fonts that are other files today, or are gone."""
    return tuple(name for name, known in record.assets.items() if _sha(place, name) != known)


def _record(place: Path, variant: str | None, text: str | None) -> Record:
    text = files.read_text(place) if text is None else text
    parts = files.read_beside(place, files.PARTS_FILE)
    layout = _layout(place, text, parts)
    names = resolve.named_files(layout, variant)
    return Record(variant=variant, layout=text, parts=parts, assets={name: _sha(place, name) for name in names})


def _layout(place: Path, text: str, parts: str | None) -> Layout:
    own_kinds = parse.parse_parts(parts, files.PARTS_FILE) if parts is not None else ()
    return parse.parse(text, place.name, own_kinds)


def _sha(place: Path, name: str) -> str:
    try:
        return hashlib.sha256(files.read_asset(place.parent, name, place.name)).hexdigest()
    except InputError:
        return ""


def _file(place: Path, mark: str) -> Path:
    return place.parent / FOLDER / f"{mark}.json"


def _data(record: Record, mark: str) -> bytes:
    told = {"format": _FORMAT, "design": mark, **asdict(record)}
    return json.dumps(told, indent=1, ensure_ascii=False).encode() + b"\n"


def _read(path: Path) -> Record | None:
    with contextlib.suppress(InputError, ValueError, RecursionError, TypeError, KeyError, AttributeError):
        told = json.loads(files.read_text(path))
        variant, layout, parts = told["variant"], told["layout"], told["parts"]
        assets = {str(name): str(known) for name, known in told["assets"].items()}
        if told["format"] == _FORMAT and isinstance(layout, str):
            return Record(
                variant=variant if isinstance(variant, str) else None,
                layout=layout,
                parts=parts if isinstance(parts, str) else None,
                assets=assets,
            )
    return None
