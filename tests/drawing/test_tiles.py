"""Pages too small for a drawing: seams and register marks where they do no harm, lettering that can be read."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from mockup.api import load
from mockup.drawing.lettering import overlap_mm2, text_area
from mockup.drawing.tiles import OVERLAP_MM, REGISTER, tiling
from mockup.model.sheet import Circle, Clip, Line, Mark, Page, Text
from mockup.outputs import template

pytestmark = pytest.mark.slow

LEAST_MM = 2.0  # of the face; smaller is a strain at arm's length: common practice, no source


def _texts(marks: tuple[Mark, ...]) -> Iterator[Text]:
    for mark in marks:
        if isinstance(mark, Clip):
            yield from _texts(mark.marks)
        elif isinstance(mark, Text):
            yield mark


def _area(text: Text) -> tuple[float, float, float, float]:
    return text_area(text)


@pytest.fixture(params=["lantern_moth", "copper_kettle", "night_ferry"])
def name(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.mark.parametrize("paper", ["140x140", "140x200", "148x210", "letter"])
def test_small_paper_keeps_lettering_readable_and_on_it(examples: Path, name: str, paper: str) -> None:
    design = load(examples / name / "layout.toml")
    pages = template.template_pages(design, template.Options(page=paper))
    every = [(page, text) for page in pages for text in _texts(page.marks)]
    assert len(every) > 50
    assert min(text.size_mm for _, text in every) >= LEAST_MM
    tables = [page for page in pages if not any(isinstance(mark, Clip) for mark in page.marks)]
    said = [text.text for page in tables for text in _texts(page.marks)]
    for number in range(1, len({part.name for part in design.parts}) + 1):
        assert str(number) in said
    for page in tables:
        areas = [_area(text) for text in _texts(page.marks)]
        assert min(area[0] for area in areas) >= 9.9
        assert max(area[2] for area in areas) <= page.width_mm - 9.9  # the margin
        assert max(area[3] for area in areas) <= page.height_mm - 9.0
        assert not any(overlap_mm2(one, other) for i, one in enumerate(areas) for other in areas[:i])


@pytest.mark.parametrize("paper", ["140x140", "140x200", "148x210"])
def test_register_marks_stand_clear_of_lettering(examples: Path, name: str, paper: str) -> None:
    pages: list[Page] = template.template_pages(load(examples / name / "layout.toml"), template.Options(page=paper))
    found = 0
    for page in pages:
        for clip in (mark for mark in page.marks if isinstance(mark, Clip)):
            words = [_area(text) for text in _texts(clip.marks) if text.colour != REGISTER]
            marks = [_area(text) for text in _texts(clip.marks) if text.colour == REGISTER]
            marks += [
                (each.x_mm - 2.0, each.y_mm - 2.0, each.x_mm + 2.0, each.y_mm + 2.0)  # its cross
                for each in clip.marks
                if isinstance(each, Circle) and each.stroke == REGISTER
            ]
            found += len(marks)
            assert not any(overlap_mm2(mark, word) for mark in marks for word in words)
    assert found >= 8


def test_a_seam_steps_aside_for_a_hole() -> None:
    """Two tiles of 100 over a drawing of 150 have 38 mm to spare; a seam in the middle would cut the hole at 75."""
    area = (0.0, 0.0, 150.0, 60.0)
    plain = tiling((), area, (100.0, 80.0))
    assert plain.lefts[1] + OVERLAP_MM / 2 == pytest.approx(75.0)
    hole = Circle(x_mm=75.0, y_mm=30.0, radius_mm=7.0, stroke=(0.0, 0.0, 0.0))
    made = tiling((hole,), area, (100.0, 80.0))
    tiles = [(left, left + 100.0) for left in made.lefts]
    assert tiles[0][0] <= 0.0 and tiles[1][1] >= 150.0  # all of the drawing is still there
    assert tiles[0][1] - tiles[1][0] == pytest.approx(OVERLAP_MM)
    edges = (68.0, 82.0)
    assert not any(edges[0] < edge < edges[1] for tile in tiles for edge in tile)


def test_a_mark_steps_aside_for_a_word_and_for_a_line() -> None:
    area = (0.0, 0.0, 150.0, 60.0)
    window = (100.0, 80.0)
    spots = [each for each in tiling((), area, window).registers if isinstance(each, Circle)]
    assert len(spots) == 2
    at = spots[0]
    word = Text(x_mm=at.x_mm, y_mm=at.y_mm, text="TIDE", size_mm=2.6, anchor="middle")
    fold = Line(x1_mm=0.0, y1_mm=spots[1].y_mm, x2_mm=150.0, y2_mm=spots[1].y_mm)
    made = tiling((word, fold), area, window)
    now = [each for each in made.registers if isinstance(each, Circle)]
    assert overlap_mm2(_area(word), (now[0].x_mm - 2, now[0].y_mm - 2, now[0].x_mm + 2, now[0].y_mm + 2)) == 0.0
    assert abs(now[1].y_mm - spots[1].y_mm) > 2.0
    assert all(made.lefts[1] < each.x_mm < made.lefts[0] + 100.0 for each in now)  # on both sheets
