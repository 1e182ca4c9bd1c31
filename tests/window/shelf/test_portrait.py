"""Thumbnails as drawn: on a neutral ground, parts of one group to one scale, finishes told apart."""

import io

import numpy as np
import pytest
from PIL import Image

from mockup import knobs
from mockup.enclosure.sizes import SIZES
from mockup.finishes import sheens
from mockup.hardware import kinds
from mockup.model.finish import Finish
from mockup.window.shelf.portrait import drawn
from mockup.window.shelf.subjects import BoxSubject, KnobSubject, PartSubject, PedalSubject, SheenSubject, Thumbnail
from mockup.window.work.project import opened

pytestmark = pytest.mark.gl
SIZE = (88, 64)


def pixels(subject):
    with Image.open(io.BytesIO(drawn(Thumbnail(subject=subject, size=SIZE)))) as picture:
        assert picture.mode == "RGB"
        assert picture.size == SIZE
        return np.asarray(picture).astype(int)


def covered(picture):
    """How many pixels show the thing: those that differ from the ground at the corners."""
    return int((np.abs(picture - picture[2, 2]).max(axis=2) > 40).sum())


def test_a_group_is_shown_to_one_scale():
    pots = tuple(kinds()[name] for name in ("pot-9", "pot-16", "pot-24"))
    small, middle, large = (covered(pixels(PartSubject(kind=pot, beside=pots))) for pot in pots)
    assert small < middle < large
    assert covered(pixels(PartSubject(kind=pots[0]))) > 1.5 * small  # alone it fills the picture


def test_the_whole_part_is_seen_and_its_ground_is_neutral():
    switch = pixels(PartSubject(kind=kinds()["footswitch"]))
    ground = switch[[2, 2, -3, -3], [2, -3, 2, -3]]
    assert np.abs(ground - ground.mean(axis=1, keepdims=True)).max() <= 4  # lamps are a little warm and cool
    rows = np.flatnonzero((np.abs(switch - switch[2, 2]).max(axis=2) > 40).any(axis=1))
    assert rows[0] > 0
    assert len(rows) > 0.5 * SIZE[1]  # body and lugs below the nut too, not the button alone


def test_finishes_boxes_knobs_and_pedals_are_told_apart(examples):
    green = (0.3, 0.7, 0.4)
    smooth = pixels(SheenSubject(finish=Finish(paint=green, sheen=sheens()["satin"])))
    dented = pixels(SheenSubject(finish=Finish(paint=green, sheen=sheens()["hammered"])))
    rough, even = (np.abs(np.diff(each[4:24, 20:60, 1], axis=1)).mean() for each in (dented, smooth))
    assert rough > 2 * even
    assert smooth[32, 44, 1] > smooth[32, 44, 0]
    box = pixels(BoxSubject(box=SIZES["121x66x39"], finish=Finish(paint=green, sheen=sheens()["satin"])))
    assert covered(box) > 500
    cream, black = (pixels(KnobSubject(knob=knobs.default(style))) for style in ("dome", "bar"))
    assert cream[32, 44].mean() > black[32, 44].mean() + 50
    folder = examples / "copper_kettle"
    pedal = pixels(PedalSubject(project=opened(folder), text=(folder / "layout.toml").read_text()))
    assert pedal.std() > 15
