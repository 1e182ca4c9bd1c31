"""Findings from a process of its own are those of the command, and nothing that befalls it reaches the window."""

from __future__ import annotations

from pathlib import Path

import mockup
from mockup.window.work import project
from mockup.window.work.check_runner import CheckRequest, CheckResult, CheckRunner

LAYOUT = """\
[box]
size = "112x60x31"
[[part]]
name = "TONE"
kind = "pot-16"
left = 15
top = 20
[[part]]
name = "GAIN"
kind = "pot-16"
left = 25
top = 20
"""


def place_of(tmp_path: Path, text: str = LAYOUT) -> project.Project:
    (tmp_path / "layout.toml").write_text(text)
    return project.opened(tmp_path)


def test_findings_are_those_of_the_command_also_for_an_edited_text(tmp_path: Path) -> None:
    place = place_of(tmp_path, LAYOUT.replace("left = 25", "left = 40"))
    wanted = mockup.check(mockup.loads(LAYOUT))
    assert any(finding.severity == "stop" for finding in wanted), "two pots 10 mm apart overlap"
    got: list[CheckResult] = []
    checker = CheckRunner(got.append)
    first = CheckRequest(project=place, text=LAYOUT)
    checker.request(first)
    assert checker.jobs.idle(120)
    assert got[0].question == first
    assert got[0].findings == wanted
    assert got[0].faults == ()

    assert checker._aside._process is not None
    checker._aside._process.kill()
    checker._aside._process.wait()
    checker.request(CheckRequest(project=place, text="[box\n"))
    assert checker.jobs.idle(120)
    assert got[1].findings == ()
    assert len(got[1].faults) == 1
    assert "not valid TOML" in got[1].faults[0], "it started again and read the text"
    checker.close()
    assert checker._aside._process is None


def test_closing_while_it_thinks_waits_for_nobody(tmp_path: Path) -> None:
    got: list[CheckResult] = []
    checker = CheckRunner(got.append)
    checker.request(CheckRequest(project=place_of(tmp_path)))
    checker.close()
    assert got == []
