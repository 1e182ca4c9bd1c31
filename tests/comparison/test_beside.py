"""A photograph beside its picture: the camera from lines and corners, parts found again, colours by area."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from mockup import api
from mockup.comparison.beside import areas, landmarks, photograph, shifts
from mockup.comparison.beside.options import BesideOptions
from mockup.measure import camera as measured
from mockup.model.enclosure import Enclosure, faces
from mockup.model.errors import InputError
from mockup.model.mesh import Floats
from mockup.model.scene import Camera
from mockup.scene.projection import projected

BOX = Enclosure(width_mm=94, length_mm=119, height_mm=34)
SIZE = (1600, 1200)
CAMERA = Camera(eye=(-110.0, -290.0, 330.0), target=(4.0, 6.0, 10.0), up=(0.04, 0.0, 1.0), fov_deg=31.0)
LAYOUT = 'name = "A"\nunits = "mm"\n[box]\nsize = "119x94x34"\n[finish]\npaint = "#a9d3c6"\n'


def seen(name: str) -> Floats:
    return projected(CAMERA, SIZE, landmarks.corners(BOX)[name][None])[0]


def line(edge: str, first: str, second: str) -> str:
    """An edge as a builder reads it: two points a third and two thirds along it, for its corners are round."""
    low, high = seen(first), seen(second)
    ends = (*(low + (high - low) / 3), *(low + (high - low) * 2 / 3))
    return f"{edge}=" + ",".join(f"{each:.3f}" for each in ends)


def at(name: str) -> str:
    return f"{name}=" + ",".join(f"{each:.3f}" for each in seen(name))


LINES = (
    line("near", "near-left", "near-right"),
    line("far", "far-left", "far-right"),
    line("left", "far-left", "near-left"),
    line("right", "far-right", "near-right"),
)


def test_a_camera_is_found_from_four_lines_and_two_lower_corners() -> None:
    """Against the camera that the places were projected through: knobs stand high, so all heights have to agree."""
    known = landmarks.corners(BOX)
    asked = BesideOptions(line=LINES, at=(at("near-left-foot"), at("near-right-foot")))
    found = landmarks.solved(BOX, known, landmarks.seen(asked, known), SIZE)
    high = np.array([[20.0, -30.0, 60.0], [-40.0, 50.0, 10.0]])
    assert np.allclose(projected(found.camera, SIZE, high), projected(CAMERA, SIZE, high), atol=0.2)
    assert found.camera.fov_deg == pytest.approx(31.0, abs=0.05)
    half = landmarks.scaled(found, (800, 600))
    assert np.allclose(projected(half.camera, (800, 600), high) * 2, projected(CAMERA, SIZE, high), atol=0.2)


def test_four_lines_on_the_top_are_a_whole_camera_for_what_stands_high() -> None:
    """Against the camera that the lines were projected through; each of its ends is off by up to a pixel of 1600."""
    known = landmarks.corners(BOX)
    told = landmarks.seen(BesideOptions(line=LINES), known)
    rng = np.random.default_rng(2)
    rough = landmarks.Seen(
        places={}, lines={name: ends + rng.uniform(-1, 1, (2, 2)) for name, ends in told.lines.items()}
    )
    found = landmarks.solved(BOX, known, rough, SIZE)
    high = np.array([[20.0, -30.0, 60.0], [-40.0, 50.0, 10.0]])
    assert np.abs(projected(found.camera, SIZE, high) - projected(CAMERA, SIZE, high)).max() < 8.0
    assert not found.is_deep
    lower = landmarks.seen(BesideOptions(line=(line("near-foot", "near-left-foot", "near-right-foot"),)), known)
    better = landmarks.solved(
        BOX, known, landmarks.Seen(places={}, lines={**told.lines, **lower.lines}), SIZE, near=found
    )
    assert better.is_deep
    assert np.allclose(projected(better.camera, SIZE, high), projected(CAMERA, SIZE, high), atol=0.2)


def test_a_camera_of_the_printed_marks_is_turned_into_the_worlds_and_its_lens_taken_out() -> None:
    """Marks' places on the face by hand (u right, v down from the far left corner), seen through a bent lens."""
    top = faces(BOX)["top"]
    face = np.array([[u, v, z] for u in (0.0, 40.0, 90.0) for v in (0.0, 55.0, 110.0) for z in (0.0, -20.0)])
    seen_px = projected(CAMERA, SIZE, np.array([top.to_world(each[:2], -each[2]) for each in face]))
    flat = measured.solved(face, seen_px, SIZE, has_lens=False)
    found = landmarks.marked(BOX, replace(flat, lens=(-0.08, 0.01)))
    high = np.array([[20.0, -30.0, 60.0], [-40.0, 50.0, 10.0]])
    assert np.allclose(projected(found.camera, SIZE, high), projected(CAMERA, SIZE, high), atol=0.3)
    there = photograph.bent(found.fit, projected(found.camera, SIZE, high))
    assert np.allclose(there, found.fit.pixels(high), atol=1e-6)
    photo = np.zeros((300, 400, 3), np.uint8)  # a quarter of its side
    x, y = (round(each) for each in found.fit.pixels(high)[0] / 4)
    photo[y - 2 : y + 3, x - 2 : x + 3] = 255
    rows, columns = np.nonzero(photograph.straightened(photo, found)[..., 0] > 128)
    assert (columns.mean() * 4, rows.mean() * 4) == pytest.approx(projected(CAMERA, SIZE, high)[0], abs=5.0)


def test_places_may_stand_in_a_file() -> None:
    asked = BesideOptions().with_places("near = 1,2,3,4  # front\n\nTONE=5,6\ncard = 7,8\n")
    assert (asked.line, asked.at, asked.card) == (("near=1,2,3,4",), ("TONE=5,6",), "7,8")


@pytest.mark.parametrize(
    ("options", "told"),
    [
        ({}, "0 lines and places are not enough for a camera"),
        ({"line": LINES[:3]}, "3 lines and places are not enough"),
        ({"line": LINES[:3], "at": (at("near-right-foot"),)}, "4 lines and places are not enough"),
        ({"line": ("nar=1,2,3,4",)}, r"there is no edge 'nar'; did you mean 'near'"),
        ({"line": ("near=1,2,3",)}, "is no place in pixels; write X,Y,X,Y"),
        ({"line": ("near=5,5,5,5",)}, "both points of near are one"),
        ({"at": ("near-left",)}, "names nothing"),
        ({"at": ("TONE=1,2",)}, "there is no corner or part 'TONE'"),
        ({"line": LINES, "at": ("near-left-foot=1500,40", "near-right-foot=30,60")}, "no camera sees these places"),
    ],
)
def test_what_gives_no_camera_is_said_in_one_line(options: dict[str, tuple[str, ...]], told: str) -> None:
    known = landmarks.corners(BOX)
    with pytest.raises(InputError, match=told) as caught:
        landmarks.solved(BOX, known, landmarks.seen(BesideOptions(**options), known), SIZE)
    assert "\n" not in str(caught.value)


def test_a_part_is_found_where_it_was_moved_to_in_other_light() -> None:
    rng = np.random.default_rng(4)
    rows, columns = np.mgrid[0:300, 0:400]

    def drawn(x: float, y: float, light: float) -> Floats:
        disc = np.clip(20.0 - np.hypot(columns - x, rows - y), 0.0, 1.0)
        return light * (0.6 - 0.5 * disc) + 0.002 * rng.standard_normal(disc.shape)

    off, likeness = shifts.shift(
        shifts.edges(drawn(204.4, 148.7, 0.5)), shifts.edges(drawn(200.0, 150.0, 1.0)), np.array([200.0, 150.0]), 32
    )
    assert off == pytest.approx((4.4, -1.3), abs=0.15)
    assert likeness > 0.8
    assert shifts.shift(np.zeros((300, 400)), np.zeros((300, 400)), np.array([5.0, 5.0]), 32)[1] == 0.0


def test_what_is_taught_is_the_paint_and_the_spread_of_the_hand() -> None:
    """Four parts at the corners of a square of 2 mm: the standard deviation on each axis is 2 / sqrt(3), by hand."""
    design = api.loads(LAYOUT)
    area = areas.Area(
        name="paint of the top", kind="paint", predicted=(0.66, 0.83, 0.78), seen=(0.6, 0.75, 0.69), difference=5.0
    )
    places = [
        photograph.PartPlace(name=f"{x}{y}", right_mm=float(x), down_mm=float(y), likeness=0.9)
        for x in (-1, 1)
        for y in (-1, 1)
    ]
    told = list(photograph.lessons(design, [area], places))
    assert 'paint = "#99bfb0"' in told[0].order
    assert "--wander 1.2mm" in told[1].order
    assert len(told) == 2
