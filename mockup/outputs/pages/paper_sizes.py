"""Sizes of paper as a user writes them."""

from __future__ import annotations

import re

from mockup.model.sheet import PAPERS
from mockup.model.units import parse_length
from mockup.options import bad_option

_SIZE = re.compile(r"([\d.]+)\s*(?:mm|cm|in)?\s*[x×*]\s*([\d.]+)\s*(mm|cm|in)?")


def page_size(text: str) -> tuple[float, float]:
    """Return a page's width and height in mm from its name or from text such as "100x150" or "4x6 in".

    Raises `InputError` where it is neither.
    """
    name = text.strip().lower()
    for paper, size in PAPERS.items():
        if paper == name:
            return size
    found = _SIZE.fullmatch(name)
    if found is None:
        words = ", ".join(PAPERS)
        raise bad_option(
            "page", f"{text!r} is no page", f'use {words}, or width x height such as "420x297" or "4x6 in"'
        )
    try:
        width, height = (parse_length(f"{side} {found[3] or 'mm'}", "mm") for side in found.groups()[:2])
    except ValueError as error:
        raise bad_option("page", str(error)) from None
    return width, height
