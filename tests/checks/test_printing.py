"""How fine art is, how thin its lines are, where its edges run: against what was drawn."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from art_desk import BOX, FILM, MIDDLE, TOP, Desk, cloudy, decal, part, pedal, run
from PIL import Image, ImageFilter

from mockup.checks.art.rings import edges, rim
from mockup.checks.art.sheets import Sheet, sheets
from mockup.checks.art.strokes import strokes
from mockup.checks.margins import past_flat
from mockup.checks.panel.built import Built
from mockup.checks.panel.shadow import from_above
from mockup.checks.report.sentences import remedy, what
from mockup.decal.background import background
from mockup.decal.edges import sharpness
from mockup.model.enclosure import faces

pytestmark = pytest.mark.slow

U = MIDDLE


def _sheet(art: Desk | np.ndarray, **more: float) -> Sheet:
    (sheet,) = sheets(Built(pedal(decal(art, **more))))
    return sheet


def _lines() -> Desk:
    return Desk(150, fine=8).text("DRIVE", U, 46, 6).ticks(U, 30, 10.5).frame(3, 1.0)


class TestSharpness:
    @pytest.mark.parametrize("by", [2, 3, 4, 6])
    @pytest.mark.parametrize("how", ["BILINEAR", "BICUBIC", "LANCZOS"])
    def test_enlarged_line_art_is_told(self, by: int, how: str) -> None:
        small = Image.fromarray(_lines().pixels())
        art = np.asarray(small.resize((small.width * by, small.height * by), Image.Resampling[how]))
        found = sharpness(_sheet(art).decal)
        assert found is not None
        assert found.factor == pytest.approx(by, rel=0.3)

    @pytest.mark.parametrize("by", [2, 3, 2.5, 4.17])
    def test_repeated_pixels_are_told(self, by: float) -> None:
        small = Image.fromarray(_lines().pixels())
        size = (round(small.width * by), round(small.height * by))
        found = sharpness(_sheet(np.asarray(small.resize(size, Image.Resampling.NEAREST))).decal)
        assert found is not None
        assert found.is_stepped
        assert found.factor == pytest.approx(by, rel=0.05)

    @pytest.mark.parametrize("sigma", [2.0, 3.0, 5.0])
    def test_a_blurred_edge_is_as_wide_as_its_steepest_slope_says(self, sigma: float) -> None:
        # The step response of a Gaussian rises at most 1 / (sigma sqrt(2 pi)) a pixel.
        sharp = Image.fromarray(Desk(600, fine=1, ground="white").text("DRIVE", U, 46, 9).frame(5, 4).pixels())
        found = sharpness(_sheet(np.asarray(sharp.filter(ImageFilter.GaussianBlur(sigma)))).decal)
        assert found is not None
        assert found.factor == pytest.approx(sigma * math.sqrt(2 * math.pi), rel=0.12)

    def test_art_at_its_own_resolution_is_sharp(self) -> None:
        for art in (_lines(), Desk(600, fine=2).text("DRIVE", U, 46, 2), cloudy(7, (614, 1205), slope=0.8)):
            found = sharpness(_sheet(art).decal)
            assert found is None or found.factor < 1.7

    def test_soft_shadows_beside_sharp_letters_are_no_fault(self) -> None:
        soft = Desk(600, fine=1, ground="white").disc(U, 70, 15, "#405060").pixels()
        soft = np.asarray(Image.fromarray(soft).filter(ImageFilter.GaussianBlur(5)))
        sharp = Desk(600, fine=2).text("DRIVE", U, 40, 6).frame(2, 1).pixels()
        both = Image.fromarray(soft)
        both.alpha_composite(Image.fromarray(sharp))
        found = sharpness(_sheet(np.asarray(both)).decal)
        assert found is not None
        assert found.factor < 1.7

    def test_gradients_alone_say_nothing(self) -> None:
        ramp = np.tile(np.linspace(0, 255, 614).astype(np.uint8)[None, :, None], (1205, 1, 3))
        assert sharpness(_sheet(ramp).decal) is None

    def test_rectangles_are_no_repeated_pixels(self) -> None:
        desk, chance = Desk(300, fine=1), np.random.default_rng(5)
        for u, v, w, h in chance.uniform((8, 8, 0.5, 0.5), (50, 100, 6, 6), (60, 4)).tolist():
            desk.box(u, v, w, h)
        found = sharpness(_sheet(desk).decal)
        assert found is None or not found.is_stepped


class TestStrokes:
    @pytest.mark.parametrize("width", [0.1, 0.15, 0.2])
    @pytest.mark.parametrize("angle", [0, 13, 22.5, 45, 68, 90])
    def test_a_line_is_as_wide_as_drawn(self, width: float, angle: float) -> None:
        du, dv = 15 * math.cos(math.radians(angle)), 15 * math.sin(math.radians(angle))
        found = strokes(_sheet(Desk(600, fine=4).line(U - du, 50 - dv, U + du, 50 + dv, width)), 0.25)
        assert len(found) == 1
        pixel = 25.4 / 600
        assert found[0].width_mm == pytest.approx(width, abs=0.6 * pixel)
        assert found[0].length_mm == pytest.approx(30, rel=0.15)

    @pytest.mark.parametrize("angle", [0, 13, 22.5, 45, 68, 90])
    def test_a_line_of_the_limit_passes(self, angle: float) -> None:
        du, dv = 15 * math.cos(math.radians(angle)), 15 * math.sin(math.radians(angle))
        assert strokes(_sheet(Desk(600, fine=4).line(U - du, 50 - dv, U + du, 50 + dv, 0.25)), 0.25) == []

    def test_corners_tips_and_dots_are_no_lines(self) -> None:
        desk = Desk(600, fine=2).box(20, 30, 8, 8).text("MWAVZX", U, 60, 6)
        for step in range(20):
            desk.disc(10 + 2 * step, 80, 0.1)
        assert strokes(_sheet(desk), 0.25) == []

    def test_pale_lines_and_coloured_ones_count_alike(self) -> None:
        for colour in ("#000000", "#ffff00", "#90b0ff"):
            assert len(strokes(_sheet(Desk(600, fine=2).line(10, 50, 45, 50, 0.15, colour)), 0.25)) == 1

    def test_a_gap_counts_inside_ink_only(self) -> None:
        desk = Desk(600, fine=2).box(U, 50, 20, 10).line(U - 10, 50, U + 10, 50, 0.13, "white")
        assert len(strokes(_sheet(desk), 0.2, is_gap=True)) == 1
        assert strokes(_sheet(Desk(600, fine=2).box(U, 50, 20, 10)), 0.2, is_gap=True) == []

    def test_coarse_art_is_left_to_the_check_of_resolution(self) -> None:
        assert strokes(_sheet(Desk(100).line(10, 50, 45, 50, 0.2)), 0.25) == []


class TestMargins:
    def test_past_flat_follows_the_rounded_corner(self) -> None:
        face = faces(BOX)["top"]
        left, top, right, bottom = face.flat
        radius = BOX.corner_mm - BOX.inset_mm(BOX.height_mm) - BOX.flat_inset_mm
        places = np.array([[left, 50], [left - 0.7, 50], [30, bottom + 0.4], [left, top], [30, 50]])
        # The flat's corner misses the rectangle's by r (sqrt 2 - 1)
        wanted = [0.0, 0.7, 0.4, radius * (math.sqrt(2) - 1), -min(30 - left, right - 30)]
        assert past_flat(face, BOX, places) == pytest.approx(wanted, abs=1e-9)

    def test_a_drafted_side_widens_downwards(self) -> None:
        face = faces(BOX)["near"]
        left = face.flat[0]
        down = np.array([[left - 10 * face.taper, 10.0], [left - 20 * face.taper, 20.0]])
        assert past_flat(face, BOX, down) == pytest.approx([0.0, 0.0], abs=1e-9)

    def test_full_bleed_is_a_note(self) -> None:
        found = run(pedal(decal(Desk(film=(58.9, 110.9), ground="#204060"))), ["margins"])
        assert found
        assert {each.severity for each in found} == {"note"}

    @pytest.mark.parametrize(
        ("sides", "where"),
        [("l", "on the left"), ("lb", "on the left and bottom"), ("lrb", "on the left, right and bottom")]
        + [("lrtb", "all round")],
    )
    def test_every_side_that_is_too_near_is_named_and_mended(self, sides: str, where: str) -> None:
        middle_v, wide, high = TOP.height_mm / 2, *FILM
        ways = {"l": (-1, 0), "r": (1, 0), "t": (0, -1), "b": (0, 1)}
        desk = Desk(150)
        for side in sides:
            across, down = ways[side]
            desk.box(U + across * (wide / 2 - 2.3), middle_v + down * (high / 2 - 2.3), 4, 4)  # 0.3 mm short of the cut
        (found,) = run(pedal(decal(desk)), ["margins"])
        assert f"mm of the edge of its film {where}." in what(found, "mm")
        assert remedy(found, "mm").endswith(f"mm of clear film {where}.")


class TestBackground:
    def test_white_and_transparent_are_no_background(self) -> None:
        assert background(_sheet(Desk().text("DRIVE", U, 46)).decal.art).kind == "clear"
        assert background(_sheet(Desk(ground="white").text("DRIVE", U, 46)).decal.art).kind == "white"

    def test_photographs_have_none(self) -> None:
        for seed in range(12):
            assert background(_sheet(cloudy(seed, (307, 602), grain=3)).decal.art).kind == "none"

    def test_a_flat_one_is_found_under_lettering(self) -> None:
        found = background(_sheet(Desk(ground="#406080").text("DRIVE", U, 46, 6, "white")).decal.art)
        assert found.kind == "flat"
        assert np.array(found.colour) * 255 == pytest.approx([0x40, 0x60, 0x80])

    def test_it_is_not_named_where_nobody_would_see_it(self) -> None:
        # Black printed on black paint stays black.
        design = pedal(decal(Desk(ground="black")), paint=(0.0, 0.0, 0.0))
        assert run(design, ["background_layer"]) == []


class TestRings:
    @pytest.mark.parametrize(("off_u", "off_v"), [(0.0, 0.0), (0.5, 0.0), (-0.3, 0.4)])
    def test_radius_and_shift_are_found(self, off_u: float, off_v: float) -> None:
        knob = part("A", "pot-16", U, 40, style="barrel")  # 18 mm across
        built = Built(pedal(decal(Desk(600, fine=2).ring(U + off_u, 40 + off_v, 10.5, 0.6)), [knob]))
        (shadow,) = from_above(built)["top"]
        inner, outer = edges(built, knob, rim(knob, shadow))
        assert (inner.is_inner, outer.is_inner) == (True, False)
        assert inner.at_mm == pytest.approx(1.2, abs=0.05)
        assert outer.at_mm == pytest.approx(1.8, abs=0.05)
        assert inner.off_centre_mm == pytest.approx(math.hypot(off_u, off_v), abs=0.04)

    def test_a_frame_round_a_square_part_is_one(self) -> None:
        socket = part("A", "dc-socket", U, 40)
        built = Built(pedal(decal(Desk(600, fine=2).text("X", U, 60)), [socket]))
        (shadow,) = from_above(built)["top"]
        assert list(edges(built, socket, rim(socket, shadow))) == []

    def test_ticks_are_no_ring(self) -> None:
        knob = part("A", "pot-16", U, 40, style="barrel")
        design = pedal(decal(Desk(600, fine=2).ticks(U, 40, 9.2, 31)), [knob])
        assert run(design, ["registration"]) == []


def test_proportion_counts_whole_pixels() -> None:
    tiny = np.zeros((33, 100, 4), np.uint8)  # 3 : 1 as near as 100 pixels come
    assert run(pedal(decal(tiny, width_mm=30.0, height_mm=10.0)), ["proportion"]) == []
    (found,) = run(pedal(decal(tiny, width_mm=30.0, height_mm=9.0)), ["proportion"])
    assert found.measured is not None
    assert found.measured.value == pytest.approx(10.0, abs=0.1)  # .3 mm across to .2727 down
    assert "9.9 mm high" in remedy(found, "mm")


def test_a_limit_of_the_layout_is_taken_and_named() -> None:
    design = pedal(decal(Desk(250).text("DRIVE", U, 46)))
    (note,) = run(design, ["resolution"])
    (warn,) = run(replace(design, limits={"dpi_fuzzy": 400.0}), ["resolution"])
    assert (note.severity, warn.severity) == ("note", "warn")
    assert warn.limit is not None
    assert (warn.limit.value, warn.limit.unit) == (400.0, "dpi")
    assert "this layout's [limits]" in warn.source


def test_marks_lie_where_the_fault_is() -> None:
    design = pedal(decal(Desk(600, fine=2).line(12, 90, 22, 90, 0.12), rotation_deg=0.0))
    (found,) = run(design, ["thin_lines"])
    (mark,) = found.marks
    assert 12 <= mark.u_mm <= 22
    assert mark.v_mm == pytest.approx(90, abs=0.1)
    turned = replace(design, decals=(replace(design.decals[0], rotation_deg=180.0),))
    (found,) = run(turned, ["thin_lines"])
    assert found.marks[0].v_mm == pytest.approx(TOP.height_mm - 90, abs=0.1)


@pytest.mark.parametrize("ground", ["#a0a0a0", "#c0a080", "#e8dcc0"])
def test_the_edge_of_a_step_is_neither_line_nor_gap(ground: str) -> None:
    """Nothing on the sheet is thinner than 0.4 mm: a frame of 0.5 mm, and letters with strokes of that."""
    desk = Desk(600, fine=2, ground=ground).frame(4, 0.5).text("VOLUME", MIDDLE, 46, 3)
    assert run(pedal(decal(desk)), ["thin_lines"]) == []


def test_a_thin_line_on_a_tint_is_still_found() -> None:
    desk = Desk(600, fine=2, ground="#f0e8d8").line(10, 40, 50, 63, 0.15)
    (found,) = run(pedal(decal(desk)), ["thin_lines"])
    assert found.measured is not None
    assert 0.12 < found.measured.value < 0.2  # the tint on both its sides counts as its ink


def test_a_whole_guide_left_on_is_one_finding() -> None:
    """Three holes of 7.5 mm with the circles that a guide draws; with one alone, the finding is that hole's."""
    places = ((U - 14, 30.0), (U + 14, 30.0), (U, 60.0))
    parts = [part(f"P{number}", "pot-16", u, v) for number, (u, v) in enumerate(places)]
    desk = Desk(300)
    for u, v in places:
        desk.ring(u, v, 3.75, 0.2)
    (found,) = run(pedal(decal(desk), parts), ["guide_lines"])
    assert found.title == "Guide layer left on"
    assert found.facts["many"] == "3"
    assert len(found.marks) == 3
    assert [each.kind for each in found.subjects] == ["decal"]
    (alone,) = run(pedal(decal(Desk(300).ring(U, 60, 3.75, 0.2)), parts), ["guide_lines"])
    assert [each.name for each in alone.subjects] == ["P2"]
