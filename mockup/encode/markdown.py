"""A document as Markdown (CommonMark with pipe tables), its pictures and models as files beside it."""

from __future__ import annotations

import re
from urllib.parse import quote

from mockup.encode.document import Block, Document, Gallery, Lineup, Paragraph, Spin, Steps, TextTable, Wipe

_STRONG = "\x02"  # stands for the stars of bold text until all others are escaped


def markdown(document: Document, folder: str) -> tuple[bytes, dict[str, bytes]]:
    """Return the text as UTF-8, and what lies beside it by its path below the text: ``FOLDER/NAME``."""
    beside: dict[str, bytes] = {}
    rows = [f"# {_plain(document.title)}", "", _plain(document.under), ""]
    for section in document.sections:
        rows += [f"## {_plain(section.heading)}", ""]
        for block in section.blocks:
            rows += [*_block(block, folder, beside), ""]
    rows += ["---", "", _plain(document.foot), ""]
    return "\n".join(rows).encode(), beside


def _block(block: Block, folder: str, beside: dict[str, bytes]) -> list[str]:
    if isinstance(block, Paragraph):
        return [f"> **{_plain(block.text)}**" if block.is_caution else _plain(block.text)]
    if isinstance(block, Steps):
        return [f"{number}. {_plain(step)}" for number, step in enumerate(block.steps, 1)]
    if isinstance(block, TextTable):
        rule = [" ---: " if i in block.is_right else " --- " for i in range(len(block.head))]
        return [
            _row(block.head),
            f"|{'|'.join(rule)}|",
            *(_row(_strong(block, number)) for number in range(len(block.rows))),
        ]
    if isinstance(block, Wipe):
        return _block(Gallery(photos=(block.first, block.second)), folder, beside)
    if isinstance(block, Gallery):
        found: list[str] = []
        for photo in block.photos:
            path = f"{folder}/{photo.name}"
            beside[path] = photo.data
            found += [f"![{_plain(photo.alt)}]({quote(path)})", "", f"*{_plain(photo.caption)}*", ""]
        return found[:-1]
    return _links(block, folder, beside)


def _links(spin: Spin | Lineup, folder: str, beside: dict[str, bytes]) -> list[str]:
    found = []
    stem, _, suffix = spin.file_name.rpartition(".")
    models = spin.models if isinstance(spin, Spin) else ((", ".join(spin.names), spin.data),)
    for number, (name, data) in enumerate(models):
        path = f"{folder}/{spin.file_name if number == 0 else f'{stem}-{number + 1}.{suffix}'}"
        beside[path] = data
        found.append(f"- [{_plain(name)}]({quote(path)}), a GLB file for any 3D viewer")
    return found


def _strong(table: TextTable, number: int) -> tuple[str, ...]:
    return tuple(
        f"{_STRONG}{cell}{_STRONG}" if (number, place) in table.strong and cell else cell
        for place, cell in enumerate(table.rows[number])
    )


def _row(cells: tuple[str, ...]) -> str:
    shown = (_plain(cell).replace("|", "\\|").replace(_STRONG, "**") for cell in cells)
    return "| " + " | ".join(shown) + " |"


def _plain(text: str) -> str:
    """Return text on one line that Markdown shows as it is."""
    return re.sub(r"([\\`*_\[\]<>#])", r"\\\1", " ".join(text.split()))
