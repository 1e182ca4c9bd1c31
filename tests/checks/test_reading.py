"""Contrast, letter heights and colours against published tables and hand calculation."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from art_desk import BLACK, MIDDLE, WHITE, Desk, decal, label, part, pedal, run

from mockup.checks import letter_height, pointer_contrast
from mockup.checks.art.legibility import standing
from mockup.checks.art.lettering import Piece, pieces
from mockup.checks.art.palette import palettes
from mockup.checks.art.surface_colour import Place
from mockup.checks.panel.built import Built
from mockup.checks.report.sentences import remedy, what
from mockup.colour import rgb
from mockup.colour.words import word
from mockup.decal.composite import composite
from mockup.films import films

U = MIDDLE

# WCAG 2.2 relative luminance and contrast ratio, worked by hand to four places.
RATIOS = {
    "#000000": 21.0,
    "#777777": 4.4781,
    "#767676": 4.5422,
    "#949494": 3.0335,
    "#595959": 7.0047,
    "#ff0000": 3.9985,
    "#00ff00": 1.3722,
    "#0000ff": 8.5925,
    "#ffff00": 1.0738,
}


@pytest.mark.parametrize("colour", RATIOS)
def test_contrast_of_lettering_on_white_is_that_of_wcag(colour: str) -> None:
    # On white paint the ink model shows art as drawn.
    built = Built(pedal(decal(Desk().text("DRIVE", U, 46, 4.0, colour)), [], [label("DRIVE", U, 46, 15, 4.0)]))
    found = standing(built, pieces(built)[0])
    assert found is not None
    assert found.likely == pytest.approx(RATIOS[colour], rel=0.01)
    assert found.black == pytest.approx(21.0, rel=1e-3)


def test_777777_fails_and_767676_passes() -> None:
    def verdict(colour: str) -> list[str]:
        desk = Desk().text("DRIVE", U, 46, 4.0, colour)
        design = pedal(decal(desk), [], [label("DRIVE", U, 46, 15, 4.0)])
        return [each.severity for each in run(design, ["contrast"])]

    assert verdict("#777777") == ["warn"]
    assert verdict("#767676") == []


def test_it_is_the_worst_of_the_surround_that_counts() -> None:
    desk = Desk().box(U + 5, 46, 10, 10, "#303030").text("DRIVE DRIVE", U, 46, 3.0)
    (found,) = run(pedal(decal(desk), [], [label("DRIVE DRIVE", U, 46, 24, 3.0)]), ["contrast"])
    assert found.severity in ("warn", "stop")
    # #303030 has luminance .0296: against black .0796 / .05 = 1.59
    assert found.measured is not None
    assert found.measured.value == pytest.approx(1.59, abs=0.25)


def test_doubt_about_the_lacquer_is_a_note() -> None:
    # Rust on a pale blue matte paint: 3.8 where the veil is full and no light comes back, more otherwise.
    grey = (0.725, 0.769, 0.847)
    severities = set()
    for level in range(0x70, 0xA0, 4):
        desk = Desk().text("DRIVE", U, 46, 3.0, f"#{level:02x}3018")
        design = pedal(decal(desk), [], [label("DRIVE", U, 46, 11, 3.0)], paint=grey, sheen="matte")
        severities |= {each.severity for each in run(design, ["contrast"])}
    assert "note" in severities


def test_lettering_is_found_where_none_is_declared() -> None:
    desk = Desk(600, fine=2).text("DRIVE", U, 46, 3.0).text("LEVEL", 15, 75, 2.0).ticks(U, 25, 10).frame(1.5, 0.5)
    desk = desk.disc(40, 90, 3).line(10, 95, 50, 95, 0.4)
    found = pieces(Built(pedal(decal(desk))))
    assert len(found) == 2
    sizes = sorted((each.label.u_mm, each.label.v_mm, each.label.height_mm) for each in found)
    assert [size[0] for size in sizes] == pytest.approx([15, U], abs=0.3)
    assert [size[1] for size in sizes] == pytest.approx([75, 46], abs=0.3)
    assert [size[2] for size in sizes] == pytest.approx([2.0, 3.0], abs=0.15)
    assert pieces(Built(pedal(decal(desk), [], [label("DRIVE", U, 46, 11)])))[0].is_declared


def test_turned_film_turns_its_lettering() -> None:
    desk = Desk().text("DRIVE", U + 10, 46, 3.0)
    (found,) = pieces(Built(pedal(decal(desk, rotation_deg=90.0))))
    # (u, v) about the middle turns clockwise: right becomes down
    assert found.label.u_mm == pytest.approx(MIDDLE - (46 - 110.98 / 2), abs=0.2)
    assert found.label.v_mm == pytest.approx(110.98 / 2 + 10, abs=0.2)
    assert found.label.rotation_deg == 90.0


# h = 2 d tan(a / 2): 16, 20 and 22 arcmin at 300 to 1700 mm, worked by hand.
HEIGHTS = {
    16: {300: 1.40, 400: 1.86, 500: 2.33, 710: 3.30, 1000: 4.65, 1500: 6.98, 1600: 7.45, 1700: 7.91},
    20: {300: 1.75, 400: 2.33, 500: 2.91, 710: 4.13, 1000: 5.82, 1500: 8.73, 1600: 9.31, 1700: 9.89},
    22: {300: 1.92, 400: 2.56, 500: 3.20, 710: 4.54, 1000: 6.40, 1500: 9.60, 1600: 10.24, 1700: 10.88},
}


@pytest.mark.parametrize("angle", HEIGHTS)
def test_letter_heights_are_those_of_the_table(angle: int) -> None:
    for distance, height in HEIGHTS[angle].items():
        assert letter_height.height_mm(angle, distance) == pytest.approx(height, abs=0.006)
        assert letter_height.subtense_arcmin(height, distance) == pytest.approx(angle, abs=0.1)


def test_letter_heights_agree_with_the_standard_at_its_far_distances() -> None:
    # MIL-STD-1472 label heights, from memory: 2.3 mm to 0.5 m, 4.7 to 1 m, 9.4 to 2 m
    for distance, height in ((500, 2.3), (1000, 4.7), (2000, 9.4)):
        assert letter_height.height_mm(16, distance) == pytest.approx(height, abs=0.1)


def test_the_standing_note_knows_its_distance() -> None:
    design = pedal(decal(Desk().text("DRIVE", U, 46, 7.0)), [], [label("DRIVE", U, 46, 26, 7.0)])
    (found,) = run(design, ["letter_height"])
    assert found.severity == "note"
    # Eye 1630 - 31 mm up and 350 + 56 + (55.5 - 46) mm away: 1.652 m; 7 mm there, seen at cos = 1599 / 1652
    assert "1652 mm away" in what(found, "mm")
    assert found.measured is not None
    assert found.measured.value == pytest.approx(7.0 / 1652 * 3437.7 * 1599 / 1652, abs=0.1)


def test_luminance_contrast_is_that_of_the_military_standard() -> None:
    # (L1 - L2) / L2 with the lighter first: 0.8 on 0.2 is 3.0, where WCAG's ratio would be 3.4
    assert pointer_contrast.luminance_contrast(0.8, 0.2) == pytest.approx(3.0)
    assert pointer_contrast.luminance_contrast(0.2, 0.8) == pytest.approx(3.0)
    knob = part("A", "pot-16", U, 30, style="dome", colour=(0.2,) * 3, pointer_colour=(0.81,) * 3)
    assert run(pedal((), [knob]), ["pointer_contrast"]) == []
    assert knob.knob is not None
    dim = replace(knob, knob=replace(knob.knob, pointer_colour=(0.79,) * 3))
    (found,) = run(pedal((), [dim]), ["pointer_contrast"])
    # A luminance of 0.8 is code 255 (1.055 x 0.8 ^ (1 / 2.4) - 0.055) = 231 of IEC 61966-2-1
    assert remedy(found, "mm") == "Choose a line as light as the grey #e7e7e7, or lighter."
    assert "nearly all the contrast" in what(found, "mm")


def test_art_colours_are_counted_by_area() -> None:
    desk = Desk().box(20, 30, 10, 20, "#c02020").box(40, 30, 10, 10, "#2040a0")
    ((_, shades),) = palettes(Built(pedal(decal(desk))))
    assert [rgb.to_hex(shade.drawn) for shade in shades[:2]] == ["#c02020", "#2040a0"]
    assert [shade.area_mm2 for shade in shades[:2]] == pytest.approx([200, 100], rel=0.03)
    assert [shade.share for shade in shades[:2]] == pytest.approx([2 / 3, 1 / 3], abs=0.02)
    assert shades[0].printed == pytest.approx(shades[0].drawn, abs=0.01)  # on white paint nothing changes


@pytest.mark.parametrize(
    ("text", "wanted"),
    [("#00ffff", "cyan"), ("#000080", "navy"), ("#ffff00", "yellow"), ("#ffffff", "white"), ("#ff0000", "red")],
)
def test_colours_have_plain_words(text: str, wanted: str) -> None:
    assert word(rgb.parse(text)) == wanted


def test_what_is_seen_is_what_the_proof_shows() -> None:
    desk = Desk().box(20, 30, 10, 20, "#c02020").text("DRIVE", U, 60, 5)
    design = pedal(decal(desk), paint=(0.6, 0.8, 0.7), sheen="matte")
    (film,) = design.decals
    proof = composite(film, design.finish)
    uv = np.random.default_rng(1).uniform((5, 7), (53, 103), (400, 2))
    seen = Place(Built(design), "top", uv).seen()
    column, row = (
        ((uv[:, i] - corner) / side * count).astype(int)
        for i, corner, side, count in (
            (0, film.u_mm - film.width_mm / 2, film.width_mm, film.art.width_px),
            (1, film.v_mm - film.height_mm / 2, film.height_mm, film.art.height_px),
        )
    )
    assert np.abs(seen * 255 - proof[row, column]).max() <= 4.0  # the lookup's own error


def test_films_one_over_another_filter_one_another() -> None:
    below, above = Desk(ground="#ff8080"), Desk(ground="#80ff80")
    both = pedal([decal(below), decal(above)], paint=WHITE)
    one = Place(Built(both), "top", np.array([[U, 50.0]])).seen(0.0)
    # On white paint with k = 0 the two multiply in BT.2020 light: darker than either, in every channel
    assert (one[0] < np.array([0.93, 0.93, 0.51])).all()
    assert Place(Built(pedal(paint=BLACK)), "top", np.array([[U, 50.0]])).seen().max() < 0.01


def test_a_piece_knows_its_corners() -> None:
    piece = Piece(label("A", 10, 20, 6, 2, rotation_deg=90.0), True)
    assert sorted(map(tuple, piece.box().round(6).tolist())) == [(9, 17), (9, 23), (11, 17), (11, 23)]


def test_tone_on_tone_on_its_own_ground_is_a_warning() -> None:
    """Drawn so on purpose: the paint does not do it, and it may be accepted."""
    desk = Desk(300).box(MIDDLE, 46, 30, 10, "#a03020").text("DRIVE", MIDDLE, 46, 3, "#b84838")
    (found,) = run(pedal(decal(desk), labels=[label("DRIVE", MIDDLE, 46, 11)]), ["contrast"])
    assert found.severity == "warn"  # (0.152 + 0.05) / (0.101 + 0.05) = 1.34 by WCAG's formula
    assert found.measured is not None
    assert found.measured.value < 1.5


def test_a_word_across_a_stripe_is_told_to_move() -> None:
    """Black letters on bare white paint, a grey stripe behind their lower half: (0.117 + 0.05) / 0.05 = 3.34."""
    desk = Desk(300).box(MIDDLE, 48, 40, 4, "#606060").text("DRIVE", MIDDLE, 46, 4)
    (found,) = run(pedal(decal(desk)), ["contrast"])
    assert found.measured is not None
    assert found.measured.value == pytest.approx(3.34, abs=0.05)
    assert "move the word" in found.remedy


def test_a_word_on_its_own_plate_is_held_against_the_plate() -> None:
    """Black on a pale plate: about 14 : 1 there, though the paint beyond is black."""
    desk = Desk(300).box(MIDDLE, 46, 16, 5, "#f0e0c0").text("DRIVE", MIDDLE, 46, 3)
    assert run(pedal(decal(desk), paint=WHITE), ["contrast"]) == []
    assert run(pedal(decal(desk, film=films()["white"]), paint=BLACK), ["contrast"]) == []
