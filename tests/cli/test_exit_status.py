"""What a command ends with: 0, 1, 2, 3 or 130, one line each, whatever reads its output and whatever breaks inside."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from command import typed

from mockup import files

pytestmark = pytest.mark.slow

LAYOUT = """\
[box]
size = "112x60x31"
[[part]]
name = "TONE"
kind = "pot-16"
left = 15
top = 20
"""
STOPPED = LAYOUT + '[[part]]\nname = "GAIN"\nkind = "pot-16"\nleft = 25\ntop = 20\n'
"""Two pots 10 mm apart, whose bodies are 16 mm wide."""


@pytest.fixture
def place(tmp_path: Path) -> Path:
    (tmp_path / "good.toml").write_text(LAYOUT)
    (tmp_path / "stopped.toml").write_text(STOPPED)
    return tmp_path


def run(place: Path, *args: str, before: str = "", **options: object) -> subprocess.CompletedProcess[str]:
    """Run a command line in a folder; `before` is Python that is run first, to break something inside."""
    if not before and not options:
        return typed(*args, cwd=place, **{files.SETTINGS_FOLDER: str(place / "settings")})
    start = ["-c", f"{before}\nfrom mockup.cli import main\nmain()"] if before else ["-m", "mockup"]
    env = {**os.environ, files.SETTINGS_FOLDER: str(place / "settings"), **options.pop("env", {})}  # type: ignore[dict-item]
    pipes = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE} | options
    command = [sys.executable, *start, *args]
    return subprocess.run(command, cwd=place, text=True, timeout=300, check=False, env=env, **pipes)  # type: ignore[call-overload, no-any-return]


BROKEN = (
    "import mockup.api\ndef broken(*_): raise LookupError('a wire \\x1b came off\\nhere')\nmockup.api.load = broken"
)


def test_nothing_found_findings_and_bad_input(place: Path) -> None:
    assert run(place, "check", "good.toml").returncode == 0
    assert run(place, "check", "stopped.toml").returncode == 1
    missing = run(place, "check", "nothing.toml")
    assert (missing.returncode, missing.stdout, missing.stderr.count("\n")) == (2, "", 1)


def test_a_failure_of_our_own_is_one_line_with_a_file_that_says_more(place: Path) -> None:
    done = run(place, "check", "good.toml", before=BROKEN)
    assert (done.returncode, done.stdout) == (3, "")
    kept = place / "settings" / "failure.txt"
    assert done.stderr == (
        "mockup: this went wrong inside mockup, not in your files (LookupError: a wire ? came off here); "
        f"please report it with the details in {kept}\n"
    )
    told = kept.read_text()
    assert "Traceback" in told
    assert "in broken" in told
    assert "good.toml" in told


def test_debug_shows_where_for_failures_and_for_mistakes(place: Path) -> None:
    for args in (("--debug", "check", "good.toml"), ("check", "good.toml", "--debug")):
        done = run(place, *args, before=BROKEN)
        assert done.returncode == 3
        assert "in broken" in done.stderr
    mistake = run(place, "check", "nothing.toml", "--debug")
    assert mistake.returncode == 2
    assert "Traceback" in mistake.stderr
    assert mistake.stderr.splitlines()[-1].startswith("mockup: nothing.toml: there is no such file")


def test_a_failure_is_told_also_where_nothing_can_be_kept(place: Path) -> None:
    (place / "settings").write_text("a file where the folder should be")
    done = run(place, "check", "good.toml", before=BROKEN)
    assert done.returncode == 3
    assert done.stderr.endswith("; please report it with what this prints once more with --debug\n")
    assert done.stderr.count("\n") == 1


def test_who_stops_reading_takes_the_output_with_him_not_the_exit_status(place: Path) -> None:
    for args in (("check", "stopped.toml"), ("check", "stopped.toml", "--json")):
        ours, theirs = os.pipe()
        os.close(ours)
        done = run(place, *args, stdout=theirs)
        os.close(theirs)
        assert (done.returncode, done.stderr) == (1, "")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="a full disc is played by /dev/full, which only Linux has")
def test_output_onto_a_full_disc_is_one_line(place: Path) -> None:
    for args in (("check", "stopped.toml"), ("parts",), ("--help",), ("schema",)):
        with Path("/dev/full").open("w") as full:
            done = run(place, *args, stdout=full)
        assert (done.returncode, done.stderr) == (
            2,
            "mockup: the output cannot be written (no space left on device)\n",
        ), args
    with Path("/dev/full").open("w") as full:
        assert run(place, "check", "nothing.toml", stdout=full, stderr=full).returncode == 2


@pytest.mark.skipif(sys.platform == "win32", reason="nobody closes them there")
def test_streams_that_were_closed_do_no_harm(place: Path) -> None:
    for streams in (">&-", "2>&-", ">&- 2>&-"):
        command = f"exec {sys.executable} -m mockup check stopped.toml {streams}"
        assert subprocess.run(["sh", "-c", command], cwd=place, check=False, capture_output=True).returncode == 1, (
            streams
        )


def test_what_the_terminal_does_not_know_is_replaced_and_json_stays_json(place: Path) -> None:
    (place / "greek.toml").write_text(STOPPED.replace("TONE", "ΤΌΝΟΣ"), encoding="utf-8")
    env = {"PYTHONIOENCODING": "ascii"}
    plain = run(place, "check", "greek.toml", env=env)
    assert plain.returncode == 1
    assert "?????" in plain.stdout
    told = json.loads(run(place, "check", "greek.toml", "--json", env=env).stdout)
    assert any("ΤΌΝΟΣ" in json.dumps(each, ensure_ascii=False) for each in told["findings"])


@pytest.mark.skipif(sys.platform == "win32", reason="no such signals there")
def test_stopping_is_quiet(place: Path) -> None:
    code = (
        "import mockup.api, time\ndef slow(*_): print('ready', flush=True); time.sleep(60)\nmockup.api.load = slow\n"
        "from mockup.cli import main\nmain()"
    )
    command = [sys.executable, "-c", code, "check", "good.toml"]
    process = subprocess.Popen(command, cwd=place, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    assert process.stdout is not None
    process.stdout.readline()
    time.sleep(0.1)
    process.send_signal(signal.SIGINT)
    _, said = process.communicate(timeout=60)
    assert (process.returncode, said) == (130, "stopped; nothing was written\n")


NAMES = {"control characters": b"ti\x1b[31mde\x07", "no UTF-8": b"caf\xe9", "turned about": "\u202egnp".encode()}


@pytest.mark.skipif(sys.platform != "linux", reason="elsewhere such names cannot be made")
@pytest.mark.parametrize("name", NAMES)
def test_a_folder_of_any_name_works_and_shows_nothing_that_is_not_printable(place: Path, name: str) -> None:
    from mockup.model.text import printable

    folder = Path(os.fsdecode(os.fsencode(place) + b"/" + NAMES[name]))
    assert run(place, "new", str(folder)).returncode == 0
    for args in (
        ("check", str(folder / "layout.toml")),
        ("check", str(folder / "layout.toml"), "--json"),
        ("template", str(folder / "layout.toml"), "-o", "page.svg", "--json"),
        ("check", str(folder / "nothing.toml")),
    ):
        done = run(place, *args)
        assert done.returncode == (2 if "nothing" in args[1] else 0), done.stderr
        for line in (*done.stdout.splitlines(), *done.stderr.splitlines()):
            assert printable(line) == line, args
        if "--json" in args:
            json.loads(done.stdout)
    page = (place / "page.svg").read_text(encoding="utf-8")
    assert all(printable(line) == line for line in page.split("\n"))
