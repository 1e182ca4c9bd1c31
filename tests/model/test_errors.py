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
