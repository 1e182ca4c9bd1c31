"""Where there is room: the habits of the trade (common practice, no source), and no stop where a place exists."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from part_bench import FITS, KINDS, new, pedal

from mockup.arrange.room import place, place_on
from mockup.checks.panel.built import Built
from mockup.checks.panel.clearance import is_within
from mockup.checks.report.run import run
from mockup.enclosure.sizes import SIZES
from mockup.model.design import Design, Placement
from mockup.model.enclosure import faces

ORDER = ("pot-16", "pot-16", "toggle-mini", "lamp-3", "footswitch", "jack-enclosed", "jack-enclosed", "dc-socket")

TRIED = ("92x38x31", "188x119x37")  # the least and the largest box
FEW = ("pot-16", "footswitch", "jack-enclosed", "battery-9v")  # one of each way to stand in a box


def stops(design: Design) -> list[tuple[str, str]]:
    found = run(design, FITS)
    assert not any(each.failure for each in found)
    return [(each.check, each.title) for each in found if each.severity == "stop"]


def filled(size: str, kinds: tuple[str, ...] = ORDER) -> list[Placement]:
    parts: list[Placement] = []
    for kind in kinds:
        found = place(pedal(size, parts), new(kind, parts))
        if found is not None:
            parts.append(found)
    return parts


def test_a_usual_pedal_stands_as_the_trade_builds_it() -> None:
    """Two pots in a mirrored pair, the switch between, the lamp over the footswitch, jacks facing, power centred."""
    parts = {part.name: part for part in filled("121x66x39")}
    top = faces(SIZES["121x66x39"])["top"]
    level, tone, mode = parts["LEVEL"], parts["TONE"], parts["MODE"]
    assert level.u_mm + tone.u_mm == pytest.approx(top.width_mm)
    assert level.v_mm == tone.v_mm < top.height_mm / 3
    assert level.u_mm < top.width_mm / 2
    assert mode.u_mm == pytest.approx(top.width_mm / 2)
    assert mode.v_mm == pytest.approx(level.v_mm)
    foot, lamp = parts["BYPASS"], parts["LAMP"]
    assert foot.u_mm == lamp.u_mm == pytest.approx(top.width_mm / 2)
    assert level.v_mm < lamp.v_mm < foot.v_mm
    assert foot.v_mm > 0.75 * top.height_mm
    right, left = parts["IN"], parts["OUT"]
    assert (right.face, left.face) == ("right", "left")
    assert right.u_mm + left.u_mm == pytest.approx(faces(SIZES["121x66x39"])["left"].width_mm)
    assert parts["POWER"].face == "far"
    assert parts["POWER"].u_mm == pytest.approx(faces(SIZES["121x66x39"])["far"].width_mm / 2)
    assert not stops(pedal("121x66x39", parts.values()))


@pytest.mark.slow  # a whole check of a box, drilled, takes long: the least and the largest here, the others on request
@pytest.mark.parametrize(
    "size", [size if size in TRIED else pytest.param(size, marks=pytest.mark.long) for size in SIZES]
)
def test_nothing_that_is_placed_draws_a_stop(size: str) -> None:
    parts = filled(size, (*ORDER, "pot-9", "battery-9v", "lamp-5", "slide-switch"))
    assert len(parts) >= 7
    assert not stops(pedal(size, parts))


@pytest.mark.slow  # on every box; the other kinds on request
@pytest.mark.parametrize(
    "kind", [kind if kind in FEW else pytest.param(kind, marks=pytest.mark.long) for kind in KINDS]
)
def test_every_kind_finds_room_on_an_empty_box_that_is_large_enough(kind: str) -> None:
    for size in SIZES:
        found = place(pedal(size), new(kind))
        if found is None:
            assert not has_room(size, kind), f"{kind} on {size}"
        else:
            assert not stops(pedal(size, [found])), f"{kind} on {size}"


def has_room(size: str, kind: str) -> bool:
    """Look on the top and the far side by 4 mm, by the checks themselves, for what the search may have missed."""
    built = Built(pedal(size))
    for face in ("top", "far"):
        frame = built.faces[face]  # type: ignore[index]
        for u in np.arange(4.0, frame.width_mm, 4.0):
            for v in np.arange(4.0, frame.height_mm, 4.0):
                part = replace(new(kind, face=face), u_mm=float(u), v_mm=float(v))  # type: ignore[arg-type]
                if is_within(built, part, "stop"):
                    return True
    return False


def test_the_middle_is_taken_where_a_pair_has_no_room() -> None:
    """Two pots of 16 mm do not stand side by side in a box of 38."""
    parts = filled("92x38x31", ("pot-16", "pot-16"))
    middle = faces(SIZES["92x38x31"])["top"].width_mm / 2
    assert [part.u_mm for part in parts] == pytest.approx([middle, middle])
    assert parts[0].v_mm < parts[1].v_mm


def test_a_full_box_says_so() -> None:
    foot = filled("92x38x31", ("footswitch",))
    parts = [*foot, *(replace(foot[0], name=f"F{v}", v_mm=float(v)) for v in (20, 45))]
    assert place(pedal("92x38x31", parts), new("footswitch", parts)) is None


def test_a_lamp_goes_over_the_footswitch_that_has_none() -> None:
    parts = filled("145x121x39", ("footswitch", "lamp-3"))
    second = replace(parts[0], name="BOOST", u_mm=20.0)
    lamp = place(pedal("145x121x39", [*parts, second]), new("lamp-5", parts))
    assert lamp is not None
    assert lamp.u_mm == 20.0


def test_another_face_takes_the_free_place_nearest_to_a_wish() -> None:
    parts = filled("121x66x39", ("dc-socket",))
    moved = place_on(pedal("121x66x39", parts), new("jack-enclosed", parts), "far", (32.0, 18.6))
    assert moved.face == "far"
    assert not stops(pedal("121x66x39", [*parts, moved]))
    assert abs(moved.u_mm - 32.0) < 25.0


def test_a_search_that_is_stopped_ends_without_a_place() -> None:
    assert place(pedal("121x66x39"), new("pot-16"), is_stopped=lambda: True) is None
