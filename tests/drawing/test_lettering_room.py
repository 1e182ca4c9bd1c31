"""Lettering on the drill template of every example: no word stands on another, none on a drill circle."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from pathlib import Path

import numpy as np
import pytest

from mockup.api import load
from mockup.drawing.lettering import overlaps_mm2, text_area
from mockup.model.sheet import Circle, Clip, Mark, Text
from mockup.outputs import template

pytestmark = pytest.mark.slow

LAYOUTS = sorted((Path(__file__).parent.parent.parent / "examples").glob("**/layout.toml"))

CROWDED = ("night_ferry", "salt_mill")


def drawn(marks: Sequence[Mark]) -> Iterator[Mark]:
    for mark in marks:
        if isinstance(mark, Clip):
            yield from drawn(mark.marks)
        else:
            yield mark


@pytest.mark.parametrize(
    ("layout", "faces"),
    [(each, "unfolded") for each in LAYOUTS] + [(each, "each") for each in LAYOUTS if each.parent.name in CROWDED],
    ids=lambda value: value.parent.name if isinstance(value, Path) else value,
)
def test_nothing_stands_on_anything(layout: Path, faces: str) -> None:
    *pages, _ = template.template_pages(load(layout), template.Options(faces=faces, page="420x297"))
    assert pages
    for page in pages:
        marks = list(drawn(page.marks))
        texts = [each for each in marks if isinstance(each, Text)]
        areas = {each: text_area(each) for each in texts}
        for index, one in enumerate(texts[1:], 1):
            over = overlaps_mm2(np.array([areas[each] for each in texts[:index]]), np.array([areas[one]]))
            assert over.max() < 0.05, (one.text, texts[int(over.argmax())].text)
        for circle in (each for each in marks if isinstance(each, Circle) and each.radius_mm > 1.2):
            for text, (left, top, right, bottom) in areas.items():
                near = math.hypot(
                    max(left - circle.x_mm, 0.0, circle.x_mm - right), max(top - circle.y_mm, 0.0, circle.y_mm - bottom)
                )
                assert near > circle.radius_mm - 0.1, (text.text, circle.radius_mm)
