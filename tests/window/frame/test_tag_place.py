"""A part's tag stands over it, or where it covers less: places worked out by hand."""

import pytest

from mockup.window.frame.tag_place import tag_place

AREA = (0.0, 0.0, 400.0, 400.0)
PART = (180.0, 180.0, 220.0, 220.0)
OVER, RIGHT, LEFT, UNDER = (170.0, 150.0), (230.0, 190.0), (110.0, 190.0), (170.0, 230.0)
"""Of a tag of 60 by 20, 10 from the part."""


@pytest.mark.parametrize(
    ("others", "there"),
    [
        ((), OVER),
        (((100, 100, 300, 140),), OVER),  # a label that ends above it
        (((150, 140, 200, 160),), RIGHT),
        (((150, 140, 200, 160), (280, 180, 320, 220)), LEFT),
        (((150, 140, 200, 160), (280, 180, 320, 220), (80, 180, 120, 220)), UNDER),
        ((AREA,), OVER),  # it covers something wherever it stands
        (((150, 100, 250, 170), (230, 100, 290, 195), (110, 100, 170, 200), (170, 230, 230, 250)), RIGHT),
    ],
)
def test_it_covers_the_least(others, there):
    assert tag_place(PART, (60.0, 20.0), others, AREA, 10.0) == there


def test_it_stays_in_sight():
    assert tag_place((180, 5, 220, 45), (60.0, 20.0), (), AREA, 10.0) == (230.0, 15.0)
    assert tag_place((350, 5, 390, 45), (60.0, 20.0), (), AREA, 10.0) == (280.0, 15.0)
