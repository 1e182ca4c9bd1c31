"""The sheet of findings: rings where the parts are, sentences that do not overlap, leaders that do not cross."""

from __future__ import annotations

from itertools import combinations, pairwise

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from mockup.checks.report.rows import row
from mockup.encode.pixels import pixels
from mockup.model.enclosure import Enclosure, faces
from mockup.model.finding import Finding, Mark, Subject, mm
from mockup.model.scene import Camera
from mockup.model.sheet import Line, Text
from mockup.picture import finding_sheet as picture
from mockup.picture.finding_sheet import FaceView, sheet
from mockup.picture.marks import crosses

BOX = Enclosure(width_mm=100, length_mm=120, height_mm=50, draft_deg=0.0, corner_mm=6)
ABOVE = Camera(eye=(0, 0, 500), target=(0, 0, 0), up=(0, 1, 0), ortho_mm=150)


def finding(number: int, *marks: Mark, severity: str = "stop") -> Finding:
    return Finding(
        check="webs",
        severity=severity,  # type: ignore[arg-type]
        title=f"Fault number {number}",
        subjects=Subject.parts(f"P{number}"),
        what="this is a sentence of some length, so that it takes more than a single line here",
        remedy="Move it 1 mm left",
        measured=mm(1.0),
        limit=mm(2.0),
        marks=marks,
    )


def face_view(grey: int = 128) -> FaceView:
    return FaceView(face=faces(BOX)["top"], pixels=np.full((600, 500, 3), grey, np.uint8), camera=ABOVE)


def test_a_ring_is_drawn_round_its_mark_in_its_own_colour() -> None:
    found = finding(1, Mark(face="top", u_mm=50, v_mm=60, radius_mm=10))
    drawn = pixels(sheet("Title", (found,), (face_view(),), "mm"), 1.0)
    middle = (round(picture.EDGE) + 250, 92 + 300)  # the view begins under the title
    red = np.array(picture.COLOURS["stop"]) * 255
    below = drawn[middle[1] + 40, middle[0]]  # 10 mm at 4 px/mm; the number sits above
    assert np.abs(below.astype(int) - red).max() < 60
    assert (drawn[middle[1], middle[0]] == 128).all(), "inside the ring the pedal shows"


def test_what_has_no_place_is_listed_all_the_same() -> None:
    """The second finding adds rows below the view and no ring."""
    one = finding(1, Mark(face="top", u_mm=50, v_mm=60))
    placed = pixels(sheet("Title", (one,), (face_view(),), "mm"), 1.0)
    both = pixels(sheet("Title", (one, finding(2)), (face_view(),), "mm"), 1.0)
    assert both.shape[0] > placed.shape[0]
    assert (both[placed.shape[0] :] < 100).any(), "there is text"


def test_faces_are_shown_only_where_something_is_marked() -> None:
    assert picture.faces_of(()) == ("top",)
    assert picture.faces_of((finding(1, Mark(face="left", u_mm=1, v_mm=1)),)) == ("left",)
    two = (finding(1, Mark(face="right", u_mm=1, v_mm=1), Mark(face="top", u_mm=1, v_mm=1)),)
    assert picture.faces_of(two) == ("top", "right")


@settings(max_examples=40)
@given(st.lists(st.tuples(st.integers(5, 95), st.integers(5, 115)), min_size=1, max_size=12, unique=True))
def test_sentences_do_not_overlap_and_leaders_do_not_cross(places: list[tuple[int, int]]) -> None:
    found = [finding(i, Mark(face="top", u_mm=u, v_mm=v)) for i, (u, v) in enumerate(places, 1)]
    page = sheet("Title", found, (face_view(),), "mm")
    left = picture.EDGE + 500 + picture.GAP  # where the legend begins; the view is 500 px wide
    heads = [mark for mark in page.marks if isinstance(mark, Text) and mark.text == "STOP"]
    assert len(heads) == len(found)
    said = [mark for mark in page.marks if isinstance(mark, Text) and mark.x_mm > left and mark.size_mm > 16]
    rows = sorted(mark.y_mm for mark in (*heads, *said))
    assert all(above + 16 <= below for above, below in pairwise(rows)), "no line of text stands on another"
    assert rows[0] > picture.HEAD and rows[-1] < page.height_mm - picture.EDGE
    leaders = [
        ((mark.x1_mm, mark.y1_mm), (mark.x2_mm, mark.y2_mm))
        for mark in page.marks
        if isinstance(mark, Line) and mark.colour == picture.COLOURS["stop"] and mark.x2_mm == left
    ]
    assert len(leaders) == len(found)
    assert not [pair for pair in combinations(leaders, 2) if crosses(*pair)]


def test_lines_cross_where_a_drawing_shows_it() -> None:
    """By hand: the diagonals of a square cross, its sides do not, nor do lines that would meet if they were longer."""
    assert crosses(((0, 0), (2, 2)), ((0, 2), (2, 0)))
    assert not crosses(((0, 0), (2, 0)), ((0, 2), (2, 2)))
    assert not crosses(((0, 0), (0.9, 0.9)), ((0, 2), (2, 0)))


def test_a_sentence_keeps_all_its_words() -> None:
    page = sheet("Title", (finding(3),), (face_view(),), "mm")
    shown = row(finding(3), "mm")
    for text, is_bold in ((shown.what, False), (shown.remedy, True)):
        said = [
            mark.text
            for mark in page.marks
            if isinstance(mark, Text) and mark.size_mm == picture.TEXT and mark.is_bold == is_bold
        ]
        assert " ".join(said) == text
        assert (len(said) > 1) == (not is_bold)
