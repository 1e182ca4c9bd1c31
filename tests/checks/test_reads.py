"""No check reads more of a design than it declares: what it does not name may change without it."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from dataclasses import fields, replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from art_desk import MIDDLE, decal, label, part, pedal

sys.path.append(str(Path(__file__).parent.parent / "comparison"))  # for sweep_bench, which is no test
from sweep_bench import project

import mockup
from mockup.checks import CHECKS
from mockup.checks.panel.built import Built
from mockup.finishes import sheens
from mockup.model.design import Design

FIELDS = frozenset(each.name for each in fields(Design)) - {"limits"}  # every check may read those
NOISE = np.random.default_rng(0).integers(0, 256, (240, 130, 4), np.uint8)
CROWD = [  # each broken by something, so that remedies are looked for as well
    part("DRIVE", "pot-16", MIDDLE, 30, style="bar"),
    part("TONE", "pot-16", MIDDLE + 13, 33, style="barrel"),
    part("BYPASS", "footswitch", MIDDLE - 8, 52),
    part("IN", "jack-open", 40, 9, face="far"),
    part("OUT", "jack-open", 44, 11, face="near"),
]
LABELS = [label("DRIVE", MIDDLE, 45, 10), label("OFF", -30, 200, 3, 1e-3)]


class Watched(Design):
    """A design that notes which of its fields are read."""

    def __getattribute__(self, name: str) -> Any:
        if name in FIELDS:
            object.__getattribute__(self, "__dict__").setdefault("seen", set()).add(name)
        return object.__getattribute__(self, name)


def watched(design: Design) -> Design:
    found = object.__new__(Watched)
    found.__dict__.update(vars(design))
    return found


@pytest.fixture(scope="module")
def designs(tmp_path_factory: pytest.TempPathFactory) -> list[Design]:
    crowd = pedal(decal(NOISE), CROWD, sheen="matte")
    bench = mockup.load(project(tmp_path_factory.mktemp("reads")))
    return [crowd, replace(crowd, labels=tuple(LABELS), finish=replace(crowd.finish, sheen=sheens()["bare"])), bench]


def reads(name: str, designs: list[Design]) -> Iterator[frozenset[str]]:
    for design in designs:
        seen = watched(design)
        list(CHECKS.load(name).check(Built(seen)))
        yield frozenset(vars(seen).get("seen", ()))


@pytest.mark.parametrize("name", CHECKS.names())
def test_a_check_reads_no_more_than_it_declares(name: str, designs: list[Design]) -> None:
    declared = frozenset(CHECKS.load(name).READS)
    assert declared <= FIELDS
    found = frozenset[str]().union(*reads(name, designs))
    assert found, "it reads nothing"
    assert found <= declared


def test_the_watch_sees_what_is_read(designs: list[Design]) -> None:
    seen = watched(designs[0])
    assert Built(seen).bores
    assert "parts" in vars(seen)["seen"]
    assert "finish" not in vars(seen)["seen"]
