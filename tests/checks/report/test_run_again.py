"""A design checked after another: the same findings as without memory, and no check runs for what it does not read."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

import pytest

sys.path.append(str(Path(__file__).parents[2] / "comparison"))  # for sweep_bench, which is no test
from sweep_bench import project

import mockup
from mockup.checks import bodies, contrast, knob_gaps, visibility
from mockup.checks.panel.built import Built
from mockup.checks.report.run import run
from mockup.clearance.placed import placed
from mockup.clearance.walls import metal
from mockup.films import films
from mockup.memo import MEMORY
from mockup.model.design import Design
from mockup.model.finding import Finding

pytestmark = pytest.mark.slow


@pytest.fixture
def design(tmp_path: Path) -> Design:
    return mockup.load(project(tmp_path))


def afresh(design: Design) -> tuple[Finding, ...]:
    MEMORY.clear()
    return run(design)


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
            limits={"letter_arcmin": 90.0},
        ),
        design,
    ]
    expected = [afresh(each) for each in changes]
    MEMORY.clear()
    assert [run(each) for each in changes] == expected
    assert len({repr(each) for each in expected}) >= 4, "the changes matter"


def test_a_check_that_does_not_read_the_paint_is_not_run_again(design: Design, monkeypatch: pytest.MonkeyPatch) -> None:
    runs: list[str] = []
    for module in (bodies, contrast, knob_gaps, visibility):

        def counted(built, check=module.check, home=module):  # type: ignore[no-untyped-def]
            runs.append(home.__name__.rpartition(".")[2])
            return check(built)

        monkeypatch.setattr(module, "check", counted)
    run(design)
    assert sorted(runs) == ["bodies", "contrast", "knob_gaps", "visibility"]
    runs.clear()
    run(replace(design, finish=replace(design.finish, paint=(0.2, 0.3, 0.4))))
    assert runs == ["contrast"]
    runs.clear()
    run(replace(design, labels=()))
    assert sorted(runs) == ["contrast", "visibility"]


def test_what_of_the_box_stays_is_built_once(design: Design) -> None:
    first, tone, box = Built(design), design.parts[0], design.enclosure
    painted = Built(replace(design, finish=replace(design.finish, paint=(0.2, 0.3, 0.4))))
    assert painted.shell is first.shell
    moved = Built(replace(design, parts=(replace(tone, v_mm=40.0), replace(tone, name="GAIN"))))
    assert moved.shell is not first.shell
    assert metal(box, "top") is metal(replace(box), "top")
    before, after = placed(box, tone, {}), placed(box, replace(tone, v_mm=40.0), {})
    assert before is not after
    assert before.body.shape is after.body.shape, "a part that is only moved keeps its shape"
    assert placed(box, replace(tone), {}) is before, "an equal part in the same place"
