"""The parts table against published figures; the source is named beside each."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from mockup.hardware import din_socket, kinds
from mockup.hardware._fixings import THREAD_DEPTH, threaded
from mockup.model.part import Kind, Thread
from mockup.model.shape import Extruded, Turned

KINDS = kinds()

# Basic major diameter and pitch, millimetres. Metric: the designation's own figures (ISO 261 for M7 and M9; M12x0.75
# is used but not listed there). Inch: exact arithmetic at 25.4 mm, designations of ASME B1.1.
THREADS = {
    "M7x0.75": (7.0, 0.75),
    "M8x0.75": (8.0, 0.75),
    "M9x0.75": (9.0, 0.75),
    "M12x0.75": (12.0, 0.75),
    "10-48 UNS": (
        (0.060 + 10 * 0.013) * 25.4,
        25.4 / 48,
    ),  # numbered sizes are 0.060 in and 0.013 a number: ASME B1.1, from memory
    "1/4-40 UNS": (6.35, 0.635),
    "3/8-32 UNEF": (9.525, 0.79375),
    "15/32-32 UNS": (11.90625, 0.79375),
}
# Usual hand-drilled holes, smallest and largest, millimetres: common practice, no source.
USUAL_HOLES = {
    "M7x0.75": (7.2, 7.5),
    "M8x0.75": (8.1, 8.5),
    "M9x0.75": (9.2, 9.5),
    "M12x0.75": (12.2, 12.5),
    "10-48 UNS": (4.9, 5.2),
    "1/4-40 UNS": (6.35, 6.6),  # 6.6 where paint lies on its wall, the medium clearance hole of an M6 in ISO 273
    "3/8-32 UNEF": (9.5, 10.0),
    "15/32-32 UNS": (12.0, 12.7),
}
# ISO 273:1979 coarse series (H14): more than this and the hole is sloppy even for a screw.
ISO_273_COARSE = {"M7x0.75": 8.0, "M8x0.75": 10.0, "M12x0.75": 14.5}


def _threaded_kinds() -> list[tuple[Kind, Thread]]:
    return [(kind, kind.thread) for kind in KINDS.values() if kind.thread is not None]


@pytest.mark.parametrize(("kind", "thread"), _threaded_kinds(), ids=lambda each: getattr(each, "name", ""))
class TestThreads:
    def test_major_diameter_and_pitch(self, kind: Kind, thread: Thread) -> None:
        major, pitch = THREADS[thread.designation]
        assert thread.major_mm == pytest.approx(major, abs=1e-12)
        assert thread.pitch_mm == pytest.approx(pitch, abs=1e-12)

    def test_hole_is_a_usual_one(self, kind: Kind, thread: Thread) -> None:
        low, high = USUAL_HOLES[thread.designation]
        assert low <= kind.cutouts[0].outline.width_mm <= high
        assert kind.cutouts[0].outline.width_mm <= ISO_273_COARSE.get(thread.designation, math.inf)


def test_every_thread_of_the_trade_is_used() -> None:
    assert {thread.designation for _, thread in _threaded_kinds()} == set(THREADS)


def test_thread_is_drawn_at_its_basic_size() -> None:
    """M12x0.75: major 12.000; external minor = major - 2 x 0.61343 P = 11.0799 (ISO 68-1 triangle, by hand)."""
    thread = Thread(designation="M12x0.75", major_mm=12.0, pitch_mm=0.75)
    solid = threaded(thread, 7.0)
    crests = [r for r, z in solid.profile if z > 0]
    assert max(crests) == pytest.approx(6.0)
    roots = [r for r, z in solid.profile if 0 < z < 6.5 and r != 6.0]
    assert len(roots) > 10
    assert all(root == pytest.approx(11.0799 / 2, abs=1e-4) for root in roots)
    assert pytest.approx(17 / 24 * math.sqrt(3) / 2, abs=1e-5) == THREAD_DEPTH
    lands = [z for r, z in solid.profile if r == 6.0]
    assert lands[2] - lands[0] == pytest.approx(0.75)
    assert lands[1] - lands[0] == pytest.approx(0.75 / 8)  # crest flat P/8


class TestNuts:
    # Across flats, millimetres; common practice, no source: M7 10, M9 11 to 12, M12 14, 5/16, 1/2 and 9/16 in.
    FLATS = (
        ("pot-16", 10.0),
        ("pot-24", 12.7),
        ("rotary-switch", 12.0),
        ("toggle", 14.2875),
        ("toggle-mini", 7.9375),
        ("footswitch", 14.0),
        ("footswitch-momentary", 14.0),
        ("jack-open", 12.7),
        ("jack-enclosed", 12.0),
    )

    @pytest.mark.parametrize(("name", "flats"), FLATS)
    def test_across_flats(self, name: str, flats: float) -> None:
        (nut,) = [
            solid for solid in KINDS[name].above if isinstance(solid, Extruded) and solid.outline.kind == "hexagon"
        ]
        assert nut.outline.width_mm == pytest.approx(flats)
        assert 2.0 <= nut.top_mm - nut.bottom_mm <= 2.5  # thin panel nuts: common practice, no source

    def test_throat_shows_through_the_nut(self) -> None:
        """A 6.35 mm plug (IEC 60603-11) goes through washer, nut and bushing of both jacks."""
        for name in ("jack-open", "jack-enclosed"):
            for solid in KINDS[name].above:
                if isinstance(solid, Extruded):
                    assert solid.bore_mm > 6.35
                elif max(z for _, z in solid.profile) > 0:
                    assert min(r for r, _ in solid.profile) > 6.35 / 2


class TestDin:
    def test_contacts_lie_on_a_7_mm_circle_45_degrees_apart(self) -> None:
        """IEC 60130-9 as cryptomuseum.com/ref/conn/din has it: 7.0 mm circle, 45 degrees, pins 1.45 mm."""
        places = din_socket.contacts()
        assert len(places) == 5
        assert all(math.hypot(*place) == pytest.approx(3.5) for place in places)
        # Chord of 45 degrees on a 7.0 mm circle: 7 sin 22.5 = 2.6788 mm.
        for a, b in pairwise(places):
            assert math.dist(a, b) == pytest.approx(2.6788, abs=1e-4)
        assert places[0] == pytest.approx((-3.5, 0.0))
        assert places[2] == pytest.approx((0.0, 3.5))
        assert places[4] == pytest.approx((3.5, 0.0))

    def test_rims_and_terminals_stand_there(self) -> None:
        kind = KINDS["din-5"]
        rims = {solid.at for solid in kind.above if isinstance(solid, Turned) and solid.material.name == "brass"}
        terminals = {
            solid.at for solid in kind.below if isinstance(solid, Extruded) and solid.material.name == "solder"
        }
        assert rims == terminals == set(din_socket.contacts())

    def test_plug_fits_the_shell(self) -> None:
        """The plug's shell is 13.2 mm outside (cryptomuseum.com/ref/conn/din)."""
        (shell,) = [s for s in KINDS["din-5"].above if isinstance(s, Turned) and s.profile[0][0] > 5]
        assert 13.2 < 2 * shell.profile[0][0] < 14.0

    def test_screw_holes(self) -> None:
        """22.2 mm apart (common practice, no source), M3 clearance 3.2 mm (ISO 273 fine series)."""
        screws = [cutout for cutout in KINDS["din-5"].cutouts if cutout.purpose == "screw"]
        assert math.dist(screws[0].at, screws[1].at) == pytest.approx(22.2)
        assert all(screw.outline.width_mm == 3.2 for screw in screws)


@pytest.mark.parametrize(("name", "eighths", "made_mm"), [("lamp-3", 1.0, 3.0), ("lamp-5", 1.75, 5.0)])
def test_lens_is_the_made_size_of_its_t_number(name: str, eighths: float, made_mm: float) -> None:
    """T number = diameter in eighths of an inch: T-1 3.175, T-1 3/4 5.556 mm; what is sold is 3.0 and 5.0."""
    kind = KINDS[name]
    (index,) = kind.lens
    lens = kind.above[index]
    assert isinstance(lens, Turned)
    diameter = 2 * max(r for r, _ in lens.profile)
    nominal = eighths * 25.4 / 8
    assert diameter == pytest.approx(made_mm)
    assert 0.88 * nominal < diameter <= nominal


def test_9_volt_block() -> None:
    """IEC 60086-2:2011 7.6.1.12, largest: 48.5 x 26.5 x 17.5 mm, terminals 12.7 mm apart."""
    kind = KINDS["battery-9v"]
    blocks = [solid for solid in kind.below if isinstance(solid, Extruded)]
    studs = [solid for solid in kind.below if isinstance(solid, Turned)]
    back = min(block.at[1] - block.outline.height_mm / 2 for block in blocks)
    front = max(stud.at[1] + max(z for _, z in stud.profile) - stud.pivot_z_mm for stud in studs)
    assert front - back == pytest.approx(48.5)
    assert {block.outline.width_mm for block in blocks} == {26.5}
    assert kind.depth_mm == pytest.approx(17.5)
    assert abs(studs[0].at[0] - studs[1].at[0]) == pytest.approx(12.7)
    assert all(stud.tilt_deg == 90.0 for stud in studs)
    # The pieces of the block meet without a gap.
    edges = sorted((b.at[1] - b.outline.height_mm / 2, b.at[1] + b.outline.height_mm / 2) for b in blocks)
    for (_, end), (start, _) in pairwise(edges):
        assert start == pytest.approx(end)


def test_board_is_1_6_mm_thick() -> None:
    """IEC 60603-6:1987, title: nominal thickness 1.6 mm."""
    (plate,) = [s for s in KINDS["board"].below if isinstance(s, Extruded) and s.material.name == "board-green"]
    assert plate.top_mm - plate.bottom_mm == pytest.approx(1.6)


def test_dc_socket_takes_a_5_5_mm_plug_on_a_2_1_mm_pin() -> None:
    """Plug 5.5 mm outside and 9.5 mm long, pin 2.1 mm (liquisearch.com/dc_connector)."""
    collar, throat, pin = KINDS["dc-socket"].above
    assert isinstance(collar, Turned)
    assert isinstance(throat, Turned)
    assert isinstance(pin, Turned)
    assert 5.5 < 2 * min(r for r, _ in collar.profile) < 6.3  # opens less than the next size, 6.3 mm: from memory
    assert 2 * max(r for r, _ in pin.profile) == pytest.approx(2.1)
    mouth = max(z for _, z in collar.profile)
    floor = min(z for _, z in pin.profile)
    assert mouth - floor == pytest.approx(9.5)
    assert max(z for _, z in pin.profile) < mouth  # the pin never stands proud
    clear = min(r for solid in KINDS["dc-socket"].below[:1] if isinstance(solid, Turned) for r, _ in solid.profile)
    assert clear > max(r for r, _ in throat.profile)  # the body does not fill the hole that one looks into


def test_shafts_are_6_mm_or_a_quarter_inch() -> None:
    """IEC 60915 shaft ends, from memory: 6.00 and 6.35 mm."""
    shafts = {name: kind.shaft.diameter_mm for name, kind in KINDS.items() if kind.shaft is not None}
    assert shafts == {"pot-9": 6.0, "pot-16": 6.0, "pot-24": pytest.approx(6.35), "rotary-switch": 6.0}


def test_bodies_are_as_large_as_their_names_say() -> None:
    """9, 16 and 24 mm potentiometers, to 10 % (trade names are round figures)."""
    for name, size in (("pot-16", 16.0), ("pot-24", 24.0)):
        across = max(2 * r for solid in KINDS[name].below if isinstance(solid, Turned) for r, _ in solid.profile)
        assert across == pytest.approx(size, rel=0.1)
    widths = [s.outline.width_mm for s in KINDS["pot-9"].below if isinstance(s, Extruded)]
    assert max(widths) == pytest.approx(9.0, rel=0.1)


def test_footswitch_body_and_depth() -> None:
    """About 17 x 17 to 18 mm and 20 to 25 mm deep: common practice, no source."""
    kind = KINDS["footswitch"]
    frame = kind.below[0]
    assert isinstance(frame, Extruded)
    assert 16.5 <= frame.outline.width_mm <= 18.5
    assert 16.5 <= frame.outline.height_mm <= 18.5
    assert 20.0 <= kind.depth_mm <= 25.0
    lugs = [s for s in kind.below if s.material.name == "solder"]
    assert len(lugs) == 9  # three poles, changeover: three terminals each


@pytest.mark.parametrize(("name", "terminals"), [("toggle", 6), ("toggle-mini", 6), ("slide-switch", 6)])
def test_two_pole_changeover_switches_have_six_terminals(name: str, terminals: int) -> None:
    assert sum(solid.material.name == "solder" for solid in KINDS[name].below) == terminals


def test_toggle_lever_leans_to_twelve_oclock_and_clears_its_bushing() -> None:
    for name in ("toggle", "toggle-mini"):
        (bat,) = [s for s in KINDS[name].above if isinstance(s, Turned) and s.tilt_deg]
        (bushing,) = [
            s for s in KINDS[name].above if isinstance(s, Turned) and s.profile[0][0] > 0 and s.profile[0][1] < 0
        ]
        assert 0 < bat.tilt_deg < 20  # positive leans towards +y
        mouth_z = max(z for _, z in bushing.profile)
        bore = min(r for r, _ in bushing.profile)
        neck = bat.profile[1][0]
        lean = math.radians(bat.tilt_deg)
        at_mouth = (mouth_z - bat.pivot_z_mm) * math.tan(lean) + neck / math.cos(lean)
        assert at_mouth < bore


def test_slide_switch_slot_holds_the_actuator_at_both_ends_of_its_travel() -> None:
    kind = KINDS["slide-switch"]
    slot = kind.cutouts[0].outline
    actuator = kind.above[0]
    assert isinstance(actuator, Extruded)
    throw = abs(actuator.at[0])
    assert throw + actuator.outline.width_mm / 2 <= slot.width_mm / 2
    # Its rounded corners stay inside the slot's round ends.
    radius = actuator.outline.corner_mm
    along = throw + actuator.outline.width_mm / 2 - radius - (slot.width_mm - slot.height_mm) / 2
    assert math.hypot(max(0.0, along), actuator.outline.height_mm / 2 - radius) + radius <= slot.height_mm / 2


def test_footswitch_hangs_from_its_inner_nut() -> None:
    """24 to 26 mm deep with the inner nut, its bushing 12 mm long; from memory."""
    kind = KINDS["footswitch"]
    held = kind.mounting
    assert [each.name for each in held.inside] == ["lock washer", "nut"]  # from the panel inwards
    frame = kind.below[0]
    assert isinstance(frame, Extruded)
    assert frame.top_mm == pytest.approx(-held.shoulder_mm)
    assert 24.0 <= kind.depth_mm <= 26.0
    assert held.thread_mm == pytest.approx(12.0, abs=0.3)
    (inner,) = [each for each in kind.below if isinstance(each, Extruded) and each.outline.kind == "hexagon"]
    assert inner.outline.width_mm == pytest.approx(14.0)
    assert inner.bottom_mm == pytest.approx(-held.shoulder_mm)


@pytest.mark.parametrize("kind", [each for each in KINDS.values() if each.thread], ids=lambda each: each.name)
def test_a_thread_takes_all_that_holds_its_part_on_a_panel_of_2_mm(kind: Kind) -> None:
    held = kind.mounting
    every = (*held.inside, *held.outside)
    assert sum(each.thickness_mm for each in every) + 2.0 <= held.thread_mm + 1e-9
    assert every[-1].name.endswith("nut")  # what closes it, outside or, with nothing there, inside
    if held.outside:
        drawn = [s.bottom_mm for s in kind.above if isinstance(s, Extruded) and s.outline.kind == "hexagon"]
        assert min(drawn) == pytest.approx(sum(each.thickness_mm for each in held.outside[:-1]))


@pytest.mark.parametrize(("name", "travel", "slot"), [("fader-30", 30.0, 36.0), ("fader-60", 60.0, 66.0)])
def test_a_faders_lever_runs_all_its_travel_in_its_slot(name: str, travel: float, slot: float) -> None:
    """A lever of 4 mm and a millimetre at each end: 30 + 4 + 2 and 60 + 4 + 2."""
    kind = KINDS[name]
    hole, *screws = kind.cutouts
    assert hole.outline.width_mm == pytest.approx(slot)
    lever = kind.above[0]
    assert isinstance(lever, Extruded)
    assert lever.outline.height_mm < hole.outline.height_mm
    # Its corners stay inside the slot's round ends where it stands at the end of its travel.
    middle = (slot - hole.outline.height_mm) / 2
    corner = math.hypot(travel / 2 + lever.outline.width_mm / 2 - middle, lever.outline.height_mm / 2)
    assert corner < hole.outline.height_mm / 2
    web = min(abs(each.at[0]) - each.outline.width_mm / 2 for each in screws) - slot / 2
    assert web >= 2.0  # metal between slot and screw: common practice, no source
    room = kind.used[0]
    assert isinstance(room, Extruded)
    cap = kind.above[1]
    assert isinstance(cap, Extruded)
    assert room.outline.width_mm == pytest.approx(travel + cap.outline.width_mm)
    assert room.top_mm >= max(each.top_mm for each in kind.above[:3] if isinstance(each, Extruded))


@pytest.mark.parametrize(("name", "poles"), [("toggle-mini-single", 1), ("toggle-sub-mini", 1)])
def test_single_pole_changeover_switches_have_three_terminals(name: str, poles: int) -> None:
    assert sum(solid.material.name == "solder" for solid in KINDS[name].below) == 3 * poles
