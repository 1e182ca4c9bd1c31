"""Names for new parts."""

from __future__ import annotations

from part_bench import KINDS

from mockup import hardware
from mockup.arrange.names import numbered, suggested


def test_jacks_are_in_then_out() -> None:
    assert suggested(KINDS["jack-open"], []) == "IN"
    assert suggested(KINDS["jack-enclosed"], ["IN"]) == "OUT"


def test_a_name_is_never_taken_twice() -> None:
    for kind in hardware.kinds().values():
        names: list[str] = []
        for _ in range(9):
            names.append(suggested(kind, names))
        assert len(set(names)) == 9


def test_names_are_numbered_from_two() -> None:
    assert numbered("TONE", ["TONE"]) == "TONE 2"
    assert numbered("TONE 2", ["TONE", "TONE 2"]) == "TONE 3"
    assert numbered("TONE", []) == "TONE"
    assert numbered("7", ["7"]) == "7 2"
