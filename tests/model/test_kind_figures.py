"""Three figures of a kind, and a kind like another: figures read back, the form kept."""

from __future__ import annotations

import pytest

from mockup import hardware
from mockup.geometry.tessellate import tessellate
from mockup.model.kind_figures import kind_figures, kind_like
from mockup.model.shape import Extruded

KINDS = hardware.kinds()


@pytest.mark.parametrize("name", KINDS)
def test_the_figures_are_those_of_the_solids(name: str) -> None:
    kind = KINDS[name]
    corners = [tessellate(solid).vertices for solid in kind.below]
    wide = max(float((each.max(axis=0) - each.min(axis=0))[:2].max()) for each in corners)
    assert kind_figures(kind).body_mm == pytest.approx(wide, abs=0.15)  # chords of what is round, and lying ends
    assert kind_figures(kind).depth_mm == kind.depth_mm


@pytest.mark.parametrize("name", KINDS)
def test_a_kind_like_another_has_the_figures_given_and_the_form_of_the_other(name: str) -> None:
    kind = KINDS[name]
    now = kind_figures(kind)
    hole = now.hole_mm * 1.1 if now.hole_mm else None
    like = kind_like(kind, "Mine", hole_mm=hole, body_mm=now.body_mm * 1.2, depth_mm=now.depth_mm * 0.9)
    found = kind_figures(like)
    assert found.body_mm == pytest.approx(now.body_mm * 1.2)
    assert found.depth_mm == pytest.approx(now.depth_mm * 0.9)
    assert found.hole_mm == pytest.approx(now.hole_mm * 1.1)
    assert like.above == kind.above
    assert like.family == kind.family
    assert like.shaft == kind.shaft
    assert [type(each) for each in like.below] == [type(each) for each in kind.below]


def test_a_rectangular_body_keeps_its_proportions() -> None:
    kind = KINDS["toggle-mini"]  # 11.8 by 13 mm
    like = kind_like(kind, "Mine", body_mm=26.0)
    frame = like.below[0]
    assert frame.outline.width_mm == pytest.approx(23.6)  # type: ignore[union-attr]
    assert frame.outline.height_mm == pytest.approx(26.0)  # type: ignore[union-attr]


def test_without_figures_nothing_changes_but_the_name() -> None:
    kind = KINDS["pot-16"]
    assert kind_figures(kind_like(kind, "Mine")) == kind_figures(kind)


def test_nut_and_washer_inside_are_no_thicker_on_a_deeper_part() -> None:
    """A footswitch hangs 2.8 mm behind its panel, by lock washer 0.6 and nut 2.2, however deep its body is."""
    like = kind_like(KINDS["footswitch"], "Mine", depth_mm=30.0)
    assert like.depth_mm == pytest.approx(30.0)
    frame = like.below[0]
    assert isinstance(frame, Extruded)
    assert frame.top_mm == pytest.approx(-2.8)
    assert {(round(each.bottom_mm, 6), round(each.top_mm, 6)) for each in like.below if isinstance(each, Extruded)} >= {
        (-2.8, -0.6)
    }
