"""Lines on a photograph: dragged and nudged, the camera that follows, where the photograph lies in the window."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from mockup.comparison.beside import landmarks, photograph
from mockup.model.enclosure import Enclosure
from mockup.model.scene import Camera
from mockup.scene.projection import projected
from mockup.window.photograph.held_photograph import HeldPhotograph
from mockup.window.photograph.photo_place import camera_of_room, photo_place
from mockup.window.photograph.side_lines import CARD, Handle, SideLines, first_lines

BOX = Enclosure(width_mm=94, length_mm=119, height_mm=34)
SIZE = (1600, 1200)
CAMERA = Camera(eye=(-110.0, -290.0, 330.0), target=(4.0, 6.0, 10.0), up=(0.04, 0.0, 1.0), fov_deg=31.0)
HIGH = np.array([[20.0, -30.0, 60.0], [-40.0, 50.0, 10.0]])


def opened() -> photograph.OpenedPhotograph:
    return photograph.OpenedPhotograph(pixels=np.zeros((12, 16, 3), np.uint8), size_px=SIZE, found=None)


def test_the_first_lines_lie_in_the_photograph_and_are_seen_by_a_camera() -> None:
    held = HeldPhotograph()
    held.read(opened(), BOX)
    assert held.found is not None
    assert held.found.off_px < 0.1
    ends = np.array(list(held.lines.lines.values())).reshape(-1, 2)
    assert (ends > 0).all()
    assert (ends < SIZE).all()


def test_a_camera_follows_lines_dragged_from_anywhere_onto_the_edges() -> None:
    """Against the camera that the edges were projected through: nothing is left of the first one."""
    held = HeldPhotograph()
    held.read(opened(), BOX)
    for name, ends in landmarks.edges(BOX).items():
        if name not in held.lines.lines:
            continue
        seen = projected(CAMERA, SIZE, ends)
        for end, at in (("first", seen[0] + (seen[1] - seen[0]) / 5), ("second", seen[0] + (seen[1] - seen[0]) * 0.8)):
            handle = Handle(name, end)  # type: ignore[arg-type]
            way = at - np.array(held.lines.handles()[handle])
            held.change(held.lines.shifted(handle, *way), BOX, is_quick=True)
    held.change(held.lines, BOX)
    assert held.found is not None
    assert np.allclose(projected(held.found.camera, SIZE, HIGH), projected(CAMERA, SIZE, HIGH), atol=0.3)
    first = held.lines.handles()[Handle("near", "first")]
    held.change(held.lines.shifted(Handle("near"), 0.0, 900.0), BOX)
    assert held.found is None
    assert held.why.startswith("no camera sees these places so")
    held.change(held.lines.shifted(Handle("near"), 0.0, -900.0), BOX)
    assert held.found is not None
    assert held.lines.handles()[Handle("near", "first")] == pytest.approx(first)


def test_the_lens_that_marks_told_is_kept_when_the_straightened_photograph_was_compared() -> None:
    held = HeldPhotograph()
    held.read(opened(), BOX)
    assert held.found is not None
    marked = replace(held.found, fit=replace(held.found.fit, lens=(-0.08, 0.01)), is_marked=True)
    held.read(replace(opened(), found=marked), BOX)
    told = photograph.Beside(
        found=photograph.straight(marked), photo=held.pixels, taken=held.pixels, areas=(), places=()
    )
    held.hold(told)
    assert held.told is told
    assert held.found.fit.lens == (-0.08, 0.01)


def test_handles_are_taken_hold_of_and_moved() -> None:
    """A line from (0, 0) to (100, 40): its middle by hand at (50, 20)."""
    lines = SideLines(lines={"near": ((0.0, 0.0), (100.0, 40.0))})
    assert lines.handle_at((52, 21), 5) == Handle("near")
    assert lines.handle_at((97, 40), 5) == Handle("near", "second")
    assert lines.handle_at((70, 60), 5) is None
    assert lines.shifted(Handle("near"), 1, 2).lines == {"near": ((1.0, 2.0), (101.0, 42.0))}
    assert lines.shifted(Handle("near", "second"), 1, 2).lines == {"near": ((0.0, 0.0), (101.0, 42.0))}
    card = lines.with_card((300, 9)).shifted(Handle(CARD), -4, 1)
    assert (card.card, card.picked) == ((296, 10), Handle(CARD))
    assert card.options() == ("near=0.00,0.00,100.00,40.00",)
    more = card.with_edge("left-foot", np.array([[0.0, 0.0], [60.0, 0.0]]))
    assert more.lines["left-foot"] == ((10.0, 0.0), (50.0, 0.0))
    assert more.without_edge("left-foot").lines == lines.lines


def test_a_photograph_fits_its_room_and_its_camera_sees_the_same_there() -> None:
    """800x600 in 400x500 is half as large, 100 from the top; what it sees lies where the photograph shows it."""
    place = photo_place((800, 600), (20, 30), (400, 500))
    assert (place.left, place.top, place.scale) == (20, 130, 0.5)
    assert place.to_photo(place.to_window((123, 456))) == pytest.approx((123, 456))
    for room in ((400, 500), (900, 300)):
        place = photo_place((800, 600), (0, 0), room)
        there = projected(camera_of_room(CAMERA, (800, 600), room), room, HIGH)
        assert there == pytest.approx(np.array([place.to_window(at) for at in projected(CAMERA, (800, 600), HIGH)]))


def test_first_lines_are_those_of_the_tops_edges() -> None:
    assert set(first_lines(BOX, (1200, 1600)).lines) == {"near", "far", "left", "right"}
