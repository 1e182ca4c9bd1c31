"""``mockup check`` as a builder types it: table, JSON, exit status, picture."""

from __future__ import annotations

import json
import subprocess
from pathlib import Path

import pytest
from command import typed
from PIL import Image

pytestmark = pytest.mark.slow

HOLES = """
name = "Holes"
[box]
size = "112x60x31"
[[kind]]
name = "hole"
hole = 8
[[part]]
name = "ONE"
kind = "hole"
left = 20
top = 40
[[part]]
name = "TWO"
kind = "hole"
left = {left}
top = 40
"""
SOUND, CLOSE, HIT = 40, 29, 27  # metal between: 12, 1 and -1 mm


def run(*args: str, cwd: Path, **env: str) -> subprocess.CompletedProcess[str]:
    return typed("check", *args, cwd=cwd, **env)


def layout(folder: Path, left: float) -> str:
    (folder / "layout.toml").write_text(HOLES.format(left=left))
    return "layout.toml"


@pytest.mark.parametrize(
    ("left", "flags", "status"),
    [
        (SOUND, [], 0),
        (SOUND, ["--strict"], 0),
        (CLOSE, [], 0),
        (CLOSE, ["--strict"], 1),
        (HIT, [], 1),
        (HIT, ["--only", "seats"], 0),
        (HIT, ["--json"], 1),
    ],
)
def test_exit_status(tmp_path: Path, left: float, flags: list[str], status: int) -> None:
    done = run(layout(tmp_path, left), *flags, cwd=tmp_path)
    assert done.returncode == status, done.stdout + done.stderr
    assert done.stderr == ""


def test_bad_input_is_one_line_and_two(tmp_path: Path) -> None:
    for args in (["nothing.toml"], [layout(tmp_path, SOUND), "--only", "wbes"]):
        done = run(*args, cwd=tmp_path)
        assert done.returncode == 2
        assert done.stdout == ""
        assert len(done.stderr.strip().splitlines()) == 1
    assert "webs" in done.stderr


def test_the_table_is_whole_at_80_columns_and_without_colour_in_a_file(tmp_path: Path) -> None:
    done = run(layout(tmp_path, CLOSE), "--sources", cwd=tmp_path, COLUMNS="80", FORCE_COLOR="", TERM="dumb")
    assert "\x1b" not in done.stdout
    assert max(len(line) for line in done.stdout.splitlines()) <= 80
    said = " ".join(done.stdout.split())
    for words in ("warning", "ONE, TWO", "1 mm, limit 2 mm", "Move", "common practice", "0 stops, 1 warning"):
        assert words in said, words


def test_sources_are_for_those_who_ask(tmp_path: Path) -> None:
    """A folder stands for the layout in it, as for the window."""
    layout(tmp_path, CLOSE)
    done = run(str(tmp_path), cwd=tmp_path)
    first, *rest = done.stdout.splitlines()
    assert " ".join(first.split()) == "▲ warning Thin metal between holes 1 mm, limit 2 mm"
    assert "common practice" not in done.stdout
    assert all(line == line.rstrip() for line in rest)


def test_a_variant_is_named_behind_the_file(tmp_path: Path) -> None:
    path = layout(tmp_path, CLOSE)
    with (tmp_path / path).open("a") as file:
        file.write('[variants.night]\nfinish = { paint = "#102030" }\n')
    known = json.loads(run(f"{path}@night", "--json", cwd=tmp_path).stdout)
    assert (known["variant"], known["tally"]["warn"]) == ("night", 1)
    unknown = run(f"{path}@day", cwd=tmp_path)
    assert unknown.returncode == 2
    assert "night" in unknown.stderr


def test_severity_is_a_word_where_symbols_cannot_be_shown(tmp_path: Path) -> None:
    done = run(layout(tmp_path, HIT), cwd=tmp_path, PYTHONIOENCODING="ascii")
    assert done.returncode == 1, done.stderr
    assert "X stop" in done.stdout


def test_json_holds_every_field(tmp_path: Path) -> None:
    (found,) = json.loads(run(layout(tmp_path, CLOSE), "--json", cwd=tmp_path).stdout)["findings"]
    assert found["check"] == "webs"
    assert found["severity"] == "warn"
    assert found["subjects"] == [{"kind": "part", "name": "ONE"}, {"kind": "part", "name": "TWO"}]
    assert found["measured"] == pytest.approx(1.0)
    assert (found["limit"], found["unit"], found["source"]) == (2.0, "mm", "common practice, no source")
    assert found["title"] == "Thin metal between holes"
    assert found["what"].startswith(found["title"])
    assert "1 mm" in found["what"]
    (edit,) = found["remedy_edits"]  # 1 mm more between them
    assert found["remedy"] == "Move TWO 1 mm right."
    assert (edit["edit"], edit["address"]["way"]) == ("Move", ["part", "TWO"])
    assert (edit["right_mm"], edit["down_mm"]) == (pytest.approx(1.0), 0.0)
    assert [mark["face"] for mark in found["marks"]] == ["top", "top"]
    assert len(found["fingerprint"]) == 12
    sound = json.loads(run(layout(tmp_path, SOUND), "--json", cwd=tmp_path).stdout)
    assert (sound["design"], sound["layout"], sound["art"], sound["findings"]) == ("Holes", "layout.toml", [], [])
    assert sound["program"].startswith("mockup ")
    assert set(sound["tally"].values()) == {0}


@pytest.mark.gl
def test_the_picture_is_written(tmp_path: Path) -> None:
    done = run(layout(tmp_path, HIT), "--picture", "marked.png", "--only", "webs", cwd=tmp_path)
    assert done.returncode == 1, done.stderr
    with Image.open(tmp_path / "marked.png") as image:
        assert min(image.size) > 800
        assert image.info["Findings"] == "1"
