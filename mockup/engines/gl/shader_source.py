"""The text of a shader as GL gets it: its files joined, its defines before them, loops over soft boxes written out."""

from __future__ import annotations

import re
from collections.abc import Mapping
from importlib import resources
from typing import Final

_INCLUDE: Final = re.compile(r'^#include "([a-z_.]+)"$', re.MULTILINE)
_OVER_BOXES: Final = re.compile(r"for \(int (\w+) = 0; \1 < BOXES; \+\+\1\) ")


def shader_source(name: str, defines: Mapping[str, int]) -> str:
    """Return a shader of ours with what it includes, for a set of `#define`s."""
    text = _INCLUDE.sub(lambda match: _shader_text(match[1]), _shader_text(name))
    head = "#version 330 core\n" + "".join(f"#define {k} {v}\n" for k, v in defines.items())
    # where mirror rays are followed so many places read the boxes that compiling takes longer: our choice
    return head + (text if defines.get("STEPS") else unrolled(text, defines.get("BOXES", 0)))


def _shader_text(name: str) -> str:
    """Return one of our shader files."""
    return resources.files("mockup.engines.gl").joinpath("shaders", name).read_text(encoding="utf-8")


def unrolled(text: str, boxes: int) -> str:
    """Return a shader whose loops over soft boxes are written out.

    Software GL leaves such a loop as it is and then reads what it indexes lane by lane: a quarter of a draft's time.
    """
    loop = _OVER_BOXES.search(text)
    if loop is None:
        return text
    name, start = loop[1], loop.end()
    end = _block_end(text, start) if text[start] == "{" else text.index(";", start) + 1
    copies = "".join(f"{{ const int {name} = {k}; {text[start:end]} }}\n" for k in range(boxes))
    return unrolled(text[: loop.start()] + copies + text[end:], boxes)


def _block_end(text: str, start: int) -> int:
    """Return where the block that opens at `start` has ended."""
    depth = 0
    for brace in re.finditer(r"[{}]", text[start:]):
        depth += 1 if brace[0] == "{" else -1
        if depth == 0:
            return start + brace.end()
    raise ValueError("a block of a shader does not end")
