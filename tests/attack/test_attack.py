"""A seeded part of the attack: damage to every kind of file, bad inputs as typed, kills at random moments.

More of the same, with other seeds: `python tests/attack/long.py --minutes 30` (see DEVELOPERS.md).
"""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from bad_inputs import BAD, lay_sound, raw_folder
from command import Shell
from kills import killed
from mutations import damaged, flipped, sound
from oracle import LIMIT_S, begin, contents, faults, is_misread, seeded, trouble

pytestmark = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="pipes, devices and forks are asked for")

SOUND = sound()
PORTION = {"layout.toml": 120, "art.svg": 60, "face.ttf": 40}  # of damaged files; of the other kinds 80
SEED = 14


@pytest.fixture(scope="module", autouse=True)
def warm() -> None:
    begin(SOUND)


@pytest.fixture(scope="module")
def shell(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shell]:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("MOCKUP_SETTINGS", str(tmp_path_factory.mktemp("settings")))
        patch.setenv("MOCKUP_CACHE", str(tmp_path_factory.mktemp("cache")))
        made = Shell()
        yield made
        made.close()


@pytest.mark.parametrize("name", SOUND)
def test_a_sound_file_is_read(name: str) -> None:
    assert trouble(name, SOUND[name]) == ""


@pytest.mark.parametrize("name", SOUND)
def test_damage_is_answered_or_refused_in_plain_lines(name: str) -> None:
    for number in range(PORTION.get(name, 80)):
        said = trouble(name, damaged(SOUND[name], seeded(SEED, name, number)))
        assert not said, f"{name}, seed {SEED}/{name}/{number}: {said}"


@pytest.mark.parametrize("name", ["art.png"])
def test_a_flipped_bit_never_shows_another_picture(name: str) -> None:
    bad = [number for number in range(80) if is_misread(name, flipped(SOUND[name], seeded(SEED, number)), SOUND[name])]
    assert bad == []


@pytest.mark.slow
@pytest.mark.parametrize("name", BAD)
def test_a_bad_input_is_refused_as_typed(name: str, shell: Shell, tmp_path: Path) -> None:
    bad, folder = BAD[name], tmp_path / "sea"
    lay_sound(folder)
    bad.lay(folder)
    before = contents(folder)
    answer = shell.run(*bad.args, cwd=folder, out=bad.out, limit_s=LIMIT_S)
    assert faults(answer, before, contents(folder)) == []
    if bad.status is not None:
        assert answer.status == bad.status, answer


def test_a_folder_whose_name_is_no_text_works_or_is_refused(shell: Shell, tmp_path: Path) -> None:
    folder = raw_folder(tmp_path)
    before = contents(folder)
    answer = shell.run("check", "layout.toml", "--only", "margins", cwd=folder, limit_s=LIMIT_S)
    assert faults(answer, before, contents(folder)) == []
    assert "\x1b" not in answer.out + answer.err


@pytest.mark.slow
@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="this system has no SIGKILL")
def test_killed_at_random_moments_no_set_is_mixed(tmp_path: Path) -> None:
    ended = killed(tmp_path, 60, seeded(SEED, os.getpid() if os.environ.get("CI") is None else SEED))
    assert (ended.kills, ended.mixed, ended.left) == (60, 0, 0)
