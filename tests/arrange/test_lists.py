"""Lists of 1 to 14 parts over all sizes of box: each has a layout that keeps every rule of room."""

from __future__ import annotations

import itertools

import pytest

from mockup.arrange.layouts.control_parts import stances
from mockup.arrange.layouts.controls import controls
from mockup.arrange.layouts.proposals import ORDERS, fits
from mockup.arrange.layouts.schemes import schemes
from mockup.clearance.table import broken
from mockup.enclosure.sizes import SIZES
from mockup.layout.resolve import favourite_style

SIDES = "IN=jack-enclosed OUT=jack-enclosed DC=dc-socket"
USUAL = f"LAMP=lamp-5 BYPASS=footswitch {SIDES}"
TWO_FEET = f"L1=lamp-5 L2=lamp-5 BYPASS=footswitch BOOST=footswitch {SIDES}"
SMALL = "V=pot-9 LAMP=lamp-3 BYPASS=footswitch IN=jack-enclosed OUT=jack-enclosed"


def pots(count: int, kind: str = "pot-16") -> str:
    return " ".join(f"P{number}={kind}" for number in range(1, count + 1))


LISTS = [
    ("121x66x39", f"{pots(3)} M=toggle-mini {USUAL}"),
    ("121x66x39", f"{pots(4)} M=toggle-mini {USUAL}"),
    ("145x121x39", f"{pots(5)} M=toggle-mini N=toggle-mini {TWO_FEET}"),
    ("92x38x31", "V=pot-9"),
    ("92x38x31", "V=pot-16 IN=jack-enclosed OUT=jack-enclosed"),
    ("92x38x31", SMALL),
    ("92x38x31", f"{SMALL} DC=dc-socket"),
    *(("112x60x31", f"{pots(count)} {USUAL}") for count in (1, 2, 3)),
    ("112x60x31", f"{pots(3, 'pot-9')} M=toggle-mini {USUAL}"),
    ("112x60x31", f"{pots(2)} M=toggle-mini {USUAL}"),
    ("112x60x31", f"{pots(3)} M=toggle-mini {USUAL}"),
    ("112x60x31", f"{pots(4, 'pot-9')} {USUAL}"),
    ("112x60x31", f"{pots(2)} {USUAL} BAT=battery-9v"),
    ("121x66x39", f"{pots(2)} M=toggle-mini {USUAL}"),
    ("121x66x39", f"{pots(6, 'pot-9')} {USUAL}"),
    ("121x66x39", f"{pots(3)} {USUAL} BAT=battery-9v"),
    ("121x66x39", f"{pots(3)} M=toggle-mini N=toggle-mini {USUAL}"),
    ("121x66x39", f"{pots(2)} SEL=rotary-switch {USUAL}"),
    ("121x66x39", f"{pots(3)} RNG=slide-switch {USUAL}"),
    ("121x66x39", f"{pots(2)} {USUAL} BRD=board"),
    ("121x66x39", f"{pots(4)} M=toggle-mini N=toggle-mini {USUAL}"),
    ("121x66x39", f"{pots(5)} {USUAL}"),
    ("119x94x34", f"{pots(3)} {USUAL}"),
    ("119x94x34", f"{pots(6)} {USUAL}"),
    ("119x94x34", f"{pots(2)} SEL=rotary-switch RNG=slide-switch {USUAL} BRD=board"),
    ("119x94x34", f"{pots(4)} M=toggle-mini N=toggle-mini O=toggle-mini {USUAL}"),
    ("119x94x34", f"{pots(4)} M=toggle {USUAL} BAT=battery-9v"),
    ("119x94x34", f"{pots(3)} {TWO_FEET}"),
    ("145x121x39", f"{pots(8)} {USUAL} BRD=board"),
    ("145x121x39", f"{pots(3, 'pot-24')} M=toggle {USUAL} BAT=battery-9v"),
    ("145x121x39", f"{pots(6)} {TWO_FEET} SEND=jack-open RETURN=jack-open"),
    ("145x121x39", f"{pots(9)} {USUAL}"),
    ("188x119x37", f"{pots(4, 'pot-24')} SEL=rotary-switch M=toggle {TWO_FEET}"),
    ("188x119x37", f"{pots(9)} {USUAL}"),
    ("119x94x34", f"{pots(3, 'fader-30')} {USUAL}"),
    ("145x121x39", f"{pots(5, 'fader-30')} V=pot-16 {USUAL}"),
    ("188x119x37", f"{pots(7, 'fader-60')} {USUAL}"),
]


@pytest.mark.parametrize(
    ("size", "words"),
    [pytest.param(*each, marks=[pytest.mark.long] * (index >= 3)) for index, each in enumerate(LISTS)],
)
def test_a_list_has_a_layout(size: str, words: str) -> None:
    box, style = SIZES[size], favourite_style()
    wanted = next(stances(controls(words.split())))
    found = (
        fit
        for order in ORDERS  # a looser one where nothing fits in the stricter
        for scheme in schemes(wanted, box, style)
        for fit in fits(scheme, wanted, box, style, order=order)
    )
    parts = next(iter(itertools.islice(found, 1))).parts
    assert {part.name for part in parts} == {each.name for each in wanted.controls}
    assert not [each for each in broken(box, parts, {}) if each.spare_mm < -0.005]


@pytest.mark.slow
def test_what_fits_in_no_order_is_laid_out_without() -> None:
    """Two pots, lamp, switch and two jacks: 38 mm are too narrow for jacks that face each other."""
    box, style = SIZES["92x38x31"], favourite_style()
    wanted = controls(SMALL.replace("V=pot-9", pots(2, "pot-9")).split())
    scheme = next(each for each in schemes(wanted, box, style) if each.about == "one below the other")
    assert not list(fits(scheme, wanted, box, style))
    (found, *_) = fits(scheme, wanted, box, style, order="loose")
    assert found.about == "one below the other, out of line"
    assert not [each for each in broken(box, found.parts, {}) if each.spare_mm < -0.005]
