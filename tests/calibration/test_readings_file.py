"""The readings file and the kept printers: what is right is read, what is wrong is one line."""

from __future__ import annotations

import json
import tomllib

import numpy as np
import pytest

from mockup.calibration import kept
from mockup.calibration.readings import parse, readings, template
from mockup.calibration.strip import PATCHES
from mockup.films import films
from mockup.model.errors import InputError
from mockup.model.printer import Printer

TYPED = """
film = "white"
[card]
bare = "white"
cyan = "#00a0d0"
[[scrap]]
paint = "teal"
cyan = "#005060"
[[scrap]]
paint = "#102030"
bare = "#e8eae6"
"""


def test_typed_colours_are_read_as_written() -> None:
    strips = parse(TYPED, "readings.toml")
    assert strips.photos == ()
    found = readings(strips, {})
    assert found.film.name == "white"
    assert found.names == ("bare", "cyan")  # in the strip's order
    assert found.printed.tolist() == [[1, 1, 1], [0, 1, 1]]
    assert np.rint(found.card * 255).tolist() == [[255, 255, 255], [0, 0xA0, 0xD0]]
    assert np.rint(found.scraps[0].paint * 255).tolist() == [0, 128, 128]  # CSS teal
    assert np.isnan(found.scraps[0].seen[0]).all()
    assert np.rint(found.scraps[0].seen[1] * 255).tolist() == [0, 0x50, 0x60]
    assert np.isnan(found.scraps[1].seen[1]).all()
    assert found.notes == ()


def test_photographs_are_named_with_their_points() -> None:
    strips = parse(
        '[card]\nphoto = "a.jpg"\nwhite = [9, 9]\nfirst = [1, 2]\nlast = [30, 4.5]\n'
        '[[scrap]]\nphoto = "b.jpg"\nwhite = [9, 9]\npaint = [5, 6]\ncyan = "#00a0d0"\nbare = [7, 8]',
        "r.toml",
    )
    assert strips.photos == ("a.jpg", "b.jpg")
    assert strips.card.points is not None
    assert (strips.card.points.first, strips.card.points.last) == ((1, 2), (30, 4.5))
    scrap = strips.scraps[0]
    assert scrap.points is not None
    assert scrap.points.own == {"paint": (5, 6), "bare": (7, 8)}
    assert set(scrap.colours) == {"cyan"}


def test_template_is_a_readings_file_that_lacks_only_the_readings() -> None:
    text = template()
    assert set(tomllib.loads(text)) == {"film", "card", "scrap"}
    assert all(text.count(f'# {name} = "#rrggbb"') == 2 for name in PATCHES)
    with pytest.raises(InputError, match=r"^r\.toml: \[\[scrap\]\] 1 paint: missing; give the bare paint"):
        parse(text, "r.toml")
    # filled in, it reads
    parse(text.replace("# paint = ", "paint = ").replace('"#rrggbb"', '"#112233"'), "r.toml")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("film = ", "r.toml: line 1, column 8: not valid TOML"),
        ('[[scrap]]\npaint = "red"', "r.toml: [card] missing; write [card]"),
        ('[card]\ncyan = "teal"', "r.toml: [[scrap]] missing; write [[scrap]], once for each painted scrap"),
        ('film = "foil"\n[card]\n[[scrap]]\npaint="red"', 'r.toml: film: expected "clear" or "white", found "foil"'),
        ('paper = 1\n[card]\n[[scrap]]\npaint="red"', "r.toml: paper: unknown key; use one of: card, film, scrap"),
        ('[card]\ncian = "red"\n[[scrap]]\npaint="red"', "r.toml: [card] cian: unknown patch; did you mean 'cyan'?"),
        ('[card]\ncyan = "tael"\n[[scrap]]\npaint="red"', "r.toml: [card] cyan: 'tael' is not a colour; did you mean"),
        ('[card]\ncyan = 3\n[[scrap]]\npaint="red"', 'r.toml: [card] cyan: expected a colour such as "#2a6f6b"'),
        ('[card]\ncyan = [1]\n[[scrap]]\npaint="red"', "r.toml: [card] cyan: expected a point such as [812, 640]"),
        ('[card]\ncyan = [1, nan]\n[[scrap]]\npaint="red"', "r.toml: [card] cyan: expected a point"),
        ('[card]\ncyan = [1, 2]\n[[scrap]]\npaint="red"', "r.toml: [card] cyan: a point needs a photograph"),
        ('[card]\nphoto = "a.jpg"\n[[scrap]]\npaint="red"', "r.toml: [card] white: missing; give the point of the"),
        ('[card]\nphoto = 3\nwhite=[1,2]\n[[scrap]]\npaint="red"', "r.toml: [card] photo: expected a file's name"),
        ('[card]\nphoto = "a"\nwhite = "red"\n[[scrap]]\npaint="red"', "r.toml: [card] white: expected a point in the"),
        (
            '[card]\nphoto="a"\nwhite=[1,2]\nfirst=[3,4]\n[[scrap]]\npaint="red"',
            'r.toml: [card] last: missing; give the middle of the patch "pale-yellow" as well',
        ),
        (
            '[card]\nphoto="a"\nwhite=[1,2]\nfirst=[3,4]\nlast=[3,4]\n[[scrap]]\npaint="red"',
            "r.toml: [card] last: first and last are the same point",
        ),
        ('[card]\npaint = "red"\n[[scrap]]\npaint="red"', "r.toml: [card] paint: unknown patch"),
        ("[card]\n[[scrap]]", "r.toml: [[scrap]] 1 paint: missing"),
        ("card = 3\n[[scrap]]\n", "r.toml: [card] expected a table, found 3"),
        ("[card]\n[scrap]\n", "r.toml: [[scrap]] expected tables, found a table"),
    ],
)
def test_every_mistake_is_one_line(text: str, said: str) -> None:
    with pytest.raises(InputError) as caught:
        parse(text, "r.toml")
    assert str(caught.value).startswith(said)
    assert "\n" not in str(caught.value)


def test_a_patch_read_over_paint_alone_is_told() -> None:
    strips = parse('[card]\ncyan = "cyan"\n[[scrap]]\npaint = "red"\nblue = "navy"', "r.toml")
    with pytest.raises(InputError, match=r"r\.toml: \[\[scrap\]\] 1 blue: read over the scrap, but not over the card"):
        readings(strips, {})


# --- kept printers ------------------------------------------------------------------------------------------------

ONE = Printer(
    name="big inkjet – clear",
    film=films()["clear"],
    ink_strength=1.234567890123,
    internal_reflection=0.51,
    errors={"ink_strength": 0.01},
    mean_difference=1.5,
    worst_difference=4.25,
)
TWO = Printer(
    name="a",
    film=films()["white"].measured(0.61, 0.11),
    ink_strength=0.9,
    internal_reflection=0.4,
)


def test_printers_come_back_as_they_were_kept() -> None:
    text = kept.text({each.name: each for each in (ONE, TWO)})
    assert kept.parse(text, "printers.json") == {"a": TWO, "big inkjet – clear": ONE}
    assert list(json.loads(text)["printers"]) == ["a", "big inkjet – clear"]
    assert kept.parse(kept.text({}), "printers.json") == {}


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "printers.json: is not valid JSON (line 1); correct it or remove it, and calibrate again"),
        ('{"printers": {\n"a": ', "printers.json: is not valid JSON (line 2)"),
        ("[" * 100_000, "printers.json: is nested too deeply"),
        ("[]", "printers.json: holds no printers"),
        ('{"printers": 3}', "printers.json: holds no printers"),
        ('{"printers": {"a": 3}}', 'printers.json: printer "a" film: expected "clear" or "white"'),
        (
            '{"printers": {"a": {"film": "clear"}}}',
            'printers.json: printer "a" ink_strength: expected a number from 0.2',
        ),
        (
            kept.text({"a": TWO}).replace("0.61", "7"),
            'printers.json: printer "a" reflectance: expected a number from 0 to 0.999',
        ),
        (kept.text({"a": TWO}).replace("0.9,", "NaN,"), 'printers.json: printer "a" ink_strength: expected a number'),
        (kept.text({"a": TWO}).replace("0.9,", "true,"), 'printers.json: printer "a" ink_strength: expected a number'),
    ],
)
def test_broken_settings_are_one_line(text: str, said: str) -> None:
    with pytest.raises(InputError) as caught:
        kept.parse(text, "printers.json")
    assert str(caught.value).startswith(said)
    assert "\n" not in str(caught.value)
