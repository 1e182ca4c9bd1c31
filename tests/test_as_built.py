"""Holes as they were drilled: typed from the edges, kept beside the design, and what follows from them."""

from __future__ import annotations

import math
import sys
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

import mockup
from mockup import as_built, files, fonts
from mockup.enclosure.bores import bores
from mockup.geometry.rigid import best_move
from mockup.layout.built import built_text, parse_built
from mockup.model.enclosure import faces

sys.path.append(str(Path(__file__).parent / "measure"))
from scans import scan

LAYOUT = """name = "Bench"
[box]
size = "112x60x31"
[[part]]
name = "TONE"
kind = "pot-16"
left = 20
top = 30
[[part]]
name = "DRIVE"
kind = "pot-16"
right = 15
top = 30
[[part]]
name = "IN"
kind = "jack-enclosed"
face = "right"
[[label]]
text = "TONE"
part = "TONE"
drawn = true
font = "face.ttf"
"""
PLACES = st.lists(st.tuples(st.floats(-50, 50), st.floats(-50, 50)), min_size=2, max_size=9)


@pytest.fixture
def place(tmp_path: Path) -> Path:
    path = tmp_path / "layout.toml"
    path.write_text(LAYOUT)
    (tmp_path / "face.ttf").write_bytes(fonts.data(is_bold=True))
    return path


@given(points=PLACES, turn=st.floats(-20, 20), shift=st.tuples(st.floats(-5, 5), st.floats(-5, 5)))
def test_a_pattern_that_was_moved_is_moved_back(points, turn, shift) -> None:
    """Turned by hand: x' = x cos - y sin, y' = x sin + y cos, y down, so that a plus is clockwise as seen."""
    own, angle = np.array(points), math.radians(turn)
    onto = np.stack(
        [
            own[:, 0] * math.cos(angle) - own[:, 1] * math.sin(angle) + shift[0],
            own[:, 0] * math.sin(angle) + own[:, 1] * math.cos(angle) + shift[1],
        ],
        axis=-1,
    )
    found = best_move(own, onto)
    assert found.of(own) == pytest.approx(onto, abs=1e-6)
    assert found.left == pytest.approx(np.zeros_like(own), abs=1e-6)
    if np.ptp(own, axis=0).max() > 1.0:
        assert found.turn_deg == pytest.approx(turn, abs=1e-6)


def test_three_holes_of_which_one_is_off_by_hand() -> None:
    """(0, 0), (10, 0), (20, 0) onto the same but the middle one 0.3 down: no turn, 0.1 down, 0.1, 0.2, 0.1 left."""
    own = np.array([(0.0, 0), (10, 0), (20, 0)])
    found = best_move(own, own + [(0, 0), (0, 0.3), (0, 0)])
    assert found.shift == pytest.approx((0.0, 0.1)) and found.turn_deg == pytest.approx(0.0)
    assert found.left[:, 1] == pytest.approx([-0.1, 0.2, -0.1])


def test_figures_typed_from_any_edge_say_the_same_place(place: Path) -> None:
    """The top is 60 at the rim less 2 x 29.2 tan 1 degree: 58.98 wide; 112 less the same: 110.98 long."""
    design = mockup.load(place)
    wide, tall = (60 - 2 * 29.2 * math.tan(math.radians(1)), 112 - 2 * 29.2 * math.tan(math.radians(1)))
    texts = [
        "left = 20.4\ntop = 30.2",
        f"right = {wide - 20.4}\nbottom = {tall - 30.2}",
        'to = "rim"\ndiameter = 8\nleft = 16.4\ntop = 26.2',
        f'to = "rim"\ndiameter = 8\nright = {wide - 24.4}\nbottom = {tall - 34.2}',
        f'left = "{20.4 / 25.4} in"\ntop = "30.2 mm"',
    ]
    for text in texts:
        (hole,) = parse_built(f'[[hole]]\nhole = "TONE"\n{text}\n', "built.toml", design).holes
        assert (hole.bore, hole.u_mm, hole.v_mm) == ("TONE/bushing", pytest.approx(20.4), pytest.approx(30.2))


def test_what_is_written_reads_back(place: Path) -> None:
    design = mockup.load(place)
    side = faces(design.enclosure)["right"]
    text = '[[hole]]\nhole = "IN"\nleft = 50.1\nbottom = 14.2\ndiameter = 9.6\nby = "scan"\ndoubt = 0.05\n'
    first = parse_built(text, "built.toml", design)
    assert first.holes[0].v_mm == pytest.approx(side.height_mm - 14.2)
    again = parse_built(built_text(design, first, {"TONE/bushing": "in shadow"}), "built.toml", design)
    (hole,), (own,) = again.holes, first.holes  # the others stand there as lines to fill in
    assert (hole.u_mm, hole.v_mm) == pytest.approx((own.u_mm, own.v_mm), abs=1e-3)
    (bore,) = [each for each in bores(design) if each.name == hole.bore]
    assert hole.drawn_mm == pytest.approx((bore.u_mm, bore.v_mm), abs=1e-3)  # said nowhere: today's


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ('[[hole]]\nhole = "TONY"\nleft = 1\ntop = 1\n', "no hole of this name"),
        ('[[hole]]\nhole = "TONE"\ntop = 1\n', "expected left or right, found neither"),
        ('[[hole]]\nhole = "TONE"\nleft = 1\nright = 1\ntop = 1\n', "found both"),
        ('[[hole]]\nhole = "TONE"\nleft = 1\ntop = 1\nto = "rim"\n', "the hole's diameter is needed"),
        ('[[hole]]\nhole = "TONE"\nleft = 1\ntop = 1\n' * 2, "stands here twice"),
        ('[[hole]]\nhole = "TONE"\nleft = "wide"\ntop = 1\n', "wide"),
        ("hole = 3\n", "hole"),
        ("[[hole]\n", "built.toml"),
        ('[[picture]]\nface = "top"\nnames = "a"\ndigest = "b"\nanswers = { TONE = "left" }\n', '"left" is no answer'),
        ("[drawn]\nTONE = 3\n", "TONE"),
    ],
)
def test_mistakes_are_one_line_each(place: Path, text: str, words: str) -> None:
    (place.parent / files.BUILT_FILE).write_text(text)
    with pytest.raises(mockup.InputError, match=words):
        as_built.as_built(place)


def test_the_design_stays_and_the_built_one_moves_with_its_lettering(place: Path) -> None:
    before = place.read_bytes()
    (place.parent / files.BUILT_FILE).write_text('[[hole]]\nhole = "TONE"\nleft = 20.8\ntop = 30.5\n')
    plain, built = mockup.load(place), mockup.load(place, as_built=True)
    off = {
        bore.name: (bore.u_mm - own.u_mm, bore.v_mm - own.v_mm)
        for bore, own in zip(bores(built), bores(plain), strict=True)
    }
    assert off["TONE/bushing"] == pytest.approx((0.8, 0.5))
    assert off["DRIVE/bushing"] == off["IN/bushing"] == (0.0, 0.0)
    (label,), (own,) = built.labels, plain.labels
    assert (label.u_mm - own.u_mm, label.v_mm - own.v_mm) == pytest.approx((0.8, 0.5), abs=1e-6)
    assert place.read_bytes() == before
    made = mockup.template(place, as_built=True)
    assert made.facts["holes"][0]["u_mm"] == pytest.approx(20.8)
    assert mockup.which(made.facts["design"], place).is_as_built


def test_a_file_to_fill_in_measures_nothing_and_is_never_replaced(place: Path) -> None:
    as_built.start(place)
    told = as_built.as_built(place)
    assert told.holes == () and len(told.unmeasured) == 3
    with pytest.raises(mockup.OutputError, match="already there"):
        as_built.start(place)


SCANNED = """name = "Scanned"
[box]
size = "112x60x31"
""" + "".join(
    f'[[part]]\nname = "P{index}"\nkind = "pot-16"\nleft = {left}\ntop = {top}\n'
    for index, (left, top) in enumerate([(14.5, 19), (44.5, 19), (29.5, 40), (20, 73), (29.5, 93)])
)


def test_design_wander_scan_and_back(tmp_path: Path) -> None:
    """A hand drills 0.35 mm off along each axis; with two holes typed the scan brings every part to its hole."""
    place = tmp_path / "layout.toml"
    place.write_text(SCANNED)
    designed = np.array([(bore.u_mm, bore.v_mm) for bore in bores(mockup.load(place))])
    chance = np.random.default_rng(11)
    drilled = designed + chance.normal(size=designed.shape) * 0.35
    pixels = scan(drilled, [7.6] * 5, turn_deg=178.0, seed=11)
    Image.fromarray(pixels).save(tmp_path / "scan.png", dpi=(200, 200))
    request = as_built.FaceRequest(scans=(tmp_path / "scan.png",))
    told, notes = as_built.accept(as_built.read_face(place, request))
    assert len(told.holes) == 5 and any("not where on the box" in each for each in notes)
    (tmp_path / files.BUILT_FILE).write_text(
        "".join(
            f'[[hole]]\nhole = "P{index}"\nleft = {drilled[index][0]}\ntop = {drilled[index][1]}\nby = "calipers"\n'
            for index in (0, 4)
        )
    )
    told, notes = as_built.accept(as_built.read_face(place, request))
    assert notes == ()
    kept = (tmp_path / files.BUILT_FILE).read_text()
    (tmp_path / files.BUILT_FILE).write_text(
        kept.replace(f"top = {drilled[0][1]:.3f}", f"top = {drilled[0][1] - 1:.3f}")  # farther from the other one
    )
    assert any("differ by" in each for each in as_built.accept(as_built.read_face(place, request))[1])
    (tmp_path / files.BUILT_FILE).write_text(kept)
    built = np.array([(bore.u_mm, bore.v_mm) for bore in bores(mockup.load(place, as_built=True))])
    before, after = (np.hypot(*(drilled - each).T) for each in (designed, built))
    assert before.mean() > 0.3 and after.max() < 0.05
    assert {each.built.by for each in told.holes} == {"calipers", "scan"}
    assert all(each.built.diameter_mm == pytest.approx(7.6, abs=0.08) for each in told.holes if each.built.diameter_mm)


def test_two_scans_turned_by_half_tell_the_place_on_the_box(tmp_path: Path) -> None:
    """All holes lie 0.5 right and 0.4 up of their places; a lamp hides 0.7 mm of the edge that lies up in the picture.

    One scan says nothing of that: its outline is 0.35 off. The top is 58.98 x 110.98 wide, see above.
    """
    place = tmp_path / "layout.toml"
    place.write_text(SCANNED)
    designed = np.array([(bore.u_mm, bore.v_mm) for bore in bores(mockup.load(place))])
    top = faces(mockup.load(place).enclosure)["top"]
    drilled = designed + (0.5, -0.4)
    paths = []
    for turn in (0.8, 180.6):
        pixels = scan(
            drilled, [7.6] * 5, turn_deg=turn, seed=8, shade_mm=0.7, face=(top.width_mm, top.height_mm), paint=0.1
        )
        paths.append(tmp_path / f"scan{turn}.png")
        Image.fromarray(pixels).save(paths[-1], dpi=(200, 200))
    reading = as_built.read_face(place, as_built.FaceRequest(scans=tuple(paths)))
    told, notes = as_built.accept(reading)
    assert reading.is_by_outline and any("told by its outline" in each for each in notes)
    built = np.array([(each.built.u_mm, each.built.v_mm) for each in told.holes])
    assert np.hypot(*(built - drilled).T).max() < 0.05
    assert {(each.built.by, each.built.doubt_mm) for each in told.holes} == {("scan", 0.1)}
    assert not as_built.read_face(place, as_built.FaceRequest(scans=(paths[0],))).is_placed


def test_a_scan_that_shows_nothing_writes_nothing(place: Path, tmp_path: Path) -> None:
    Image.new("RGB", (400, 400), "grey").save(tmp_path / "grey.png")
    for request, words in (
        (as_built.FaceRequest(scans=(tmp_path / "grey.png",)), "does not say its resolution"),
        (as_built.FaceRequest(scans=(tmp_path / "grey.png",), dpi=300.0), "fewer than 3"),
    ):
        with pytest.raises(mockup.InputError, match=words):
            as_built.accept(as_built.read_face(place, request))
    assert not (tmp_path / files.BUILT_FILE).exists()


def test_art_is_laid_best_on_the_holes_and_the_cheapest_way_with_what_is_left_is_said(tmp_path: Path) -> None:
    """Pots at (15, 30) and (45, 30), the second measured 0.6 low: art goes 0.3 down and turns by 0.6 in 30.

    What is left of both along the line is nothing: with a third one 0.6 high, (45, 80), it is not.
    """
    pots = "".join(
        f'[[part]]\nname = "{name}"\nkind = "pot-16"\nleft = {left}\ntop = {top}\n'
        for name, left, top in (("A", 15, 30), ("B", 45, 30), ("C", 45, 80))
    )
    place = tmp_path / "layout.toml"
    place.write_text(f'name = "B"\n[box]\nsize = "112x60x31"\n[[decal]]\nart = "art.png"\nwidth = 40\n{pots}')
    Image.new("RGBA", (80, 80), (200, 20, 20, 255)).save(tmp_path / "art.png", dpi=(50.8, 50.8))
    measured = [("A", 15, 30.0), ("B", 45, 30.6)]
    rows = [f'[[hole]]\nhole = "{name}"\nleft = {left}\ntop = {top}\n' for name, left, top in measured]
    (tmp_path / files.BUILT_FILE).write_text("".join(rows))
    (plain,), (laid,) = mockup.load(place).decals, mockup.load(place, as_built=True).decals
    turn = math.degrees(math.atan(0.6 / 30))
    assert laid.rotation_deg - plain.rotation_deg == pytest.approx(turn, abs=1e-6)
    away = plain.v_mm - 30.0  # the art's middle lies that far below the pots' line: it swings to the left
    assert laid.u_mm - plain.u_mm == pytest.approx(-away * math.sin(math.radians(turn)), abs=0.02)
    (tmp_path / files.BUILT_FILE).write_text("".join(rows) + '[[hole]]\nhole = "C"\nleft = 45\ntop = 79.4\n')
    told = as_built.as_built(place)
    (decal,) = told.decals
    ways = {each.hole.bore.part: each for each in as_built.plans(told.design, decal)}
    assert {name: each.way for name, each in ways.items()} == {"A": "nothing", "B": "washer", "C": "washer"}
    assert decal.left_mm[0] < 0.2 < min(decal.left_mm[1:])  # 0.2: from where it is seen, our choice
    assert ways["B"].wide_mm == pytest.approx(ways["B"].now_mm + 2 * decal.left_mm[1])
    assert any("cheapest is a washer" in each for each in as_built.lines(told))


def test_what_was_answered_is_kept_for_the_same_picture_and_asked_anew_for_another(tmp_path: Path) -> None:
    place = tmp_path / "layout.toml"
    place.write_text(SCANNED)
    designed = np.array([(bore.u_mm, bore.v_mm) for bore in bores(mockup.load(place))])
    request = as_built.FaceRequest(scans=(tmp_path / "scan.png",))
    for seed in (4, 5):
        Image.fromarray(scan(designed, [7.6] * 5, hidden=(1,), seed=seed)).save(tmp_path / "scan.png", dpi=(200, 200))
        reading = as_built.read_face(place, request)
        if seed == 4:
            nudged = as_built.Answer(circle="found", right_mm=0.25, down_mm=-0.1)
            told, _ = as_built.accept(reading, {2: nudged, 3: as_built.Answer(circle=None)})
            again, notes = as_built.accept(as_built.read_face(place, request))
            assert [(each.built.u_mm, each.built.v_mm) for each in again.holes] == [
                (each.built.u_mm, each.built.v_mm) for each in told.holes
            ]
            assert "taken as you answered for this picture before: 2=found +0.25,-0.10, 3=?" in notes
            continue
        told, notes = as_built.accept(reading)
        assert [each.name for each in told.unmeasured] == ["P1/bushing"]
        assert "scan.png is another picture than the one that hole 2 was answered for: look again" in notes


def test_a_layout_that_moved_after_drilling_is_told_and_counts_as_it_was_drilled(place: Path) -> None:
    """TONE is drilled 0.4 right; the layout moves it by 3 then: 2.6 left of today's place, aimed at the old one."""
    as_built.start(place)
    path = place.parent / files.BUILT_FILE
    path.write_text(path.read_text() + '[[hole]]\nhole = "TONE"\nleft = 20.4\ntop = 30\n')
    (hole,) = as_built.as_built(place).holes
    assert not hole.is_moved and hole.right_mm == pytest.approx(0.4)
    place.write_text(LAYOUT.replace("left = 20", "left = 23"))
    told = as_built.as_built(place)
    (hole,) = told.holes
    assert hole.is_moved and hole.right_mm == pytest.approx(-2.6)
    assert hole.aim_mm == pytest.approx((20.0, 30.0), abs=1e-3)
    assert any(line.startswith("the layout has moved since it was drilled: TONE") for line in as_built.lines(told))


def test_an_asked_hole_is_taken_over_only_as_it_is_answered(tmp_path: Path) -> None:
    place = tmp_path / "layout.toml"
    place.write_text(SCANNED)
    designed = np.array([(bore.u_mm, bore.v_mm) for bore in bores(mockup.load(place))])
    Image.fromarray(scan(designed, [7.6] * 5, hidden=(1,), seed=4)).save(tmp_path / "scan.png", dpi=(200, 200))
    reading = as_built.read_face(place, as_built.FaceRequest(scans=(tmp_path / "scan.png",)))
    assert [bool(each) for each in reading.unsure] == [False, True, False, False, False]
    assert as_built.enlargements(reading, "a.png").startswith(b"\x89PNG")
    assert as_built.enlargements(reading, "a.jpg").startswith(b"\xff\xd8\xff")
    told, notes = as_built.accept(reading)
    assert [each.name for each in told.unmeasured] == ["P1/bushing"] and "hole 2, P1: not taken over" in notes[0]
    told, _ = as_built.accept(reading, {2: as_built.Answer(circle=None), 3: as_built.Answer(circle=None)})
    assert [each.name for each in told.unmeasured] == ["P1/bushing", "P2/bushing"]
    told, _ = as_built.accept(reading, {2: as_built.Answer(circle="found", right_mm=0.25, down_mm=-0.1)})
    (hole,) = [each.built for each in told.holes if each.bore.name == "P1/bushing"]
    assert (hole.u_mm, hole.v_mm) == pytest.approx(tuple(reading.places[1] + (0.25, -0.1)))
    assert hole.by == "scan, by eye, place on the box not measured" and hole.doubt_mm == as_built.EYE_DOUBT_MM
    for answers, words in (
        ({2: as_built.Answer(circle="rival")}, "no rival" if reading.rival(1) is None else ""),
        ({9: as_built.Answer(circle=None)}, "no round hole 9"),
    ):
        if words:
            with pytest.raises(mockup.InputError, match=words):
                as_built.accept(reading, answers)
