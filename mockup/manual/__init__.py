"""The manual: short pages, one topic each, for the terminal, the window and the README alike.

A page is a Markdown file in this folder. Its name is its topic, its first line its title.
"""

from __future__ import annotations

import re
from importlib import resources

_ENDING = ".md"


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
    lines, is_code = [], False
    for line in page(topic).splitlines():
        if line.startswith("```"):
            is_code = not is_code
        elif is_code:
            lines.append(f"    {line}".rstrip())
        elif line.startswith("#"):
            lines.append(line.lstrip("# ").upper())
        else:
            lines.append(re.sub(r"`|!?\[|\]\([^)]*\)", "", line))
    return "\n".join(lines).strip() + "\n"
