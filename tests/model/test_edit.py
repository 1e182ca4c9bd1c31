"""Addresses of keys: one way from the top of the file and back, and how they read; by hand."""

from __future__ import annotations

import pytest

from mockup.model.edit import Address

CASES = [
    (("part", "TONE", "left"), None, ("part", "TONE", "left"), "part TONE left"),
    (("decal", 0, "film"), None, ("decal", 0, "film"), "decal 1 film"),
    (("finish", "paint"), "night", ("variants", "night", "finish", "paint"), "finish paint in variant night"),
    ((), "night", ("variants", "night"), "in variant night"),
    (("variants",), None, ("variants",), "variants"),
]


@pytest.mark.parametrize(("way", "variant", "place", "words"), CASES)
def test_an_address_is_a_way_from_the_top_of_the_file(way, variant, place, words) -> None:  # type: ignore[no-untyped-def]
    address = Address(way=way, variant=variant)
    assert address.place == place
    assert Address.at(place) == address
    assert str(address).strip() == words


def test_the_inside_of_a_table_is_in_the_same_variant() -> None:
    tone = Address(way=("part", "TONE"), variant="night")
    assert tone.inside("knob", "style") == Address(way=("part", "TONE", "knob", "style"), variant="night")
