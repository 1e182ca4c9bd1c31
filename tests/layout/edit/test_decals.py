"""Pictures laid on faces, sized, measured and turned, in layouts as a hand writes them."""

from __future__ import annotations

import tomllib
from typing import Any

import numpy as np
import pytest

from mockup.enclosure.sizes import SIZES
from mockup.layout.edit import decals
from mockup.layout.edit.apply import apply
from mockup.layout.edit.variants import shown, table_home
from mockup.model.edit import Address, Edit
from mockup.model.enclosure import faces
from mockup.model.finish import Artwork

SIDES = faces(SIZES["112x60x31"])
TOP = SIDES["top"]  # 58.98 x 110.98 mm, its flat 56.03 x 108.03: by hand in test_account
TEXT = """\
# my pedal
[box]
size = "112x60x31"   # from the shop

[[decal]]
art = "a.png"        # the moth
height = 40          # as tall as the old one
top = 20

[variants.dusk]
[[variants.dusk.decal]]
art = "b.png"
face = "near"
"""


def art(width: int, height: int, dpi: float | None = 300.0) -> Artwork:
    return Artwork(
        name="new.png", pixels=np.zeros((height, width, 4), np.uint8), dpi=(dpi, dpi) if dpi is not None else None
    )


def raw(text: str = TEXT) -> dict[str, Any]:
    return tomllib.loads(text)


def edited(edits: tuple[Edit, ...], text: str = TEXT) -> dict[str, Any]:
    after = apply(text, edits, "layout.toml")
    for comment in ("# my pedal", "# from the shop", "# the moth"):
        assert comment in after
    return raw(after)


def test_a_picture_lies_in_its_own_true_size() -> None:
    (new,) = edited(decals.laid(raw(), art(300, 600), TOP))["decal"][1:]
    assert new == {"art": "new.png"}  # 25.4 x 50.8 mm, as it says itself


def test_one_that_says_nothing_is_as_large_as_the_flat() -> None:
    (new,) = edited(decals.laid(raw(), art(300, 600, None), TOP))["decal"][1:]
    assert new == {"art": "new.png", "width": 54.0}  # 108.03 high allows 54.01 wide
    (new,) = edited(decals.laid(raw(), art(300, 600, 1.5), TOP))["decal"][1:]  # ten metres high
    assert new == {"art": "new.png", "width": 54.0}


def test_dropped_at_a_place_its_middle_lies_there() -> None:
    (new,) = edited(decals.laid(raw(), art(300, 600), SIDES["near"], at=(30.0, 15.0)))["decal"][1:]
    # The near face leans out by tan 1 degree (sin along the face): 15 x 0.01745 = 0.26 mm at this height.
    assert new == {"art": "new.png", "face": "near", "left": pytest.approx(30 - 12.7 + 0.26, abs=0.06), "top": -10.4}


def test_inches_stay_inches() -> None:
    text = 'units = "in"\n' + TEXT.replace("height = 40", "height = 1.5").replace("top = 20", "top = 1")
    (new,) = edited(decals.laid(raw(text), art(300, 600, None), TOP), text)["decal"][1:]
    assert new["width"] == pytest.approx(54.0 / 25.4, abs=1e-4)


def test_a_width_takes_the_height_and_the_dpi_with_it() -> None:
    address = Address(way=("decal", 0))
    found = edited(decals.sized(address, 30.0))["decal"][0]
    assert found == {"art": "a.png", "width": 30, "top": 20}
    dotted = TEXT.replace("height = 40 ", "dpi = 300 ")
    assert edited(decals.sized(address, 30.0), dotted)["decal"][0] == found
    assert edited(decals.as_drawn(address))["decal"][0] == {"art": "a.png", "top": 20}


def test_measured_from_an_edge_centred_and_turned() -> None:
    address = Address(way=("decal", 0))
    assert edited(decals.measured(address, "bottom", 12.0))["decal"][0]["bottom"] == 12
    assert "top" not in edited(decals.measured(address, "bottom", 12.0))["decal"][0]
    assert "top" not in edited(decals.centred(address, "top"))["decal"][0]
    assert edited(decals.turned_to(address, 270.0))["decal"][0]["rotation"] == -90


def test_one_film_goes_under_several_for_the_variant_alone_or_where_each_is_given() -> None:
    def films(variant: str | None, *, is_own: bool) -> dict[str, str | None]:
        after = edited(decals.printed(raw(), (0, 1), "film", "white", "dusk", is_own=is_own))
        return {each["art"]: each.get("film") for each in shown(after, variant)["decal"]}

    assert films("dusk", is_own=True) == films("dusk", is_own=False) == {"a.png": "white", "b.png": "white"}
    assert films(None, is_own=True) == {"a.png": None}
    assert films(None, is_own=False) == {"a.png": "white"}


def test_a_process_without_white_takes_what_is_said_of_white_along() -> None:
    text = TEXT.replace("top = 20", 'top = 20\nprocess = "white-toner"\nwhite_under = "everything"')
    inkjet = edited(decals.printed(raw(text), (0,), "process", "inkjet"), text)["decal"][0]
    assert inkjet == {"art": "a.png", "height": 40, "top": 20, "process": "inkjet"}
    service = edited(decals.printed(raw(text), (0,), "process", "print-service"), text)["decal"][0]
    assert (service["process"], service["white_under"]) == ("print-service", "everything")
    drawn = edited(decals.printed(raw(text), (0,), "white_under", "drawn"), text)["decal"][0]
    assert drawn["white_under"] == "drawn"


def test_a_cut_is_chosen_and_measured() -> None:
    address = Address(way=("decal", 0))
    text = TEXT.replace("top = 20", 'top = 20\ncut = "ink"')
    found = edited(
        (*decals.printed(raw(text), (0,), "cut", "border"), *decals.cut_by(address, "cut_radius", 0.5)), text
    )
    assert found["decal"][0] == {"art": "a.png", "height": 40, "top": 20, "cut": "border", "cut_radius": 0.5}


def test_a_layer_is_left_out_and_printed_again() -> None:
    address = Address(way=("decal", 0))
    out = decals.with_layer(address, ("guide",), "Paint", is_printed=False)
    assert edited(out)["decal"][0]["hide"] == ["guide", "Paint"]
    text = TEXT.replace("top = 20", 'top = 20\nhide = ["guide", "PAINT"]')
    back = decals.with_layer(address, ("guide", "PAINT"), "Paint", is_printed=True)
    assert edited(back, text)["decal"][0]["hide"] == ["guide"]
    none = decals.with_layer(address, ("PAINT",), "Paint", is_printed=True)
    assert "hide" not in edited(none, text)["decal"][0]


def test_in_a_variant_a_decal_is_changed_where_it_is_given() -> None:
    assert table_home(raw(), "decal", 0, "dusk") == Address(way=("decal", 0))  # the layout's own, on the top
    assert table_home(raw(), "decal", 1, "dusk") == Address(way=("decal", 1), variant="dusk")  # counted as shown
    there = table_home(raw(), "decal", 1, "dusk")
    assert edited(decals.sized(there, 30.0))["variants"]["dusk"]["decal"] == [
        {"art": "b.png", "face": "near", "width": 30}
    ]


def test_it_stands_where_it_is_put_in_the_keys_that_measure_it() -> None:
    address = Address(way=("decal", 0))
    after = edited(decals.stood(raw(), address, TOP, (20.0, 40.0), (30.0, 50.0), (False, False)))["decal"][0]
    assert (after["left"], after["top"]) == (20, 30)  # the top of this box does not lean
    text = TEXT.replace("top = 20", "bottom = 20")
    after = edited(decals.stood(raw(text), address, TOP, (20.0, 40.0), (30.0, 50.0), (True, False)), text)["decal"][0]
    assert "left" not in after
    assert after["bottom"] == pytest.approx(TOP.height_mm - 70.0, abs=0.006)
    assert "top" not in after
