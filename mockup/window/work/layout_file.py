"""Saving: what was changed goes into the file as it is on disk at that moment."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from mockup import files
from mockup.layout.edit.merge import Prefer
from mockup.layout.edit.undo import LayoutDocument


def reopened(path: Path) -> LayoutDocument:
    """Return the document of a layout file as it is on disk; `InputError` where it cannot be read, or is no TOML."""
    document = LayoutDocument.opened(files.read_bytes(path), path.name)
    _ = document.raw  # every frame asks for it: what is no TOML, such as a file half written, must not get that far
    return document


def ready(path: Path, document: LayoutDocument, *, prefer: Prefer | None = None) -> LayoutDocument:
    """Return the document as it must be written now: onto the file's present text where that has changed.

    A file that is gone is written anew. Raises `ClashError` with one fault per value that was changed on both
    sides, unless `prefer` says which stays, and `InputError` where what the file now holds cannot be read.
    """
    if not path.exists():
        return document
    there = reopened(path)
    if there.disk == document.disk and there.has_bom == document.has_bom:
        return document
    return replace(document.onto(there.disk, prefer=prefer), has_bom=there.has_bom)


def save(path: Path, document: LayoutDocument, *, prefer: Prefer | None = None) -> LayoutDocument:
    """Write a document's changes into its file, all or nothing; return the document as saved.

    A link is followed, not replaced. Raises `InputError` as `ready` does and `OutputError` where it cannot be written.
    """
    merged = ready(path, document, prefer=prefer)
    files.write_all({path.resolve(): merged.data})
    return merged.saved()
