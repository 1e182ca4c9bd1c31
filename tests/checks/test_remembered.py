"""Checks with a memory find the same as without, and do not run where nothing they read has changed."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

import pytest

sys.path.append(str(Path(__file__).parent.parent / "comparison"))  # for sweep_bench, which is no test
from sweep_bench import project

import mockup
from mockup.checks import bodies, contrast, knob_gaps, visibility
from mockup.checks.report.remembered import Remembered
from mockup.checks.report.run import run
from mockup.films import films
from mockup.model.design import Design


@pytest.fixture
def design(tmp_path: Path) -> Design:
    return mockup.load(project(tmp_path))


def test_one_change_after_another_is_found_out(design: Design) -> None:
    tone = design.parts[0]
    changes = [
        design,
        replace(design, finish=replace(design.finish, paint=(0.0, 0.0, 0.0))),
        replace(design, parts=(replace(tone, u_mm=8.0), replace(tone, name="GAIN", u_mm=14.0))),
        replace(
            design,
            decals=(replace(design.decals[0], film=films()["white"]),),
            labels=design.labels[:1],
            limits={"web_mm": 90.0},
        ),
        design,
    ]
    memory = Remembered()
    found = [memory.run(each)[1] for each in changes]
    assert found == [run(each) for each in changes]
    assert len({repr(each) for each in found}) >= 4, "the changes matter"


def test_a_check_that_does_not_see_the_paint_is_not_run_again(design: Design, monkeypatch: pytest.MonkeyPatch) -> None:
    runs: list[str] = []
    for module in (bodies, contrast, knob_gaps, visibility):

        def counted(built, limits, check=module.check, home=module):  # type: ignore[no-untyped-def]
            runs.append(home.__name__.rpartition(".")[2])
            return check(built, limits)

        monkeypatch.setattr(module, "check", counted)
    memory = Remembered()
    memory.run(design)
    assert sorted(runs) == ["bodies", "contrast", "knob_gaps", "visibility"]
    runs.clear()
    memory.run(replace(design, finish=replace(design.finish, paint=(0.2, 0.3, 0.4))))
    assert runs == ["contrast"]
    runs.clear()
    memory.run(replace(design, labels=()))
    assert sorted(runs) == ["contrast", "visibility"]


def test_geometry_is_shared_while_box_and_parts_stay(design: Design) -> None:
    memory = Remembered()
    first, _ = memory.run(design)
    second, _ = memory.run(replace(design, finish=replace(design.finish, paint=(0.2, 0.3, 0.4))))
    assert second.design.finish.paint == (0.2, 0.3, 0.4)
    assert second.shell is first.shell
    third, _ = memory.run(replace(design, parts=(replace(design.parts[0], v_mm=40.0),)))
    assert third.shell is not first.shell
