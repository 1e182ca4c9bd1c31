"""What a design's fingerprint tells apart, what it lets pass, and which slips of the pen its last sign finds."""

from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

import mockup
from mockup.fingerprint import LENGTH, SIGNS, fingerprint, read_fingerprint
from mockup.model.paint_picture import PaintPicture

LAYOUT = Path(__file__).parents[1] / "examples" / "lantern_moth" / "layout.toml"


@pytest.fixture(scope="module")
def design():
    return mockup.load(LAYOUT)


def test_the_last_sign_finds_every_wrong_sign_and_every_two_that_changed_places(design):
    """As ISBN-10 does with 11 signs (ISO 2108:1992): a prime number of signs, each place of another weight."""
    assert all(len(SIGNS) % each for each in range(2, len(SIGNS)))
    good = fingerprint(design)
    assert len(good) == LENGTH
    assert read_fingerprint(good) == good
    for place, sign in enumerate(good):
        wrong = [good[:place] + other + good[place + 1 :] for other in SIGNS if other != sign]
        assert not any(map(read_fingerprint, wrong))
    for place, (one, two) in enumerate(pairwise(good)):
        swapped = good[:place] + two + one + good[place + 2 :]
        assert one == two or read_fingerprint(swapped) is None


def test_no_two_signs_are_taken_for_one_another():
    """Pairs that small print and handwriting confuse: common practice, no source."""
    for pair in ("0O", "1I", "1L", "IL", "5S", "8B", "UV", "2Z", "6G", "CG"):
        assert len(set(pair) & set(SIGNS)) < 2, pair


def test_it_is_read_as_hands_type_it(design):
    good = fingerprint(design)
    for typed in (good.lower(), f" {good[:3]} {good[3:]}", f"{good[:3]}-{good[3:]}"):
        assert read_fingerprint(typed) == good


@pytest.mark.parametrize("typed", ["", "K7", "K7QM2X9", "O0O0O0", "drill template"])
def test_what_cannot_be_one_is_none(typed):
    assert read_fingerprint(typed) is None


def _moved(design, **by):
    return replace(design, parts=(replace(design.parts[0], **by), *design.parts[1:]))


def test_what_a_page_depends_on_changes_it(design):
    part, decal = design.parts[0], design.decals[0]
    art = np.array(decal.art.pixels)
    art[0, 0, 0] ^= 255
    pictures = [
        PaintPicture(name="wood.png", pixels=np.full((9, 5, 3), code, np.uint8), box=design.enclosure)
        for code in (90, 91)
    ]
    changed = [
        _moved(design, u_mm=part.u_mm + 0.1),
        _moved(design, rotation_deg=part.rotation_deg + 15.0),
        replace(design, parts=design.parts[1:]),
        replace(design, enclosure=replace(design.enclosure, wall_mm=2.5)),
        replace(design, decals=()),
        replace(design, decals=(replace(decal, v_mm=decal.v_mm + 0.1), *design.decals[1:])),
        replace(design, decals=(replace(decal, art=replace(decal.art, pixels=art)), *design.decals[1:])),
        *(replace(design, finish=replace(design.finish, picture=each)) for each in pictures),
    ]
    signs = {fingerprint(each) for each in (design, *changed)}
    assert len(signs) == len(changed) + 1


def test_what_no_page_shows_does_not(design):
    """The order of parts, names, paint, what the checks accept, and less than a thousandth of a millimetre."""
    same = [
        replace(design, parts=design.parts[::-1]),
        replace(design, name="another", source="other.toml", units="in", variant="blue"),
        replace(design, finish=replace(design.finish, paint=(0.1, 0.2, 0.3))),
        _moved(design, u_mm=design.parts[0].u_mm + 1e-7),
        replace(design, limits={"coat_mm": 0.2}),
    ]
    assert {fingerprint(each) for each in same} == {fingerprint(design)}
