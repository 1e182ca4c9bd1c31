"""Comparisons from a script: what differs as data, the sheet as a picture and as files."""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest
from pedal_bench import changed, pedal
from PIL import Image

import mockup
from mockup.model.design import Design
from mockup.model.errors import InputError
from mockup.model.picture import Picture
from mockup.picture.options import PictureRequest
from mockup.picture.shots import Sight, Taken

MOVED = changed(("left = 16\ntop = 20", "left = 20\ntop = 23"))


def grey(_design: Design, sights: Sequence[Sight], _request: PictureRequest) -> Taken:
    """Hand out plain pictures in place of rendered ones, each view in a grey of its own."""
    return Taken(
        pictures=tuple(
            Picture(pixels=np.full((sight.height_px, sight.width_px, 3), 100 + 50 * index, np.uint8))
            for index, sight in enumerate(sights)
        )
    )


@pytest.fixture(scope="module")
def found() -> mockup.Comparison:
    designs = {"before": pedal(), "after": pedal(MOVED)}
    return mockup.compare(designs, view=("above", "player"), size=(64, 96), marks=False, take=grey)


def test_what_differs_comes_as_data(found: mockup.Comparison) -> None:
    assert found.captions == ("before", "after")
    assert found.differences["before"] == ()
    moved = next(each for each in found.differences["after"] if each.how == "moved")
    assert (moved.subject, moved.right_mm, moved.down_mm) == ("TONE", pytest.approx(4.0), pytest.approx(3.0))
    assert moved.distance_mm == pytest.approx(5.0)  # 3, 4, 5
    assert found.figures["after"].parts == 4
    assert [each["label"] for each in found.facts["pedals"]] == ["before", "after"]


def test_the_sheet_comes_as_a_picture_and_as_files_of_each_kind(found: mockup.Comparison) -> None:
    pixels = found.picture.pixels
    for code in (100, 150):  # the greys of two views, two pictures of each, but for the line round them
        assert 2 * 60 * 92 <= int((pixels == code).all(axis=2).sum()) <= 2 * 64 * 96
    with Image.open(io.BytesIO(found.file("sheet.png"))) as image:
        assert np.array_equal(np.asarray(image), pixels)
        assert image.info["Title"] == "Tidewater: side by side"
    assert found.file("sheet.PDF").startswith(b"%PDF")
    assert found.file("sheet.html").startswith(b"<!DOCTYPE html>")
    with pytest.raises(InputError, match=r"'sheet\.bmp' has an unknown ending"):
        found.file("sheet.bmp")


def test_designs_without_captions_are_called_by_what_tells_them_apart_and_progress_is_told() -> None:
    told: list[tuple[int, int]] = []
    designs = [pedal(), replace(pedal(), variant="night"), pedal()]
    made = mockup.compare(
        designs, view="above", size=(16, 16), take=grey, progress=lambda done, total, _: told.append((done, total))
    )
    assert made.captions == ("as designed (1 of 2)", "night", "as designed (2 of 2)")
    assert told == sorted(told) and told[-1] == (6, 6)


def test_bad_input_is_refused_before_a_picture_is_taken() -> None:
    def never(_design: Design, _sights: Sequence[Sight], _request: PictureRequest) -> Taken:
        raise AssertionError("a picture was taken")

    two = [pedal(), pedal()]
    for designs, given, said in (
        (two[:1], {}, "1 pedal cannot stand side by side"),
        (two * 7, {}, "14 pedals cannot stand side by side"),
        (two, {"view": "behind"}, "there is no view 'behind'"),
        (two, {"page": "10x10"}, "is out of range"),
        (two, {"light": "moon"}, "there is no light 'moon'"),
    ):
        with pytest.raises(InputError, match=said):
            mockup.compare(designs, take=never, **given)  # type: ignore[arg-type]
