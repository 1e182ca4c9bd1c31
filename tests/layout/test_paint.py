"""Paint in a layout: a colour, or a picture with the corners of a photograph."""

from __future__ import annotations

import numpy as np
import pytest

from mockup.layout.edit.apply import apply
from mockup.layout.edit.assignment import Assignment, assign
from mockup.layout.paint import without_picture
from mockup.layout.parse import parse
from mockup.layout.resolve import assets, refinish, resolve
from mockup.model.edit import Address, PutValue
from mockup.model.errors import InputError
from mockup.model.finish import Artwork

BOX = '[box]\nsize = "112x60x31"\n'
PHOTO = f'{BOX}[finish]\npaint = "photo.jpg" # both tones\npaint_corners = "10,10 90,10 90,150 10,150"\n'


def photo(name: str = "photo.jpg") -> dict[str, Artwork]:
    """A grey picture with a white half between the corners of `PHOTO`."""
    pixels = np.full((160, 100, 4), 255, np.uint8)
    pixels[..., :3] = 80
    pixels[10:150, 50:90, :3] = 255
    return {name: Artwork(name=name, pixels=pixels)}


def test_a_picture_is_straightened_between_its_corners_and_its_mean_stands_for_it() -> None:
    layout = parse(PHOTO, "layout.toml")
    assert assets(layout) == ("photo.jpg",)
    finish = resolve(layout, photo()).finish
    assert finish.picture is not None
    assert finish.picture.pixels[:, 5].max() == 80
    assert finish.picture.pixels[:, -5].min() == 255
    # half of 1 and half of the light of code 80: 0.0802, IEC 61966-2-1; 0.5401 is code 193
    assert finish.paint == pytest.approx((193 / 255,) * 3, abs=0.006)


def test_bare_metal_shows_no_picture() -> None:
    text = PHOTO + 'sheen = "bare"\n'
    assert resolve(parse(text, "layout.toml"), photo()).finish.picture is None


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        ('paint = "teall"', "paint: 'teall' is not a colour; did you mean 'teal'?"),
        ('paint = "../photo.jpg"', "leads out of the layout's folder"),
        ('paint = "gone.png"', 'paint: there is no picture "gone.png"; put it next to the layout, correct the name'),
        ('paint = "photo.jpg"\npaint_corners = "1,2 3,4"', "paint_corners: '1,2 3,4' is not four points; count pixels"),
        ('paint = "photo.jpg"\npaint_corners = 7', "paint_corners: expected text, found 7; put it in quotes"),
        (
            'paint = "photo.jpg"\npaint_corners = "10,10 10,150 90,150 90,10"',
            "paint_corners: the corners do not run clockwise round the face; give them so",
        ),
    ],
)
def test_what_cannot_be_is_one_line(keys: str, said: str) -> None:
    with pytest.raises(InputError) as caught:
        resolve(parse(f"{BOX}[finish]\n{keys}\n", "layout.toml"), photo())
    assert len(caught.value.faults) == 1
    assert said in str(caught.value)


def test_a_variant_has_its_own_paint_without_the_corners_of_another_photograph() -> None:
    text = PHOTO + '[variants.plain]\nfinish = { paint = "teal" }\n[variants.wood]\nfinish = { paint = "wood.png" }\n'
    layout = parse(text, "layout.toml")
    assert resolve(layout, {}, "plain").finish.paint == (0.0, 128 / 255, 128 / 255)
    assert assets(layout, "wood") == ("wood.png",)
    wood = resolve(layout, photo("wood.png"), "wood").finish.picture
    assert wood is not None
    assert wood.pixels.shape == (160, 100, 3)  # all of it
    assert wood.file_px == (100, 160)
    straight = resolve(layout, photo()).finish.picture
    assert straight is not None
    assert straight.file_px is None, "corners give it the face's shape"


def test_an_edit_writes_a_picture_and_takes_the_old_corners_along() -> None:
    text = apply(PHOTO, [PutValue(address=Address(way=("finish", "paint")), value="wood.png")], "layout.toml")
    assert text == BOX + '[finish]\npaint = "wood.png" # both tones\n'


def test_the_paint_alone_is_set_without_resolving_all_else_again() -> None:
    layout = parse(f'{BOX}[finish]\npaint = "teal"\n', "layout.toml")
    changed = assign(layout, None, [Assignment(key="finish.paint", value="photo.jpg", origin="--set")])
    whole, part = resolve(changed, photo()), refinish(resolve(layout, {}), changed, photo())
    assert part.finish.paint == whole.finish.paint
    assert part.finish.picture is not None
    with pytest.raises(InputError, match='there is no picture "photo'):
        refinish(whole, changed, {})


def test_what_cannot_wait_for_a_picture_sees_white() -> None:
    table = {"paint": "photo.jpg", "paint_corners": "10,10 90,10 90,150 10,150", "sheen": "matte"}
    assert without_picture(table) == {"paint": "white", "sheen": "matte"}
    assert without_picture({"paint": "teal"}) == {"paint": "teal"}
