"""The readings file and the kept printers: what is right is read, what is wrong is one line."""

from __future__ import annotations

import json
import tomllib
from dataclasses import replace

import numpy as np
import pytest

from mockup.calibration import kept
from mockup.calibration.readings import parse, template
from mockup.calibration.strip import patches
from mockup.films import films
from mockup.model.errors import InputError
from mockup.model.finish import InkProfile
from mockup.model.printer import Printer

TYPED = """
film = "white"
settings = "photo paper, best"
a1 = "white"
a2 = "#00a0d0"
e6 = "teal"
film_over_black = "#202020"
black = "#101010"
"""


def test_typed_colours_are_read_as_written() -> None:
    told = parse(TYPED, "readings.toml")
    found = told.readings
    assert (found.film.name, found.size, told.words) == ("white", 30, {"settings": "photo paper, best"})
    assert set(found.colours) == {"a1", "a2", "e6"}
    assert found.colours["a1"].tolist() == [1, 1, 1]
    # 0xA0 = 160: ((160 / 255 + 0.055) / 1.055)^2.4 = 0.3515; 0xD0 = 208: 0.6308 (IEC 61966-2-1)
    assert found.colours["a2"] == pytest.approx([0.0, 0.3515, 0.6308], abs=1e-4)
    assert found.over_black == pytest.approx(np.full(3, 0.01444), abs=1e-5)  # ((32 / 255 + 0.055) / 1.055)^2.4
    assert parse('a1 = "white"\nd4 = "red"', "r").readings.size == 22


@pytest.mark.parametrize("size", [22, 30])
def test_template_is_a_readings_file_that_lacks_only_the_readings(size: int) -> None:
    text = template(size)
    assert set(tomllib.loads(text)) == {"film"}
    assert all(text.count(f'# {name} = "#rrggbb"') == 1 for name in patches(size))
    filled = "\n".join(line.removeprefix("# ") if '= "#rrggbb"' in line else line for line in text.splitlines())
    found = parse(filled.replace('"#rrggbb"', '"#112233"'), "r.toml").readings
    assert set(found.colours) == set(patches(size))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("film = ", "r.toml: line 1, column 8: not valid TOML"),
        ('film = "foil"', 'r.toml: film: expected "clear" or "white", found "foil"'),
        ('a9 = "red"', "r.toml: a9: unknown key; "),
        ('a2 = "tael"', "r.toml: a2: 'tael' is not a colour; did you mean"),
        ("a2 = 3", 'r.toml: a2: expected a colour such as "#2a6f6b", found 3'),
        ("a2 = [1, 2]", 'r.toml: a2: expected a colour such as "#2a6f6b", found'),
        ('black = "#101010"', "r.toml: film_over_black: missing; black says nothing without it"),
        ('settings = "a\\nb"', "r.toml: settings: expected at most 120 characters in one line"),
    ],
)
def test_every_mistake_is_one_line(text: str, said: str) -> None:
    with pytest.raises(InputError) as caught:
        parse(text, "r.toml")
    assert str(caught.value).startswith(said)
    assert "\n" not in str(caught.value)


# --- kept printers ------------------------------------------------------------------------------------------------

STRIP = InkProfile(
    ground=(0.9, 0.875, 0.75), printed=((0.0, 1.0, 1.0), (0.27, 0.73, 0.5)), read=((52.5, -30.25, -41.0), (60.0, 1, 2))
)
ONE = Printer(
    name="big inkjet – clear",
    film=replace(films()["clear"].measured(0.0, 1.0, 0.0123), profile=STRIP),
    strip=STRIP,
    forecast=1.5,
    plain=6.25,
    date="2026-11-28",
    paper="glossy photo paper",
    settings="best, no colour management",
)
TWO = Printer(name="a", film=films()["white"].measured(0.61, 0.11), strip=STRIP)


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
        ('{"printers": {"a": {"film": "clear"}}}', 'printers.json: printer "a" reflectance: expected a number from 0'),
        (
            kept.text({"a": TWO}).replace("0.61", "7"),
            'printers.json: printer "a" reflectance: expected a number from 0',
        ),
        (kept.text({"a": ONE}).replace("0.0123", "NaN"), 'printers.json: printer "a" haze: expected a number from 0'),
        (kept.text({"a": ONE}).replace("52.5", "true"), 'printers.json: printer "a" strip: expected a number from'),
        (kept.text({"a": ONE}).replace("52.5,", ""), 'printers.json: printer "a" strip: expected 6 numbers in a row'),
        (
            kept.text({"a": ONE}).replace("0.875", "9"),
            'printers.json: printer "a" ground: expected a number from',
        ),
    ],
)
def test_broken_settings_are_one_line(text: str, said: str) -> None:
    with pytest.raises(InputError) as caught:
        kept.parse(text, "printers.json")
    assert str(caught.value).startswith(said)
    assert "\n" not in str(caught.value)
