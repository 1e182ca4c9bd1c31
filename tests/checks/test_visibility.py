"""What hardware hides: against closed forms, and against pictures rendered with and without it."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from art_desk import BOX, MIDDLE, TOP, Desk, decal, label, part, pedal, run

import mockup
from mockup.checks.art.lettering import Piece
from mockup.checks.panel.built import Built
from mockup.checks.panel.shadow import hidden_share, is_seen, player_eye, shadows
from mockup.checks.report.sentences import remedy, what
from mockup.geometry.polygons import area
from mockup.limits import limits
from mockup.model.design import Design
from mockup.model.edit import Move
from mockup.model.finding import Quantity, Subject
from mockup.model.label import Label, Lettering
from mockup.model.material import BLACK_PLASTIC
from mockup.model.part import Kind
from mockup.model.scene import Camera, Shot
from mockup.model.shape import Extruded, Outline, Turned

pytestmark = pytest.mark.slow

U = MIDDLE
EYE = np.array([0.0, -406.0, 1630.0])


def _drum(radius: float, height: float) -> Kind:
    profile = ((0.0, 0.0), (radius, 0.0), (radius, height), (0.0, height))
    return Kind(name="drum", family="drum", about="a drum", above=(Turned(profile=profile, material=BLACK_PLASTIC),))


def _standing(kind: Kind, u: float, v: float) -> Design:
    return pedal((), [replace(part("A", "pot-16", u, v), kind=kind)])


def test_shadow_of_a_drum_is_the_hull_of_two_circles() -> None:
    radius, height, u, v = 8.0, 20.0, 20.0, 40.0
    built = Built(_standing(_drum(radius, height), u, v))
    (shadow,) = shadows(built, "top", EYE)
    # A circle at height z throws one Ez / (Ez - z) as large about the eye's foot point.
    above = EYE[2] - BOX.height_mm
    stretch = above / (above - height)
    foot = np.array([TOP.width_mm / 2 + EYE[0], TOP.height_mm / 2 - EYE[1]])
    shift = math.hypot(*((np.array([u, v]) - foot) * (stretch - 1)))
    big = radius * stretch
    # Hull of circles r and R, their centres d apart: two arcs and the two outer tangents.
    lean = math.asin((big - radius) / shift)
    hull = big**2 * (math.pi / 2 + lean) + radius**2 * (math.pi / 2 - lean) + shift * math.cos(lean) * (radius + big)
    assert area(shadow.outline) == pytest.approx(hull, rel=1e-3)
    assert shadow.bounds[1] < v - radius - 4  # it falls away from the player


def test_from_above_a_part_hides_its_own_outline() -> None:
    built = Built(_standing(_drum(8.0, 20.0), 20.0, 40.0))
    (shadow,) = shadows(built, "top")
    assert area(shadow.outline) == pytest.approx(math.pi * 64, rel=1e-3)


def test_shadow_of_a_turned_block_is_its_outline_turned_clockwise() -> None:
    bar = Extruded(
        outline=Outline(kind="rectangle", width_mm=20, height_mm=4), bottom_mm=0, top_mm=5, material=BLACK_PLASTIC
    )
    kind = replace(_drum(1, 1), above=(bar,))
    design = pedal((), [replace(part("A", "pot-16", 30, 50), kind=kind, rotation_deg=30.0)])
    (shadow,) = shadows(Built(design), "top")
    points = np.concatenate(shadow.outline)
    tip = points[points[:, 0] > 36].mean(axis=0) - (30, 50)
    assert math.degrees(math.atan2(tip[1], tip[0])) == pytest.approx(30, abs=1.0)  # v runs down: clockwise
    assert area(shadow.outline) == pytest.approx(80.0)


def test_a_leaning_rod_throws_its_length() -> None:
    rod = Turned(
        profile=((0.0, 0.0), (1.0, 0.0), (1.0, 10.0), (0.0, 10.0)), material=BLACK_PLASTIC, tilt_deg=90.0
    )  # lies along +y of the part: away from the player
    design = pedal((), [replace(part("A", "pot-16", 30, 50), kind=replace(_drum(1, 1), above=(rod,)))])
    (shadow,) = shadows(Built(design), "top")
    assert area(shadow.outline) == pytest.approx(20.0, rel=1e-3)
    assert shadow.bounds[1] == pytest.approx(40.0, abs=1e-6)


def test_the_eye_stands_where_the_views_put_it() -> None:
    from mockup.scene.cameras import STANDING_EYE_MM, TOE_TO_PEDAL_MM

    chosen = limits({})
    assert chosen["eye_mm"].value == STANDING_EYE_MM
    assert chosen["stance_mm"].value == TOE_TO_PEDAL_MM
    # Pheasant, as quoted: women 5th, men 50th and 95th percentile
    assert [chosen[name].value for name in ("eye_low_mm", "eye_mm", "eye_high_mm")] == [1405, 1630, 1745]
    plain = player_eye(Built(pedal()), 1630, 350)
    assert plain.tolist() == [0.0, -BOX.length_mm / 2 - 350, 1630]
    plug = Built(pedal((), [part("IN", "jack-open", 30, 15, face="near")]))
    assert player_eye(plug, 1630, 350)[1] < plain[1] - 3


def test_a_face_that_the_eye_is_behind_has_no_shadow() -> None:
    built = Built(pedal((), [part("IN", "jack-open", 30, 15, face="far")]))
    assert shadows(built, "far", EYE) == ()
    assert len(shadows(built, "far")) == 1


def test_a_part_that_is_only_a_hole_puts_the_eye_where_an_empty_face_does() -> None:
    hole = mockup.loads(
        'name = "Hole"\n[box]\nsize = "112x60x31"\n[[kind]]\nname = "hole"\nhole = 8\n'
        '[[part]]\nname = "A"\nkind = "hole"\nface = "near"\ntop = 15\n'
    )
    assert player_eye(Built(hole), 1630, 350).tolist() == [0.0, -BOX.length_mm / 2 - 350, 1630]
    mockup.check(hole)


@pytest.mark.parametrize("width", [40.0, 57.0, 57.5, 58.0, 58.5, 59.0, 59.5, 60.0, 60.5, 90.0])
def test_nothing_is_said_of_a_face_that_an_eye_grazes(width: float) -> None:
    """A side that leans in by 2 degrees: eyes over the middle see it under 2 degrees less atan(half / height)."""
    box = replace(BOX, width_mm=width)
    side = Label(text="IN", face="left", u_mm=40.0, v_mm=20.0, width_mm=8.0, height_mm=3.0)
    jack = part("IN", "jack-open", 52, 15, face="left")
    design = replace(pedal(decal(Desk().text("A", U, 30)), [jack], [side]), enclosure=box)
    for height in (1405.0, 1630.0, 1745.0):
        assert not is_seen(Built(design), "left", player_eye(Built(design), height, 350))
        assert is_seen(Built(design), "near", player_eye(Built(design), height, 350))
        assert is_seen(Built(design), "top", player_eye(Built(design), height, 350))
    assert all("player" not in what(each, "mm") for each in run(design, ["visibility"]))


def test_the_remedy_frees_the_label() -> None:
    knob = part("DRIVE", "pot-16", U, 40, style="barrel")
    name = label("DRIVE", U, 32, 11)
    design = pedal(decal(Desk().text("DRIVE", U, 32)), [knob], [name])
    (found,) = run(design, ["visibility"])
    amount = found.facts["far"]
    assert isinstance(amount, Quantity)
    assert remedy(found, "mm") == f"Move DRIVE {amount.value:g} mm up."
    assert found.edits == ()  # the art has to move, not the layout's word for it
    there = replace(name, v_mm=32 - amount.value)
    moved = pedal(decal(Desk().text("DRIVE", U, 32 - amount.value)), [knob], [there])
    assert run(moved, ["visibility"]) == []
    almost = replace(name, v_mm=32 - amount.value + 0.4)
    assert run(replace(design, labels=(almost,)), ["visibility"]) != []


def test_a_label_that_the_tool_draws_is_moved_by_an_edit() -> None:
    drawn = Lettering(font="a.ttf", size_mm=3.0, colour=(0.0, 0.0, 0.0))
    name = replace(label("DRIVE", U, 32, 11), lettering=drawn)
    design = pedal(decal(Desk().text("DRIVE", U, 32)), [part("DRIVE", "pot-16", U, 40, style="barrel")], [name])
    (found,) = run(design, ["visibility"])
    (edit,) = found.edits
    assert isinstance(edit, Move)
    assert edit.address.way == ("label", "DRIVE")
    assert edit.right_mm == 0.0
    assert remedy(found, "mm") == f"Move DRIVE {-edit.down_mm:g} mm up."
    there = replace(name, v_mm=32 + edit.down_mm)
    art = decal(Desk().text("DRIVE", U, 32 + edit.down_mm))
    assert run(replace(design, labels=(there,), decals=(art,)), ["visibility"]) == []


def test_small_art_beside_a_part_is_a_note_where_no_label_is_declared() -> None:
    knob = part("DRIVE", "pot-16", U, 40, style="barrel")
    design = pedal(decal(Desk().disc(U, 29, 1.0).disc(U, 55, 1.0)), [knob])
    (found,) = run(design, ["visibility"])
    assert found.severity == "note"
    assert found.subjects == Subject.parts("DRIVE")
    assert found.measured is not None
    assert found.measured.value == pytest.approx(100.0, abs=1.0)
    assert len(found.marks) == 1


COLOUR = "#ff00ff"
SCENES = {
    "barrel": ([part("A", "pot-16", U, 40, style="barrel")], (U, 29, 9, 4)),
    "conical, to one side": ([part("A", "pot-16", 15, 40, style="conical", pointer=0.2)], (11, 31.5, 9, 4)),
    "scalloped, overlapping from above": ([part("A", "pot-9", U, 40, style="scalloped")], (U, 47.0, 9, 4)),
    "dome": ([part("A", "pot-16", 40, 40, style="dome")], (47, 31, 8, 4)),
    "stepped": ([part("A", "pot-16", 40, 40, style="stepped")], (34, 30, 8, 4)),
    "bar, turned": ([part("A", "pot-16", U, 40, style="bar", pointer=0.62)], (33, 27, 9, 4)),
    "toggle": ([part("A", "toggle-mini", U, 40)], (U, 33, 9, 3)),
    "lamp": ([part("A", "lamp-5", U, 40)], (U, 34.5, 9, 4)),
    "slide switch": ([part("A", "slide-switch", U, 40)], (U + 6, 40, 9, 4)),
    "footswitch": ([part("A", "footswitch", U, 80)], (U, 71, 9, 4)),
    "two knobs": (
        [part("A", "pot-16", 20, 40, style="barrel"), part("B", "pot-16", 41, 40, style="barrel")],
        (30.5, 35, 14, 8),
    ),
}


@pytest.mark.gl
@pytest.mark.parametrize("seat", ["above", "player"])
@pytest.mark.parametrize("name", SCENES)
def test_hidden_share_is_that_of_a_rendered_mask(name: str, seat: str) -> None:
    """Count the label's pixels in an unlit picture with the hardware over those in one without."""
    parts, (u, v, width, height) = SCENES[name]
    art = decal(Desk(600, fine=1).box(u, v, width, height, COLOUR))
    piece = Piece(Label(text="X", face="top", u_mm=u, v_mm=v, width_mm=width, height_mm=height), True)
    design = pedal(art, parts)
    built = Built(design)
    target = TOP.to_world(np.array([u, v]))
    if seat == "above":
        eye = None
        camera = Camera(eye=(*target[:2].tolist(), 300.0), target=tuple(target.tolist()), up=(0, 1, 0), ortho_mm=26.0)
    else:
        eye = player_eye(built, 1630, 350)
        wide = math.degrees(2 * math.atan(14.0 / np.linalg.norm(target - eye)))
        camera = Camera(eye=tuple(eye.tolist()), target=tuple(target.tolist()), fov_deg=wide)
    share, by = hidden_share(piece.box(), shadows(built, "top", eye))
    counted = 1 - _pixels(design, camera) / _pixels(replace(design, parts=()), camera)
    assert share == pytest.approx(counted, abs=0.012)
    assert (set(by) <= {each.name for each in parts}) and (by or counted < 0.01)


def _pixels(design: Design, camera: Camera) -> int:
    from mockup.engines import raster
    from mockup.picture.options import PictureRequest
    from mockup.scene.assemble import assemble

    shot = Shot(camera=camera, width_px=640, height_px=480, look="proof", quality="draft")
    with raster.open(assemble(design, PictureRequest().lighting, look="proof")) as session:
        pixels = session.render(shot).pixels[..., :3]
    red, green, blue = pixels[..., 0], pixels[..., 1], pixels[..., 2]
    return int(((red > 0.5) & (blue > 0.5) & (green < 0.5)).sum())
