"""Sizes of paper as a user writes them."""

from __future__ import annotations

import re

from mockup.model.sheet import PAPERS
from mockup.model.units import parse_length
from mockup.options import bad_option

_SIZE = re.compile(r"([\d.]+)\s*(?:mm|cm|in)?\s*[x×*]\s*([\d.]+)\s*(mm|cm|in)?")


def page_size(text: str, least_mm: float = 140.0, most_mm: float = 2000.0) -> tuple[float, float]:
    """Return a page's width and height in mm from its name or from text such as "100x150" or "4x6 in".

    The usual limits let rules, tables and captions fit, and no printer is wider: our choice. Raises `InputError` where
    it is neither, or a side lies beyond them.
    """
    width, height = _size(text)
    if not (least_mm <= width <= most_mm and least_mm <= height <= most_mm):
        what = f"a page of {width:g} x {height:g} mm is out of range"
        raise bad_option("page", what, f"each side may be {least_mm:g} to {most_mm:g} mm")
    return width, height


def _size(text: str) -> tuple[float, float]:
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
