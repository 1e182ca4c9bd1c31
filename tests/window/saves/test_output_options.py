"""Every output's options as controls: each has one, and what a control holds at first is the option's default."""

from __future__ import annotations

from pathlib import Path

import pytest

from mockup.model.errors import InputError
from mockup.outputs import OUTPUTS
from mockup.window.saves import output_options
from mockup.window.saves.output_options import TARGET, all_fields, at_first, choices, fields, suffixes, values


@pytest.mark.parametrize("output", OUTPUTS.names())
def test_untouched_controls_give_the_defaults(output: str) -> None:
    found = values(output, {})
    assert found.pop("date", "") is not None  # the day is today's, and no default
    plain = {field.name: field.default for field in all_fields(output)}
    assert {name: plain[name] for name in found} == found
    unasked = {"others", "variant", "printer", "open_stops", "as_built", "series", TARGET}  # the window knows them
    assert {field.name for field in fields(output)} == set(plain) - unasked
    for field in fields(output):
        assert field.help
        assert not choices(field) or at_first(field) in choices(field)


@pytest.mark.parametrize("output", OUTPUTS.names())
def test_every_output_says_what_kinds_of_file_it_writes(output: str) -> None:
    assert suffixes(output)
    assert all(kind.startswith(".") for kind in suffixes(output))


def test_what_is_typed_becomes_a_value() -> None:
    found = values("jig", {"fit": " 0.3 ", "sides": True})
    assert (found["fit"], found["sides"]) == (0.3, True)
    assert values("sheet", {"copies": "3", "dpi": ""})["copies"] == 3
    assert values("log", {"size": "640x480"})["size"] == (640, 480)


@pytest.mark.parametrize(
    ("output", "given", "told"),
    [
        ("jig", {"fit": "wide"}, "--fit: 'wide' is not a number"),
        ("sheet", {"copies": "2.5"}, "--copies: '2.5' is not a whole number"),
        ("log", {"size": "big"}, "--size: 'big' is not a size"),
        ("sheet", {"icc": "/no/such.icc"}, "no such file"),
    ],
)
def test_what_makes_no_sense_is_told_in_one_line(output: str, given: dict[str, str], told: str) -> None:
    with pytest.raises(InputError, match=told) as caught:
        values(output, given)
    assert "\n" not in str(caught.value)


def test_a_profile_is_read(tmp_path: Path) -> None:
    (tmp_path / "mine.icc").write_bytes(b"profile")
    assert output_options.values("sheet", {"icc": str(tmp_path / "mine.icc")})["icc"] == ("mine.icc", b"profile")
