"""The room round a carried part, held to what the checks say of the same pedal once it stands there."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mockup import hardware, knobs
from mockup.checks.panel.built import Built
from mockup.checks.panel.clearance import Clearance, clearances, worst
from mockup.checks.report.run import run
from mockup.clearance.figures import closest_points as nearest
from mockup.clearance.figures import disc, figure
from mockup.enclosure.sizes import SIZES
from mockup.finishes import sheens
from mockup.model.design import Design, Placement
from mockup.model.enclosure import FACES, FaceName, faces
from mockup.model.finish import Finish
from mockup.model.shape import Outline

FITS = (
    "bodies", "webs", "seats", "knob-gaps", "knob-overlaps", "hole-edges", "plug-bodies", "plug-tips", "shoe-room",
)  # fmt: skip
FINISH = Finish(paint=(1.0, 1.0, 1.0), sheen=sheens()["gloss"])
KINDS = hardware.kinds()
PANEL = sorted(name for name, kind in KINDS.items() if kind.mount == "panel")


def part(name: str, kind: str, face: FaceName, u: float, v: float, *, knob: str | None = None) -> Placement:
    style = knob or ("barrel" if KINDS[kind].shaft else None)
    return Placement(
        name=name, kind=KINDS[kind], face=face, u_mm=u, v_mm=v, knob=knobs.default(style) if style else None
    )


def pedal(*parts: Placement, size: str = "121x66x39") -> Design:
    return Design(name="T", source="t", enclosure=SIZES[size], finish=FINISH, parts=parts)


STANDING = (
    part("TONE", "pot-16", "top", 17.0, 20.0),
    part("WAY", "toggle-mini", "top", 32.5, 17.0),
    part("EYE", "lamp-5", "top", 32.5, 45.0),
    part("STOMP", "footswitch", "top", 32.5, 100.0),
    part("IN", "jack-enclosed", "right", 50.0, 17.0),
    part("OUT", "jack-open", "left", 70.0, 17.0),
    part("POWER", "dc-socket", "far", 32.5, 17.0),
    part("BLOCK", "battery-9v", "top", 32.5, 60.0),
)


@st.composite
def carried(draw: st.DrawFn) -> Placement:
    """A part of any kind somewhere on a face, over its edges too."""
    face = draw(st.sampled_from(FACES))
    frame = faces(SIZES["121x66x39"])[face]
    u = draw(st.floats(-3.0, frame.width_mm + 3.0))
    v = draw(st.floats(-3.0, frame.height_mm + 3.0))
    moved = part("NEW", draw(st.sampled_from(PANEL)), face, u, v)
    return replace(moved, rotation_deg=draw(st.sampled_from([0.0, 90.0, 33.0])))


@pytest.mark.slow  # the checks drill the whole box anew for each place: 2 s a case, measured
@settings(max_examples=15)
@given(carried())
def test_a_part_is_stopped_where_the_checks_stop_it(moved: Placement) -> None:
    found = clearances(Built(pedal(*STANDING)), moved)
    said = [each for each in run(pedal(*STANDING, moved), FITS) if each.is_about("NEW") and each.severity != "note"]
    stops, warns = ([each for each in said if each.severity == severity] for severity in ("stop", "warn"))
    assert not any(each.failure for each in said)
    if stops:
        assert worst(found) == "stop", [(each.check, each.title) for each in stops]
    elif worst(found) == "stop":  # the cheap test of a hole may be too strict, nothing else
        assert {each.own for each in found if each.severity == "stop"} == {"hole"}
    else:
        assert (worst(found) == "warn") == bool(warns), (found[:2], [(each.check, each.title) for each in warns])


BARE = {name: replace(part(name, "pot-16", "top", 20.0, 40.0), knob=None) for name in ("A", "B")}


@pytest.mark.parametrize(
    ("standing", "moved", "own"),
    [
        # wafers 16.5 mm wide touch, while washers, holes and knobs keep apart
        (BARE["A"], replace(BARE["B"], u_mm=36.5), "body"),
        # barrels 18.0 mm wide, 17 mm apart
        (part("A", "pot-9", "top", 20.0, 40.0), part("B", "pot-9", "top", 37.0, 40.0), "knob"),
    ],
)
def test_one_rule_alone_stops_a_part(standing: Placement, moved: Placement, own: str) -> None:
    found = clearances(Built(pedal(standing)), moved)
    assert {each.own for each in found if each.severity == "stop"} == {own}
    stops = [each for each in run(pedal(standing, moved), FITS) if each.severity == "stop"]
    assert stops != []


def only(found: tuple[Clearance, ...], own: str, other: str, thing: str | None) -> Clearance:
    return next(each for each in found if (each.own, each.other, each.thing) == (own, other, thing))


def test_figures_by_hand() -> None:
    """Two pots 40 mm apart with knobs of 20 mm: 20 between the knobs, 40 - 7.5 between holes of 7.5."""
    knob = replace(knobs.default("barrel"), diameter_mm=20.0)
    one = replace(part("A", "pot-16", "top", 20.0, 40.0), knob=knob)
    two = replace(part("B", "pot-16", "top", 60.0, 40.0), knob=knob)
    found = clearances(Built(pedal(one, size="119x94x34")), two)
    between = only(found, "knob", "A", "knob")
    assert between.room_mm == pytest.approx(20.0, abs=0.02)
    assert between.severity is None
    assert between.ends is not None
    assert between.ends[0] == pytest.approx((50.0, 40.0), abs=0.02)
    assert between.ends[1] == pytest.approx((30.0, 40.0), abs=0.02)
    assert only(found, "hole", "A", "hole").room_mm == pytest.approx(32.5, abs=1e-6)


def test_the_bar_to_the_edge_runs_to_the_nearest_one() -> None:
    moved = part("A", "pot-16", "top", 30.0, 14.0)
    bar = only(clearances(Built(pedal()), moved), "knob", "the edge", None)
    assert bar.ends is not None
    assert bar.ends[1] == pytest.approx((30.0, 0.0))
    assert bar.ends[0][1] == pytest.approx(bar.room_mm, abs=1e-6)


def test_a_part_does_not_meet_itself() -> None:
    moved = replace(STANDING[0], u_mm=18.0)
    assert all(each.other != "TONE" for each in clearances(Built(pedal(*STANDING)), moved))


def test_the_worst_comes_first() -> None:
    found = clearances(Built(pedal(*STANDING)), part("NEW", "pot-16", "top", 19.0, 22.0))
    ranks = [{"stop": 0, "warn": 1, "note": 2, None: 3}[each.severity] for each in found]
    assert ranks == sorted(ranks)
    assert found[0].severity == "stop"
    assert found[0].other in ("TONE", "WAY")


def test_closest_points_of_figures() -> None:
    """A square of 4 with its middle at the origin and a disc of 1 at (10, 0): from (2, 0) to (9, 0)."""
    square = figure(Outline(kind="rectangle", width_mm=4.0, height_mm=4.0), 0.0, 0.0)
    ends = nearest(square, disc(10.0, 1.0, 1.0))
    assert ends is not None
    assert ends[0] == pytest.approx((2.0, 1.0))
    assert ends[1] == pytest.approx((9.0, 1.0))
    back = nearest(disc(10.0, 1.0, 1.0), square)
    assert back is not None
    assert back[0] == pytest.approx((9.0, 1.0))
    assert nearest(disc(0, 0, 1), disc(0, 0, 2)) is None
