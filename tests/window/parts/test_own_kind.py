"""Three figures by caliper make a kind that the layout takes; read back as the layout reads it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from mockup import hardware
from mockup.layout.edit.undo import LayoutDocument
from mockup.layout.parse import parse
from mockup.model.edit import Address, InsertTable
from mockup.window.parts.own_kind import Caliper, caliper_sketch, kind_table

TEXT = '[box]\nsize = "121x66x39"\n'


def made(caliper: Caliper, unit: str = "mm") -> object:
    text = f'units = "{unit}"\n{TEXT}'
    document = LayoutDocument.opened(text.encode(), "layout.toml")
    insert = InsertTable(address=Address(way=("kind",)), values=kind_table("Mine", caliper, unit))  # type: ignore[arg-type]
    return parse(document.edited("m", [insert]).text, "layout.toml").kinds["Mine"]


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_the_figures_are_those_typed(unit: str) -> None:
    kind = made(Caliper(hole_mm=9.5, body_mm=20.0, depth_mm=14.0), unit)
    assert kind.cutouts[0].outline.width_mm == pytest.approx(9.5, abs=0.003)  # type: ignore[attr-defined]
    assert kind.depth_mm == pytest.approx(14.0, abs=0.003)  # type: ignore[attr-defined]
    assert kind.shaft is not None  # type: ignore[attr-defined]
    back = Caliper.of(kind)  # type: ignore[arg-type]
    assert (back.hole_mm, back.body_mm, back.depth_mm) == pytest.approx((9.5, 20.0, 14.0), abs=0.02)


def test_a_lamp_lights_and_a_plain_part_does_neither() -> None:
    lamp = made(Caliper(has_shaft=False, is_lamp=True))
    assert lamp.is_lamp  # type: ignore[attr-defined]
    assert lamp.shaft is None  # type: ignore[attr-defined]
    assert not made(Caliper(has_shaft=False)).is_lamp  # type: ignore[attr-defined]


@pytest.mark.parametrize("name", ["pot-16", "footswitch", "jack-enclosed", "lamp-5", "toggle-mini"])
def test_the_figures_of_a_kind_that_there_is(name: str) -> None:
    kind = hardware.kinds()[name]
    caliper = Caliper.of(kind)
    assert caliper.hole_mm == pytest.approx(kind.cutouts[0].outline.width_mm, abs=0.01)
    assert caliper.depth_mm == pytest.approx(kind.depth_mm, abs=0.01)
    assert caliper.body_mm > 4.0


@pytest.mark.parametrize("name", ["toggle-mini", "slide-switch", "jack-enclosed", "battery-9v"])
def test_a_kind_measured_after_another_keeps_its_form(name: str) -> None:
    """A lever stays a lever, a rectangle a rectangle: only what the caliper says is new."""
    kind = hardware.kinds()[name]
    mine = made(replace(Caliper.of(kind), depth_mm=14.0))
    assert mine.family == kind.family  # type: ignore[attr-defined]
    assert mine.above == kind.above  # type: ignore[attr-defined]
    assert mine.depth_mm == pytest.approx(14.0)  # type: ignore[attr-defined]
    assert mine.cutouts == kind.cutouts or mine.cutouts[0].outline == kind.cutouts[0].outline  # type: ignore[attr-defined]


def test_the_drawing_takes_three_figures() -> None:
    caliper = replace(Caliper(), body_mm=30.0)
    assert {each.name: each.value for each in caliper_sketch(caliper).dimensions} == {
        "hole": 7.5, "body": 30.0, "depth": 12.0,
    }  # fmt: skip
