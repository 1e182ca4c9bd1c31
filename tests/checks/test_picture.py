"""The marked-up picture: rings where the parts are, numbers that do not cover each other, leaders that do not cross."""

from __future__ import annotations

from itertools import combinations, pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mockup.checks.report.rows import row
from mockup.model.enclosure import Enclosure, faces
from mockup.model.finding import Finding, Mark
from mockup.model.scene import Camera
from mockup.picture import finding_sheet as _picture
from mockup.picture.finding_sheet import Sight, marked, projected

BOX = Enclosure(width_mm=100, length_mm=120, height_mm=50, draft_deg=0.0, corner_mm=6)
ABOVE = Camera(eye=(0, 0, 500), target=(0, 0, 0), up=(0, 1, 0), ortho_mm=150)


def finding(number: int, *marks: Mark, severity: str = "stop") -> Finding:
    return Finding(
        check="webs",
        severity=severity,  # type: ignore[arg-type]
        subjects=(f"P{number}",),
        what=f"Fault number {number} is a sentence of some length, so that it takes more than a single line here",
        remedy="Move it 1 mm left",
        source="common practice, no source",
        measured=1.0,
        limit=2.0,
        unit="mm",
        marks=marks,
    )


def sight(grey: int = 128) -> Sight:
    return Sight(face=faces(BOX)["top"], pixels=np.full((600, 500, 3), grey, np.uint8), camera=ABOVE)


def test_points_lie_where_a_ruler_puts_them() -> None:
    """600 px show 150 mm: 4 px/mm. The far left corner of the top is (-50, 60): 50 mm left, 60 up."""
    points = faces(BOX)["top"].to_world(np.array([[0.0, 0.0], [50.0, 60.0], [100.0, 0.0]]))
    assert projected(ABOVE, (500, 600), points) == pytest.approx(
        np.array([[250 - 200, 300 - 240], [250, 300], [450, 60]])
    )


def test_perspective_shrinks_with_distance() -> None:
    """Half angle 45 degrees: at 100 mm the half height is 100 mm, so 10 mm up is a tenth of half the picture."""
    camera = Camera(eye=(0, 0, 100), target=(0, 0, 0), up=(0, 1, 0), fov_deg=90)
    assert projected(camera, (400, 200), np.array([[0.0, 10.0, 0.0]])) == pytest.approx(np.array([[200, 90]]))


def test_a_ring_is_drawn_round_its_mark_in_its_own_colour() -> None:
    found = finding(1, Mark(face="top", u_mm=50, v_mm=60, radius_mm=10))
    pixels = marked("Title", (found,), (sight(),), "mm")
    middle = (_picture.EDGE + 250, 92 + 300)  # the view begins under the title
    red = np.array([int(_picture.COLOURS["stop"][i : i + 2], 16) for i in (1, 3, 5)])
    below = pixels[middle[1] + 40, middle[0]]  # 10 mm at 4 px/mm; the number sits above
    assert np.abs(below.astype(int) - red).max() < 60
    assert (pixels[middle[1], middle[0]] == 128).all(), "inside the ring the pedal shows"


def test_what_has_no_place_is_listed_all_the_same() -> None:
    """The second finding adds rows below the view and no ring."""
    placed = marked("Title", (finding(1, Mark(face="top", u_mm=50, v_mm=60)),), (sight(),), "mm")
    both = marked("Title", (finding(1, Mark(face="top", u_mm=50, v_mm=60)), finding(2)), (sight(),), "mm")
    assert both.shape[0] > placed.shape[0]
    assert (both[placed.shape[0] :] < 100).any(), "there is text"


def test_faces_are_shown_only_where_something_is_marked() -> None:
    assert _picture.faces_of(()) == ("top",)
    assert _picture.faces_of((finding(1, Mark(face="left", u_mm=1, v_mm=1)),)) == ("left",)
    two = (finding(1, Mark(face="right", u_mm=1, v_mm=1), Mark(face="top", u_mm=1, v_mm=1)),)
    assert _picture.faces_of(two) == ("top", "right")


@settings(deadline=None, max_examples=40)
@given(st.lists(st.tuples(st.integers(5, 95), st.integers(5, 115)), min_size=1, max_size=12, unique=True))
def test_sentences_do_not_overlap_and_leaders_do_not_cross(places: list[tuple[int, int]]) -> None:
    found = [finding(i, Mark(face="top", u_mm=u, v_mm=v)) for i, (u, v) in enumerate(places, 1)]
    here = sight()
    entries = [_picture._entry(i, each, here, "mm") for i, each in enumerate(found, 1)]
    height = max(600.0, sum(each.height for each in entries))
    placed = _picture._placed(entries, 0.0, 0.0, height)
    assert len(placed) == len(found)
    for (entry, y), (_, below) in pairwise(placed):
        assert y + entry.height <= below + 1e-6
    assert placed[-1][1] + placed[-1][0].height <= height + 1e-6
    order, ys = [each for each, _ in placed], [y for _, y in placed]
    crossings = [pair for pair in combinations(range(len(order)), 2) if _picture._cross(order, ys, *pair, 0.0)]
    assert not crossings


def test_numbers_that_share_a_place_go_round_it() -> None:
    rings = [(number, "stop", (100.0, 100.0, 20.0)) for number in range(1, 6)]
    discs = _picture._numbers(rings, 0.0)  # type: ignore[arg-type]
    spots = {disc.split('cx="')[1].split('"')[0] + disc.split('cy="')[1].split('"')[0] for disc in discs}
    assert len(spots) == 5


def test_a_wrapped_sentence_keeps_all_its_words() -> None:
    text = row(finding(3), "mm").what
    lines = _picture._wrapped(text, "Medium")
    assert " ".join(lines) == text
    assert len(lines) > 1


def test_a_figure_keeps_its_unit() -> None:
    text = "word " * 40 + "0.93 mm and 226 mm³. " * 20
    for line in _picture._wrapped(text.strip(), "Medium"):
        assert not line.startswith("mm")
