"""Plugs in their sockets: as a picture shows them, within the room that the checks keep for them."""

from __future__ import annotations

import pytest

from mockup.clearance.plugs import CABLE_MM, FAMILIES, plug_of, plugged
from mockup.hardware import kinds
from mockup.limits import limits
from mockup.model.shape import Turned

KINDS = kinds()
SOCKETS = [each for each in KINDS.values() if each.family in FAMILIES]
USUAL = limits({})


@pytest.mark.parametrize("kind", SOCKETS, ids=lambda each: each.name)
def test_a_plug_is_as_large_as_the_checks_say_and_stands_on_its_socket(kind) -> None:
    shown, room = plugged(kind, USUAL), plug_of(kind, USUAL)
    barrel = shown.above[len(kind.above)]
    assert isinstance(barrel, Turned)
    wide, high = (max(pair[at] for pair in room.body.profile) for at in (0, 1))
    assert max(r for r, _ in barrel.profile) == pytest.approx(wide)
    assert min(z for _, z in barrel.profile) == pytest.approx(room.shoulder_mm)
    assert max(z for _, z in barrel.profile) == pytest.approx(high + CABLE_MM)
    assert shown.below == kind.below


def test_a_jack_plugs_tip_reaches_32_mm_from_its_shoulder() -> None:
    """The upper end of 30 to 32 mm, sleeve 6.35 mm: IEC 60603-11."""
    tip = plugged(KINDS["jack-open"], USUAL).above[-1]
    assert isinstance(tip, Turned)
    heights = [z for _, z in tip.profile]
    assert max(heights) - min(heights) == pytest.approx(32.0)
    assert 2 * max(r for r, _ in tip.profile) == pytest.approx(6.35)


def test_what_is_no_socket_stays_as_it_is() -> None:
    assert plugged(KINDS["pot-16"], USUAL) is KINDS["pot-16"]
