"""What the window shows as one value, and what that does to the design and the shot."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mockup import api
from mockup.lights import presets
from mockup.model.errors import InputError
from mockup.model.ground import GROUNDS
from mockup.scene.views import VIEWS
from mockup.window.pane_content import PaneContent
from mockup.window.pointer.orbit import Orbit
from mockup.window.pointer.snapping import GRIDS
from mockup.window.state import TOGGLES, State


@pytest.mark.parametrize("toggle", TOGGLES)
def test_a_toggle_twice_is_as_before_but_for_what_the_file_left_open(toggle: str) -> None:
    state = State().switched(toggle, True)  # type: ignore[arg-type]
    once = state.toggled(toggle)  # type: ignore[arg-type]
    assert once.is_on(toggle) is False  # type: ignore[arg-type]
    assert once.toggled(toggle) == state  # type: ignore[arg-type]


def test_a_lamp_that_is_lit_in_the_file_goes_out_at_the_first_press() -> None:
    assert State().toggled("lamp", is_on_in_file=True).is_lamp_lit is False
    assert State().toggled("lamp", is_on_in_file=False).is_lamp_lit is True


def test_new_panes_take_versions_not_shown_yet() -> None:
    state = State().with_panes(3, ("dusk", "brass"))
    assert state.variants == (None, "dusk", "brass")
    assert state.with_panes(4, ("dusk", "brass")).variants == (None, "dusk", "brass", "brass")
    assert state.activated(2).with_panes(1).variant is None
    assert State().with_panes(9).variants == (None,) * 4


def test_a_wipe_parts_two_versions_and_ends_with_one() -> None:
    state = State().wiped(("dusk",))
    assert (state.variants, state.is_wipe) == ((None, "dusk"), True)
    assert state.wiped_to(1.5).wipe == 1.0
    assert state.wiped().variants == (None,)
    assert state.wiped().is_wipe is False


def test_variants_and_parts_go_round_and_round() -> None:
    state = State()
    seen = []
    for _ in range(4):
        seen.append(state.variant)
        state = state.next_variant(("dusk", "brass"))
    assert seen == [None, "dusk", "brass", None]
    assert State().next_variant(("dusk",), -1).variant == "dusk"
    ways = (("part", "A"), ("label", 0), ("part", "B"))
    assert State().next_thing(ways).selected == "A"
    assert State().next_thing(ways, -1).selected == "B"
    assert State().picking(("part", "A")).next_thing(ways).picked == (("label", 0),)
    assert State().picking(("part", "B")).next_thing(ways).selected == "A"
    assert State().picking(("part", "B")).next_thing(()).selected is None


def test_what_the_file_no_longer_has_is_let_go() -> None:
    state = State().picking(("part", "TONE")).with_panes(2, ("dusk",))
    kept = state.kept_to((), ("GAIN",))
    assert (kept.variants, kept.selected) == ((None, None), None)
    assert state.kept_to(("dusk",), ("TONE",)) == state


def test_lights_and_grids_go_round() -> None:
    state = State()
    for _ in presets():
        state = state.next_light()
    for _ in GRIDS:
        state = state.next_grid()
    assert state == State()
    with pytest.raises(KeyError):
        State().lit("no such light")
    with pytest.raises(KeyError):
        State().with_grid("3 mm")


def test_named_views_say_how_the_pedal_lies() -> None:
    assert State().seen("inside").is_flipped
    assert State().seen("inside").has_lid is False
    assert State().seen("inside").seen("above").has_lid is True
    assert State().seen("underside").at_true_size("near").is_flipped is False
    with pytest.raises(KeyError):
        State().seen("nowhere")


@given(st.sampled_from(["inside", "underside", *VIEWS]), st.sampled_from(["top", "near", "far", "left", "right"]))
def test_true_size_looks_at_a_pedal_that_stands(view: str, face: str) -> None:
    state = State().seen(view).at_true_size(face)  # type: ignore[arg-type]
    assert state.true_size == face
    assert not state.is_flipped
    assert state.seen(view).true_size is None


def test_hidden_groups() -> None:
    assert State().hidden == State().see_through == frozenset()
    assert State().toggled("hardware").hidden == {"hardware", "inside"}
    assert State().toggled("lid").hidden == {"lid"}
    assert State().contents[0].stage == "finished"
    assert State().switched("silvering", True).contents[0].stage == "silvered"
    assert State().switched("see-through", True).see_through == {"box", "lid"}


def test_one_order_a_pane() -> None:
    state = replace(State().with_panes(2, ("dusk",)), look="proof").toggled("decal").seen("inside")
    first, second = state.contents
    assert first == PaneContent(look="proof", has_decal=False, is_flipped=True)
    assert second.variant == "dusk"


def test_orders_dress_the_design(examples: Path) -> None:
    design = api.load(examples / "lantern_moth" / "layout.toml")
    assert design.finish.has_clear_coat
    lamps = [part for part in design.parts if part.lamp]
    assert lamps
    assert design.decals
    assert PaneContent().dressed(design) is design
    bare = PaneContent(has_decal=False, has_clear_coat=False, is_lamp_lit=False).dressed(design)
    assert bare.decals == ()
    assert bare.finish.has_clear_coat is False
    assert [part.lamp.is_lit for part in bare.parts if part.lamp] == [False] * len(lamps)
    assert [part.name for part in bare.parts] == [part.name for part in design.parts]


def test_plugs_are_shown_beside_film_laid_badly(examples: Path) -> None:
    design = api.load(examples / "lantern_moth" / "layout.toml")
    content = State().switched("plugs", True).switched("silvering", True).contents[0]
    sockets = [part for part in design.parts if "jack" in part.kind.name or "dc-socket" in part.kind.name]
    assert sockets
    assert content.stage == "silvered"
    for bare, shown in zip(design.parts, content.dressed(design).parts, strict=True):
        assert (len(shown.kind.above) > len(bare.kind.above)) == (bare in sockets)
        assert shown.kind.below == bare.kind.below


def test_a_background_that_is_no_colour_is_told() -> None:
    assert PaneContent(background="none").lighting.ground is None
    assert PaneContent(background="slate").lighting.ground == GROUNDS["slate"].colour
    with pytest.raises(InputError):
        _ = PaneContent(background="no colour").lighting


def test_a_shot_of_a_pane() -> None:
    state = replace(State().toggled("lid"), look="proof")
    shot = state.shot(Orbit().camera(), (640, 480))
    assert (shot.width_px, shot.height_px, shot.look, shot.quality) == (640, 480, "proof", "normal")
    assert shot.hidden == {"lid"}


def test_what_is_picked_leads_to_its_station() -> None:
    for way, station in (
        (("part", "TONE"), "parts"), (("decal", 0), "art"), (("label", 1), "letters"), (("scale", "TONE"), "letters"),
        (("border", "top"), "letters"), (("box",), "box"), (("lid",), "box"),
    ):  # fmt: skip
        state = State(station="check").picking(way)
        assert state.station == station
        assert state.is_sheet_open
    assert State(station="check").picking().station == "check"


def test_one_part_is_the_selected_one_and_several_are_none() -> None:
    assert State().picking(("part", "TONE")).selected == "TONE"
    several = State().picking(("part", "TONE"), ("part", "GAIN"))
    assert several.selected is None
    assert several.picked_parts == ("TONE", "GAIN")
    assert State().picking(("decal", 0)).selected is None


def test_another_station_lets_go_what_is_not_its_own() -> None:
    state = State().picking(("part", "TONE"))
    assert state.at_station("parts").picked == (("part", "TONE"),)
    assert state.at_station("check").picked == ()
