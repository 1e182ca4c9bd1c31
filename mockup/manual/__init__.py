"""The manual: short pages, one topic each, for the terminal, the window and the README alike.

A page is a Markdown file in this folder. Its name is its topic, its first line its title.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from importlib import resources

_ENDING = ".md"
_COMMAND = re.compile(r"`mockup [a-z]|`--[a-z]|`mockup\.")


def topics() -> dict[str, str]:
    """Return each topic's title by the topic's name, in alphabetical order."""
    names = sorted(each.name for each in resources.files(__name__).iterdir() if each.name.endswith(_ENDING))
    return {(topic := name.removesuffix(_ENDING)): page(topic).partition("\n")[0].lstrip("# ") for name in names}


def page(topic: str) -> str:
    """Return a page as it is written, in Markdown; `KeyError` if there is no such topic."""
    file = resources.files(__name__) / f"{topic}{_ENDING}"
    if not re.fullmatch(r"[a-z]+", topic) or not file.is_file():
        raise KeyError(topic)
    return file.read_text(encoding="utf-8")


def plain(topic: str) -> str:
    """Return a page as plain text, headings in capitals and code indented; `KeyError` if there is no such topic."""
    return _plain(page(topic).splitlines()).strip() + "\n"


def sections(topic: str) -> tuple[tuple[str, str], ...]:
    """Return the sections of a page, each its heading and its plain text; what speaks of a terminal is left out.

    The first one has the page's title. `KeyError` if there is no such topic.
    """
    text = re.sub(r"^```sh\n.*?^```\n", "", page(topic), flags=re.MULTILINE | re.DOTALL)
    found = []
    for part in re.split(r"^#+ ", text, flags=re.MULTILINE)[1:]:
        heading, _, body = part.partition("\n")
        kept = [each for each in re.split(r"\n{2,}", body.strip()) if not _COMMAND.search(each)]
        found.append((heading.strip(), _plain("\n\n".join(kept).splitlines())))
    return tuple(found)


def _plain(page_lines: Sequence[str]) -> str:
    lines, is_code = [], False
    for line in page_lines:
        if line.startswith("```"):
            is_code = not is_code
        elif is_code:
            lines.append(f"    {line}".rstrip())
        elif line.startswith("#"):
            lines.append(line.lstrip("# ").upper())
        else:
            lines.append(re.sub(r"!?\[([^\[\]]*)\]\([^)]*\)", r"\1", line).replace("`", ""))
    return "\n".join(lines)
