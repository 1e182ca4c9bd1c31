"""The matched ink is never worse than the art, and what can be reached comes out as drawn."""

from __future__ import annotations

import colour
import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from mockup.colour import rgb
from mockup.decal import ink_over_paint as ink
from mockup.decal.match import ALONE, BLACK_CHROMA, BLACK_L, closest, match
from mockup.films import films

PAINTS = st.sampled_from(["#ffffff", "#c8a23a", "#26324a", "#b03030", "#a9d3c6", "#000000"])


def lab(encoded: np.ndarray) -> np.ndarray:
    """CIELAB by an outside library."""
    xyz = colour.RGB_to_XYZ(encoded, "sRGB", apply_cctf_decoding=True)
    return colour.XYZ_to_Lab(xyz, colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D65"])


@settings(max_examples=15)
@given(seed=st.integers(0, 10**6), paint=PAINTS, film=st.sampled_from(sorted(films())))
@example(seed=1122, paint="#26324a", film="clear")  # one ink comes out opposite in hue, where CIEDE2000 jumps
def test_matched_is_never_worse(seed: int, paint: str, film: str) -> None:
    art = np.random.default_rng(seed).integers(0, 256, (12, 12, 4)).astype(np.uint8)
    art[:6, :, 3] = 255
    art[0, 0] = 0
    on = ink.Ground(paint=tuple(rgb.parse(paint)), film=films()[film])
    found = match(art, on)
    assert (found.after <= found.before + 1e-5).all()
    assert (found.pixels[0, 0] == 255).all()  # transparent takes no ink
    wish, solid = art[:6, :, :3] / 255.0, slice(0, 6)
    now = colour.delta_E(lab(ink.predict(found.pixels[solid], on)), lab(wish), method="CIE 2000")
    old = colour.delta_E(lab(ink.predict(art[solid, :, :3], on)), lab(wish), method="CIE 2000")
    is_wished = art[solid, :, 3] > 0
    assert (now <= old + 0.05)[is_wished].all()


@settings(max_examples=10)
@given(seed=st.integers(0, 10**6), paint=PAINTS)
def test_what_ink_can_reach_comes_out_as_drawn(seed: int, paint: str) -> None:
    """A wish is made by printing a known ink, so that it can be reached; rounding the wish and the ink leaves 2 dE."""
    known = np.random.default_rng(seed).integers(40, 256, (60, 3)).astype(np.uint8)
    on = ink.Ground(paint=tuple(rgb.parse(paint)))
    wish = rgb.to_8bit(ink.predict(known, on))
    wish = wish[(wish > 24).all(axis=1)]  # near black one code is more than that
    light, a, b = lab(wish / 255.0).T
    is_black = (light <= BLACK_L) & (np.hypot(a, b) <= BLACK_CHROMA)
    assert (closest(wish, on)[is_black] == wish[is_black]).all()  # black is printed as drawn
    wish = wish[~is_black]
    if len(wish):
        now = colour.delta_E(lab(ink.predict(closest(wish, on), on)), lab(wish / 255.0), method="CIE 2000")
        bare = (wish == 255).all(axis=1)
        assert now[~bare].max(initial=0.0) <= 2.0


def test_a_picture_of_many_colours_is_led_nearly_as_well() -> None:
    colours = np.unique(np.random.default_rng(3).integers(0, 256, (ALONE + 500, 3)).astype(np.uint8), axis=0)
    on = ink.Ground(paint=tuple(rgb.parse("#c8a23a")))
    many, few = closest(colours, on)[:300], closest(colours[:300], on)
    miss = [colour.delta_E(lab(ink.predict(each, on)), lab(colours[:300] / 255.0)).mean() for each in (many, few)]
    assert miss[0] == pytest.approx(miss[1], rel=0.05)


def test_black_stays_black() -> None:
    """Warm near-black on copper is printed as drawn, not as (20, 35, 50): mixed dots blur lettering."""
    blacks = np.array([(20, 17, 14), (0, 0, 0), (35, 35, 38), (42, 42, 42)], np.uint8)
    for paint in ("#b8733f", "#a9d3c6", "#26324a"):
        on = ink.Ground(paint=tuple(rgb.parse(paint)), film=films()["clear"])
        assert closest(blacks, on).tolist() == blacks.tolist()


def test_lettering_and_lines_never_get_lighter() -> None:
    """A stroke of 6 px and a field of 60 px of one grey on copper: the field may be matched freely, the stroke not."""
    art = np.full((100, 100, 3), 255, np.uint8)
    art[10:90, 5:11] = art[20:80, 30:90] = (120, 110, 150)
    on = ink.Ground(paint=tuple(rgb.parse("#b8733f")), film=films()["clear"])
    found = match(art, on, line_px=12.0)
    assert (found.pixels[10:90, 5:11] <= art[10:90, 5:11]).all()
    assert (found.pixels[21:79, 31:89] > art[21:79, 31:89]).any()
    assert found.is_kept[10:90, 5:11].all()
    assert not found.is_kept[30:70, 40:80].any()
    assert (found.after <= found.before + 1e-5).all()
    assert not match(art, on).is_kept.any()
