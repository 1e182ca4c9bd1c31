"""The contact sheet: from two to a thousand pictures, none over another, every one with its word."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pytest

from mockup.comparison.sweep.contact import ON_SCREEN, ContactSheet, on_paper, on_screen
from mockup.comparison.sweep.job import Names
from mockup.comparison.sweep.ranking import Candidate
from mockup.layout.edit.assignment import Assignment
from mockup.model.sheet import Image, Page, Rectangle, Text

pytestmark = pytest.mark.slow

A4 = (210.0, 297.0)  # ISO 216


def contact(count: int, asked: list[str], *ratios: float) -> ContactSheet:
    def shown(candidate: Candidate) -> tuple[np.ndarray, ...]:
        asked.append(candidate.caption)
        return (np.zeros((8, 10, 3), np.uint8),) * max(1, len(ratios))

    candidates = tuple(
        Candidate(
            caption=f"paint {number}",
            place=number,
            names=Names(figures=""),
            assignments=(Assignment(key="finish.paint", value="#ff8000", origin=""),),
            failure="it fell over",
        )
        for number in range(count)
    )
    return ContactSheet(
        title="Bench",
        what="paints",
        answer="An answer. " * 30,
        by="given",
        ratios=ratios or (1.25,),
        candidates=candidates,
        shown=shown,
    )


def boxes(page: Page) -> Iterator[tuple[float, float, float, float]]:
    for mark in page.marks:
        if isinstance(mark, Image):
            yield mark.x_mm, mark.y_mm, mark.x_mm + mark.width_mm, mark.y_mm + mark.height_mm


def sound(pages: list[Page], count: int) -> None:
    captions: list[str] = []
    for page in pages:
        here = list(boxes(page))
        assert all(x >= 0 and y >= 0 and right <= page.width_mm and low <= page.height_mm for x, y, right, low in here)
        left, top, right, low = np.array(here).reshape(-1, 4).T
        apart = (right[:, None] <= left + 1e-6) | (low[:, None] <= top)  # one is left of the other, or above it
        assert (apart | apart.T | np.eye(len(here), dtype=bool)).all()
        texts = [mark for mark in page.marks if isinstance(mark, Text)]
        assert all(0 <= text.y_mm <= page.height_mm for text in texts)
        captions += [text.text for text in texts if text.text.startswith("paint ")]
    assert captions == [f"paint {number}" for number in range(count)]


@pytest.mark.parametrize("count", [1, 2, 5, 12, 60, 61, 100, 1000])
@pytest.mark.parametrize("ratios", [(0.6,), (2.0,), (1.1, 0.6), (2.4, 0.6, 0.5, 1.0)])
def test_every_picture_has_a_place_of_its_own(count: int, ratios: tuple[float, ...]) -> None:
    screens = list(on_screen(contact(count, [], *ratios), 90.0, 4.5))
    sound(screens, count)
    assert len(screens) == -(-count // ON_SCREEN)
    papers = list(on_paper(contact(count, [], *ratios), A4))
    sound(papers, count)
    assert {tuple(sorted((page.width_mm, page.height_mm))) for page in papers} == {A4}


def test_views_of_one_pedal_stand_one_under_the_other_each_in_its_own_shape() -> None:
    (page,) = on_screen(contact(3, [], 1.25, 0.5), 90.0, 4.5)
    found = sorted(boxes(page))
    for first, second in zip(found[::2], found[1::2], strict=True):
        assert second[0] == first[0] and second[1] > first[3]
        assert [(x2 - x1) / (y2 - y1) for x1, y1, x2, y2 in (first, second)] == pytest.approx([1.25, 0.5])
        assert first[2] - first[0] == pytest.approx(90.0) == second[2] - second[0]


def test_sheets_for_a_screen_are_about_as_wide_as_a_screen() -> None:
    for count in (4, 12, 30, 60):
        (page,) = on_screen(contact(count, []), 90.0, 4.5)
        assert 0.8 < page.width_mm / page.height_mm < 2.2


def test_pictures_are_asked_for_page_by_page() -> None:
    asked: list[str] = []
    pages = on_paper(contact(200, asked), A4)
    first = next(pages)
    assert len(asked) == sum(1 for _ in boxes(first)) < 100
    assert sum(1 for _ in pages) >= 2
    assert len(asked) == len(set(asked)) == 200


def test_the_paint_lies_beside_its_name() -> None:
    (page,) = on_screen(contact(2, []), 90.0, 4.5)
    chips = [mark for mark in page.marks if isinstance(mark, Rectangle) and mark.fill is not None]
    assert [chip.fill for chip in chips] == [pytest.approx((1.0, 0x80 / 255, 0.0))] * 2
