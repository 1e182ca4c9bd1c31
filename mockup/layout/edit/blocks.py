"""The blocks of a layout's text: each header with its keys and the comments that belong to it."""

from __future__ import annotations

import re
from dataclasses import dataclass

from mockup.layout.edit.literals import dotted
from mockup.layout.edit.syntax import Element, Loc, elements

_COMMENT = re.compile(r"[ \t]*#")


@dataclass(frozen=True, kw_only=True)
class TableBlock:
    """One header with what stands under it.

    It goes from `start`, where the comments right above the header begin, over `head`, the header's own line, to `end`,
    behind its last key and the comments right below it. Blank lines belong to no block.
    """

    header: Element
    start: int
    head: int
    end: int

    @property
    def loc(self) -> Loc:
        """The way to the table that it opens."""
        return self.header.loc


def blocks(text: str) -> tuple[TableBlock, ...]:
    """Return every block of a valid TOML text, in its order; keys above the first header belong to none."""
    written = [each for each in elements(text) if each.sort != "inner"]
    headers = [number for number, each in enumerate(written) if each.is_header]
    found = []
    limit = len(text)
    for number, following in reversed(list(zip(headers, [*headers, len(written)][1:], strict=True))):
        head = written[number].span[0]
        start = _above(text, head, written[number - 1].span[1] if number else 0)
        end = _below(text, written[following - 1].span[1], limit)
        found.append(TableBlock(header=written[number], start=start, head=head, end=end))
        limit = start
    return tuple(reversed(found))


def under(text: str, loc: Loc) -> tuple[TableBlock, ...]:
    """Return the blocks of a table and of every table inside it."""
    return tuple(each for each in blocks(text) if each.loc[: len(loc)] == loc)


def _above(text: str, at: int, limit: int) -> int:
    """Return where the comment lines right above a line begin, not before `limit`."""
    while at > limit:
        start = text.rfind("\n", 0, at - 1) + 1
        if start < limit or _COMMENT.match(text, start) is None:
            break
        at = start
    return at


def _below(text: str, at: int, limit: int) -> int:
    """Return where the comment lines right below a line end, not behind `limit`."""
    while at < limit and _COMMENT.match(text, at) is not None:
        end = text.find("\n", at)
        at = len(text) if end < 0 else end + 1
    return at


def line_end(text: str) -> str:
    """Return how the lines of a text end."""
    return "\r\n" if "\r\n" in text else "\n"


def without(text: str, block: TableBlock) -> str:
    """Return the text without a block and the blank lines behind it, at the end those before it."""
    before, behind = text[: block.start], text[block.end :]
    while behind.strip() and not behind.partition("\n")[0].strip():
        behind = behind.partition("\n")[2]
    if behind.strip():
        return before + behind
    lines = before.splitlines(keepends=True)
    while lines and not lines[-1].strip():
        lines.pop()
    return "".join(lines)


def inserted(text: str, at: int, block: str) -> str:
    """Return the text with a block put at the start of a line, a blank line before and behind it."""
    end = line_end(text)
    before, behind = text[:at], text[at:]
    if before and not before.endswith("\n"):
        before += end
    if before and not before.endswith((end + end, "\n\n")):
        before += end
    if not block.endswith("\n"):
        block += end
    if behind and behind.split("\n", 1)[0].strip():
        block += end
    return before + block + behind


def moved_to(text: str, block: TableBlock, old: tuple[str, ...], new: tuple[str, ...]) -> str:
    """Return a block's text, comments above it left out, as a block of another table; its header begins with `old`."""
    keys = block.header.keys
    first, last = keys[0][1][0], keys[len(old) - 1][1][1]
    return text[block.head : first] + dotted(*new) + text[last : block.end]
