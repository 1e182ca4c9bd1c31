"""``mockup compare`` with lists of values, and as hands drill it: files, table, answer, one line per mistake."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner
from PIL import Image
from sweep_bench import project

from mockup import files
from mockup.cli import cli
from mockup.model.errors import InputError

pytestmark = pytest.mark.slow

SMALL = ["--size", "96x72", "--quality", "draft"]


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv(files.CACHE_FOLDER, str(tmp_path / "kept"))
    monkeypatch.setenv(files.SETTINGS_FOLDER, str(tmp_path / "settings"))
    monkeypatch.chdir(tmp_path)
    project(tmp_path)
    return tmp_path


def lines(*args: str) -> list[str]:
    """Return the faults of a command that is refused."""
    with pytest.raises(InputError) as caught:
        CliRunner().invoke(cli, ["compare", *args], catch_exceptions=False, standalone_mode=False)
    return str(caught.value).splitlines()


@pytest.mark.gl
def test_which_paints_keep_every_label_readable_is_one_command(folder: Path) -> None:
    (folder / "paints.csv").write_text("\ufeffname;colour;sheen\nIvory;#f4eeda;satin\n\nPitch;#101010;\n", "utf-8")
    outputs = [part for name in ("a.png", "a.pdf", "a.html", "a.json") for part in ("-o", name)]
    done = CliRunner().invoke(cli, ["compare", "layout.toml", "--paint", "paints.csv", *SMALL, *outputs])
    assert done.exit_code == 0, done.output
    said = [line.rstrip() for line in done.stdout.splitlines()]
    assert said[-1] == "1 of 2 paints keeps every label readable: Ivory; not all read on Pitch."
    assert said[-5:-1] == ["a.png", "a.pdf", "a.html", "a.json"]
    rows = [line.split()[:2] for line in said[:-1] if line.strip()[:2] in ("1 ", "2 ")]
    assert rows == [["1", "Ivory"], ["2", "Pitch"]]
    with Image.open("a.png") as sheet:
        assert sheet.info["Answer"] == said[-1]
        assert sheet.width > 2 * 96
    told = json.loads((folder / "a.json").read_text())
    assert [each["caption"] for each in told["candidates"]] == ["Ivory", "Pitch"]
    assert told["candidates"][0]["set"] == {"finish.paint": "#f4eeda", "finish.sheen": "satin"}
    assert told["drawn_now"] == 2
    assert (folder / "a.pdf").read_bytes().startswith(b"%PDF-")
    page = (folder / "a.html").read_text()
    assert page.count("<img ") == 2
    assert said[-1] in page


@pytest.mark.gl
def test_lists_multiply_and_the_best_are_kept(folder: Path) -> None:
    command = [
        "compare",
        "layout.toml@red",
        "--film",
        "clear,white",
        "--set",
        "part.TONE.knob.pointer=0,1",
        "--keep",
        "3",
    ]
    done = CliRunner().invoke(cli, [*command, *SMALL, "--json"])
    assert done.exit_code == 0, done.output
    told = json.loads(done.stdout)
    assert told["files"] == ["bench-sweep.png"]
    captions = {each["caption"] for each in told["candidates"]}
    assert captions == {f"{film}, knob pointer {turn}" for film in ("clear", "white") for turn in (0, 1)}
    assert told["candidates"][0]["caption"].startswith("white"), "black on white film reads better than on red"
    again = CliRunner().invoke(cli, [*command, *SMALL, "--sort", "ink", "--json"])
    assert json.loads(again.stdout)["drawn_now"] == 0


@pytest.mark.gl
def test_sloppy_hands_are_shown_beside_the_drawing(folder: Path) -> None:
    command = ["compare", "layout.toml", "--wander", "0.5mm", "--samples", "1", "--seed", "3", "-o", "w.png", *SMALL]
    done = CliRunner().invoke(cli, command)
    assert done.exit_code == 0, done.output
    said = done.stdout.splitlines()
    assert said[:2] == ["w.png", "w-close.png"]
    assert said[2].startswith("If holes land 0.5 mm off (standard deviation along each axis;")
    assert "lie up to 2.0 mm apart" in said[2], "two deviations each, opposite ways"
    assert (folder / "w.png").exists()
    assert (folder / "w-close.png").exists()


@pytest.mark.parametrize(
    ("args", "line"),
    [
        (("layout.toml", "--paint", "red,tael"), "--paint tael: "),
        (("layout.toml", "--paint", "none.csv"), "none.csv: there is no such file"),
        (("layout.toml", "--set", "finish.pant=red"), "--set finish.pant=red: there is no key 'pant'"),
        (("layout.toml", "--set", "red"), "--set: 'red' is no key with values"),
        (("layout.toml", "--knob", "domme,dome"), "--knob domme: "),
        (("layout.toml", "layout.toml", "--film", "clear"), "a sweep: takes one layout or variant, found 2 layouts"),
        (("layout.toml@*", "--film", "clear"), "a sweep: takes one layout or variant, found all variants"),
        (("layout.toml@blue", "--film", "clear"), 'layout.toml: has no variant "blue"'),
        (("layout.toml", "--sort", "ink"), "--sort: there is nothing to sort"),
        (("layout.toml", "--film", "clear,white", "-o", "a.gif"), "--output: 'a.gif' has an unknown ending"),
        (("layout.toml", "--film", "clear,white", "--view", "abov"), "--view: there is no view 'abov'"),
        (("layout.toml", "--film", "clear", "--turntable", "a.webp"), "--turntable: a sweep has no turntable"),
        (("layout.toml", "--wander", "lots"), "--wander: "),
        (("layout.toml", "--wander", "1mm", "--film", "clear"), "--wander: does not go with a sweep"),
    ],
)
def test_a_mistake_is_one_line_before_any_work(folder: Path, args: tuple[str, ...], line: str) -> None:
    (said,) = lines(*args)
    assert said.startswith(line), said
    assert not (folder / "kept").exists()
