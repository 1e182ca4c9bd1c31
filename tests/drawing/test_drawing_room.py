"""Room for lettering: the real face's own tables, and places that keep their distance."""

from __future__ import annotations

import itertools
from importlib import resources

import pytest
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st

from mockup.drawing.lettering import overlap_mm2, shortened, spread, width_mm


@pytest.mark.parametrize("weight", ["Medium", "Bold"])
@pytest.mark.parametrize(
    "text", ["0123456789", "slot 0.591 × 0.260", "Ø 12.5", "BYPASS, bushing", "1/8 > 0.260, at both ends; file between"]
)
def test_estimate_errs_to_the_wide_side(text: str, weight: str) -> None:
    """Outside reference: the face's own advances, read with fontTools."""
    with resources.as_file(resources.files("font_manrope") / "files" / f"Manrope-{weight}.ttf") as path:
        font = TTFont(path)
        names, widths = font.getBestCmap(), font["hmtx"]
        true = sum(widths[names[ord(letter)]][0] for letter in text) / font["head"].unitsPerEm
        font.close()
    assert true <= width_mm(text, 1.0) <= 1.35 * true


def test_shortened_fits() -> None:
    assert shortened("short", 2.0, 100.0) == "short"
    cut = shortened("a very long name of a hole", 2.0, 15.0)
    assert cut.endswith("…")
    assert width_mm(cut, 2.0) <= 15.0


@given(places=st.lists(st.floats(0, 200), max_size=12), apart=st.floats(0.1, 12))
def test_spread_keeps_order_and_distance(places: list[float], apart: float) -> None:
    wanted = sorted(places)
    found = spread(wanted, apart)
    assert len(found) == len(wanted)
    assert all(later - earlier >= apart - 1e-6 for earlier, later in itertools.pairwise(found))
    assert sum(found) == pytest.approx(sum(wanted), abs=1e-6)  # pooled about their mean: nobody drifts off


def test_spread_leaves_alone_what_has_room() -> None:
    assert spread([0.0, 10.0, 12.0], 4.0) == pytest.approx([0.0, 9.0, 13.0])


def test_overlap() -> None:
    assert overlap_mm2((0, 0, 4, 4), (2, 3, 9, 9)) == pytest.approx(2.0)
    assert overlap_mm2((0, 0, 4, 4), (4, 0, 9, 9)) == 0.0
