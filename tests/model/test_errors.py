"""One mistake, one line; the nearest name as the remedy."""

from __future__ import annotations

import pytest

from mockup.model.errors import EngineError, Fault, InputError, MockupError, OutputError, nearest


def test_a_fault_names_file_table_key_finding_and_remedy_in_one_line():
    fault = Fault(file="layout.toml", table='[[part]] "TONE"', key="left", what="off the face", remedy="move it")
    assert str(fault) == 'layout.toml: [[part]] "TONE" left: off the face; move it'


def test_empty_places_leave_no_gaps_and_line_breaks_are_closed_up():
    assert str(Fault(file="layout.toml", what="is\nempty")) == "layout.toml: is empty"
    assert str(Fault(file="layout.toml", key="units", what="missing")) == "layout.toml: units: missing"


def test_an_input_error_lists_every_fault_in_order():
    faults = [Fault(file="a", what="one"), Fault(file="b", what="two")]
    assert str(InputError(faults)) == "a: one\nb: two"
    assert InputError(faults).faults == tuple(faults)
    assert InputError(faults[0]).faults == (faults[0],)


def test_of_many_mistakes_ten_are_shown_and_the_rest_counted():
    error = InputError(Fault(file="a", what=f"mistake {number}") for number in range(5000))
    assert error.lines == (*(f"a: mistake {number}" for number in range(10)), "and 4990 more")
    assert len(error.faults) == 5000
    assert InputError(error.faults[:10]).lines == error.lines[:10]
    assert OutputError("out.png: cannot be written").lines == ("out.png: cannot be written",)


@pytest.mark.parametrize("long", ["file", "table", "key", "what", "remedy"])
def test_a_line_that_is_shown_can_be_read(long):
    """Whatever is long, the line has at most 300 characters, and begins and ends as it did."""
    words = {"file": "f", "table": "t", "key": "k", "what": "is wrong", "remedy": "do this"}
    words[long] = "start " + "x" * 5000 + " end"
    line = str(Fault(**words))
    assert len(line) <= 300
    assert line.startswith("start" if long == "file" else "f: ")
    assert line.endswith("end" if long == "remedy" else "do this")
    assert all(words[each] in line for each in words if each != long)


@pytest.mark.parametrize("family", [InputError, EngineError, OutputError])
def test_every_error_is_of_the_one_family(family):
    assert issubclass(family, MockupError)


@pytest.mark.parametrize(
    ("name", "remedy"),
    [
        ("pot-61", "did you mean 'pot-16'?"),
        ("POT_16", "did you mean 'pot-16'?"),
        ("foot switch", "did you mean 'footswitch'?"),
        ("banjo", "use one of: footswitch, pot-16, toggle"),
    ],
)
def test_the_nearest_name_ignores_case_hyphens_and_blanks(name, remedy):
    assert nearest(name, ["pot-16", "toggle", "footswitch"]) == remedy
