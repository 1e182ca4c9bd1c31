"""Findings from a process of its own are those of the command, and nothing that befalls it reaches the window."""

from __future__ import annotations

import io
from pathlib import Path

import pytest

import mockup
from mockup.window import checking, project
from mockup.window.assets import Shelf
from mockup.window.checking import Answer, Checker, Question

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
    got: list[Answer] = []
    checker = Checker(got.append)
    first = checker.request(Question(project=place, text=LAYOUT))
    assert checker.idle(120)
    assert got[0].question.number == first
    assert got[0].findings == wanted
    assert got[0].faults == ()

    assert checker._process is not None
    checker._process.kill()
    checker._process.wait()
    checker.request(Question(project=place, text="[box\n"))
    assert checker.idle(120)
    assert got[1].findings == ()
    assert len(got[1].faults) == 1
    assert "not valid TOML" in got[1].faults[0], "it started again and read the text"
    checker.close()
    assert checker._process is None


def test_closing_while_it_thinks_waits_for_nobody(tmp_path: Path) -> None:
    got: list[Answer] = []
    checker = Checker(got.append)
    checker.request(Question(project=place_of(tmp_path)))
    checker.close()
    assert got == []


def test_a_broken_message_ends_the_process_quietly() -> None:
    for data in (b"", b"\x00" * 3, (5).to_bytes(8, "big") + b"junk!", (99).to_bytes(8, "big")):
        out = io.BytesIO()
        checking.serve(io.BytesIO(data), out)
        assert out.getvalue() == b""


def test_a_check_that_fails_is_told_in_one_line(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from mockup.checks import _run

    def broken(_: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr(_run, "run", broken)
    answer = checking.answer(Question(project=place_of(tmp_path)), Shelf())
    assert answer.faults == ("the checks failed (ZeroDivisionError); please report it",)
